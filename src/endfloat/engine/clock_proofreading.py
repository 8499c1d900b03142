"""Can the clocks of a description run at the bench: does each end, and can its name and bands be read one way only?"""

from __future__ import annotations

from collections.abc import Iterable

from endfloat.engine.model import Engine
from endfloat.engine.positions import Located, Path
from endfloat.engine.relations import Band, Clocked
from endfloat.problems import Problem
from endfloat.quantities.units import Kind


def clock_problems(located: Located, engine: Engine) -> Iterable[Problem]:
    """Every clock that nothing stops, that bears the name of another, or whose bands cannot be read one way only."""
    named: set[str] = set()
    for index, clock in enumerate(engine.relations.clocked):
        here: Path = ("relations", "clocked", index)
        if _endless(clock):
            yield located.problem(
                "clock_without_end",
                here,
                found="a clock that nothing stops",
                expected="open_minutes with close_with, or cure_minutes with not_before, or both",
                remedy="Say which step ends the open time and which steps wait for the cure.",
            )
        if clock.what in named:
            yield located.problem(
                "clock_named_twice",
                (*here, "what"),
                found=f"`{clock.what}` a second time",
                expected="a name for each clock",
                remedy="Say which one it is: two clocks may run at once, and a person must tell them apart.",
            )
        named.add(clock.what)
        yield from _bands(located, here, clock)


def _endless(clock: Clocked) -> bool:
    opens = (clock.open_minutes is None, clock.close_with is None)
    cures = (clock.cure_minutes is None, not clock.not_before)
    return opens == (False, True) or cures in ((False, True), (True, False)) or (opens[0] and cures[0])


def _bands(located: Located, here: Path, clock: Clocked) -> Iterable[Problem]:
    right: list[Band] = []
    for index, band in enumerate(clock.bands):
        path: Path = (*here, "bands", index)
        kinds = {band.at_least.unit.kind, band.below.unit.kind}
        if kinds != {Kind.TEMPERATURE} or band.at_least.exact_si >= band.below.exact_si:
            yield located.problem(
                "wrong_band",
                path,
                found=_told(band),
                expected="two temperatures, the lower one first",
                remedy="Write them with their unit: `at_least: 10 °C, below: 20 °C`.",
            )
            continue
        same = next((each for each in right if _overlap(each, band)), None)
        if same:
            yield located.problem(
                "bands_overlap",
                path,
                found=f"{_told(band)}, which shares degrees with {_told(same)}",
                expected="bands of which one at most holds a temperature",
                remedy="Let each begin where the one before ends.",
            )
        right.append(band)
    reckoned = clock.cure_minutes or clock.open_minutes
    if clock.bands and reckoned not in {band.minutes for band in clock.bands}:
        yield located.problem(
            "minutes_of_no_band",
            here,
            found=f"{reckoned} minutes, which is the time of no band",
            expected="the minutes of one band, with which the order is worked out",
            remedy="Take those of the temperature at which the work is done.",
        )


def _overlap(one: Band, other: Band) -> bool:
    return one.at_least.exact_si < other.below.exact_si and other.at_least.exact_si < one.below.exact_si


def _told(band: Band) -> str:
    return f"{band.at_least.text} to {band.below.text}"
