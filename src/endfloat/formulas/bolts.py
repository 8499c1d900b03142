"""Strength of bolts, and the lengths of their thread and grip."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from endfloat.errors import OutOfRange
from endfloat.formulas.bounds import require
from endfloat.formulas.threads import metric_sizes

Number = float | NDArray[np.float64]

_CLASSES = {
    # class: source, up to diameter: proof, yield, ultimate
    "4.6": ("iso-898-1", ((0.039, 225e6, 240e6, 400e6),)),
    "4.8": ("iso-898-1", ((0.039, 310e6, 340e6, 420e6),)),
    "5.6": ("iso-898-1", ((0.039, 280e6, 300e6, 500e6),)),
    "5.8": ("iso-898-1", ((0.039, 380e6, 420e6, 520e6),)),
    "6.8": ("iso-898-1", ((0.039, 440e6, 480e6, 600e6),)),
    "8.8": ("iso-898-1", ((0.016, 580e6, 640e6, 800e6), (0.039, 600e6, 660e6, 830e6))),
    "9.8": ("iso-898-1", ((0.016, 650e6, 720e6, 900e6),)),
    "10.9": ("iso-898-1", ((0.039, 830e6, 940e6, 1040e6),)),
    "12.9": ("iso-898-1", ((0.039, 970e6, 1100e6, 1220e6),)),
    "A2-50": ("iso-3506-1", ((0.039, 210e6, 210e6, 500e6),)),
    "A2-70": ("iso-3506-1", ((0.024, 450e6, 450e6, 700e6),)),
    "A2-80": ("iso-3506-1", ((0.024, 600e6, 600e6, 800e6),)),
    "SAE 2": (
        "sae-j429",
        ((0.01905, 379.2117e6, 393.0012e6, 510.2120e6), (0.0381, 227.5270e6, 248.2113e6, 413.6854e6)),
    ),
    "SAE 5": ("sae-j429", ((0.0254, 586.0544e6, 634.3177e6, 827.3709e6), (0.0381, 510.2120e6, 558.4753e6, 723.9495e6))),
    "SAE 8": ("sae-j429", ((0.0381, 827.3709e6, 896.3184e6, 1034.2136e6),)),
}


class Strength(NamedTuple):
    """Least stresses of a strength class."""

    proof: Number
    yielding: Number
    ultimate: Number


class Loads(NamedTuple):
    """Least loads of a threaded bolt."""

    proof: Number
    yielding: Number
    ultimate: Number


def strength(*, strength_class: str, diameter: Number) -> Strength:
    """Least proof, yield and ultimate stress of a strength class, which may depend on the size.

    Read the class off the head: 10.9 is stamped, three radial lines are SAE 5, six are SAE 8. The figures are what
    every bolt of the class must reach, not what yours has: yield is commonly 5 to 15 per cent higher, and a bolt
    pulled past yield clamps with its own.

    Parameters
    ----------
    strength_class : str
        class such as 8.8, A2-70 or SAE 5 [word]
    diameter : Number
        major diameter of the thread [m]

    Returns
    -------
    proof : Number
        stress that leaves no set, :math:`S_p` [Pa]
    yielding : Number
        yield stress or 0.2 per cent stress, :math:`R_{p0.2}` [Pa]
    ultimate : Number
        tensile strength, :math:`R_m` [Pa]

    Raises
    ------
    OutOfRange
        If the class is not known, ``diameter <= 0``, or the class does not reach so large a diameter.

    Notes
    -----
    Valid for: room temperature; 8.8 changes above M16, SAE 2 above 3/4 in, SAE 5 above 1 in.
    Differs from source: American textbooks let the higher 8.8 begin at M16; the ISO standard lets it begin above.

    References
    ----------
    .. [1] iso-898-1, table of mechanical properties.
    .. [2] iso-3506-1, austenitic classes.
    .. [3] sae-j429, grades 2, 5 and 8.

    Examples
    --------
    >>> strength(strength_class="8.8", diameter=np.array([0.016, 0.018])).yielding / 1e6
    array([640., 660.])
    """
    if strength_class not in _CLASSES:
        known = ", ".join(_CLASSES)
        raise OutOfRange(name="strength_class", value=strength_class, expected=known, unit="word", source="iso-898-1")
    source, rows = _CLASSES[strength_class]
    require("diameter", diameter, "m", above=0, at_most=rows[-1][0], source=source)
    sizes = np.array([row[0] for row in rows])
    # A diameter typed in inches and turned into metres may land a hair above its limit.
    row = np.searchsorted(sizes * (1 + 1e-9), diameter)
    proof, yielding, ultimate = (np.array([each[k] for each in rows])[row] for k in (1, 2, 3))
    return Strength(proof=proof, yielding=yielding, ultimate=ultimate)


def loads(*, strength_class: str, diameter: Number, pitch: Number) -> Loads:
    """Least proof, yield and ultimate load of a metric bolt: stress times stress area.

    The first sanity check on any clamp load: what lies over the proof load leaves a set. A bolt with a waist thinner
    than its thread carries less; take its waist area times the stress.

    .. math:: F = A_s S

    Parameters
    ----------
    strength_class : str
        class such as 8.8 or A2-70 [word]
    diameter : Number
        major diameter of the thread, :math:`d` [m]
    pitch : Number
        pitch of the thread, :math:`P` [m]

    Returns
    -------
    proof : Number
        load that leaves no set [N]
    yielding : Number
        load at the yield stress, in plain tension [N]
    ultimate : Number
        load that breaks it [N]

    Raises
    ------
    OutOfRange
        If the class is not known, ``diameter <= 0``, ``pitch <= 0``, or the class does not reach so large a diameter.

    Notes
    -----
    Valid for: metric threads in plain tension; while a bolt is turned, torsion lowers its yield load, see
    tightening.yield_limited_preload.

    References
    ----------
    .. [1] iso-898-1, tables of proof and ultimate loads.
    .. [2] iso-68-1, profile.
    .. [3] iso-3506-1, austenitic classes.
    .. [4] sae-j429, grades.

    Examples
    --------
    >>> round(loads(strength_class="10.9", diameter=0.010, pitch=0.0015).proof / 1e3, 2)
    48.13
    """
    stresses = strength(strength_class=strength_class, diameter=diameter)
    area = metric_sizes(diameter=diameter, pitch=pitch).stress_area
    return Loads(*(area * stress for stress in stresses))


def thread_length(*, diameter: Number, length: Number) -> Number:
    r"""Length of thread that a standard metric hexagon bolt has.

    To know how much of the shank is plain before the bolt is at hand. Engine bolts are often drawn for the engine:
    measure them.

    .. math:: L_T = 2 d + (6, 12, 25)\ \mathrm{mm}

    Parameters
    ----------
    diameter : Number
        major diameter of the thread, :math:`d` [m]
    length : Number
        length under the head, :math:`L` [m]

    Returns
    -------
    result : Number
        length of thread, no more than the bolt itself, :math:`L_T` [m]

    Raises
    ------
    OutOfRange
        If ``diameter <= 0``, ``diameter > 0.048`` or ``length <= 0``.

    Notes
    -----
    Valid for: metric hexagon bolts up to 48 mm; the step is at 125 and at 200 mm of length.
    Differs from source: a bolt shorter than the rule is threaded to the head.

    References
    ----------
    .. [1] shigley-9, table 8-7, p. 426.

    Examples
    --------
    >>> round(thread_length(diameter=0.014, length=0.050), 4)
    0.034
    """
    require("diameter", diameter, "m", above=0, at_most=0.048, source="shigley-9")
    require("length", length, "m", above=0, source="shigley-9")
    # A length typed in millimetres and turned into metres may land a hair above its limit.
    more = np.array([0.006, 0.012, 0.025])[np.searchsorted(np.array([0.125, 0.2]) * (1 + 1e-9), length)]
    return np.minimum(2 * diameter + more, length)


def inch_thread_length(*, diameter: Number, length: Number) -> Number:
    r"""Length of thread that a standard inch hexagon bolt has.

    .. math:: L_T = 2 d + \left(\tfrac{1}{4}, \tfrac{1}{2}\right)\ \mathrm{in}

    Parameters
    ----------
    diameter : Number
        major diameter of the thread, :math:`d` [m]
    length : Number
        length under the head, :math:`L` [m]

    Returns
    -------
    result : Number
        length of thread, no more than the bolt itself, :math:`L_T` [m]

    Raises
    ------
    OutOfRange
        If ``diameter <= 0`` or ``length <= 0``.

    Notes
    -----
    Valid for: inch hexagon bolts; the step is at 6 in of length.
    No published value: a rule without a printed example; the tests try both sides of its step.
    Differs from source: a bolt shorter than the rule is threaded to the head.

    References
    ----------
    .. [1] shigley-9, table 8-7, p. 426.

    Examples
    --------
    >>> round(inch_thread_length(diameter=0.0127, length=0.0508), 5)
    0.03175
    """
    require("diameter", diameter, "m", above=0, source="shigley-9")
    require("length", length, "m", above=0, source="shigley-9")
    more = np.array([0.00635, 0.0127])[np.searchsorted(np.array([0.1524]) * (1 + 1e-9), length)]
    return np.minimum(2 * diameter + more, length)


def tapped_grip(*, thickness: Number, depth: Number, diameter: Number) -> Number:
    r"""Grip that counts when a screw goes into a tapped hole: the part and a little of the hole.

    .. math:: l = h + \tfrac{1}{2}\min(t_2, d)

    Parameters
    ----------
    thickness : Number
        thickness of the clamped part with its washer, :math:`h` [m]
    depth : Number
        thickness of the tapped part, :math:`t_2` [m]
    diameter : Number
        major diameter of the thread, :math:`d` [m]

    Returns
    -------
    result : Number
        effective grip, :math:`l` [m]

    Raises
    ------
    OutOfRange
        If ``thickness <= 0``, ``depth <= 0`` or ``diameter <= 0``.

    Notes
    -----
    Assumes: the thread takes its load over the first diameter of engagement.

    References
    ----------
    .. [1] shigley-9, table 8-7, p. 426.

    Examples
    --------
    >>> round(tapped_grip(thickness=0.020, depth=0.030, diameter=0.012), 4)
    0.026
    """
    require("thickness", thickness, "m", above=0, source="shigley-9")
    require("depth", depth, "m", above=0, source="shigley-9")
    require("diameter", diameter, "m", above=0, source="shigley-9")
    return thickness + np.minimum(depth, diameter) / 2
