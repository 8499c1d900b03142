"""The pitches of a chain round its wheels in plain Python: one drive at a time, scalars only."""

from math import atan2, fmod, hypot, pi, sqrt

TURN = 2 * pi


def loop_pitches(
    x: list[float], y: list[float], radius: list[float], turning: list[float], teeth: list[float], pitch: float
) -> float:
    """Straight runs in pitches and arcs in teeth; the caller has seen to it that the loop can be laid."""
    n = len(x)
    runs = 0.0
    directions = []
    for i in range(n):
        j = (i + 1) % n
        right, up = x[j] - x[i], y[j] - y[i]
        offset = turning[j] * radius[j] - turning[i] * radius[i]
        distance = hypot(right, up)
        span = sqrt((distance - offset) * (distance + offset))
        runs += span
        directions.append(atan2(up, right) - atan2(offset, span))
    arcs = 0.0
    for i in range(n):
        wrap = fmod(turning[i] * (directions[i] - directions[i - 1]), TURN)
        arcs += (wrap + TURN if wrap < 0 else wrap) * teeth[i]
    return runs / pitch + arcs / TURN
