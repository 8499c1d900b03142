"""The film of a plain bearing without dimensions, between the solved nodes.

Every column is kept relative to what a very short bearing does, which leaves smooth surfaces to interpolate. The
nodes are written by tools/bearing_grid.py.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from endfloat.errors import OutOfRange
from endfloat.formulas import film_nodes
from endfloat.formulas.bounds import refuse, require

if TYPE_CHECKING:
    from scipy.interpolate import RectBivariateSpline

Array = NDArray[np.float64]
Number = float | Array
KINDS = ("bush", "split")
SLENDERNESS = (film_nodes.SLENDERNESS[0], film_nodes.SLENDERNESS[-1])
ECCENTRICITY = (film_nodes.ECCENTRICITY[0], film_nodes.ECCENTRICITY[-1])
SOURCE = "raimondi-boyd"
"""The key that a refusal names."""
_HALVINGS = 48


def short_sommerfeld(slenderness: Number, eccentricity: Number) -> Number:
    """Sommerfeld number of a very short bearing (Ocvirk)."""
    free = 1 - np.square(eccentricity)
    root = np.sqrt(np.pi**2 * free + 16 * np.square(eccentricity))
    number: Number = free**2 / (np.pi * eccentricity * root * np.square(slenderness))
    return number


def short_attitude(eccentricity: Number) -> Number:
    """Angle between load and line of centres of a very short bearing."""
    angle: Number = np.arctan2(np.pi * np.sqrt(1 - np.square(eccentricity)), 4 * np.asarray(eccentricity))
    return angle


@cache
def _surfaces(kind: str) -> dict[str, RectBivariateSpline]:
    """A surface for each column, over the logarithm of the slenderness and the eccentricity."""
    from scipy.interpolate import RectBivariateSpline  # takes long to import, and few commands need a bearing

    slender, away = np.array(film_nodes.SLENDERNESS), np.array(film_nodes.ECCENTRICITY)
    shape = (len(slender), len(away))
    columns = {
        name: np.array([float(word) for word in text.split()]).reshape(shape)
        for name, text in film_nodes.NODES[kind].items()
    }
    relative = {
        "sommerfeld": np.log(columns["sommerfeld"] / short_sommerfeld(slender[:, None], away)),
        "attitude": columns["attitude"] / short_attitude(away),
        "torque": columns["torque"] * np.sqrt(1 - away**2),
        "film_flow": columns["film_flow"],
        "side_flow": columns["side_flow"] / away,
        "pressure_ratio": columns["pressure_ratio"],
    }
    return {
        name: RectBivariateSpline(np.log(slender), away, values, kx=3, ky=3, s=0) for name, values in relative.items()
    }


def surface(kind: str, name: str, slenderness: Number, eccentricity: Number) -> Array:
    """One column of the grid at any slenderness and eccentricity inside it."""
    slender, away = np.broadcast_arrays(slenderness, eccentricity)
    found: Array = _surfaces(kind)[name].ev(np.log(slender), away)
    if name == "sommerfeld":
        found = np.exp(found) * short_sommerfeld(slender, away)
    elif name == "attitude":
        found = found * short_attitude(away)
    elif name == "torque":
        found = found / np.sqrt(1 - away**2)
    elif name == "side_flow":
        found = found * away
    return found


def check_kind(kind: str) -> None:
    """Refuse a bearing that is neither bush nor split."""
    if kind not in KINDS:
        raise OutOfRange(name="kind", value=kind, expected=f"one of {', '.join(KINDS)}", unit="word", source=SOURCE)


def check_slenderness(slenderness: Number) -> None:
    """Refuse a bearing narrower or wider than the grid; a quotient may end a hair beyond its bound."""
    least, most = SLENDERNESS[0] * (1 - 1e-9), SLENDERNESS[1] * (1 + 1e-9)
    require("width / diameter", slenderness, "1", at_least=least, at_most=most, source=SOURCE)


def halve(rises: Callable[[Array], Any], shape: tuple[int, ...]) -> Array:
    """Eccentricity at which a rising function of it passes nought, within the grid; its ends where it does not."""
    low, high = np.full(shape, ECCENTRICITY[0]), np.full(shape, ECCENTRICITY[1])
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        below = np.asarray(rises(middle)) < 0
        low, high = np.where(below, middle, low), np.where(below, high, middle)
    found: Array = (low + high) / 2
    return found


def eccentricity_at(kind: str, slenderness: Number, sommerfeld: Number) -> Array:
    """Eccentricity of a bearing from its Sommerfeld number; refuses what lies beyond the grid."""
    shape = np.broadcast_shapes(np.shape(slenderness), np.shape(sommerfeld))
    least = surface(kind, "sommerfeld", slenderness, np.full(shape, ECCENTRICITY[1]))
    most = surface(kind, "sommerfeld", slenderness, np.full(shape, ECCENTRICITY[0]))
    bad = np.asarray(~((sommerfeld >= least) & (sommerfeld <= most)))
    if np.any(bad):
        expected = f"a film with an eccentricity from {ECCENTRICITY[0]} to {ECCENTRICITY[1]}"
        refuse("sommerfeld", sommerfeld, bad, "1", expected, source=SOURCE)
    return halve(lambda e: sommerfeld - surface(kind, "sommerfeld", slenderness, e), shape)
