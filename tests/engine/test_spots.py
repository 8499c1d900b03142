"""A spot of a place in words."""

import pytest

from endfloat.engine.spots import spot_words


@pytest.mark.parametrize(
    ("station", "axis", "words"),
    [
        ("10 mm", "across", "10 mm across"),
        ("front", "level", "front level"),
        ("first push", "-", "first push"),
        ("-", "vertical", "vertical"),
        ("-", "-", ""),
        ("10 mm", "10 mm", "along 10 mm, across 10 mm"),
        ("105 mm", "7,5 mm", "along 105 mm, across 7,5 mm"),
    ],
)
def test_two_distances_say_which_is_which_and_words_are_left_as_they_are(station: str, axis: str, words: str) -> None:
    assert spot_words(station, axis) == words
