"""The least valve gap by a general search: scipy on one draw, or numpy on a dense grid with a parabola at its best."""

import numpy as np
from scipy.interpolate import CubicSpline
from scipy.optimize import minimize_scalar

TOP = "throw", "rod", "offset"


def _gap(angle, spline, span, *, closed_gap, valve_angle, throw, rod, offset, centre, lash, rocker_ratio, scale):
    """Gap along the valve to the floor of its pocket, at crank angles from true dead centre."""
    top = np.sqrt((throw + rod) ** 2 - offset**2)
    turned = angle + np.arctan2(offset, top)
    depth = top - throw * np.cos(turned) - np.sqrt(rod**2 - (throw * np.sin(turned) - offset) ** 2)
    on_table = (angle - centre) * scale
    first, last, period = span
    on_table = first + np.mod(on_table - first, period)
    lobe = np.where(on_table <= last, spline(np.minimum(on_table, last)), 0.0)
    return closed_gap + depth * np.cos(valve_angle) - np.maximum(rocker_ratio * lobe - lash, 0.0)


def _prepared(table_angle, table_lift, period):
    ends = tuple((1, 0.0) if lift == 0 else "not-a-knot" for lift in (table_lift[0], table_lift[-1]))
    return CubicSpline(table_angle, table_lift, bc_type=ends), (table_angle[0], table_angle[-1], period)


def least_by_search(*, table_angle, table_lift, period, reach, **given):
    """One draw: the best of a coarse grid, then Brent's bounded search around it."""
    spline, span = _prepared(table_angle, table_lift, period)
    given["scale"] = period / (4 * np.pi)
    places = np.linspace(-reach, reach, 161)
    begin = places[np.argmin(_gap(places, spline, span, **given))]
    step = places[1] - places[0]
    bounds = max(begin - step, -reach), min(begin + step, reach)
    found = minimize_scalar(
        lambda a: float(_gap(a, spline, span, **given)), bounds=bounds, method="bounded", options={"xatol": 1e-9}
    )
    return min(found.fun, float(_gap(begin, spline, span, **given)))


def least_by_grid(*, table_angle, table_lift, period, reach, **given):
    """All draws at once: every half degree, then a parabola through the best place and its neighbours."""
    spline, span = _prepared(table_angle, table_lift, period)
    scale = period / (4 * np.pi)
    given = {name: np.asarray(each, dtype=float)[..., None] for name, each in given.items()}
    places = np.linspace(-reach, reach, 2 * int(np.ceil(reach / np.radians(0.5))) + 1)
    gaps = _gap(places, spline, span, scale=scale, **given)
    best = np.clip(np.argmin(gaps, axis=-1), 1, len(places) - 2)[..., None]
    before, here, after = (np.take_along_axis(gaps, best + k, axis=-1)[..., 0] for k in (-1, 0, 1))
    bend = before - 2 * here + after
    return np.where(bend > 0, here - (before - after) ** 2 / (8 * np.where(bend > 0, bend, 1.0)), here)
