"""Look-ups of standard threads: which pitches a size has, and the limits that its tolerance class allows."""

from __future__ import annotations

import re
from functools import cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from endfloat.errors import OutOfRange
from endfloat.formulas.threads import metric_sizes

Number = float | NDArray[np.float64]

_DESIGNATION = re.compile(r"^M\s?(?P<size>\d+(?:\.\d+)?)\s?[x×]\s?(?P<pitch>\d+(?:\.\d+)?)$")

_METRIC = {
    "M3": (0.0005, 0.00035),
    "M4": (0.0007, 0.0005),
    "M5": (0.0008, 0.0005),
    "M6": (0.001, 0.00075),
    "M7": (0.001, 0.00075),
    "M8": (0.00125, 0.001, 0.00075),
    "M9": (0.00125, 0.001, 0.00075),
    "M10": (0.0015, 0.00125, 0.001, 0.00075),
    "M11": (0.0015, 0.001, 0.00075),
    "M12": (0.00175, 0.0015, 0.00125, 0.001),
    "M14": (0.002, 0.0015, 0.00125, 0.001),
    "M16": (0.002, 0.0015, 0.001),
    "M18": (0.0025, 0.002, 0.0015, 0.001),
    "M20": (0.0025, 0.002, 0.0015, 0.001),
    "M22": (0.0025, 0.002, 0.0015, 0.001),
    "M24": (0.003, 0.002, 0.0015, 0.001),
    "M27": (0.003, 0.002, 0.0015, 0.001),
    "M30": (0.0035, 0.003, 0.002, 0.0015, 0.001),
    "M36": (0.004, 0.003, 0.002, 0.0015),
}
_THREADS_PER_INCH = {
    "1/4": (20, 28),
    "5/16": (18, 24),
    "3/8": (16, 24),
    "7/16": (14, 20),
    "1/2": (13, 20),
    "9/16": (12, 18),
    "5/8": (11, 18),
    "3/4": (10, 16),
    "7/8": (9, 14),
    "1": (8, 12),
}
_INCH = 0.0254
_ALLOWANCES = {
    # pitch: allowance g, tolerance 6 of the major diameter of the bolt, of the minor diameter of the nut (µm)
    "0.5": (20, 106, 140),
    "0.6": (21, 125, 160),
    "0.7": (22, 140, 180),
    "0.75": (22, 140, 190),
    "0.8": (24, 150, 200),
    "1": (26, 180, 236),
    "1.25": (28, 212, 265),
    "1.5": (32, 236, 300),
    "1.75": (34, 265, 335),
    "2": (38, 280, 375),
    "2.5": (42, 335, 450),
    "3": (48, 375, 500),
    "3.5": (53, 425, 560),
    "4": (60, 475, 600),
}
_PITCH_TOLERANCES = {
    # sizes up to: pitch: tolerance 6 of the pitch diameter of the bolt, of the nut (µm)
    2.8: {},
    5.6: {"0.5": (75, 100), "0.6": (85, 112), "0.7": (90, 118), "0.75": (90, 118), "0.8": (95, 125)},
    11.2: {"0.75": (100, 132), "1": (112, 150), "1.25": (118, 160), "1.5": (132, 180)},
    22.4: {
        "1": (118, 160),
        "1.25": (132, 180),
        "1.5": (140, 190),
        "1.75": (150, 200),
        "2": (160, 212),
        "2.5": (170, 224),
    },
    45.0: {
        "1": (125, 170),
        "1.5": (150, 200),
        "2": (170, 224),
        "3": (200, 265),
        "3.5": (212, 280),
        "4": (224, 300),
    },
}
_MICROMETRE, _MILLIMETRE = 1e-6, 1e-3


class InchThread(NamedTuple):
    """A unified thread by its name."""

    diameter: float
    pitch: float


class MetricLimits(NamedTuple):
    """Least and greatest diameters of a metric bolt of class 6g and of its nut of class 6H."""

    bolt_major_least: float
    bolt_major_greatest: float
    bolt_pitch_least: float
    bolt_pitch_greatest: float
    nut_minor_least: float
    nut_minor_greatest: float
    nut_pitch_least: float
    nut_pitch_greatest: float


def metric_pitches(*, size: str) -> NDArray[np.float64]:
    """Pitches that the standard has for a metric size, the coarse one first.

    Before a thread is typed in: several pitches share one diameter, and a bolt of the wrong one goes in for two turns
    and then tears the hole. A pitch outside this list exists on some engines; measure it.

    Parameters
    ----------
    size : str
        size such as M10 [word]

    Returns
    -------
    result : NDArray[np.float64]
        pitches, the coarse one first [m]

    Raises
    ------
    OutOfRange
        If the size is not in the table.

    Notes
    -----
    Valid for: M3 to M36 of the sizes that engines use.
    No published value: a look-up, with its figures from memory.

    References
    ----------
    .. [1] iso-261, table 2.
    .. [2] memory, as remembered.

    Examples
    --------
    >>> metric_pitches(size="M10")
    array([0.0015 , 0.00125, 0.001  , 0.00075])
    """
    if size not in _METRIC:
        raise OutOfRange(name="size", value=size, expected=", ".join(_METRIC), unit="word", source="iso-261")
    return np.array(_METRIC[size])


def inch_thread(*, size: str, series: str) -> InchThread:
    """Diameter and pitch of a unified thread by its name.

    When a book says 7/16 UNF and the formulas want sizes. The coarse (UNC) and the fine (UNF) thread of one diameter
    do not fit each other.

    Parameters
    ----------
    size : str
        fraction of an inch such as 7/16 [word]
    series : str
        UNC or UNF [word]

    Returns
    -------
    diameter : float
        major diameter [m]
    pitch : float
        one inch divided by the threads per inch [m]

    Raises
    ------
    OutOfRange
        If the size or the series is not in the table.

    Notes
    -----
    Valid for: 1/4 to 1 inch; the fine one-inch thread has 12 threads per inch (14 is another series).

    References
    ----------
    .. [1] asme-b1-1, table of series.

    Examples
    --------
    >>> round(inch_thread(size="1/2", series="UNC").pitch * 1e3, 4)
    1.9538
    """
    if size not in _THREADS_PER_INCH:
        known = ", ".join(_THREADS_PER_INCH)
        raise OutOfRange(name="size", value=size, expected=known, unit="word", source="asme-b1-1")
    if series not in ("UNC", "UNF"):
        raise OutOfRange(name="series", value=series, expected="UNC or UNF", unit="word", source="asme-b1-1")
    above, _, below = size.partition("/")
    coarse, fine = _THREADS_PER_INCH[size]
    return InchThread(
        diameter=int(above) / int(below or "1") * _INCH,
        pitch=_INCH / (coarse if series == "UNC" else fine),
    )


def metric_limits(*, thread: str) -> MetricLimits:
    """Limits of a metric bolt of class 6g and a tapped hole of class 6H.

    To judge a worn or bought bolt with a micrometer, and for the strength of a thread against stripping, which hangs
    on the thinnest bolt in the widest hole.

    Parameters
    ----------
    thread : str
        thread with its pitch such as M10x1.5 [word]

    Returns
    -------
    bolt_major_least : float
        least major diameter of the bolt [m]
    bolt_major_greatest : float
        greatest major diameter of the bolt [m]
    bolt_pitch_least : float
        least pitch diameter of the bolt [m]
    bolt_pitch_greatest : float
        greatest pitch diameter of the bolt [m]
    nut_minor_least : float
        least minor diameter of the tapped hole [m]
    nut_minor_greatest : float
        greatest minor diameter of the tapped hole [m]
    nut_pitch_least : float
        least pitch diameter of the tapped hole [m]
    nut_pitch_greatest : float
        greatest pitch diameter of the tapped hole [m]

    Raises
    ------
    OutOfRange
        If the thread is not of the form M10x1.5 or its pitch has no tolerance for that diameter in the table.

    Notes
    -----
    Valid for: M3 to M45, pitches of the table, normal length of engagement, before plating.
    Differs from source: the printed American metric table gives M11x1.5 a pitch tolerance of 0.170 mm in the hole,
    where the ISO range of diameters gives 0.180 mm.

    References
    ----------
    .. [1] iso-965-1, tolerances of grade 6, deviations g and H.
    .. [2] memory, as remembered; spot checks against printed tables.

    Examples
    --------
    >>> limits = metric_limits(thread="M10x1.5")
    >>> round(limits.bolt_major_least * 1e3, 3), round(limits.nut_pitch_greatest * 1e3, 3)
    (9.732, 9.206)
    """
    size, pitch = _read_designation(thread)
    allowance, bolt_major, nut_minor = (_MICROMETRE * each for each in _ALLOWANCES[pitch])
    bolt_pitch, nut_pitch = (_MICROMETRE * each for each in _tolerances_of(size)[pitch])
    diameter = _MILLIMETRE * size
    basic = metric_sizes(diameter=diameter, pitch=_MILLIMETRE * float(pitch))
    greatest, greatest_pitch = diameter - allowance, float(basic.pitch_diameter) - allowance
    return MetricLimits(
        bolt_major_least=greatest - bolt_major,
        bolt_major_greatest=greatest,
        bolt_pitch_least=greatest_pitch - bolt_pitch,
        bolt_pitch_greatest=greatest_pitch,
        nut_minor_least=float(basic.minor_diameter),
        nut_minor_greatest=float(basic.minor_diameter) + nut_minor,
        nut_pitch_least=float(basic.pitch_diameter),
        nut_pitch_greatest=float(basic.pitch_diameter) + nut_pitch,
    )


@cache
def _tolerances_of(size: float) -> dict[str, tuple[int, int]]:
    return next((row for up_to, row in _PITCH_TOLERANCES.items() if size <= up_to), {})


def _read_designation(thread: str) -> tuple[float, str]:
    """Size and pitch of a designation whose pitch has tolerances."""
    match = _DESIGNATION.match(thread)
    known = "a thread such as M10x1.5"
    if match is not None:
        size, pitch = float(match["size"]), f"{float(match['pitch']):g}"
        found = _tolerances_of(size)
        if pitch in found:
            return size, pitch
        known = f"M{size:g} with the pitch {', '.join(found)} mm" if found else "sizes from M3 to M45"
    raise OutOfRange(name="thread", value=thread, expected=known, unit="word", source="iso-965-1")
