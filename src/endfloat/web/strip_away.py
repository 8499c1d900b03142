"""What the page of a removal carries for a device whose workshop computer does not answer."""

from __future__ import annotations

from dataclasses import dataclass

from endfloat.web.strip_words import asked_row
from endfloat.workshop.strip import Strip, question_of

PAGES_AHEAD = 5


@dataclass(frozen=True, slots=True)
class AskedAway:
    """A question that a removal asks once those before it are answered; `asked` is what a note is about."""

    mode: str
    name: str
    asked: dict[str, str] | None = None


@dataclass(frozen=True, slots=True)
class StripAway:
    """Removals to go on to, the next first; `after` must be off before this one; then what this one asks, in turn."""

    ahead: tuple[str, ...]
    after: tuple[str, ...]
    questions: tuple[AskedAway, ...]


def strip_away(strip: Strip, name: str) -> StripAway:
    """The next removals of the list, and every question of this one that is open, the one in hand among them."""
    left = [each for each in strip.engine.strip if each not in strip.stands.off]
    ahead = tuple(each for each in left if each != name)[:PAGES_AHEAD]
    return StripAway(ahead, tuple(strip.waits(name)), tuple(_open_questions(strip, name)))


def _open_questions(strip: Strip, name: str) -> list[AskedAway]:
    removal, here = strip.removal(name), strip.stands.of(name)
    if here.off is not None:
        cares = [care for care in ("clean", "crack_test") if care in removal.gates and care not in here.gates]
        return [AskedAway(care, care) for care in cares if care == question_of(strip, name)]
    asked = [
        AskedAway("as_found", f"as_found {each.name}", asked_row(strip, name, each))
        for each in strip.open_questions(name)
    ]
    rest = [
        ("label", here.label is None),
        ("orientation", removal.orientation is not None and here.orientation is None),
        ("photo", bool(removal.photograph) and here.photo is None),
        ("off", True),
    ]
    return [*asked, *(AskedAway(mode, mode) for mode, is_open in rest if is_open)]
