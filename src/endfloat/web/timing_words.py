"""What the pages of the timing say: figures put right, what comes next, the strip, and the words of each state."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime

from markupsafe import Markup

from endfloat.drawings.marks import Limits, mark
from endfloat.drawings.opened_wheel import Valve, opened_wheel
from endfloat.engine.timing import Cam
from endfloat.inspection.verdicts import Verdict
from endfloat.inspection.wheel import CamFinding, book_angle
from endfloat.job.timing import LOST, Standing
from endfloat.quantities.estimates import Estimate
from endfloat.quantities.shown_text import shown_estimate, shown_number
from endfloat.quantities.units import UNITS
from endfloat.workshop.timing_view import CamView, TimingView, correction_of
from endfloat.workshop.view import View

DEGREE = UNITS["°"]
POINT_WORDS = {
    "opens": "it opens",
    "closes": "it closes",
    "rising": "it rises through the check lift",
    "falling": "it falls through the check lift",
    "centre": "the lobe stands at its centre",
}
NARROW, WIDE = 358, 1100
HATCHES = {0: "/", 1: "\\"}
"""The hatch of the first bank and of the second; bars of an engine in one row have none."""


@dataclass(frozen=True, slots=True)
class Deed:
    """What comes next: the words on the button and where it leads."""

    words: str
    link: str


def degrees(value: float, decimals: int = 1) -> str:
    """An angle in degrees with a true minus sign."""
    return f"{shown_number(value, DEGREE, decimals)} °"


def next_deed(seen: TimingView) -> Deed | None:
    """The one thing that comes next; None when every cam reads good after the turns."""
    if seen.all_good:
        return None
    if seen.shut:
        return Deed("Before you turn it", "/timing/turn")
    if not seen.trusted:
        again = "Turn to dead centre again" if seen.progress.lost or seen.paused else "Find dead centre by two stops"
        return Deed(again, "/timing/dead-centre")
    if seen.out:
        return Deed(f"{seen.timing.cams[seen.out[0]].title} is out: see why", f"/timing/{seen.out[0]}")
    if seen.next_cam:
        turns = f", after the {seen.timing.turns} turns" if seen.turned else ""
        return Deed(f"Read the {lower(seen.timing.cams[seen.next_cam].title)}{turns}", f"/timing/{seen.next_cam}")
    if not seen.turned:
        return Deed(f"Turn it {seen.timing.turns} full turns", "/timing/turn")
    unsettled = next(name for name, each in seen.cams.items() if each.after.verdict is not Verdict.GOOD)
    return Deed(f"Read the {lower(seen.timing.cams[unsettled].title)} again", f"/timing/{unsettled}")


def lower(words: str) -> str:
    """Words within a sentence."""
    return words[0].lower() + words[1:]


def trust_words(seen: TimingView, at: str) -> str:
    """Why the wheel may not be trusted now; nothing while it may."""
    again = "Turn to dead centre again before you trust the wheel."
    if seen.progress.lost:
        return f"{LOST[seen.progress.lost.why]} {again}"
    if seen.paused:
        gone = datetime.fromisoformat(at) - datetime.fromisoformat(seen.progress.last)
        return f"You were away {int(gone.total_seconds() // 60)} minutes. {again}"
    return ""


def correction_words(job: View, seen: TimingView) -> str:
    """The dead centre in a sentence."""
    found = seen.progress.dead_centre
    if found is None:
        return "Dead centre is not found yet."
    if found.gauge not in job.gauges:
        return f"Dead centre was found with {found.gauge}, which is no longer in the gauge register."
    return f"Dead centre by two stops: correction {degrees(correction_of(job, seen.timing, found).value)}"


def expected_words(cam: Cam, found: CamFinding) -> str:
    """Where the lobe centre should stand after the work; nothing where no work is said to move it.

    The interval holds what one centre read with this wheel can tell, where one was read.
    """
    if cam.expected is None or found.expected is None:
        return ""
    own = found.centre.standard_uncertainty if found.centre else 0.0
    half = 2 * math.hypot(found.expected.standard_uncertainty, own)
    if not half:
        return f"Expected {cam.expected.words}: {degrees(found.expected.value)}"
    low, high = (shown_number(found.expected.value + sign * half, DEGREE, 1) for sign in (-1, 1))
    return f"Expected {cam.expected.words}: {low if low == high else f'{low} to {high}'} °"


def limit_told(cam: Cam) -> str:
    """The limits of the lobe centre with their page."""
    side = "after" if cam.valve == "intake" else "before"
    sides = [f"at least {cam.low.text}" if cam.low else "", f"at most {cam.high.text}" if cam.high else ""]
    told = f"{cam.low.text} to {cam.high.text}" if cam.low and cam.high else "".join(sides)
    return f"limit {told or 'not entered'}, {side} the top, page {cam.page}"


def verdict_mark(found: CamFinding, *, bench: bool = False) -> Markup:
    """The mark of the verdict; decoration beside its words."""
    low, high = found.bounds.low, found.bounds.high
    near = low is not None and high is not None and found.centre is not None and found.centre.value < (low + high) / 2
    both = low is None and high is None
    sides = Limits(both or low is not None, both or high is not None, near)
    return Markup(mark(found.verdict.code, "", sides, bench=bench))


def point_told(cam: Cam, point: str, angle: float) -> str:
    """A corrected angle as books print it: "5.5 ° before the top", "43.1 ° after the bottom"."""
    if point in ("opens", "closes"):
        bottom = (point == "closes") == (cam.valve == "intake")
        sign = 1 if cam.valve == "intake" else -1
        away = angle - sign * math.pi if bottom else angle
        dead_centre = "bottom" if bottom else "top"
    else:
        away, dead_centre = angle, "top"
    return f"{degrees(abs(away))} {'after' if away >= 0 else 'before'} the {dead_centre}"


def looked_for(seen: TimingView, cam: Cam, point: str, top: float) -> str:
    """Where on the wheel, and in which turn after the dead centre found, the book has a point.

    Where it gives no event, the lobe centre is told: the two readings lie to either side of it.
    """
    if cam.centre is None:
        return ""
    known = {"opens": cam.opens, "closes": cam.closes}.get(point) is not None
    after = (book_angle(cam, point if known else "centre") + cam.top_at.si) % (4 * math.pi)
    wheel = (after + top) % (2 * math.pi)
    turn = "first" if after < 2 * math.pi else "second"
    what = "" if known else "centre "
    return f"Book: {what}near {shown_number(wheel, DEGREE, 0)} °, {turn} turn after dead centre"


def strip(seen: TimingView, names: Iterable[str], *, width: int) -> Markup:
    """The opened wheel over some cams."""
    wanted = list(names)
    valves = [_valve(seen, name) for name in wanted]
    told = "; ".join(f"{valve.name}: {valve.told}" for valve in valves)
    name = f"The opened wheel, two turns after dead centre; book outlined, measured thick. {told}"
    return Markup(opened_wheel(valves, width=width, name=name))


def both_strips(seen: TimingView, names: Iterable[str]) -> dict[str, Markup]:
    """The opened wheel for a phone and for a wide page."""
    wanted = list(names)
    return {"narrow": strip(seen, wanted, width=NARROW), "wide": strip(seen, wanted, width=WIDE)}


def _valve(seen: TimingView, name: str) -> Valve:
    cam, found, points = seen.timing.cams[name], seen.now(name), seen.points(name)
    banks = list(dict.fromkeys(each.bank for each in seen.timing.cams.values()))
    top = math.degrees(cam.top_at.si)
    flanks = (cam.points[0], cam.points[-1]) if len(cam.points) > 1 else None
    book = None
    if cam.centre is not None and cam.opens is not None and cam.closes is not None:
        book = top + math.degrees(book_angle(cam, "opens")), top + math.degrees(book_angle(cam, "closes"))
    measured = None
    if flanks and all(point in points for point in flanks):
        measured = top + math.degrees(points[flanks[0]].value), top + math.degrees(points[flanks[1]].value)
    sign = 1.0 if cam.valve == "intake" else -1.0
    centre = top + sign * math.degrees(found.centre.value) if found.centre else None
    told = degrees(found.centre.value) if found.centre else "not read"
    book_centre = top + sign * math.degrees(cam.centre.si) if cam.centre else top
    hatch = HATCHES.get(banks.index(cam.bank), "") if cam.bank and len(banks) > 1 else ""
    return Valve(cam.title, told, book, book_centre, measured, centre, hatch)


def row_of(seen: TimingView, name: str) -> dict[str, object]:
    """One cam on the list of all."""
    cam, found = seen.timing.cams[name], seen.now(name)
    return {
        "name": name,
        "title": cam.title,
        "value": shown_estimate(found.centre, DEGREE) if found.centre else "",
        "verdict": found.verdict.words,
        "family": found.verdict.family.lower(),
        "mark": verdict_mark(found),
        "expected": expected_words(cam, found),
        "limit": limit_told(cam),
        "first": first_words(seen.cams[name]) if seen.turned else "",
    }


def first_words(cam: CamView) -> str:
    """What the cam read before the turns, for comparison."""
    return f"before the turns {degrees(cam.before.centre.value)}" if cam.before.centre else ""


def reading_rows(cam: CamView, standing: Iterable[Standing], points: Mapping[str, Estimate]) -> list[dict[str, str]]:
    """Each reading that counts, as typed, and its point put right."""
    return [
        {
            "key": each.read.key,
            "point": POINT_WORDS[each.read.point],
            "text": each.read.text,
            "told": point_told(cam.cam, each.read.point, points[each.read.point].value)
            if each.read.point in points
            else "",
            "by": f"{each.read.gauge}, {each.read.by}",
        }
        for each in standing
    ]


def verdict_words(found: CamFinding) -> str:
    """The verdict in the words of every page."""
    return "" if found.verdict is Verdict.NOT_MEASURED else found.verdict.words


def cam_page(job: View, seen: TimingView, name: str, spot: object) -> dict[str, object]:
    """What the page of one cam shows, `spot` being the point that was just typed for."""
    cam, found, points = seen.timing.cams[name], seen.now(name), seen.points(name)
    missing = seen.missing(name)
    here = str(spot) if spot in cam.points else (missing or cam.points)[0]
    last = next(reversed(seen.readings(name)), None)
    by = seen.progress.dead_centre
    top = -correction_of(job, seen.timing, by).value if by and by.gauge in job.gauges else 0.0
    figure, side = (shown_estimate(found.centre, DEGREE) if found.centre else ""), ""
    if not figure and last and last.read.point in points:
        number, _, words = point_told(cam, last.read.point, points[last.read.point].value).partition(" ° ")
        figure, side = f"{number} °", words
    following = next((other for other in seen.cams if other != name and seen.missing(other)), None)
    return {
        "name": name,
        "cam": cam,
        "where": where_words(job, seen, cam),
        "figure": figure,
        "side": side,
        "read_as": ", ".join(each.read.text for each in seen.readings(name)),
        "here": here,
        "points": [(point, POINT_WORDS[point], point not in missing) for point in cam.points],
        "looked_for": looked_for(seen, cam, here, top),
        "mark": verdict_mark(found, bench=True),
        "verdict": verdict_words(found),
        "family": found.verdict.family.lower(),
        "expected": expected_words(cam, found),
        "limit": limit_told(cam),
        "complete": not missing,
        "taken": reading_rows(seen.cams[name], seen.readings(name), points),
        "first": first_words(seen.cams[name]) if seen.turned else "",
        "following": following,
        **both_strips(seen, [name]),
    }


def where_words(job: View, seen: TimingView, cam: Cam) -> str:
    """Bank, cam and cylinder: "LEFT bank · intake cam · cylinder 1"."""
    bank = f"{cam.bank.upper()} bank" if cam.bank else ""
    cylinder = f"{seen.timing.cylinders} {cam.cylinder}"
    return " · ".join(each for each in (bank, f"{cam.valve} cam", cylinder) if each)
