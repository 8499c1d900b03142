"""All cams looked at together: which pattern of the description fits what they are out by. It is never proof."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from endfloat.engine.timing import Cam, Pattern, Timing
from endfloat.formulas.cam_timing import common_phase, tooth_fit
from endfloat.quantities.shown_text import shown_number
from endfloat.quantities.units import UNITS

DEGREE = UNITS["°"]
ROUNDING = math.radians(1e-6)


@dataclass(frozen=True, slots=True)
class CamErrors:
    """What a cam is out by, in SI: against what is expected (positive early), by two readings, by its two sides."""

    expected: float
    readings: float | None = None
    sides: float | None = None


@dataclass(frozen=True, slots=True)
class Diagnosis:
    """What the cams show together, and what of the description fits it."""

    shows: str
    fits: str
    page: int | None

    @property
    def words(self) -> str:
        """The whole sentence."""
        page = f" (page {self.page})" if self.page else ""
        return f"{self.shows} That pattern fits {self.fits}{page}; it is not proof."


def diagnose(timing: Timing, errors: Mapping[str, CamErrors]) -> tuple[Diagnosis, ...]:
    """Every pattern that fits, in the order of the description; whole teeth and turns go before sizes."""
    found = [(pattern, cams) for pattern in timing.diagnosis for cams in _fitting(timing, errors, pattern)]
    exact = [cams for pattern, cams in found if pattern.whole_teeth or pattern.whole_turn]
    turned = [cams for pattern, cams in found if pattern.whole_turn]
    told = []
    for pattern, cams in found:
        by_size = _compared(pattern) and not pattern.whole_teeth and not pattern.whole_turn
        # A whole turn is a whole number of teeth too, and both are within some interval.
        if (by_size and cams in exact) or (pattern.whole_teeth and cams in turned):
            continue
        told.append(Diagnosis(shown(timing, errors, pattern, cams), pattern.fits, pattern.page))
    return tuple(told)


def _compared(pattern: Pattern) -> bool:
    return pattern.compares == "with what is expected"


def _error(pattern: Pattern, errors: CamErrors) -> float | None:
    if _compared(pattern):
        return errors.expected
    return errors.readings if pattern.compares == "first and second reading" else errors.sides


def _fitting(timing: Timing, errors: Mapping[str, CamErrors], pattern: Pattern) -> Iterator[tuple[str, ...]]:
    read = {name: error for name, each in errors.items() if (error := _error(pattern, each)) is not None}
    out = tuple(name for name, error in read.items() if abs(error) > timing.alike.si + ROUNDING)
    fits = all(_size_fits(timing, pattern, timing.cams[name], read[name]) for name in out)
    if (
        out
        and fits
        and _those(timing, pattern, out, tuple(read))
        and _alike(timing, pattern, [read[name] for name in out])
    ):
        yield out


def _those(timing: Timing, pattern: Pattern, out: tuple[str, ...], read: tuple[str, ...]) -> bool:
    """Whether the cams that are out are those of the pattern; the others were read and hold."""
    if isinstance(pattern.out, list):
        return set(out) == set(pattern.out)
    if pattern.out == "one cam":
        return len(out) == 1 and len(read) > 1
    if pattern.out == "all":
        return set(out) == set(timing.cams)
    banks = {timing.cams[name].bank for name in out}
    whole = {name for name, cam in timing.cams.items() if cam.bank in banks}
    return len(banks) == 1 and set(out) == whole and set(read) > whole


def _alike(timing: Timing, pattern: Pattern, found: Sequence[float]) -> bool:
    if isinstance(pattern.out, list):
        return True
    shared = float(common_phase(phases=np.asarray(found)))
    return all(abs(each - shared) <= timing.alike.si + ROUNDING for each in found)


def _size_fits(timing: Timing, pattern: Pattern, cam: Cam, error: float) -> bool:
    if (pattern.way == "early" and error <= 0) or (pattern.way == "late" and error >= 0):
        return False
    if pattern.whole_turn:
        return abs(abs(error) - 2 * math.pi) <= timing.alike.si + ROUNDING
    if pattern.whole_teeth:
        fit = tooth_fit(phase=error, known_phase=0.0, cam_teeth=float(cam.teeth))
        return fit.teeth != 0 and abs(float(fit.left)) <= timing.alike.si + ROUNDING
    low = pattern.low.si if pattern.low else 0.0
    high = pattern.high.si if pattern.high else math.inf
    return low - ROUNDING <= abs(error) <= high + ROUNDING


def shown(timing: Timing, errors: Mapping[str, CamErrors], pattern: Pattern, cams: tuple[str, ...]) -> str:
    """What the cams show, in words: "Left bank, both cams late by 6.0 to 6.4 °; the others hold."."""
    found = [error for name in cams if (error := _error(pattern, errors[name])) is not None]
    sizes = sorted({shown_number(abs(each), DEGREE, 1) for each in found}, key=float)
    size = f"{' to '.join([sizes[0], sizes[-1]] if len(sizes) > 1 else sizes)} °"
    others = "; the others hold." if len(cams) < len(errors) else "."
    who = cams_words(timing, cams)
    if pattern.compares == "first and second reading":
        return f"{who}: first and second reading differ by {size}{others}"
    if pattern.compares == "opening and closing":
        return f"{who}: opening and closing side differ by {size}{others}"
    way = "early" if all(each > 0 for each in found) else "late" if all(each < 0 for each in found) else "out"
    teeth = ""
    if pattern.whole_teeth:
        fit = tooth_fit(phase=found[0], known_phase=0.0, cam_teeth=float(timing.cams[cams[0]].teeth))
        count, one = abs(round(float(fit.teeth))), shown_number(float(fit.tooth), DEGREE, 1)
        teeth = f", {count} {'tooth' if count == 1 else 'teeth'} of {one} °"
    return f"{who} {way} by {size}{teeth}{others}"


def cams_words(timing: Timing, cams: tuple[str, ...]) -> str:
    """Cams in words: one by its title, a whole bank, or all."""
    if len(cams) == 1:
        return timing.cams[cams[0]].title
    if len(cams) == len(timing.cams):
        return "All cams"
    banks = {timing.cams[name].bank for name in cams}
    of_it = [name for name, cam in timing.cams.items() if cam.bank in banks]
    if len(banks) == 1 and len(of_it) == len(cams) and next(iter(banks)):
        bank = next(iter(banks))
        return f"{bank[0].upper()}{bank[1:]} bank, {'both' if len(cams) == 2 else 'all'} cams"
    return ", ".join(timing.cams[name].title for name in cams)
