"""Leak-down: what a reading means with its orifice, pressures and barometer."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import refuse, require

Number = float | NDArray[np.float64]

_HALVINGS = 60
_LEAST = 1e-9


def orifice_flow(
    *,
    area: Number,
    discharge: Number,
    upstream: Number,
    downstream: Number,
    temperature: Number,
    heat_ratio: Number,
    gas_constant: Number,
) -> Number:
    """Mass flow of a gas through a small hole, choked or not.

    Below a pressure ratio of 0.528 for air the flow no longer asks what lies behind the hole.

    .. math:: \\dot m = C A \\frac{p_1}{\\sqrt{R T}} \\sqrt{\\frac{2k}{k - 1}\\left(r^{2/k} - r^{(k+1)/k}\\right)},
              \\quad r = \\max\\left(\\frac{p_2}{p_1}, \\left(\\frac{2}{k+1}\\right)^{k/(k-1)}\\right)

    Parameters
    ----------
    area : Number
        area of the hole, :math:`A` [m2]
    discharge : Number
        discharge coefficient, 1 for a well rounded hole, 0.8 to 0.9 for ring gaps, :math:`C` [1]
    upstream : Number
        absolute pressure before the hole, gas at rest, :math:`p_1` [Pa]
    downstream : Number
        absolute pressure behind the hole, :math:`p_2` [Pa]
    temperature : Number
        absolute temperature before the hole, :math:`T` [K]
    heat_ratio : Number
        ratio of the heat capacities, 1.4 for air, :math:`k` [1]
    gas_constant : Number
        gas constant, 287 J/(kg K) for air, :math:`R` [J/(kg K)]

    Returns
    -------
    result : Number
        mass flow, :math:`\\dot m` [kg/s]

    Raises
    ------
    OutOfRange
        If ``area < 0``, ``discharge <= 0``, ``discharge > 1``, ``upstream <= 0``, ``downstream < 0``,
        ``temperature <= 0``, ``heat_ratio <= 1`` or ``gas_constant <= 0``, or if the pressure behind is higher.

    Notes
    -----
    Assumes: an ideal gas without heat or friction up to the hole, whose losses are in the coefficient.

    References
    ----------
    .. [1] fox-mcdonald, flow through a converging nozzle.
    .. [2] furuhama-1961, discharge coefficient of ring gaps.

    Examples
    --------
    >>> air = dict(temperature=298.0, heat_ratio=1.4, gas_constant=287.0)
    >>> hole = dict(area=1.2566e-5, discharge=1.0, upstream=314e3, downstream=94e3)
    >>> round(float(orifice_flow(**hole, **air)), 5)
    0.00924
    """
    require("area", area, "m2", at_least=0, source="fox-mcdonald")
    require("discharge", discharge, "1", above=0, at_most=1, source="fox-mcdonald")
    require("upstream", upstream, "Pa", above=0, source="fox-mcdonald")
    require("downstream", downstream, "Pa", at_least=0, source="fox-mcdonald")
    require("temperature", temperature, "K", above=0, source="fox-mcdonald")
    require("heat_ratio", heat_ratio, "1", above=1, source="fox-mcdonald")
    require("gas_constant", gas_constant, "J/(kg K)", above=0, source="fox-mcdonald")
    _refuse_above("downstream", downstream, upstream, "fox-mcdonald")
    rate = _flow_factor(downstream / upstream, heat_ratio)
    return discharge * area * upstream / np.sqrt(gas_constant * temperature) * rate


def leak_area(
    *, orifice_area: Number, supply: Number, reading: Number, barometer: Number, heat_ratio: Number
) -> Number:
    """Size of a leak from a leak-down reading: the area of a hole like the tester's own that leaks as much.

    Judge this, not the percentage: the leak that reads 60 of 80 psi with a 0.040 in orifice reads 75 with 0.060 in.

    .. math:: A = A_0 \\frac{p_1\\, \\varphi(p_2 / p_1)}{p_2\\, \\varphi(p_a / p_2)}

    Parameters
    ----------
    orifice_area : Number
        area of the orifice in the tester, :math:`A_0` [m2]
    supply : Number
        gauge pressure before the orifice [Pa]
    reading : Number
        gauge pressure between orifice and cylinder [Pa]
    barometer : Number
        absolute pressure of the air around, :math:`p_a` [Pa]
    heat_ratio : Number
        ratio of the heat capacities, 1.4 for air [1]

    Returns
    -------
    result : Number
        equivalent leak area, :math:`A` [m2]

    Raises
    ------
    OutOfRange
        If ``orifice_area <= 0``, ``supply <= 0``, ``reading <= 0``, ``barometer <= 0`` or ``heat_ratio <= 1``, or if
        the reading is above the supply.

    Notes
    -----
    Assumes: air at one temperature and the same discharge coefficient for orifice and leak; a known hole in place of
        the engine takes out both, see `leak_area_by_master`.
    Accuracy: 1 psi of gauge error is 3 % of area at 60 of 80 psi, 11 % at 75 and 25 % at 78: good cylinders cannot be
        ranked.
    No published value: none was found that states its orifice; checked against nozzle relations of a fluids library.

    References
    ----------
    .. [1] derived, the same mass flow through two holes in a row.
    .. [2] ac-43-13-1b, the test and its orifices.

    Examples
    --------
    >>> tester = dict(orifice_area=8.107e-7, supply=551.6e3, barometer=101325.0, heat_ratio=1.4)
    >>> round(float(leak_area(reading=413.7e3, **tester)) / 8.107e-7, 3)
    1.059
    """
    _require_tester(supply, barometer, heat_ratio)
    require("orifice_area", orifice_area, "m2", above=0, source="derived")
    _require_reading("reading", reading, supply, barometer)
    return orifice_area * _area_ratio(supply, reading, barometer, heat_ratio)


def leak_reading(
    *, orifice_area: Number, leak_area: Number, supply: Number, barometer: Number, heat_ratio: Number
) -> Number:
    """What a leak of known size reads on another tester, at another pressure or in other air.

    .. math:: p_2:\\quad A = A_0 \\frac{p_1\\, \\varphi(p_2 / p_1)}{p_2\\, \\varphi(p_a / p_2)}

    Parameters
    ----------
    orifice_area : Number
        area of the orifice in that tester, :math:`A_0` [m2]
    leak_area : Number
        equivalent leak area, :math:`A` [m2]
    supply : Number
        gauge pressure before the orifice [Pa]
    barometer : Number
        absolute pressure of the air around, :math:`p_a` [Pa]
    heat_ratio : Number
        ratio of the heat capacities, 1.4 for air [1]

    Returns
    -------
    result : Number
        gauge pressure between orifice and cylinder [Pa]

    Raises
    ------
    OutOfRange
        If ``orifice_area <= 0``, ``leak_area < 0``, ``supply <= 0``, ``barometer <= 0`` or ``heat_ratio <= 1``.

    Notes
    -----
    Assumes: air at one temperature and the same discharge coefficient for orifice and leak.
    No published value: the inverse of `leak_area`.

    References
    ----------
    .. [1] derived, the same mass flow through two holes in a row.

    Examples
    --------
    >>> air = dict(supply=551.6e3, barometer=101325.0, heat_ratio=1.4)
    >>> round(float(leak_reading(orifice_area=1.8241e-6, leak_area=8.585e-7, **air)) / 551.6e3 * 80, 1)
    75.3
    """
    _require_tester(supply, barometer, heat_ratio)
    require("orifice_area", orifice_area, "m2", above=0, source="derived")
    require("leak_area", leak_area, "m2", at_least=0, source="derived")
    wanted = leak_area / orifice_area + 0 * (supply + barometer + heat_ratio)
    low, high = np.zeros_like(wanted), np.ones_like(wanted)
    for _ in range(_HALVINGS):
        share = (low + high) / 2
        comes, goes = _flows(supply, share * supply, barometer, heat_ratio)
        higher = comes > wanted * goes
        low, high = np.where(higher, share, low), np.where(higher, high, share)
    reading: Number = (low + high) / 2 * supply
    return reading


def leak_area_by_master(
    *,
    master_area: Number,
    master_reading: Number,
    supply: Number,
    reading: Number,
    barometer: Number,
    heat_ratio: Number,
) -> Number:
    """Size of a leak beside a known hole that was read with the same tester just before.

    The orifice, its coefficient and a gauge that reads a little off all drop out; the hole is the standard.

    .. math:: A = A_m \\frac{g(p_2)}{g(p_m)},\\quad g(p) = \\frac{p_1\\, \\varphi(p / p_1)}{p\\, \\varphi(p_a / p)}

    Parameters
    ----------
    master_area : Number
        area of the known hole, :math:`A_m` [m2]
    master_reading : Number
        gauge pressure that it reads, :math:`p_m` [Pa]
    supply : Number
        gauge pressure before the orifice, the same for both [Pa]
    reading : Number
        gauge pressure that the cylinder reads, :math:`p_2` [Pa]
    barometer : Number
        absolute pressure of the air around, :math:`p_a` [Pa]
    heat_ratio : Number
        ratio of the heat capacities, 1.4 for air [1]

    Returns
    -------
    result : Number
        equivalent leak area, :math:`A` [m2]

    Raises
    ------
    OutOfRange
        If ``master_area <= 0``, ``master_reading <= 0``, ``supply <= 0``, ``reading <= 0``, ``barometer <= 0`` or
        ``heat_ratio <= 1``, or if a reading is above the supply or the hole reads as much as the supply.

    Notes
    -----
    Assumes: air at one temperature; the leak has the discharge coefficient of the hole.
    No published value: checked against `leak_area` with any orifice.

    References
    ----------
    .. [1] derived, the same mass flow through two holes in a row.

    Examples
    --------
    >>> air = dict(supply=551.6e3, barometer=101325.0, heat_ratio=1.4)
    >>> hole = dict(master_area=7.854e-7, master_reading=425e3)
    >>> round(float(leak_area_by_master(reading=500e3, **hole, **air)) * 1e6, 3)
    0.472
    """
    _require_tester(supply, barometer, heat_ratio)
    require("master_area", master_area, "m2", above=0, source="derived")
    _require_reading("master_reading", master_reading, supply, barometer)
    _require_reading("reading", reading, supply, barometer)
    no_leak = np.asarray(np.equal(master_reading, supply))
    if np.any(no_leak):
        refuse("master_reading", master_reading, no_leak, "Pa", f"below {np.max(supply):g}", source="derived")
    return (
        master_area
        * _area_ratio(supply, reading, barometer, heat_ratio)
        / _area_ratio(supply, master_reading, barometer, heat_ratio)
    )


def leak_loss(*, supply: Number, reading: Number) -> Number:
    """Loss of a leak-down test as a share of the supply; it means something for one tester only.

    .. math:: l = 1 - \\frac{p_2}{p_1}

    Parameters
    ----------
    supply : Number
        gauge pressure before the orifice, :math:`p_1` [Pa]
    reading : Number
        gauge pressure between orifice and cylinder, :math:`p_2` [Pa]

    Returns
    -------
    result : Number
        share lost, :math:`l` [1]

    Raises
    ------
    OutOfRange
        If ``supply <= 0`` or ``reading < 0``, or if the reading is above the supply.

    References
    ----------
    .. [1] ac-43-13-1b, paragraph 8-14.

    Examples
    --------
    >>> leak_loss(supply=80.0, reading=60.0)
    0.25
    """
    require("supply", supply, "Pa", above=0, source="ac-43-13-1b")
    require("reading", reading, "Pa", at_least=0, source="ac-43-13-1b")
    _refuse_above("reading", reading, supply, "ac-43-13-1b")
    return 1 - reading / supply


def tester_orifice(*, bore: Number) -> Number:
    """Diameter of the orifice that the aircraft procedure asks for: 0.040 in below 5 in of bore, else 0.060 in.

    Testers for cars seldom state theirs; then a limit in per cent holds for that maker's tester alone.

    Parameters
    ----------
    bore : Number
        bore of the cylinder [m]

    Returns
    -------
    result : Number
        diameter of the orifice, 0.250 in long with a 60 degree approach [m]

    Raises
    ------
    OutOfRange
        If ``bore <= 0``.

    Notes
    -----
    Valid for: change 1 of September 2001 and later; before that the displacement decided.

    References
    ----------
    .. [1] ac-43-13-1b, paragraph 8-14.

    Examples
    --------
    >>> round(float(tester_orifice(bore=0.1302)), 6)
    0.001524
    """
    require("bore", bore, "m", above=0, source="ac-43-13-1b")
    diameter: Number = np.where(np.less(bore, 0.127), 0.001016, 0.001524)[()]
    return diameter


def _flow_factor(ratio: Number, heat_ratio: Number) -> Number:
    choked = (2 / (heat_ratio + 1)) ** (heat_ratio / (heat_ratio - 1))
    r = np.maximum(ratio, choked)
    drop = r ** (2 / heat_ratio) - r ** ((heat_ratio + 1) / heat_ratio)
    factor: Number = np.sqrt(2 * heat_ratio / (heat_ratio - 1) * np.maximum(drop, 0))
    return factor


def _flows(supply: Number, reading: Number, barometer: Number, heat_ratio: Number) -> tuple[Number, Number]:
    before, between = supply + barometer, reading + barometer
    comes, goes = _flow_factor(between / before, heat_ratio), _flow_factor(barometer / between, heat_ratio)
    return before * comes, between * goes


def _area_ratio(supply: Number, reading: Number, barometer: Number, heat_ratio: Number) -> Number:
    comes, goes = _flows(supply, reading, barometer, heat_ratio)
    return comes / goes


def _require_tester(supply: Number, barometer: Number, heat_ratio: Number) -> None:
    require("supply", supply, "Pa", above=0, source="derived")
    require("barometer", barometer, "Pa", above=0, source="derived")
    require("heat_ratio", heat_ratio, "1", above=1, source="derived")


def _require_reading(name: str, reading: Number, supply: Number, barometer: Number) -> None:
    require(name, reading, "Pa", above=0, source="derived")
    _refuse_above(name, reading, supply, "derived")
    # So near to nothing that the flow out of the leak is lost in rounding.
    nothing = np.asarray(np.less(reading, _LEAST * np.asarray(barometer)))
    if np.any(nothing):
        least = _LEAST * float(np.max(barometer))
        refuse(name, reading, nothing, "Pa", f"at least {least:g}", source="derived")


def _refuse_above(name: str, value: Number, most: Number, source: str) -> None:
    above = np.asarray(np.greater(value, most))
    if np.any(above):
        bound = float(np.ravel(np.broadcast_to(most, above.shape)[above])[0])
        refuse(name, value, above, "Pa", f"at most {bound:g}", source=source)
