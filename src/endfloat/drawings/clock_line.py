"""A clock as a graduated line: a tick a minute, or a coarser one where that would crowd, thick as far as it has run."""

from __future__ import annotations

MOST_TICKS = 60
STEPS = (1, 5, 10, 30, 60, 360, 1440)
LENGTH = 1000.0


def clock_line(minutes: int, share: float) -> str:
    """The line of a clock of so many minutes, of which a share has run; it stands beside its words."""
    step = next((each for each in STEPS if minutes / each <= MOST_TICKS), STEPS[-1])
    ticks = "".join(
        f"M{LENGTH * at / minutes:.1f} {14 if at % (5 * step) else 6}V30" for at in range(0, minutes + 1, step)
    )
    thick = f'<path d="M0 24H{LENGTH * share:.1f}" stroke="currentColor" stroke-width="12"/>' if share else ""
    return (
        '<svg class="clock-line" viewBox="0 0 1000 32" fill="none" preserveAspectRatio="none" aria-hidden="true"'
        ' focusable="false">'
        f'<path d="M0 30H1000{ticks}" stroke="currentColor" stroke-width="1" vector-effect="non-scaling-stroke"/>'
        f"{thick}</svg>"
    )
