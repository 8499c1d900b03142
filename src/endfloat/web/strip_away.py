"""What the page of a removal carries for a device whose workshop computer does not answer."""

from __future__ import annotations

from dataclasses import dataclass

from endfloat.web.strip_words import CARES, asked_row
from endfloat.workshop.strip import Strip

PAGES_AHEAD = 5


@dataclass(frozen=True, slots=True)
class AskedAway:
    """A question that a removal asks once those before it are answered; `asked` is what a note is about."""

    mode: str
    name: str
    asked: dict[str, str] | None = None


OFF = AskedAway("off", "off")


@dataclass(frozen=True, slots=True)
class StripAway:
    """Removals to go on to, the next first; `after` must be off before this one; then what it asks after this page."""

    ahead: tuple[str, ...]
    after: tuple[str, ...]
    questions: tuple[AskedAway, ...]


def strip_away(strip: Strip, name: str) -> StripAway:
    """The next removals of the list, and every open question of this one that the page itself does not ask."""
    left = [each for each in strip.engine.strip if each not in strip.stands.off]
    ahead = tuple(each for each in left if each != name)[:PAGES_AHEAD]
    after, is_open = tuple(strip.waits(name)), _open_questions(strip, name)
    counted_later = after and is_open[:1] == [OFF]
    return StripAway(ahead, after, tuple(is_open if counted_later else is_open[1:]))


def _open_questions(strip: Strip, name: str) -> list[AskedAway]:
    removal, here = strip.removal(name), strip.stands.of(name)
    if here.off is not None:
        return [AskedAway(care, care) for care in CARES if care in removal.gates and care not in here.gates]
    asked = [
        AskedAway("as_found", f"as_found {each.name}", asked_row(strip, name, each))
        for each in strip.open_questions(name)
    ]
    rest = {
        "label": here.label is None,
        "orientation": removal.orientation is not None and here.orientation is None,
        "photo": bool(removal.photograph) and here.photo is None,
    }
    return [*asked, *(AskedAway(mode, mode) for mode, is_open in rest.items() if is_open), OFF]
