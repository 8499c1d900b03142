"""What a tensioner takes up: slack, push and extension, and what is left of its travel."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import refuse, require
from endfloat.formulas.chain_loop import _before, _pitches, loop

Array = NDArray[np.float64]
Number = float | Array
STEPS = 60
"""Halvings of a travel that end below the last digit of a double."""


class TensionerPosition(NamedTuple):
    """Where a tensioner stands when the chain is taut, and what is left of its travel."""

    extension: Number
    left: Number


def slack(*, links: Number, pitches: Number, pitch: Number) -> Number:
    """Length of a chain over what its loop needs; minus where the chain will not go on.

    Use it on the loop with the tensioner drawn back: so much its push must take up.

    .. math:: \\Delta L = (X - n) p

    Parameters
    ----------
    links : Number
        links of the chain, :math:`X` [1]
    pitches : Number
        pitches of the taut loop, from `chain_loop.loop_pitches`, :math:`n` [1]
    pitch : Number
        pitch of the chain as it is now, :math:`p` [m]

    Returns
    -------
    result : Number
        slack, :math:`\\Delta L` [m]

    Raises
    ------
    OutOfRange
        If ``links < 1`` or ``pitches <= 0`` or ``pitch <= 0``.

    Notes
    -----
    No published value: an identity.

    References
    ----------
    .. [1] definition, what is left over.

    Examples
    --------
    >>> round(slack(links=140, pitches=138.263, pitch=0.009525), 5)
    0.01654
    """
    require("links", links, "1", at_least=1)
    require("pitches", pitches, "1", above=0)
    require("pitch", pitch, "m", above=0)
    return (links - pitches) * pitch


def slack_of_push(*, push: Number, before: Number, after: Number) -> Number:
    """Slack that a straight run takes up when it is pushed aside at one place.

    Use it for a small shoe or plunger on a free run.

    .. math:: \\Delta L = \\sqrt{a^2 + h^2} + \\sqrt{b^2 + h^2} - (a + b)

    Parameters
    ----------
    push : Number
        way of the run square to itself, :math:`h` [m]
    before : Number
        free run from one end to the foot of the push, :math:`a` [m]
    after : Number
        free run from the foot of the push to the other end, :math:`b` [m]

    Returns
    -------
    result : Number
        slack taken up, :math:`\\Delta L` [m]

    Raises
    ------
    OutOfRange
        If ``push < 0`` or ``before <= 0`` or ``after <= 0``.

    Notes
    -----
    No published value: checked with its inverse.
    Assumes: a shoe that is small beside the run; a long blade is a wheel of `chain_loop.loop`.

    References
    ----------
    .. [1] derived, two right-angled triangles.

    Examples
    --------
    >>> round(float(slack_of_push(push=0.0207, before=0.2125, after=0.2125)), 5)
    0.00201
    """
    require("push", push, "m", at_least=0, source="derived")
    _run(before, after)
    # The difference of a root and its leg, without losing the digits of a small push.
    square = np.asarray(push) ** 2
    result: Number = square / (np.hypot(before, push) + before) + square / (np.hypot(after, push) + after)
    return result


def push_for_slack(*, slack: Number, before: Number, after: Number) -> Number:
    """How far a straight run must be pushed aside at one place to take up a slack.

    Use it for the stroke of a shoe or plunger; near the straight a little slack asks for a long stroke.

    .. math:: h = \\sqrt{(A^2 - f^2)(1 - e^2 / A^2)}, \\quad A = \\tfrac12 (a + b + \\Delta L), \\quad
        f = \\tfrac12 (a + b), \\quad e = \\tfrac12 (a - b)

    Parameters
    ----------
    slack : Number
        slack to take up, :math:`\\Delta L` [m]
    before : Number
        free run from one end to the foot of the push, :math:`a` [m]
    after : Number
        free run from the foot of the push to the other end, :math:`b` [m]

    Returns
    -------
    result : Number
        way of the run square to itself, :math:`h` [m]

    Raises
    ------
    OutOfRange
        If ``slack < 0`` or ``before <= 0`` or ``after <= 0``.

    Notes
    -----
    No published value: checked with its inverse.
    Assumes: a shoe that is small beside the run; a long blade is a wheel of `chain_loop.loop`.

    References
    ----------
    .. [1] derived, the ends of the run are the foci of an ellipse.

    Examples
    --------
    >>> round(float(push_for_slack(slack=0.002, before=0.2125, after=0.2125)), 4)
    0.0206
    """
    require("slack", slack, "m", at_least=0, source="derived")
    _run(before, after)
    sum_of_both = np.asarray(before) + after
    axis = (sum_of_both + slack) / 2
    over = slack * (2 * sum_of_both + slack) / 4
    result: Number = np.sqrt(over * (1 - ((np.asarray(before) - after) / (2 * axis)) ** 2))
    return result


def tensioner_extension(
    *,
    x: Array,
    y: Array,
    radius: Array,
    turning: Array,
    teeth: Array,
    pitch: Number,
    links: Number,
    moving: Array,
    push_angle: Number,
    travel: Number,
) -> TensionerPosition:
    """How far a tensioner stands out when a chain of so many links is taut, and what is left of its travel.

    Use it for what a skim, a thinner gasket or a longer chain leaves of the tensioner: once with the drive as found,
    once as it will be, and against the extension that was measured.

    .. math:: n(h) = X

    Parameters
    ----------
    x : Array
        centres of the wheels to the right, the tensioner drawn back [m]
    y : Array
        centres of the wheels upwards, the tensioner drawn back [m]
    radius : Array
        radii of the pitch line round the wheels [m]
    turning : Array
        +1 where the loop goes anticlockwise round the wheel, -1 where clockwise [1]
    teeth : Array
        teeth of the wheels, for a plain guide or blade those in its place [1]
    pitch : Number
        pitch of the chain or belt as it is now [m]
    links : Number
        links of the chain, :math:`X` [1]
    moving : Array
        how far each wheel moves for one of the plunger: 1 for the shoe or roller, nought for what stands still [1]
    push_angle : Number
        direction of the push, anticlockwise from the right [rad]
    travel : Number
        whole travel of the plunger [m]

    Returns
    -------
    extension : Number
        way of the plunger out of its body, :math:`h` [m]
    left : Number
        travel that is left [m]

    Raises
    ------
    OutOfRange
        If ``travel <= 0`` or ``pitch <= 0`` or ``teeth <= 0`` or ``radius <= 0`` or ``links < 1``, if the chain is too
        short to go on or too long for the whole travel, or if the loop cannot be laid.

    Notes
    -----
    No published value: the loop at the extension found holds the links.
    Valid for: a push that tightens the loop all along its travel.

    References
    ----------
    .. [1] derived, the loop as a function of the extension, solved within the travel.

    Examples
    --------
    >>> radius = np.array([0.004 / np.sin(np.pi / 21), 0.004 / np.sin(np.pi / 42), 0.150])
    >>> drive = dict(x=np.array([0.0, 0.0, 0.185]), y=np.array([0.0, 0.352, 0.2]), radius=radius)
    >>> blade = np.pi / np.arcsin(0.004 / 0.150)
    >>> drive |= dict(turning=np.array([-1.0, -1.0, 1.0]), teeth=np.array([21.0, 42.0, blade]))
    >>> found = tensioner_extension(**drive, pitch=0.008, links=120.0, moving=np.array([0.0, 0.0, 1.0]),
    ...     push_angle=np.pi, travel=0.020)
    >>> round(float(found.extension), 6), round(float(found.left), 6)
    (0.010305, 0.009695)
    """
    require("links", links, "1", at_least=1, source="derived")
    require("teeth", teeth, "1", above=0, source="derived")
    require("pitch", pitch, "m", above=0, source="derived")
    require("travel", travel, "m", above=0, source="derived")
    require("moving", moving, "1", source="derived")
    require("push_angle", push_angle, "rad", source="derived")
    angle = np.asarray(push_angle)[..., None]
    along, up = moving * np.cos(angle), moving * np.sin(angle)

    def over(extension: Array) -> tuple[Array, Array]:
        """Pitches over the links, and their growth with the extension: the wheels draw on the runs to either side."""
        out = extension[..., None]
        laid = loop(x=x + out * along, y=y + out * up, radius=radius, turning=turning)
        n = _pitches(laid, teeth, pitch) - links
        right, top = np.cos(laid.direction), np.sin(laid.direction)
        pull = along * (_before(right) - right) + up * (_before(top) - top)
        return n, np.sum(pull, axis=-1) / pitch

    started = over(np.zeros(np.shape(travel)))[0]
    limit = np.broadcast_to(np.asarray(travel, dtype=np.float64), np.broadcast_shapes(started.shape, np.shape(travel)))
    _within(links, started, over(limit)[0])
    extension = _solved(over, limit)
    return TensionerPosition(extension, limit - extension)


def _solved(over: Callable[[Array], tuple[Array, Array]], limit: Array) -> Array:
    """Where `over` is nought between nought and the limit: steps along the slope, halvings where they lead astray."""
    low, high, at = np.zeros(limit.shape), limit.copy(), limit / 2
    for _ in range(STEPS):
        n, slope = over(at)
        low, high = np.where(n < 0, at, low), np.where(n > 0, at, high)
        steep = np.where(slope > 0, slope, 1.0)
        step = at - n / steep
        best = np.where((slope > 0) & (step >= low) & (step <= high), step, (low + high) / 2)
        done = np.abs(best - at) <= 1e-15 * limit
        at = best
        if np.all(done):
            break
    return at


def _within(links: Number, drawn_back: Array, full: Array) -> None:
    short, long = drawn_back > 1e-9, full < -1e-9
    if np.any(short):
        refuse("links", links, short, "1", "at least the pitches with the tensioner drawn back", source="derived")
    if np.any(long):
        refuse("links", links, long, "1", "at most the pitches with the tensioner full out", source="derived")


def _run(before: Number, after: Number) -> None:
    require("before", before, "m", above=0, source="derived")
    require("after", after, "m", above=0, source="derived")
