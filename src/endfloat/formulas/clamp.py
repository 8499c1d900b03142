"""What becomes of a clamp load: embedding, heat, head pressure."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from endfloat.errors import OutOfRange
from endfloat.formulas.bounds import refuse, require

Number = float | NDArray[np.float64]

_EMBEDDING = {
    # roughness Rz: in the thread, each face under head or nut, each inner face
    "fine": (3e-6, 2.5e-6, 1.5e-6),
    "medium": (3e-6, 3e-6, 2e-6),
    "coarse": (3e-6, 4e-6, 3e-6),
}


class LoadedJoint(NamedTuple):
    """A joint while a load pulls on it."""

    bolt_load: Number
    clamp_load: Number
    separation: Number


def embedding(*, roughness: str, faces: Number, joints: Number) -> Number:
    r"""How far a joint settles while its rough faces flatten, after tightening and in the first hours.

    Count every face: a washer adds one, each part clamped adds one. Short stiff joints lose most, since a few
    micrometres are much of their stretch.

    Parameters
    ----------
    roughness : str
        Rz of the faces: fine (below 10 µm), medium (10 to 40), coarse (40 to 160) [word]
    faces : Number
        faces under head and nut, with those of washers [1]
    joints : Number
        faces between clamped parts [1]

    Returns
    -------
    result : Number
        embedding, :math:`f_Z` [m]

    Raises
    ------
    OutOfRange
        If the roughness is not known, ``faces < 1`` or ``joints < 0``.

    Notes
    -----
    Valid for: steel and iron loaded along the bolt, no gasket, no coat of paint.
    Accuracy: guide values, not limits.
    No published value: a look-up, with its figures from memory.

    References
    ----------
    .. [1] vdi-2230, guide values of embedding.
    .. [2] memory, the figures.

    Examples
    --------
    >>> round(embedding(roughness="medium", faces=1.0, joints=1.0) * 1e6, 1)
    8.0
    """
    if roughness not in _EMBEDDING:
        known = ", ".join(_EMBEDDING)
        raise OutOfRange(name="roughness", value=roughness, expected=known, unit="word", source="vdi-2230")
    require("faces", faces, "1", at_least=1, source="vdi-2230")
    require("joints", joints, "1", at_least=0, source="vdi-2230")
    thread, face, joint = _EMBEDDING[roughness]
    return thread + face * np.asarray(faces) + joint * np.asarray(joints)


def embedding_loss(*, embedding: Number, bolt_stiffness: Number, parts_stiffness: Number) -> Number:
    r"""Preload that settling takes from a bolt.

    .. math:: F_Z = \frac{f_Z}{1/k_b + 1/k_m}

    Parameters
    ----------
    embedding : Number
        how far the joint settles, :math:`f_Z` [m]
    bolt_stiffness : Number
        stiffness of the bolt, :math:`k_b` [N/m]
    parts_stiffness : Number
        stiffness of the clamped parts, :math:`k_m` [N/m]

    Returns
    -------
    result : Number
        loss of preload, :math:`F_Z` [N]

    Raises
    ------
    OutOfRange
        If ``embedding < 0``, ``bolt_stiffness <= 0`` or ``parts_stiffness <= 0``.

    Notes
    -----
    Valid for: elastic bolts; a bolt pulled past yield loses less, a gasket more and for longer.
    No published value: none was at hand; checked against the two springs solved for force and length.

    References
    ----------
    .. [1] vdi-2230, loss of preload.

    Examples
    --------
    >>> round(embedding_loss(embedding=8e-6, bolt_stiffness=130e6, parts_stiffness=900e6))
    909
    """
    require("embedding", embedding, "m", at_least=0, source="vdi-2230")
    return embedding * _together(bolt_stiffness, parts_stiffness, "vdi-2230")


def thermal_change(
    *,
    bolt_expansion: Number,
    parts_expansion: Number,
    grip: Number,
    bolt_warming: Number,
    parts_warming: Number,
    bolt_stiffness: Number,
    parts_stiffness: Number,
) -> Number:
    r"""Change of a clamp load when bolt and clamped parts warm up.

    An aluminium head on steel bolts gains clamp as it warms, most while the head is hot and the bolts are not, and
    loses it in a cold start. Add the change to the least and to the greatest clamp load: it must not tear the bolt,
    nor open the gasket.

    .. math:: \Delta F = \frac{(\alpha_p\,\Delta T_p - \alpha_b\,\Delta T_b)\,l}{1/k_b + 1/k_m}

    Parameters
    ----------
    bolt_expansion : Number
        expansion coefficient of the bolt, :math:`\alpha_b` [1/K]
    parts_expansion : Number
        expansion coefficient of the clamped parts over their length, :math:`\alpha_p` [1/K]
    grip : Number
        clamped length, :math:`l` [m]
    bolt_warming : Number
        rise of the temperature of the bolt, :math:`\Delta T_b` [K]
    parts_warming : Number
        rise of the temperature of the parts, :math:`\Delta T_p` [K]
    bolt_stiffness : Number
        stiffness of the bolt, :math:`k_b` [N/m]
    parts_stiffness : Number
        stiffness of the clamped parts, :math:`k_m` [N/m]

    Returns
    -------
    result : Number
        change of the clamp load; positive is more clamp, :math:`\Delta F` [N]

    Raises
    ------
    OutOfRange
        If ``bolt_expansion < 0``, ``parts_expansion < 0``, ``grip <= 0``, ``bolt_stiffness <= 0`` or
        ``parts_stiffness <= 0``, or if a warming is not a number.

    Notes
    -----
    Assumes: stiffnesses as when cold, nothing yields, and the joint stays closed.
    No published value: none was at hand; checked against the two springs solved for force and length.

    References
    ----------
    .. [1] derived, two springs of unequal growth.

    Examples
    --------
    >>> warm = dict(bolt_warming=80.0, parts_warming=80.0, grip=0.095, bolt_expansion=11.5e-6, parts_expansion=23e-6)
    >>> round(thermal_change(**warm, bolt_stiffness=130e6, parts_stiffness=900e6))
    9928
    """
    require("bolt_expansion", bolt_expansion, "1/K", at_least=0, source="derived")
    require("parts_expansion", parts_expansion, "1/K", at_least=0, source="derived")
    require("grip", grip, "m", above=0, source="derived")
    require("bolt_warming", bolt_warming, "K", source="derived")
    require("parts_warming", parts_warming, "K", source="derived")
    growth = (np.asarray(parts_expansion) * parts_warming - np.asarray(bolt_expansion) * bolt_warming) * grip
    return growth * _together(bolt_stiffness, parts_stiffness, "derived")


def pressure_load(*, pressure: Number, diameter: Number, bolts: Number) -> Number:
    r"""Share of one bolt in the force with which gas lifts a head.

    Peak pressure on the bore, or on the inside of the fire ring when the gasket lets it in, shared by the bolts
    around one cylinder; a bolt between two cylinders fires for each in turn, so count it whole.

    .. math:: F_A = \frac{\pi d^2 p}{4 n}

    Parameters
    ----------
    pressure : Number
        peak pressure over that outside, :math:`p` [Pa]
    diameter : Number
        diameter that it fills, :math:`d` [m]
    bolts : Number
        bolts around the cylinder, :math:`n` [1]

    Returns
    -------
    result : Number
        load of one bolt, :math:`F_A` [N]

    Raises
    ------
    OutOfRange
        If ``pressure < 0``, ``diameter <= 0`` or ``bolts < 1``.

    Notes
    -----
    Assumes: all bolts share alike; a stiff head does so better than a thin one.

    References
    ----------
    .. [1] definition, pressure times area, shared alike.

    Examples
    --------
    >>> round(pressure_load(pressure=8e6, diameter=0.086, bolts=4.0))
    11618
    """
    require("pressure", pressure, "Pa", at_least=0)
    require("diameter", diameter, "m", above=0)
    require("bolts", bolts, "1", at_least=1)
    return np.pi / 4 * np.asarray(diameter) ** 2 * pressure / bolts


def with_external_load(*, preload: Number, load: Number, share: Number, introduction: Number) -> LoadedJoint:
    r"""Bolt load and clamp load while a load pulls the joint open, and the load at which it opens.

    The bolt feels only its share; the parts give up the rest. Once the joint is open the bolt takes all, and a
    gasket leaks long before. Judge leaks with the least clamp load, and the bolt with the greatest.

    .. math:: F_b = F_V + n C F_A,\quad F_k = F_V - (1 - n C) F_A,\quad F_{A,0} = \frac{F_V}{1 - n C}

    Parameters
    ----------
    preload : Number
        clamp load left after all losses, :math:`F_V` [N]
    load : Number
        load along the bolt, positive when it opens the joint, :math:`F_A` [N]
    share : Number
        share of the bolt when the load acts under its head; from stiffness.load_share, :math:`C` [1]
    introduction : Number
        how deep the load enters: 1 under the head, near 0 at the parting, :math:`n` [1]

    Returns
    -------
    bolt_load : Number
        load of the bolt [N]
    clamp_load : Number
        load between the parts; nought when the joint is open [N]
    separation : Number
        load at which the joint opens [N]

    Raises
    ------
    OutOfRange
        If ``preload < 0``, ``share < 0``, ``share > 0.99``, ``introduction < 0`` or ``introduction > 1``, or if the
        load is not a number.

    Notes
    -----
    Valid for: a load in line with the bolt; prying by a load beside it comes on top.
    Assumes: straight springs; an open joint hangs on the bolt alone.

    References
    ----------
    .. [1] shigley-9, section 8-6, p. 429, and example 8-3, p. 439.
    .. [2] vdi-2230, load factor and load introduction.

    Examples
    --------
    >>> joint = with_external_load(preload=30e3, load=11.6e3, share=0.2, introduction=0.5)
    >>> [round(float(each) / 1e3, 2) for each in joint]
    [31.16, 19.56, 33.33]
    """
    require("preload", preload, "N", at_least=0, source="shigley-9")
    require("load", load, "N", source="shigley-9")
    require("share", share, "1", at_least=0, at_most=0.99, source="shigley-9")
    require("introduction", introduction, "1", at_least=0, at_most=1, source="shigley-9")
    felt = np.asarray(share) * introduction
    separation = preload / (1 - felt)
    opened = np.asarray(load) > separation
    return LoadedJoint(
        bolt_load=np.where(opened, load, preload + felt * load)[()],
        clamp_load=np.where(opened, 0.0, preload - (1 - felt) * load)[()],
        separation=separation,
    )


def left_after(*, clamp_load: Number, losses: NDArray[np.float64]) -> Number:
    """Clamp load that is left after losses, one after the other.

    Embedding, relaxation, a cold start, neighbours: typed as amounts, the sum must leave something.

    Parameters
    ----------
    clamp_load : Number
        clamp load just after tightening [N]
    losses : NDArray[np.float64]
        losses, along the last axis [N]

    Returns
    -------
    result : Number
        clamp load that is left [N]

    Raises
    ------
    OutOfRange
        If ``clamp_load < 0``, or if the losses take more than there is.

    Notes
    -----
    No published value: a difference.

    References
    ----------
    .. [1] definition, sum of losses.

    Examples
    --------
    >>> round(left_after(clamp_load=30e3, losses=np.array([900.0, 1500.0])))
    27600
    """
    require("clamp_load", clamp_load, "N", at_least=0)
    require("losses", losses, "N")
    lost = np.sum(losses, axis=-1)
    gone = np.asarray(lost > clamp_load)
    if gone.any():
        refuse("clamp_load", clamp_load, gone, "N", "at least 1 sum of all losses", source="definition")
    return clamp_load - np.asarray(lost)


def _together(bolt_stiffness: Number, parts_stiffness: Number, source: str) -> Number:
    """Stiffness of bolt and parts against a change of length in their ring."""
    require("bolt_stiffness", bolt_stiffness, "N/m", above=0, source=source)
    require("parts_stiffness", parts_stiffness, "N/m", above=0, source=source)
    return 1 / (1 / np.asarray(bolt_stiffness) + 1 / np.asarray(parts_stiffness))
