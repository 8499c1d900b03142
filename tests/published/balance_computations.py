"""Balance figures of textbooks in pounds and feet, with their own gravity of 32.2 ft/s2."""

import math
from typing import Any

import numpy as np

from endfloat.formulas import shaking, unbalance

Inputs = dict[str, Any]

GRAVITY = 32.2


def overhung(given: Inputs, plane: str) -> float:
    """Balance weight at its radius in one of two planes, for a weight outside them."""
    found = unbalance.two_plane_correction(
        masses=np.array([given["weight"]]),
        radii=np.array([given["radius"]]),
        angles=np.zeros(1),
        positions=np.array([given["apart"] + given["overhang"]]),
        near_plane=0.0,
        far_plane=given["apart"],
    )
    return float(getattr(found, plane)) / float(given["at_radius"])


def at_radius(given: Inputs) -> float:
    """Mass at a stated radius that equals the unbalance of several."""
    found = unbalance.unbalance_of_masses(
        masses=np.array(given["masses"]), radii=np.array(given["radii"]), angles=np.radians(given["angles"])
    )
    return float(found.amount) / float(given["at_radius"])


def second_order(given: Inputs, which: str) -> float:
    """Largest or least second-order force of cylinders in lbf; books keep the first term of the series, r/l."""
    geometry = {"crank_radius": given["throw"] / 12, "rod_length": given["rod"] / 12, "offset": 0.0, "order": 2}
    found = shaking.shaking_order(
        pin_angles=np.radians(given["pins"]),
        bank_angles=np.radians(given["banks"]),
        positions=np.zeros(len(given["pins"])),
        masses=np.full(len(given["pins"]), given["weight"] / GRAVITY),
        speed=given["rpm"] * math.pi / 30,
        **geometry,
    )
    ours = found.force_with + (found.force_against if which == "largest" else -found.force_against)
    return float(abs(ours) * given["throw"] / given["rod"] / shaking.order_factor(**geometry))
