"""A spot of a place in words: where along and across a gauge is put."""

from __future__ import annotations

from endfloat.quantities.typed_text import Typed, read_typed
from endfloat.quantities.units import Kind

NO_WORD = "-"


def along_and_across(station: str, axis: str) -> tuple[str, str]:
    """Station and axis in words, each empty where the place has none.

    Two distances would not say which is which, so their directions are told; a station beside the name of an axis is.
    """
    words = tuple("" if word == NO_WORD else word for word in (station, axis))
    if all(_is_distance(word) for word in words):
        return f"along {station}", f"across {axis}"
    return words[0], words[1]


def spot_words(station: str, axis: str) -> str:
    """ "10 mm across", "along 10 mm, across 75 mm", "front"; empty for a place of one spot."""
    along, across = along_and_across(station, axis)
    between = ", " if along.startswith("along ") and across.startswith("across ") else " "
    return between.join(word for word in (along, across) if word)


def _is_distance(word: str) -> bool:
    return isinstance(read_typed(word, kind=Kind.LENGTH, place=""), Typed)
