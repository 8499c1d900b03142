"""How sizes, gaps and clearances grow with temperature."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import require

Number = float | NDArray[np.float64]


def size_at_temperature(*, size: Number, expansion: Number, temperature: Number, reference: Number) -> Number:
    """Size of a free part at another temperature.

    Use it for oven and freezer, and to know what a journal warm from the grinder will measure tomorrow.

    .. math:: L = L_0\\,[1 + \\alpha (T - T_0)]

    Parameters
    ----------
    size : Number
        size at the reference temperature, :math:`L_0` [m]
    expansion : Number
        mean coefficient of expansion over the range, :math:`\\alpha` [1/K]
    temperature : Number
        temperature asked for, :math:`T` [K]
    reference : Number
        temperature of the known size, :math:`T_0` [K]

    Returns
    -------
    result : Number
        size at the temperature, :math:`L` [m]

    Raises
    ------
    OutOfRange
        If ``temperature <= 0`` or ``reference <= 0``.

    Notes
    -----
    Assumes: a part that nothing holds; the coefficient is a mean over the range, good to some 10 %.

    References
    ----------
    .. [1] iso-1, reference temperature 20 °C.

    Examples
    --------
    >>> part = dict(size=0.02, expansion=22.2e-6, reference=293.15)
    >>> round((size_at_temperature(**part, temperature=593.15) - 0.02) * 1e3, 4)
    0.1332
    """
    require("size", size, "m", source="iso-1")
    _known("iso-1", expansion=expansion)
    _warm("iso-1", temperature=temperature, reference=reference)
    return size * (1 + expansion * (temperature - reference))


def size_at_reference(
    *,
    reading: Number,
    part_expansion: Number,
    part_temperature: Number,
    gauge_expansion: Number,
    gauge_temperature: Number,
    reference: Number,
) -> Number:
    """Size at 20 °C of a part that was measured warm with a gauge that was warm too.

    Use it for light alloy above all: an aluminium bore read at 30 °C is far off, an iron one measured with steel
    hardly. Part and gauge each have their own temperature.

    .. math:: L_{20} = L\\,\\frac{1 + \\alpha_s (T_s - T_0)}{1 + \\alpha_w (T_w - T_0)}

    Parameters
    ----------
    reading : Number
        what the gauge shows, :math:`L` [m]
    part_expansion : Number
        coefficient of expansion of the part, :math:`\\alpha_w` [1/K]
    part_temperature : Number
        temperature of the part, :math:`T_w` [K]
    gauge_expansion : Number
        coefficient of expansion of the gauge, :math:`\\alpha_s` [1/K]
    gauge_temperature : Number
        temperature of the gauge, :math:`T_s` [K]
    reference : Number
        temperature for which the gauge is right and the limits hold, 20 °C, :math:`T_0` [K]

    Returns
    -------
    result : Number
        size at the reference temperature, :math:`L_{20}` [m]

    Raises
    ------
    OutOfRange
        If ``part_temperature <= 0``, ``gauge_temperature <= 0`` or ``reference <= 0``.

    Notes
    -----
    Assumes: both have soaked, each has one temperature throughout.
    No published value: the ratio of two free expansions; tested by going there and back.

    References
    ----------
    .. [1] iso-1, reference temperature 20 °C.

    Examples
    --------
    >>> warm = dict(part_temperature=303.15, gauge_temperature=303.15, reference=293.15)
    >>> at_20 = size_at_reference(reading=0.083, part_expansion=23.1e-6, gauge_expansion=11.5e-6, **warm)
    >>> round((at_20 - 0.083) * 1e6, 1)
    -9.6
    """
    require("reading", reading, "m", source="iso-1")
    _known("iso-1", part_expansion=part_expansion, gauge_expansion=gauge_expansion)
    _warm("iso-1", part_temperature=part_temperature, gauge_temperature=gauge_temperature, reference=reference)
    gauge = 1 + gauge_expansion * (gauge_temperature - reference)
    return reading * gauge / (1 + part_expansion * (part_temperature - reference))


def hot_clearance(
    *,
    clearance: Number,
    diameter: Number,
    housing_expansion: Number,
    housing_temperature: Number,
    shaft_expansion: Number,
    shaft_temperature: Number,
    reference: Number,
) -> Number:
    """Clearance on diameter at working temperature, housing and shaft each at its own.

    Use it to see where a cold clearance goes: a light-alloy case opens on a steel crank, a piston closes in its
    bore. Crown and skirt need their own temperatures.

    .. math:: c = c_0 + d\\,[\\alpha_h (T_h - T_0) - \\alpha_s (T_s - T_0)]

    Parameters
    ----------
    clearance : Number
        clearance on diameter at the reference temperature, :math:`c_0` [m]
    diameter : Number
        nominal diameter, :math:`d` [m]
    housing_expansion : Number
        coefficient of expansion of housing or bore, :math:`\\alpha_h` [1/K]
    housing_temperature : Number
        temperature of housing or bore, :math:`T_h` [K]
    shaft_expansion : Number
        coefficient of expansion of shaft or piston, :math:`\\alpha_s` [1/K]
    shaft_temperature : Number
        temperature of shaft or piston, :math:`T_s` [K]
    reference : Number
        temperature of the cold clearance, :math:`T_0` [K]

    Returns
    -------
    result : Number
        clearance on diameter when hot; negative seizes, :math:`c` [m]

    Raises
    ------
    OutOfRange
        If ``diameter <= 0``, ``housing_temperature <= 0``, ``shaft_temperature <= 0`` or ``reference <= 0``.

    Notes
    -----
    Assumes: free growth of both. For a light-alloy case held by iron caps take `restrained_expansion`.
    Valid for: comparison. Cold limits of a service book already allow for growth; never correct them by it.
    No published value: a difference of two expansions; tested against `size_at_temperature`, which has them.

    References
    ----------
    .. [1] derived, free thermal expansion of both parts.

    Examples
    --------
    >>> case = dict(clearance=0.00005, diameter=0.06, housing_expansion=21.5e-6, shaft_expansion=11.5e-6)
    >>> hot = dict(housing_temperature=383.15, shaft_temperature=383.15, reference=293.15)
    >>> round(hot_clearance(**case, **hot) * 1e6, 1)
    104.0
    """
    require("clearance", clearance, "m", source="derived")
    require("diameter", diameter, "m", above=0, source="derived")
    _known("derived", housing_expansion=housing_expansion, shaft_expansion=shaft_expansion)
    _warm("derived", housing_temperature=housing_temperature, shaft_temperature=shaft_temperature, reference=reference)
    housing = housing_expansion * (housing_temperature - reference)
    return clearance + diameter * (housing - shaft_expansion * (shaft_temperature - reference))


def clearance_from_hot(
    *,
    hot_clearance: Number,
    diameter: Number,
    housing_expansion: Number,
    housing_temperature: Number,
    shaft_expansion: Number,
    shaft_temperature: Number,
    reference: Number,
) -> Number:
    """Cold clearance that leaves a wanted clearance when hot.

    Use it where a maker gives a running clearance only, or to see what cold clearance a piston of another alloy
    would need.

    .. math:: c_0 = c - d\\,[\\alpha_h (T_h - T_0) - \\alpha_s (T_s - T_0)]

    Parameters
    ----------
    hot_clearance : Number
        wanted clearance on diameter when hot, :math:`c` [m]
    diameter : Number
        nominal diameter, :math:`d` [m]
    housing_expansion : Number
        coefficient of expansion of housing or bore, :math:`\\alpha_h` [1/K]
    housing_temperature : Number
        temperature of housing or bore, :math:`T_h` [K]
    shaft_expansion : Number
        coefficient of expansion of shaft or piston, :math:`\\alpha_s` [1/K]
    shaft_temperature : Number
        temperature of shaft or piston, :math:`T_s` [K]
    reference : Number
        temperature of the cold clearance, :math:`T_0` [K]

    Returns
    -------
    result : Number
        clearance on diameter when cold, :math:`c_0` [m]

    Raises
    ------
    OutOfRange
        If ``diameter <= 0``, ``housing_temperature <= 0``, ``shaft_temperature <= 0`` or ``reference <= 0``.

    Notes
    -----
    Assumes: free growth of both.
    No published value: the inverse of `hot_clearance`; the two are tested against each other.

    References
    ----------
    .. [1] derived, free thermal expansion of both parts.

    Examples
    --------
    >>> skirt = dict(diameter=0.086, housing_expansion=11e-6, shaft_expansion=20.5e-6)
    >>> hot = dict(housing_temperature=373.15, shaft_temperature=403.15, reference=293.15)
    >>> round(clearance_from_hot(hot_clearance=0.0, **skirt, **hot) * 1e6, 1)
    118.2
    """
    require("hot_clearance", hot_clearance, "m", source="derived")
    require("diameter", diameter, "m", above=0, source="derived")
    _known("derived", housing_expansion=housing_expansion, shaft_expansion=shaft_expansion)
    _warm("derived", housing_temperature=housing_temperature, shaft_temperature=shaft_temperature, reference=reference)
    housing = housing_expansion * (housing_temperature - reference)
    return hot_clearance - diameter * (housing - shaft_expansion * (shaft_temperature - reference))


def restrained_expansion(*, free_expansion: Number, held_expansion: Number, restraint: Number) -> Number:
    """Effective coefficient of expansion of a bore that something stiffer holds in part.

    Use it for a light-alloy case with iron caps or cast-in iron: nought follows the case, one follows the iron. The
    share is a judgement; try both ends to see what it can do.

    .. math:: \\alpha = (1 - r)\\,\\alpha_{free} + r\\,\\alpha_{held}

    Parameters
    ----------
    free_expansion : Number
        coefficient of the material around the bore, :math:`\\alpha_{free}` [1/K]
    held_expansion : Number
        coefficient of what holds it, :math:`\\alpha_{held}` [1/K]
    restraint : Number
        share that the holding part has, 0 to 1, :math:`r` [1]

    Returns
    -------
    result : Number
        effective coefficient, :math:`\\alpha` [1/K]

    Raises
    ------
    OutOfRange
        If ``restraint < 0`` or ``restraint > 1``.

    Notes
    -----
    Accuracy: a straight line between two bounds, not a stress calculation.
    No published value: a mean by share.

    References
    ----------
    .. [1] practice, bounds of a bimetal bore.

    Examples
    --------
    >>> round(restrained_expansion(free_expansion=21.5e-6, held_expansion=10.8e-6, restraint=0.5) * 1e6, 2)
    16.15
    """
    _known("practice", free_expansion=free_expansion, held_expansion=held_expansion)
    require("restraint", restraint, "1", at_least=0, at_most=1, source="practice")
    return (1 - restraint) * free_expansion + restraint * held_expansion


def hot_ring_gap(
    *,
    gap: Number,
    bore: Number,
    ring_expansion: Number,
    ring_temperature: Number,
    bore_expansion: Number,
    bore_temperature: Number,
    reference: Number,
) -> Number:
    """End gap of a piston ring when hot; a gap that closes breaks the ring or scores the bore.

    Use it before filing a gap to the low limit in an iron bore that runs hotter than its book had in mind.

    .. math:: g = g_0 + \\pi D\\,[\\alpha_b (T_b - T_0) - \\alpha_r (T_r - T_0)]

    Parameters
    ----------
    gap : Number
        gap gauged cold in the finished bore, :math:`g_0` [m]
    bore : Number
        diameter of the bore, :math:`D` [m]
    ring_expansion : Number
        coefficient of expansion of the ring, :math:`\\alpha_r` [1/K]
    ring_temperature : Number
        temperature of the ring, :math:`T_r` [K]
    bore_expansion : Number
        coefficient of expansion of the bore, :math:`\\alpha_b` [1/K]
    bore_temperature : Number
        temperature of the bore, :math:`T_b` [K]
    reference : Number
        temperature of the cold gap, :math:`T_0` [K]

    Returns
    -------
    result : Number
        gap when hot; negative butts, :math:`g` [m]

    Raises
    ------
    OutOfRange
        If ``bore <= 0``, ``ring_temperature <= 0``, ``bore_temperature <= 0`` or ``reference <= 0``.

    Notes
    -----
    Assumes: the ring touches the bore all round; each has one temperature.
    No published value: the growth of two circumferences; tested against `size_at_temperature`, which has them.

    References
    ----------
    .. [1] derived, free thermal expansion of ring and bore.

    Examples
    --------
    >>> iron = dict(ring_expansion=12e-6, ring_temperature=413.15, bore_expansion=11e-6, bore_temperature=373.15)
    >>> round(hot_ring_gap(gap=0.0003, bore=0.086, reference=293.15, **iron) * 1e3, 3)
    0.149
    """
    require("gap", gap, "m", source="derived")
    require("bore", bore, "m", above=0, source="derived")
    _known("derived", ring_expansion=ring_expansion, bore_expansion=bore_expansion)
    _warm("derived", ring_temperature=ring_temperature, bore_temperature=bore_temperature, reference=reference)
    ring = ring_expansion * (ring_temperature - reference)
    return gap + np.pi * bore * (bore_expansion * (bore_temperature - reference) - ring)


def _warm(source: str, **kelvins: Number) -> None:
    """Refuse temperatures that are not absolute ones."""
    for name, kelvin in kelvins.items():
        require(name, kelvin, "K", above=0, source=source)


def _known(source: str, **coefficients: Number) -> None:
    """Refuse coefficients of expansion that are no numbers."""
    for name, coefficient in coefficients.items():
        require(name, coefficient, "1/K", source=source)
