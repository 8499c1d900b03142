"""The wire of a valve spring: its stress, solid length, least gaps and surge, and the speed at which a valve floats."""

from __future__ import annotations

import numpy as np

from endfloat.formulas.bounds import Number, require


def wahl_factor(*, index: Number) -> Number:
    """How much more the inside of a coil is stressed than a straight bar.

    .. math:: k = \\frac{4C - 1}{4C - 4} + \\frac{0.615}{C}

    Parameters
    ----------
    index : Number
        mean coil diameter over wire diameter, :math:`C` [1]

    Returns
    -------
    result : Number
        factor on the shear stress, :math:`k` [1]

    Raises
    ------
    OutOfRange
        If ``index <= 1``.

    References
    ----------
    .. [1] shigley, Wahl's factor.

    Examples
    --------
    >>> round(wahl_factor(index=6.5), 4)
    1.231
    """
    require("index", index, "1", above=1, source="shigley")
    return (4 * index - 1) / (4 * index - 4) + 0.615 / index


def shear_stress(*, load: Number, wire: Number, coil_diameter: Number) -> Number:
    """Largest shear stress in the wire of a spring under load, on the inside of its coils.

    .. math:: \\tau = k\\,\\frac{8 F D}{\\pi d^3}

    Parameters
    ----------
    load : Number
        load, :math:`F` [N]
    wire : Number
        diameter of the wire, :math:`d` [m]
    coil_diameter : Number
        mean diameter of the coils, :math:`D` [m]

    Returns
    -------
    result : Number
        shear stress with Wahl's factor, :math:`\\tau` [Pa]

    Raises
    ------
    OutOfRange
        If ``load < 0``, ``wire <= 0`` or ``coil_diameter <= 0``, or the coil is not wider than the wire.

    References
    ----------
    .. [1] shigley, torsion of the wire with Wahl's factor.

    Examples
    --------
    >>> round(shear_stress(load=600.0, wire=0.004, coil_diameter=0.026) / 1e6, 1)
    764.1
    """
    require("load", load, "N", at_least=0, source="shigley")
    require("wire", wire, "m", above=0, source="shigley")
    require("coil_diameter", coil_diameter, "m", above=0, source="shigley")
    return wahl_factor(index=coil_diameter / wire) * 8 * load * coil_diameter / (np.pi * wire**3)


def load_for_stress(*, stress: Number, wire: Number, coil_diameter: Number) -> Number:
    """Load at which the wire of a spring reaches a shear stress.

    Parameters
    ----------
    stress : Number
        shear stress with Wahl's factor [Pa]
    wire : Number
        diameter of the wire [m]
    coil_diameter : Number
        mean diameter of the coils [m]

    Returns
    -------
    result : Number
        load [N]

    Raises
    ------
    OutOfRange
        If ``stress < 0``, ``wire <= 0`` or ``coil_diameter <= 0``, or the coil is not wider than the wire.

    References
    ----------
    .. [1] shigley, torsion of the wire with Wahl's factor.

    Examples
    --------
    >>> round(load_for_stress(stress=764.1e6, wire=0.004, coil_diameter=0.026), 1)
    600.0
    """
    require("stress", stress, "Pa", at_least=0, source="shigley")
    require("wire", wire, "m", above=0, source="shigley")
    require("coil_diameter", coil_diameter, "m", above=0, source="shigley")
    return stress * np.pi * wire**3 / (wahl_factor(index=coil_diameter / wire) * 8 * coil_diameter)


def wire_for_load(*, load: Number, index: Number, stress: Number) -> Number:
    """Thinnest wire that carries a load at a permitted shear stress, for a spring of a given index.

    Parameters
    ----------
    load : Number
        largest load [N]
    index : Number
        mean coil diameter over wire diameter [1]
    stress : Number
        permitted shear stress with Wahl's factor [Pa]

    Returns
    -------
    result : Number
        diameter of the wire [m]

    Raises
    ------
    OutOfRange
        If ``load < 0``, ``index <= 1`` or ``stress <= 0``.

    References
    ----------
    .. [1] shigley, torsion of the wire with Wahl's factor.

    Examples
    --------
    >>> round(float(wire_for_load(load=600.0, index=6.5, stress=764.1e6)), 6)
    0.004
    """
    require("load", load, "N", at_least=0, source="shigley")
    require("stress", stress, "Pa", above=0, source="shigley")
    require("index", index, "1", above=1, source="shigley")
    return np.sqrt(wahl_factor(index=index) * 8 * load * index / (np.pi * stress))


def solid_length(*, wire: Number, total_coils: Number, unground_ends: Number) -> Number:
    """Length of a spring with all coils touching: a guess before it is measured in a vice.

    Parameters
    ----------
    wire : Number
        diameter of the wire [m]
    total_coils : Number
        all coils, closed ends counted [1]
    unground_ends : Number
        coils' worth added where the ends are not ground: nought when ground, up to one and a half when not [1]

    Returns
    -------
    result : Number
        solid length [m]

    Raises
    ------
    OutOfRange
        If ``wire <= 0``, ``total_coils <= 0`` or ``unground_ends < 0``.

    Notes
    -----
    Accuracy: the real length differs by coating and end grinding; judge bind by the measured one.
    No published value: an identity.

    References
    ----------
    .. [1] memory, closed and ground ends: total coils times wire; unground up to 1.5 wires more.

    Examples
    --------
    >>> round(solid_length(wire=0.004, total_coils=7.0, unground_ends=0.0), 6)
    0.028
    """
    require("wire", wire, "m", above=0, source="memory")
    require("total_coils", total_coils, "1", above=0, source="memory")
    require("unground_ends", unground_ends, "1", at_least=0, source="memory")
    return (total_coils + unground_ends) * wire


def least_coil_gaps(*, wire: Number, coil_diameter: Number, active_coils: Number) -> Number:
    """Least sum of the gaps between coils that a spring should keep at its shortest, at rest.

    .. math:: S_a = n\\,(0.0015 D^2/d + 0.1 d)

    Parameters
    ----------
    wire : Number
        diameter of the wire, :math:`d` [m]
    coil_diameter : Number
        mean diameter of the coils, :math:`D` [m]
    active_coils : Number
        coils that move, :math:`n` [1]

    Returns
    -------
    result : Number
        least sum of gaps, to be kept over the solid length, :math:`S_a` [m]

    Raises
    ------
    OutOfRange
        If ``wire <= 0``, ``coil_diameter <= 0`` or ``active_coils <= 0``.

    Notes
    -----
    Valid for: springs wound cold, under a load at rest; half as much again for one that works.

    References
    ----------
    .. [1] en-13906-1, least sum of gaps.

    Examples
    --------
    >>> round(least_coil_gaps(wire=0.004, coil_diameter=0.026, active_coils=5.0), 7)
    0.0032675
    """
    require("wire", wire, "m", above=0, source="en-13906-1")
    require("coil_diameter", coil_diameter, "m", above=0, source="en-13906-1")
    require("active_coils", active_coils, "1", above=0, source="en-13906-1")
    return active_coils * (0.0015 * coil_diameter**2 / wire + 0.1 * wire)


def surge(
    *, wire: Number, coil_diameter: Number, active_coils: Number, shear_modulus: Number, density: Number
) -> Number:
    """Lowest natural frequency of a spring between two plates, as an angular frequency.

    At a harmonic of the cam near it the coils run to and fro, and the load on the valve is no longer the tester's.

    .. math:: \\omega = \\frac{d}{n D^2}\\sqrt{\\frac{G}{2\\rho}}

    Parameters
    ----------
    wire : Number
        diameter of the wire, :math:`d` [m]
    coil_diameter : Number
        mean diameter of the coils, :math:`D` [m]
    active_coils : Number
        coils that move, :math:`n` [1]
    shear_modulus : Number
        shear modulus of the wire, :math:`G` [Pa]
    density : Number
        density of the wire, :math:`\\rho` [kg/m3]

    Returns
    -------
    result : Number
        angular frequency, :math:`\\omega` [rad/s]

    Raises
    ------
    OutOfRange
        If ``wire <= 0``, ``coil_diameter <= 0``, ``active_coils <= 0``, ``shear_modulus <= 0`` or
        ``density <= 0``.

    Notes
    -----
    Valid for: one pitch; a spring wound closer at one end has no single surge.

    References
    ----------
    .. [1] shigley, surge of a spring between parallel plates.

    Examples
    --------
    >>> spring = dict(wire=0.004, coil_diameter=0.026, active_coils=5.0, shear_modulus=80e9, density=7850.0)
    >>> round(float(surge(**spring) / (2 * np.pi)), 1)
    425.2
    """
    named = {"wire": (wire, "m"), "coil_diameter": (coil_diameter, "m"), "active_coils": (active_coils, "1")}
    named |= {"shear_modulus": (shear_modulus, "Pa"), "density": (density, "kg/m3")}
    for name, (value, unit) in named.items():
        require(name, value, unit, above=0, source="shigley")
    return wire / (active_coils * coil_diameter**2) * np.sqrt(shear_modulus / (2 * density))


def surge_harmonic(*, surge: Number, crank_speed: Number) -> Number:
    """Which harmonic of the cam meets the surge of its spring at a speed of the engine.

    Low harmonics of a cam are strong: rules of thumb ask for 13 to 20 at the highest speed.

    Parameters
    ----------
    surge : Number
        lowest angular frequency of the spring [rad/s]
    crank_speed : Number
        speed of the crank [rad/s]

    Returns
    -------
    result : Number
        surge over the speed of the cam [1]

    Raises
    ------
    OutOfRange
        If ``surge <= 0`` or ``crank_speed <= 0``.

    Notes
    -----
    Valid for: a cam at half the speed of the crank.
    No published value: an identity; the rules of thumb are from memory.

    References
    ----------
    .. [1] definition.
    .. [2] memory, factors of 13 and of 15 to 20.

    Examples
    --------
    >>> round(float(surge_harmonic(surge=2670.0, crank_speed=600.0)), 2)
    8.9
    """
    require("surge", surge, "rad/s", above=0)
    require("crank_speed", crank_speed, "rad/s", above=0)
    return 2 * surge / crank_speed


def float_speed(*, load: Number, mass: Number, second: Number) -> Number:
    """Crank speed above which a spring no longer holds the valve train on its lobe.

    .. math:: \\omega = 2\\sqrt{F/(m\\,|s''|)}

    Parameters
    ----------
    load : Number
        load of the spring at that lift, :math:`F` [N]
    mass : Number
        mass that moves with the valve, with a third of the spring, brought to the valve, :math:`m` [kg]
    second : Number
        second derivative of the valve's lift by the cam angle at that lift, negative over the nose [m]

    Returns
    -------
    result : Number
        speed of the crank [rad/s]

    Raises
    ------
    OutOfRange
        If ``load <= 0``, ``mass <= 0`` or ``second >= 0``.

    Notes
    -----
    Valid for: a stiff train; ask at each lift over the nose, the lowest speed counts. Surge lowers it.
    No published value: Newton's law.

    References
    ----------
    .. [1] derived, the spring gives the deceleration over the nose.

    Examples
    --------
    >>> round(float(float_speed(load=600.0, mass=0.12, second=-0.012)), 1)
    1291.0
    """
    require("load", load, "N", above=0, source="derived")
    require("mass", mass, "kg", above=0, source="derived")
    require("second", second, "m", below=0, source="derived")
    return 2 * np.sqrt(load / (mass * -second))
