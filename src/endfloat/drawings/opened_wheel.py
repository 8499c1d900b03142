"""The opened wheel: two turns of the crank as one straight graduated strip, each valve a bar from opening to closing.

The book's bar is an outline; the measured edges are thick lines over it. Dead centres are long ticks.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

CYCLE = 720.0
LETTER = 8.5
HEAD = 58
ROW = 84
MARGIN = 12
BAR = 28


@dataclass(frozen=True, slots=True)
class Valve:
    """One valve: its name, the book's edges and centre, and the measured ones, in degrees after the dead centre found.

    An edge is none where the book or the wheel gives none; `told` is the line beside the name, such as the centre.
    `hatch` leans like the slash it is, for the bank; blank on an engine in one row.
    """

    name: str
    told: str
    book: tuple[float, float] | None
    book_centre: float
    measured: tuple[float, float] | None
    centre: float | None
    hatch: str = ""


def opened_wheel(valves: Sequence[Valve], *, width: int, name: str) -> str:
    """The strip as SVG text; both its ends are the dead centre that was found."""
    height = HEAD + ROW * len(valves) + MARGIN
    rows = "".join(_row(valve, HEAD + ROW * number, width) for number, valve in enumerate(valves))
    return (
        f'<svg class="wheel" viewBox="0 0 {width} {height}" width="{width}" height="{height}" fill="none" role="img"'
        f' aria-label="{escape(name)}">{_scale(width, height)}{rows}</svg>'
    )


def _x(degrees: float, width: int) -> float:
    return MARGIN + degrees / CYCLE * (width - 2 * MARGIN)


def _scale(width: int, height: int) -> str:
    """The graduated line with its dead centres as long ticks."""
    short = "".join(f"M{_x(at, width):.1f} {HEAD - 18}V{HEAD - 8}" for at in range(0, 721, 30))
    long = "".join(f"M{_x(at, width):.1f} {HEAD - 30}V{height - MARGIN}" for at in range(0, 721, 180))
    words = "".join(
        f'<text x="{_x(at, width):.1f}" y="{HEAD - 36}" text-anchor="{anchor}">{at}</text>'
        for at, anchor in ((0, "start"), (180, "middle"), (360, "middle"), (540, "middle"), (720, "end"))
    )
    return (
        f'<path class="dimension" d="M{MARGIN} {HEAD - 8}H{width - MARGIN}{short}"/>'
        f'<path class="neighbour" d="{long}"/>{words}'
    )


def _row(valve: Valve, y: float, width: int) -> str:
    words = (
        f'<text class="name" x="{MARGIN + 4}" y="{y + 18}">{escape(valve.name)}</text>'
        f'<text x="{MARGIN + 4 + LETTER * (len(valve.name) + 2):.0f}" y="{y + 18}">{escape(valve.told)}</text>'
    )
    book = "".join(
        f'<path class="book" d="M{_x(a, width):.1f} {y + 34}H{_x(b, width):.1f}V{y + 62}H{_x(a, width):.1f}Z"/>'
        for a, b in _within(valve.book)
    )
    book += "".join(_hatched(_x(a, width), _x(b, width), y + 34, valve.hatch) for a, b in _within(valve.book))
    measured = "".join(
        f'<path class="measured" d="M{_x(a, width):.1f} {y + 48}H{_x(b, width):.1f}"/>'
        for a, b in _within(valve.measured)
    )
    edges = "".join(
        f'<path class="edge" d="M{_x(edge % CYCLE, width):.1f} {y + 28}V{y + 68}"/>' for edge in valve.measured or ()
    )
    marks = f'<path class="centre" d="M{_x(valve.book_centre % CYCLE, width):.1f} {y + 26}V{y + 70}"/>'
    if valve.centre is not None:
        at = _x(valve.centre % CYCLE, width)
        marks += f'<path class="pointer" d="M{at:.1f} {y + 40}l-6 -14h12z"/>'
    return f"{book}{measured}{edges}{marks}{words}"


def _hatched(left: float, right: float, top: float, hatch: str) -> str:
    """Lines at 45 degrees, 8 apart, within a bar 28 high; none without a hatch."""
    if not hatch:
        return ""
    lines = []
    start = left - BAR
    while start < right:
        # A line rises from the foot of the bar; what lies before its left edge or after its right one is cut off.
        first, last = max(0.0, left - start), min(float(BAR), right - start)
        if first < last:
            low, high = (top + BAR - first, top + BAR - last) if hatch == "/" else (top + first, top + last)
            lines.append(f"M{start + first:.1f} {low:.1f}L{start + last:.1f} {high:.1f}")
        start += 8
    return f'<path class="hatch" d="{"".join(lines)}"/>'


def _within(edges: tuple[float, float] | None) -> list[tuple[float, float]]:
    """A bar within the strip; one that runs over its end comes back at its beginning."""
    if edges is None:
        return []
    first = edges[0] % CYCLE
    last = first + (edges[1] - edges[0]) % CYCLE
    return [(first, last)] if last <= CYCLE else [(first, CYCLE), (0.0, last - CYCLE)]
