"""What the pages of the strip show, in words and plain rows."""

from __future__ import annotations

import secrets
from dataclasses import dataclass
from urllib.parse import quote

from markupsafe import Markup

from endfloat.drawings.orientation import VIEW_ARROW, orientation_drawing
from endfloat.engine.sentences import capital
from endfloat.engine.strip import Gate, Orientation, Removal
from endfloat.inspection.words import label, place_words
from endfloat.job.strip import Asked, Place
from endfloat.job.strip_events import (
    AsFoundNoted,
    OrientationChosen,
    PartCrackTested,
    PhotoBound,
    PhotoLeftOut,
    PlaceLabelled,
    StripAnswer,
)
from endfloat.web.links import measure_link
from endfloat.workshop.strip import Strip, question_of

CARES = {"clean": "clean", "crack_test": "test for cracks"}


@dataclass(frozen=True, slots=True)
class Row:
    """One removal in the list: where it leads, what it is, and how it stands in words."""

    link: str
    number: int
    title: str
    where: str
    stands: str
    is_off: bool


@dataclass(frozen=True, slots=True)
class Answered:
    """An answer that stands: its key, what it says, and who said it when."""

    key: str
    words: str
    by: str
    photo: str


def strip_link(name: str) -> str:
    """The page of one removal."""
    return f"/strip/{quote(name)}"


def where_words(removal: Removal) -> str:
    """Bank and place of a removal in words."""
    return " · ".join(each for each in (f"{removal.bank.upper()} bank" if removal.bank else "", removal.at) if each)


def rows_of(strip: Strip) -> list[Row]:
    """Every removal in the order of the file."""
    return [
        Row(
            strip_link(name), strip.number(name), each.title, where_words(each), _stands(strip, name), _off(strip, name)
        )
        for name, each in strip.engine.strip.items()
    ]


def _off(strip: Strip, name: str) -> bool:
    return name in strip.stands.off


def _stands(strip: Strip, name: str) -> str:
    if _off(strip, name):
        return f"off as number {strip.stands.off.index(name) + 1}"
    if strip.waits(name):
        return "waits"
    return "next" if name == strip.next else "may come off"


def asked_words(strip: Strip, asked: Asked) -> str:
    """What is asked before it is too late, in words."""
    return label(strip.engine, asked.characteristic, asked.place) if asked.characteristic else asked.name


def asked_row(strip: Strip, name: str, asked: Asked) -> dict[str, str]:
    """One question from before the removal: its words, why, its page, and where a gauge reads it."""
    removal = strip.removal(name)
    described = next(
        each for each in removal.as_found if (each.of or each.asks) == (asked.characteristic or asked.name)
    )
    link = measure_link(asked.characteristic, asked.place) if asked.characteristic else ""
    page = f"service book page {described.page}" if described.page else ""
    return {"name": asked.name, "words": asked_words(strip, asked), "why": described.why, "page": page, "link": link}


def shows_up(orientation: Orientation | None) -> bool:
    """Whether the pictures must show which way is up."""
    return orientation is not None and any(each.points in ("up", "down") for each in orientation.choices)


def pictures(orientation: Orientation | None) -> list[tuple[str, Markup]]:
    """The two pictures with their words."""
    if orientation is None:
        return []
    upright = shows_up(orientation)
    view, shape = orientation.view, orientation.shape
    return [
        (
            each.words,
            Markup(orientation_drawing(shape, each.points, words=each.words, view=view, upright=upright)),
        )
        for each in orientation.choices
    ]


def answered(strip: Strip, here: Place) -> list[Answered]:
    """The answers that stand at a place, each as a line."""
    return [
        Answered(
            each.key,
            _said(strip, each),
            f"{each.by}, {each.at[:16].replace('T', ' ')}",
            f"/strip/photo/{each.sha256}" if isinstance(each, PhotoBound) else "",
        )
        for each in here.answers
    ]


def _said(strip: Strip, event: StripAnswer) -> str:
    if isinstance(event, AsFoundNoted):
        name, _, place = event.asked.partition(" at ")
        asked = event.asked
        if name in strip.engine.characteristics:
            asked = f"{name.replace('_', ' ')} {place_words(strip.engine, name, place)}".strip()
        return f"{asked}: {event.found or f'not looked at ({event.reason})'}"
    if isinstance(event, PlaceLabelled):
        return f"Labelled: {'; '.join(event.labels)}"
    if isinstance(event, OrientationChosen):
        return f"It sat so: {event.choice}"
    if isinstance(event, PhotoBound):
        return f"Photograph {event.sha256[:12]}"
    if isinstance(event, PhotoLeftOut):
        return f"No photograph: {event.reason}"
    if isinstance(event, PartCrackTested):
        return f"Tested: cracked. {event.crack}" if event.crack else "Tested: no crack found"
    return "Cleaned"


def counted_out(strip: Strip, name: str) -> list[tuple[str, str, str, str]]:
    """What came out of each sort: name, count, expected, and the account; empty while the part is on."""
    off = strip.stands.of(name).off
    if off is None:
        return []
    wanted = {each.name: each.count for each in strip.removal(name).fasteners}
    return [(sort, str(out), str(wanted.get(sort, "")), off.account.get(sort, "")) for sort, out in off.out.items()]


def void_rows(strip: Strip) -> list[tuple[int, str, str, str]]:
    """What is void so far: how many, what, why, and the title of the removal that ended it."""
    return [(each.quantity, each.part, each.why, strip.removal(name).title) for each, name in strip.void]


def gate_rows(strip: Strip) -> list[tuple[str, str]]:
    """The gates still open: words and link."""
    return [
        (f"{capital(strip.removal(name).parts[0].part)}: {_wanted(strip, name, care, gate)}", strip_link(name))
        for name, care, gate in strip.gates
    ]


def _wanted(strip: Strip, name: str, care: str, gate: Gate) -> str:
    answer = strip.stands.of(name).gates.get(care)
    if isinstance(answer, PartCrackTested):
        return f"cracked, {answer.crack}"
    return f"{CARES[care]} ({gate.how})"


def step_context(strip: Strip, name: str) -> dict[str, object]:
    """All that the page of one removal needs, apart from what a person just typed."""
    removal, here, mode = strip.removal(name), strip.stands.of(name), question_of(strip, name)
    open_now = strip.open_questions(name)
    return {
        "strip": strip,
        "id": name,
        "removal": removal,
        "here": here,
        "mode": mode,
        "number": strip.number(name),
        "count": len(strip.engine.strip),
        "where_words": where_words(removal),
        "waits": [(strip_link(each), strip.removal(each).title) for each in strip.waits(name)],
        "frees": [(strip_link(each), strip.number(each), strip.removal(each).title) for each in strip.frees(name)[:3]],
        "falls": [strip.removal(each).title for each in strip.falls(name)],
        "asked": asked_row(strip, name, open_now[0]) if mode == "as_found" else None,
        "asked_left": len(open_now),
        "pictures": pictures(removal.orientation),
        "upright": shows_up(removal.orientation),
        "view_arrow": Markup(VIEW_ARROW),
        "gate": _gate(removal, mode),
        "crack": next((each.crack for each in here.answers if isinstance(each, PartCrackTested)), ""),
        "answered": answered(strip, here),
        "counted_out": counted_out(strip, name),
        "cautions": _cautions(removal, mode),
        "next": _next(strip, name),
        "key": secrets.token_hex(16),
    }


def _cautions(removal: Removal, mode: str) -> list[object]:
    gate = _gate(removal, mode)
    return list(gate.cautions if gate else removal.cautions)


def _gate(removal: Removal, mode: str) -> Gate | None:
    return next((each for care, each in removal.gates.items() if care == mode), None)


def _next(strip: Strip, name: str) -> tuple[str, int, str] | None:
    following = strip.next
    if following is None or following == name:
        return None
    return strip_link(following), strip.number(following), strip.removal(following).title


def strip_needs(strip: Strip, *, later: bool) -> list[tuple[str, str, str, str]]:
    """What the strip wants of a person now, each as words, link, why, and what to do: the next part, then open gates.

    Once a later stage has begun, a part that is still on is left alone.
    """
    needs = []
    following = strip.next
    if strip.waits_now and following is not None and not later:
        unread = sum(len(strip.open_questions(name)) for name in strip.engine.strip if name not in strip.stands.off)
        why = f"{len(strip.stands.off)} of {len(strip.engine.strip)} parts are off"
        why += f"; {unread} readings or questions that can not be asked afterwards" if unread else ""
        needs.append((strip.removal(following).title, strip_link(following), why, "Take off next:"))
    needs += [(words, link, "the build waits for it", "Do at the bench:") for words, link in gate_rows(strip)]
    return needs
