"""Two readings of one place on one line: as found a hollow ball, now a filled one, each with its bar."""

from __future__ import annotations

from html import escape

WIDTH, LEFT, RIGHT = 320, 20, 300
FOUND_AT, NOW_AT, LINE_AT = 14, 34, 46

# A value and the half-width of its bar, in one unit with all others of the drawing.
Read = tuple[float, float]


def beside(found: Read | None, now: Read | None, ends: tuple[float, float], name: str) -> str:
    """Both readings over one graduated line that runs from one end to the other; what is missing is not drawn."""
    low, high = ends
    span = high - low or 1.0

    def across(value: float) -> float:
        return LEFT + (value - low) / span * (RIGHT - LEFT)

    def drawn(read: Read, height: int, ball: str) -> str:
        value, half = read
        left, right, middle = across(value - half), across(value + half), across(value)
        return (
            f'<path d="M{left:.1f} {height}H{right:.1f}" stroke-width="2"/>'
            f'<circle cx="{middle:.1f}" cy="{height}" r="6" stroke-width="2" {ball}/>'
        )

    ticks = "".join(f"M{LEFT + (RIGHT - LEFT) * step / 10:.1f} {LINE_AT}V{LINE_AT + 6}" for step in range(11))
    balls = drawn(found, FOUND_AT, 'class="hollow"') if found else ""
    balls += drawn(now, NOW_AT, 'fill="currentColor"') if now else ""
    return (
        f'<svg class="beside-line" viewBox="0 0 {WIDTH} 56" fill="none" stroke="currentColor" role="img"'
        f' aria-label="{escape(name)}"><path class="dimension" d="M{LEFT} {LINE_AT}H{RIGHT}{ticks}"/>{balls}</svg>'
    )


def ends_of(reads: list[Read]) -> tuple[float, float]:
    """The ends of a line on which all of these find room."""
    if not reads:
        return (0.0, 1.0)
    low = min(value - half for value, half in reads)
    high = max(value + half for value, half in reads)
    room = (high - low) * 0.05 or abs(high) * 0.05 or 1.0
    return (low - room, high + room)
