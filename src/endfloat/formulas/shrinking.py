"""Fits put together hot or cold, what holds them, and what heat leaves of them."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import require

Number = float | NDArray[np.float64]


def press_force(*, pressure: Number, diameter: Number, length: Number, friction: Number) -> Number:
    """Axial force that presses one part into another, or pulls it out again.

    Use it to choose the press, and to judge a part that went in too easily: half the force is half the fit.

    .. math:: F = \\mu\\,p\\,\\pi\\,d\\,L

    Parameters
    ----------
    pressure : Number
        pressure where they meet, :math:`p` [Pa]
    diameter : Number
        diameter where they meet, :math:`d` [m]
    length : Number
        length that is in contact, :math:`L` [m]
    friction : Number
        coefficient of friction, :math:`\\mu` [1]

    Returns
    -------
    result : Number
        force along the axis, :math:`F` [N]

    Raises
    ------
    OutOfRange
        If ``pressure < 0``, ``diameter <= 0``, ``length < 0`` or ``friction < 0``.

    Notes
    -----
    Assumes: pressure even over the length; it rises at the ends in truth.
    No published value: force is pressure by area by friction; the pressure has them.

    References
    ----------
    .. [1] shigley, interference fits of two members.

    Examples
    --------
    >>> round(press_force(pressure=30e6, diameter=0.013, length=0.04, friction=0.12) / 1e3, 2)
    5.88
    """
    _contact(pressure, diameter, length, friction)
    return friction * pressure * np.pi * diameter * length


def holding_torque(*, pressure: Number, diameter: Number, length: Number, friction: Number) -> Number:
    """Torque that a pressed or shrunk part passes on before it slips.

    Use it for ring gears, hubs without a key and built-up camshafts.

    .. math:: T = \\mu\\,p\\,\\pi\\,d^2 L / 2

    Parameters
    ----------
    pressure : Number
        pressure where they meet, :math:`p` [Pa]
    diameter : Number
        diameter where they meet, :math:`d` [m]
    length : Number
        length that is in contact, :math:`L` [m]
    friction : Number
        coefficient of friction, :math:`\\mu` [1]

    Returns
    -------
    result : Number
        torque at the point of slip, :math:`T` [N m]

    Raises
    ------
    OutOfRange
        If ``pressure < 0``, ``diameter <= 0``, ``length < 0`` or ``friction < 0``.

    Notes
    -----
    Assumes: pressure even over the length, no axial force at the same time.
    No published value: force by half the diameter; the pressure has them.

    References
    ----------
    .. [1] shigley, interference fits of two members.

    Examples
    --------
    >>> round(holding_torque(pressure=10e6, diameter=0.3, length=0.012, friction=0.15))
    2545
    """
    _contact(pressure, diameter, length, friction)
    return friction * pressure * np.pi * diameter**2 * length / 2


def interference_at_temperature(
    *,
    interference: Number,
    diameter: Number,
    outer_expansion: Number,
    outer_temperature: Number,
    inner_expansion: Number,
    inner_temperature: Number,
    reference: Number,
) -> Number:
    """Interference that is left when both parts are warm, each at its own temperature.

    Use it before trusting an iron seat in a light-alloy head or an iron liner in a light-alloy block: what is tight
    on the bench may be loose at work. Negative means clearance.

    .. math:: \\delta(T) = \\delta + d\\,[\\alpha_i (T_i - T_0) - \\alpha_o (T_o - T_0)]

    Parameters
    ----------
    interference : Number
        interference on diameter at the reference temperature, :math:`\\delta` [m]
    diameter : Number
        diameter where they meet, :math:`d` [m]
    outer_expansion : Number
        mean coefficient of expansion of the outer part, :math:`\\alpha_o` [1/K]
    outer_temperature : Number
        temperature of the outer part, :math:`T_o` [K]
    inner_expansion : Number
        mean coefficient of expansion of the inner part, :math:`\\alpha_i` [1/K]
    inner_temperature : Number
        temperature of the inner part, :math:`T_i` [K]
    reference : Number
        temperature of the measured interference, :math:`T_0` [K]

    Returns
    -------
    result : Number
        interference at temperature, :math:`\\delta(T)` [m]

    Raises
    ------
    OutOfRange
        If ``diameter <= 0``, ``outer_temperature <= 0``, ``inner_temperature <= 0`` or ``reference <= 0``.

    Notes
    -----
    Assumes: free expansion of both, no stress; the coefficients are means over the range.
    No published value: a difference of two expansions; `heating_to_assemble` is its inverse and has them.

    References
    ----------
    .. [1] derived, free thermal expansion of both parts.

    Examples
    --------
    >>> seat = dict(diameter=0.04, outer_expansion=23e-6, inner_expansion=11e-6, reference=293.15)
    >>> hot = dict(outer_temperature=473.15, inner_temperature=473.15)
    >>> round(interference_at_temperature(interference=0.0001, **seat, **hot) * 1e6, 1)
    13.6
    """
    require("interference", interference, "m", source="derived")
    require("outer_expansion", outer_expansion, "1/K", source="derived")
    require("inner_expansion", inner_expansion, "1/K", source="derived")
    require("diameter", diameter, "m", above=0, source="derived")
    for name, kelvin in (
        ("outer_temperature", outer_temperature),
        ("inner_temperature", inner_temperature),
        ("reference", reference),
    ):
        require(name, kelvin, "K", above=0, source="derived")
    inner = inner_expansion * (inner_temperature - reference)
    return interference + diameter * (inner - outer_expansion * (outer_temperature - reference))


def heating_to_assemble(*, interference: Number, clearance: Number, diameter: Number, expansion: Number) -> Number:
    """How much hotter the outer part must be, or how much colder the inner part, to slip together.

    Use it for the oven or the dry ice; give the expansion of the part that is heated or cooled, and a clearance
    that lets it drop home before the temperatures meet.

    .. math:: \\Delta T = \\frac{\\delta + c}{\\alpha\\,d}

    Parameters
    ----------
    interference : Number
        interference on diameter while both are at one temperature, :math:`\\delta` [m]
    clearance : Number
        clearance on diameter wanted while assembling, :math:`c` [m]
    diameter : Number
        diameter where they meet, :math:`d` [m]
    expansion : Number
        mean coefficient of expansion of the part that is heated or cooled, :math:`\\alpha` [1/K]

    Returns
    -------
    result : Number
        difference of temperature, :math:`\\Delta T` [K]

    Raises
    ------
    OutOfRange
        If ``interference < 0``, ``clearance < 0``, ``diameter <= 0`` or ``expansion <= 0``.

    Notes
    -----
    Assumes: a mean coefficient; iron shrinks less a kelvin far below nought than above it.

    References
    ----------
    .. [1] boresi, example 11.3.

    Examples
    --------
    >>> shrink = dict(interference=0.000144, clearance=0.00005, diameter=0.05, expansion=11.7e-6)
    >>> round(heating_to_assemble(**shrink), 2)
    331.62
    """
    require("interference", interference, "m", at_least=0, source="boresi")
    require("clearance", clearance, "m", at_least=0, source="boresi")
    require("diameter", diameter, "m", above=0, source="boresi")
    require("expansion", expansion, "1/K", above=0, source="boresi")
    return (interference + clearance) / (expansion * diameter)


def heating_beside_chilling(
    *,
    interference: Number,
    clearance: Number,
    diameter: Number,
    outer_expansion: Number,
    inner_expansion: Number,
    chilling: Number,
) -> Number:
    """How much to heat the outer part when the inner one is chilled as well.

    Use it when the head must not be heated as far as it would need alone: a seat from the freezer takes part of it.
    Nought if chilling alone is enough.

    .. math:: \\Delta T_o = \\max\\left(0, \\frac{\\delta + c - \\alpha_i d\\, \\Delta T_i}{\\alpha_o d}\\right)

    Parameters
    ----------
    interference : Number
        interference on diameter while both are at one temperature, :math:`\\delta` [m]
    clearance : Number
        clearance on diameter wanted while assembling, :math:`c` [m]
    diameter : Number
        diameter where they meet, :math:`d` [m]
    outer_expansion : Number
        mean coefficient of expansion of the outer part, :math:`\\alpha_o` [1/K]
    inner_expansion : Number
        mean coefficient of expansion of the inner part, :math:`\\alpha_i` [1/K]
    chilling : Number
        how much the inner part is cooled, positive, :math:`\\Delta T_i` [K]

    Returns
    -------
    result : Number
        how much the outer part is heated, :math:`\\Delta T_o` [K]

    Raises
    ------
    OutOfRange
        If ``interference < 0``, ``clearance < 0``, ``diameter <= 0``, ``outer_expansion <= 0``,
        ``inner_expansion < 0`` or ``chilling < 0``.

    Notes
    -----
    Assumes: the chilled part is dry and free of frost, and both are brought together at once.
    No published value: `heating_to_assemble`, which has them, less what chilling gives; tested against it.

    References
    ----------
    .. [1] derived, free thermal expansion of both parts.

    Examples
    --------
    >>> seat = dict(interference=0.0001, clearance=0.00005, diameter=0.04, outer_expansion=23e-6)
    >>> round(heating_beside_chilling(**seat, inner_expansion=10e-6, chilling=90.0), 1)
    123.9
    """
    require("interference", interference, "m", at_least=0, source="derived")
    require("clearance", clearance, "m", at_least=0, source="derived")
    require("diameter", diameter, "m", above=0, source="derived")
    require("outer_expansion", outer_expansion, "1/K", above=0, source="derived")
    require("inner_expansion", inner_expansion, "1/K", at_least=0, source="derived")
    require("chilling", chilling, "K", at_least=0, source="derived")
    left = interference + clearance - inner_expansion * diameter * chilling
    return np.maximum(left, 0.0) / (outer_expansion * diameter)


def interference_after_smoothing(*, interference: Number, outer_roughness: Number, inner_roughness: Number) -> Number:
    """Interference that is left after pressing has flattened the peaks of both surfaces.

    Use it for parts pressed in cold; shrunk parts keep their peaks.

    .. math:: \\delta_w = \\delta - 0.8\\,(Rz_o + Rz_i)

    Parameters
    ----------
    interference : Number
        measured interference on diameter, :math:`\\delta` [m]
    outer_roughness : Number
        mean roughness depth Rz of the hole, :math:`Rz_o` [m]
    inner_roughness : Number
        mean roughness depth Rz of the shaft, :math:`Rz_i` [m]

    Returns
    -------
    result : Number
        interference at work, not below nought, :math:`\\delta_w` [m]

    Raises
    ------
    OutOfRange
        If ``interference < 0``, ``outer_roughness < 0`` or ``inner_roughness < 0``.

    Notes
    -----
    Assumes: each surface loses 0.4 of its roughness depth on radius.
    No published value: the rule of DIN 7190 from memory, no worked example at hand.

    References
    ----------
    .. [1] memory, DIN 7190-1, loss of interference by smoothing.

    Examples
    --------
    >>> rough = dict(outer_roughness=6.3e-6, inner_roughness=4e-6)
    >>> round(interference_after_smoothing(interference=60e-6, **rough) * 1e6, 2)
    51.76
    """
    require("interference", interference, "m", at_least=0, source="memory")
    require("outer_roughness", outer_roughness, "m", at_least=0, source="memory")
    require("inner_roughness", inner_roughness, "m", at_least=0, source="memory")
    return np.maximum(interference - 0.8 * (outer_roughness + inner_roughness), 0.0)


def _contact(pressure: Number, diameter: Number, length: Number, friction: Number) -> None:
    """Refuse a contact that cannot be."""
    require("pressure", pressure, "Pa", at_least=0, source="shigley")
    require("diameter", diameter, "m", above=0, source="shigley")
    require("length", length, "m", at_least=0, source="shigley")
    require("friction", friction, "1", at_least=0, source="shigley")
