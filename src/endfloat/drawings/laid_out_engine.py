"""The laid-out engine: parts in rows as on a bench cloth, front to the left, each place with its verdict marks.

A clearance stands on the line between the two parts that make it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape
from math import ceil

from endfloat.drawings.marks import Limits, mark_lines

LEAST_WIDTH = 800
LEAST_CELL = 160
LINE = 32
TAG = 28
MARGIN = 8
FRONT = 36


@dataclass(frozen=True, slots=True)
class Worn:
    """A mark at a place: verdict code and family, sides of the limit, what is judged, full words, where it opens."""

    code: str
    family: str
    limits: Limits
    thing: str
    said: str
    link: str


@dataclass(frozen=True, slots=True)
class Cell:
    """One place: its tag and the marks that it wears."""

    tag: str
    worn: tuple[Worn, ...] = ()


@dataclass(frozen=True, slots=True)
class Row:
    """Parts side by side, or, where `between` is set, the fits on the lines to the next row of parts."""

    title: str
    cells: tuple[Cell, ...]
    between: bool = False


def laid_out_engine(rows: Sequence[Row], *, name: str, note: str = "") -> str:
    """The drawing as SVG text, `name` being what a screen reader says of the whole."""
    width = max([LEAST_WIDTH, *(LEAST_CELL * len(row.cells) for row in rows)])
    y = FRONT + MARGIN
    body = []
    for row in rows:
        high = _height(row, width / len(row.cells))
        body.append(_row(row, width, y, high))
        y += high
    foot = f'<text x="0" y="{y + 24}">{escape(note)}</text>' if note else ""
    height = y + (36 if note else MARGIN)
    return (
        f'<svg class="engine" viewBox="0 0 {width} {height}" width="{width}" height="{height}" fill="none" role="group"'
        f' aria-label="{escape(name)}">{_front()}{"".join(body)}{foot}</svg>'
    )


def _front() -> str:
    """The flat nose at the front end, with its word."""
    return '<path class="front" d="M0 18L24 4H104V32H24Z"/><text class="front-word" x="32" y="24">FRONT</text>'


def _across(width: float) -> int:
    """Marks side by side: one in a cell, several where a part spans the whole width."""
    return max(1, int(width // 240)) if width >= LEAST_WIDTH / 2 else 1


def _height(row: Row, width: float) -> int:
    most = max((ceil(len(cell.worn) / _across(width)) for cell in row.cells), default=0)
    return LINE * most + LINE // 2 if row.between else TAG + LINE * most + LINE // 2 + MARGIN


def _row(row: Row, width: int, y: int, high: int) -> str:
    cell_width = width / len(row.cells)
    return "".join(
        (_fits if row.between else _part)(row, cell, at * cell_width, cell_width, y, high)
        for at, cell in enumerate(row.cells)
    )


def _part(row: Row, cell: Cell, x: float, width: float, y: int, high: int) -> str:
    """A part's outline with its tag on a flag and its marks."""
    left, wide = x + MARGIN, width - 2 * MARGIN
    tag = f'<text x="{left + 8:.1f}" y="{y + 21}">{escape(f"{row.title} {cell.tag}".strip())}</text>'
    flag = f'<path class="dimension" d="M{left:.1f} {y + TAG}H{left + wide:.1f}"/>'
    outline = f'<rect class="outline" x="{left:.1f}" y="{y}" width="{wide:.1f}" height="{high - MARGIN}"/>'
    return outline + tag + (flag if cell.worn else "") + _worn(cell.worn, left + 4, wide, y + TAG + 8)


def _fits(_: Row, cell: Cell, x: float, width: float, y: int, high: int) -> str:
    """The line between two parts, broken where the marks of their fits stand."""
    middle = x + 34
    line = f'<path class="fit" d="M{middle:.1f} {y - MARGIN}V{y + 6}M{middle:.1f} {y + high - 10}V{y + high}"/>'
    return line + _worn(cell.worn, x + MARGIN + 4, width, y + 8)


def _worn(worn: Sequence[Worn], x: float, width: float, y: int) -> str:
    """Marks with their words, one under another; side by side where a part spans the whole width."""
    across = _across(width)
    step = width / across
    return "".join(_one(each, x + step * (n % across), y + LINE * (n // across)) for n, each in enumerate(worn))


def _one(worn: Worn, x: float, y: int) -> str:
    return (
        f'<a href="{escape(worn.link)}" aria-label="{escape(worn.said)}" class="worn {escape(worn.family)}">'
        f'<rect x="{x:.1f}" y="{y - 2}" width="150" height="28" fill="transparent"/>'
        f'<g transform="translate({x:.1f} {y})" stroke="currentColor">{mark_lines(worn.code, worn.limits)}</g>'
        f'<text x="{x + 54:.1f}" y="{y + 18}">{escape(worn.thing)}</text></a>'
    )
