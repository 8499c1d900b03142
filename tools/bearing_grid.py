"""Solves the Reynolds equation of a plain journal bearing and writes the grid that the formulas interpolate.

    python tools/bearing_grid.py

takes some minutes and writes src/endfloat/formulas/film_nodes.py. Finite volumes on the unwrapped film, half the
width by symmetry. Where the film tears the pressure is nought and its slope too (Reynolds' condition): among the nodes
the pressure, and what is left of the balance where it is nought, are both never negative and never both there, which
is solved by changing the set of filled nodes until it stays.
"""

from __future__ import annotations

import textwrap
from pathlib import Path
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_matrix
from scipy.sparse.linalg import splu

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]
WHERE = Path(__file__).parents[1] / "src" / "endfloat" / "formulas" / "film_nodes.py"
AROUND, ACROSS = 720, 25
"""Nodes around the film, and across half of its width, the edge included."""
HALF_GROOVE = np.radians(5)
"""An axial groove spans ten degrees: with that the split bearing agrees with Someya's tables."""
SLENDERNESS = (0.2, 0.25, 0.3, 0.35, 0.4, 0.5, 0.6, 0.75, 1.0, 1.25, 1.5)
ECCENTRICITY = (
    0.01,
    *(round(0.05 * k, 2) for k in range(1, 17)),
    0.825,
    0.85,
    0.875,
    0.9,
    0.92,
    0.94,
    0.955,
    0.97,
    0.98,
)
KINDS = ("bush", "split")


class Node(NamedTuple):
    """What one bearing does, without dimensions."""

    sommerfeld: float
    attitude: float
    torque: float
    film_flow: float
    side_flow: float
    pressure_ratio: float


class Film:
    """The film of one bearing: its mesh, and the pressure on it."""

    def __init__(
        self, slenderness: float, eccentricity: float, widest: float, grooves: Mask, across: int, filled: Mask | None
    ) -> None:
        around = len(grooves)
        self.step, self.width = 2 * np.pi / around, 1 / (across - 1)
        self.eccentricity, self.widest, self.slenderness = eccentricity, widest, slenderness
        self.grooves, self.angle = grooves, np.arange(around, dtype=np.float64) * 2 * np.pi / around
        self.share = np.full(across - 1, self.width)
        self.share[0] /= 2
        self.along = self.gap(self.angle + self.step / 2)[:, None] ** 3 / self.step * self.share
        self.aside = self.gap(self.angle) ** 3 * self.step / self.width / slenderness**2
        self.source = -6 * (self.gap(self.angle + self.step / 2) - self.gap(self.angle - self.step / 2))
        free = np.repeat(~grooves, across - 1)
        self.filled = free if filled is None else filled
        self.pressure = self._pressure(free).reshape(around, across - 1)

    def gap(self, angle: Array) -> Array:
        return 1 + self.eccentricity * np.cos(angle - self.widest)

    def _matrix(self) -> coo_matrix:
        shape = self.along.shape
        index = np.arange(shape[0] * shape[1]).reshape(shape)
        aside = np.repeat(self.aside[:, None], shape[1], axis=1)
        diagonal = self.along + np.roll(self.along, 1, axis=0) + aside
        diagonal[:, 1:] += aside[:, :-1]
        ahead, inner, outer = np.roll(index, -1, axis=0), index[:, :-1], index[:, 1:]
        blocks = (
            (index, ahead, -self.along),
            (ahead, index, -self.along),
            (inner, outer, -aside[:, :-1]),
            (outer, inner, -aside[:, :-1]),
            (index, index, diagonal),
        )
        row, column, value = (np.concatenate([block[k].ravel() for block in blocks]) for k in range(3))
        return coo_matrix((value, (row, column)))

    def _pressure(self, free: Mask) -> Array:
        matrix = self._matrix().tocsr()
        source = (self.source[:, None] * self.share).ravel()
        for _ in range(500):
            pressure = np.zeros(len(source))
            inside = np.flatnonzero(self.filled)
            pressure[inside] = splu(matrix[inside][:, inside].tocsc()).solve(source[inside])
            left = matrix @ pressure - source
            filled = free & np.where(self.filled, pressure > 0, left < 0)
            if np.array_equal(filled, self.filled):
                return pressure
            self.filled = filled
        raise RuntimeError("the set of filled nodes does not come to rest")

    def node(self) -> Node:
        across = (self.pressure * self.share).sum(axis=1) * self.step
        away = self.angle - self.widest
        inward, sideways = -float(across @ np.cos(away)), float(across @ np.sin(away))
        load = float(np.hypot(inward, sideways))
        # The outermost half cells have a balance of their own: what they take in by the wedge leaves aside too.
        full = self.filled.reshape(self.pressure.shape)[:, -1]
        aside = self.aside * self.pressure[:, -1] + np.where(full, self.source * self.width / 2, 0)
        last = int(np.flatnonzero(self.grooves & ~np.roll(self.grooves, -1))[0])
        ahead = 6 * self.gap(self.angle[last : last + 1] + self.step / 2) * (self.share.sum() + self.width / 2)
        ahead = ahead - self.along[last] @ self.pressure[last + 1]
        return Node(
            sommerfeld=1 / (np.pi * load),
            attitude=float(np.arctan2(sideways, inward)),
            torque=float(2 * np.pi / np.sqrt(1 - self.eccentricity**2)) + self.eccentricity / 2 * sideways,
            film_flow=float(ahead[0]) * np.pi / 6,
            side_flow=float(aside.sum()) * np.pi / 6,
            pressure_ratio=load / 2 / float(self.pressure.max()),
        )


def bush(*, slenderness: float, eccentricity: float, around: int = AROUND, across: int = ACROSS) -> Node:
    """A full bearing, fed along a line at its widest place."""
    line = np.zeros(around, dtype=bool)
    line[0] = True
    return Film(slenderness, eccentricity, 0.0, line, across, None).node()


def split(*, slenderness: float, eccentricity: float, around: int = AROUND, across: int = ACROSS) -> Node:
    """Two half shells, an axial groove at each parting line, the load in the middle of one of them."""
    half = round(HALF_GROOVE / (2 * np.pi) * around)
    grooves = np.zeros(around, dtype=bool)
    for middle in (0, around // 2):
        grooves[np.arange(middle - half, middle + half + 1) % around] = True
    film = None

    def miss(attitude: float) -> tuple[float, Node]:
        nonlocal film
        film = Film(slenderness, eccentricity, attitude - np.pi / 2, grooves, across, film.filled if film else None)
        node = film.node()
        return node.attitude - attitude, node

    before = 0.9 * float(np.arccos(eccentricity))
    error_before, node = miss(before)
    attitude = node.attitude
    for _ in range(20):
        error, node = miss(attitude)
        if abs(error) < 1e-7:
            return node
        attitude, before, error_before = (
            attitude - error * (attitude - before) / (error - error_before),
            attitude,
            error,
        )
    raise RuntimeError("the load does not come to stand between the grooves")


HEAD = '''"""Solved nodes of plain bearings, written by tools/bearing_grid.py; do not edit.

Each text holds a row for each slenderness, a number for each eccentricity.
"""

'''


def written(nodes: dict[str, list[Node]]) -> str:
    """The nodes of each kind, slenderness by slenderness, as a module."""
    lines = [HEAD, f"SLENDERNESS = {SLENDERNESS}\n", f"ECCENTRICITY = {ECCENTRICITY}\n", "NODES = {\n"]
    for kind, found in nodes.items():
        lines.append(f'    "{kind}": {{\n')
        for name in Node._fields:
            numbers = " ".join(f"{getattr(node, name):.5g}" for node in found)
            lines.append(f'        "{name}": """\n{textwrap.fill(numbers, 118)}\n""",\n')
        lines.append("    },\n")
    return "".join((*lines, "}\n"))


def main() -> None:
    nodes = {
        kind: [solve(slenderness=b, eccentricity=e) for b in SLENDERNESS for e in ECCENTRICITY]
        for kind, solve in zip(KINDS, (bush, split), strict=True)
    }
    WHERE.write_text(written(nodes))


if __name__ == "__main__":
    main()
