"""A bore, journal or face unrolled to a strip: stations down, axes across, what was read at each crossing.

The bars show how far each reading lies above the smallest of the place.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from html import escape

LINE = 28
WORD = 64
LETTER = 8.5
LEAST_COLUMN = 140
BAR = 60
HEAD = 24


@dataclass(frozen=True, slots=True)
class Read:
    """What was read at a spot: the number as typed and, in SI, its size for the bar."""

    text: str
    si: float


def bore_section(
    stations: Sequence[str],
    axes: Sequence[str],
    read: Mapping[tuple[str, str], Read],
    here: tuple[str, str] | None,
    *,
    name: str,
) -> str:
    """The strip as SVG text, with an arrow at the spot to measure now."""
    left = max(WORD, round(LETTER * max(len(station) for station in stations)) + 12)
    width, height = left + LEAST_COLUMN * len(axes), HEAD + LINE * len(stations) + 4
    axis_words = "".join(
        f'<text x="{left + LEAST_COLUMN * n + 12}" y="17">{escape(axis.strip("-"))}</text>'
        for n, axis in enumerate(axes)
    )
    rows = "".join(
        _row(left, y, station, axes, read, here)
        for y, station in ((HEAD + LINE * n, s) for n, s in enumerate(stations))
    )
    edges = f"M{left} {HEAD}V{height - 4}M{width - 2} {HEAD}V{height - 4}"
    centre = f"M{(left + width) / 2:.0f} {HEAD}V{height - 4}" if len(axes) == 2 else ""
    return (
        f'<svg class="bore" viewBox="0 0 {width} {height}" width="{width}" height="{height}" fill="none" role="img"'
        f' aria-label="{escape(name)}">{axis_words}<path class="outline" d="{edges}"/>'
        f'<path class="centre" d="{centre}"/>{rows}</svg>'
    )


def _row(
    left: int,
    y: int,
    station: str,
    axes: Sequence[str],
    read: Mapping[tuple[str, str], Read],
    here: tuple[str, str] | None,
) -> str:
    middle = y + LINE / 2
    word = f'<text x="0" y="{middle + 5:.0f}">{escape(station.strip("-"))}</text>'
    line = f'<path class="dimension" d="M{left} {y + LINE}H{left + LEAST_COLUMN * len(axes) - 2}"/>'
    spots = "".join(
        _spot(left + LEAST_COLUMN * n + 12, middle, read.get((station, axis)), read, here == (station, axis))
        for n, axis in enumerate(axes)
    )
    return word + line + spots


def _spot(x: float, middle: float, taken: Read | None, read: Mapping[tuple[str, str], Read], now: bool) -> str:
    arrow = _arrow(x - 8, middle) if now else ""
    if taken is None:
        return arrow
    sizes = [each.si for each in read.values()]
    spread = max(sizes) - min(sizes)
    long = BAR * (taken.si - min(sizes)) / spread if spread else 0.0
    bar = f'<path fill="currentColor" d="M{x:.0f} {middle + 9:.0f}h{long:.1f}v3h-{long:.1f}z"/>' if long else ""
    return f'<text x="{x + (20 if now else 0):.0f}" y="{middle + 4:.0f}">{escape(taken.text)}</text>{bar}{arrow}'


def _arrow(x: float, middle: float) -> str:
    """A closed arrow three times as long as it is wide."""
    return f'<path class="here" d="M{x - 2:.0f} {middle:.0f}h8M{x + 22:.0f} {middle:.0f}l-18 -6v12z"/>'
