"""ISO 286 limits and fits from its tables."""

from __future__ import annotations

import re
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from endfloat.errors import OutOfRange
from endfloat.formulas.bounds import refuse, require
from endfloat.formulas.iso_286_tables import GRADES, LARGEST, LETTERS, LOOSE, MICROMETRE, tolerance
from endfloat.formulas.iso_286_tables import deviation as tabulated

Number = float | NDArray[np.float64]
_CLASS = re.compile(r"^(?P<letter>[a-z]{1,2}|[A-Z]{1,2})(?P<grade>0?\d{1,2})$")
_SMALLEST = 0.003
"""Up to here no hole has the additional amount of the fine grades."""
_NO_LETTER = 0.001
"""Up to here the standard has no a, no b, no N above grade 8, and no grade above 13."""


class Deviations(NamedTuple):
    """How far the limits of a size lie from its nominal size."""

    lower: Number
    upper: Number


class Play(NamedTuple):
    """The clearances that two tolerance classes allow; a negative one is interference."""

    least: Number
    greatest: Number


def standard_tolerance(*, nominal: Number, grade: str) -> Number:
    """Width of a standard tolerance grade, IT01 to IT18.

    Use it to judge what a machine shop must hold when the drawing gives a grade and no limits.

    .. math:: i = 0.45 D^{1/3} + 0.001 D

    is the unit behind grades 5 to 18 (in micrometres and millimetres); the rounded table rules.

    Parameters
    ----------
    nominal : Number
        nominal size [m]
    grade : str
        the number of the grade, 01, 0 or 1 to 18 [word]

    Returns
    -------
    result : Number
        width of the tolerance, :math:`IT` [m]

    Raises
    ------
    OutOfRange
        If ``nominal <= 0`` or ``nominal > 0.5``; if the grade is none; for grades 14 to 18 up to 1 mm.

    Notes
    -----
    Valid for: sizes at 20 °C up to 500 mm; a range holds its upper bound and not its lower one.
    Accuracy: the table as several open printings have it, compared with one another and with the formula.

    References
    ----------
    .. [1] iso-286-1, table 1 and, for grades 01 and 0, its annex.

    Examples
    --------
    >>> round(standard_tolerance(nominal=0.086, grade="7"), 9)
    3.5e-05
    """
    _check(nominal, grade)
    return tolerance(nominal, grade) + 0.0


def shaft_deviations(*, nominal: Number, tolerance_class: str) -> Deviations:
    """Limits of a shaft or any outside size, as deviations from nominal.

    Use it when a drawing says 52 g6 and the micrometer says 51.983: the limits are nominal plus deviations.

    .. math:: es = -x, \\; ei = es - IT \\quad (a..h) \\qquad ei = x, \\; es = ei + IT \\quad (k..z)

    Parameters
    ----------
    nominal : Number
        nominal size [m]
    tolerance_class : str
        small letter and grade, such as g6 [word]

    Returns
    -------
    lower : Number
        lower deviation, :math:`ei` [m]
    upper : Number
        upper deviation, :math:`es` [m]

    Raises
    ------
    OutOfRange
        If ``nominal <= 0`` or ``nominal > 0.5``; for a letter that is not in the table kept here, or that the
        standard does not have at this size: a and b up to 1 mm, t to 24, v to 14, y to 18 mm.

    Notes
    -----
    Valid for: letters a to h, js, k to z; not cd, ef, fg, j, za, zb and zc.
    Assumes: js is symmetric to the half micrometre; some copies of the tables round it to whole ones.
    Accuracy: the standard lists fewer classes than letter and grade can form; any of them is computed.

    References
    ----------
    .. [1] iso-286-1, tables 4 and 5.
    .. [2] iso-286-2, limit deviations.

    Examples
    --------
    >>> [round(float(d), 9) for d in shaft_deviations(nominal=0.025, tolerance_class="g6")]
    [-2e-05, -7e-06]
    """
    letter, grade = _parts(tolerance_class, LETTERS, "a small letter")
    _check(nominal, grade)
    width = tolerance(nominal, grade)
    if letter == "js":
        return Deviations(-width / 2, width / 2)
    if letter in LOOSE:
        upper = -_deviation(nominal, letter)
        return Deviations(upper - width, upper + 0.0)
    lower = _deviation(nominal, letter)
    if letter == "k" and grade not in ("4", "5", "6", "7"):
        lower = 0.0 * lower
    return Deviations(lower + 0.0, lower + width)


def hole_deviations(*, nominal: Number, tolerance_class: str) -> Deviations:
    """Limits of a hole or any inside size, as deviations from nominal.

    Holes A to H mirror the shafts of the same letter. Those from K on mirror them too, but for fine grades they are
    lifted so that a hole and the next finer shaft grip alike either way round:

    .. math:: ES = -ei + \\Delta, \\qquad \\Delta = IT_n - IT_{n-1}

    for K, M, N up to grade 8 and P to Z up to grade 7, over 3 mm.

    Parameters
    ----------
    nominal : Number
        nominal size [m]
    tolerance_class : str
        capital letter and grade, such as H7 [word]

    Returns
    -------
    lower : Number
        lower deviation, :math:`EI` [m]
    upper : Number
        upper deviation, :math:`ES` [m]

    Raises
    ------
    OutOfRange
        If ``nominal <= 0`` or ``nominal > 0.5``; for a letter that is not in the table kept here, or that the
        standard does not have at this size; for K above grade 8 over 3 mm and N above grade 8 up to 1 mm; for K to Z
        finer than grade 3.

    Notes
    -----
    Valid for: letters A to H, JS, K to Z; not CD, EF, FG, J, ZA, ZB and ZC.
    Assumes: M6 over 250 up to 315 mm is the exception of the standard, -9 and not -11 micrometres; N above grade 8
        over 3 mm ends at nought.

    References
    ----------
    .. [1] iso-286-1, tables 2 and 3.
    .. [2] iso-286-2, limit deviations.

    Examples
    --------
    >>> [round(float(d), 9) for d in hole_deviations(nominal=0.04, tolerance_class="K7")]
    [-1.8e-05, 7e-06]
    """
    letter, grade = _parts(tolerance_class, tuple(each.upper() for each in LETTERS), "a capital letter")
    _check(nominal, grade)
    width = tolerance(nominal, grade)
    small = letter.lower()
    if small == "js":
        return Deviations(-width / 2, width / 2)
    if small in LOOSE:
        lower = _deviation(nominal, small)
        return Deviations(lower + 0.0, lower + width)
    upper = _upper_of_tight_hole(np.asarray(nominal, dtype=np.float64), small, grade) + 0.0
    return Deviations(upper - width, upper)


def play(*, nominal: Number, hole: str, shaft: str) -> Play:
    """Least and greatest clearance of a fit such as H7/g6; negative is interference.

    Use it to read what a fit on a drawing means before parts are measured: H7/p6 for a dowel, H7/u6 for a seat.

    .. math:: c_{min} = EI - es, \\qquad c_{max} = ES - ei

    Parameters
    ----------
    nominal : Number
        nominal size of both [m]
    hole : str
        tolerance class of the hole, such as H7 [word]
    shaft : str
        tolerance class of the shaft, such as g6 [word]

    Returns
    -------
    least : Number
        tightest clearance on diameter [m]
    greatest : Number
        loosest clearance on diameter [m]

    Raises
    ------
    OutOfRange
        If ``nominal <= 0`` or ``nominal > 0.5``; for a class that `hole_deviations` or `shaft_deviations` refuses.

    Notes
    -----
    Assumes: both parts at 20 °C, each within its limits.

    References
    ----------
    .. [1] iso-286-1, 3.4.

    Examples
    --------
    >>> [round(float(c), 9) for c in play(nominal=0.05, hole="H7", shaft="g6")]
    [9e-06, 5e-05]
    """
    inside = hole_deviations(nominal=nominal, tolerance_class=hole)
    outside = shaft_deviations(nominal=nominal, tolerance_class=shaft)
    return Play(inside.lower - outside.upper, inside.upper - outside.lower)


def _upper_of_tight_hole(nominal: NDArray[np.float64], letter: str, grade: str) -> Number:
    """Upper deviation of holes K to Z."""
    if GRADES.index(grade) < GRADES.index("3"):
        raise OutOfRange(
            name="tolerance_class",
            value=letter.upper() + grade,
            expected="grades 3 to 18",
            unit="word",
            source="iso-286-1",
        )
    fine = int(grade) <= (8 if letter in ("k", "m", "n") else 7)
    large = nominal > _SMALLEST
    if fine:
        finer = tolerance(nominal, GRADES[GRADES.index(grade) - 1])
        lift = np.where(large, tolerance(nominal, grade) - finer, 0.0)
        upper = lift - _deviation(nominal, letter)
        if letter + grade == "m6":
            upper = np.where((nominal > 0.25) & (nominal <= 0.315), -9 * MICROMETRE, upper)
        return upper
    if letter == "k" and np.any(large):
        refuse("nominal", nominal, large, "m", "K above grade 8 only up to 0.003", source="iso-286-1")
    if letter == "n":
        require("nominal", nominal, "m", above=_NO_LETTER, source="iso-286-1")
        return np.where(large, 0.0, -_deviation(nominal, letter))
    return -_deviation(nominal, letter)


def _deviation(nominal: Number, letter: str) -> NDArray[np.float64]:
    """Fundamental deviation of a shaft without its sign; refused where the standard has none."""
    found = tabulated(nominal, letter)
    missing = np.isnan(found) | (np.asarray(nominal) <= _NO_LETTER if letter in ("a", "b") else False)
    if np.any(missing):
        expected = f"sizes for which the standard has the letter {letter}"
        refuse("nominal", nominal, np.asarray(missing), "m", expected, source="iso-286-1")
    return found


def _parts(tolerance_class: str, letters: tuple[str, ...], kind: str) -> tuple[str, str]:
    """Letter and grade of a class; a letter that the tables here do not hold is refused by name."""
    found = _CLASS.match(tolerance_class)
    if found is None or found["letter"] not in letters or found["grade"] not in GRADES:
        expected = f"{kind} of {', '.join(letters)} and a grade of {', '.join(GRADES)}"
        raise OutOfRange(
            name="tolerance_class", value=tolerance_class, expected=expected, unit="word", source="iso-286-1"
        )
    return found["letter"], found["grade"]


def _check(nominal: Number, grade: str) -> None:
    """Refuse sizes and grades outside the tables."""
    if grade not in GRADES:
        raise OutOfRange(
            name="grade", value=grade, expected=f"one of {', '.join(GRADES)}", unit="word", source="iso-286-1"
        )
    require("nominal", nominal, "m", above=0, at_most=LARGEST, source="iso-286-1")
    if GRADES.index(grade) >= GRADES.index("14"):
        require("nominal", nominal, "m", above=_NO_LETTER, at_most=LARGEST, source="iso-286-1")
