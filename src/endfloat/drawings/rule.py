"""The graduated line: stages of a job, shares of a whole."""

from __future__ import annotations

MOST_TICKS = 20
LENGTH = 100.0


def stage_line(done: int, total: int) -> str:
    """One stage of the rule: a long tick, short ticks for its steps, thick as far as work is confirmed."""
    steps = min(total, MOST_TICKS)
    ticks = "".join(f"M{LENGTH * step / steps:.2f} 12V18" for step in range(1, steps))
    filled = LENGTH * done / total if total else 0.0
    thick = f'<path d="M0 15H{filled:.2f}" stroke="currentColor" stroke-width="6"/>' if filled else ""
    return (
        f'<svg viewBox="0 0 100 20" fill="none" preserveAspectRatio="none" aria-hidden="true" focusable="false">'
        f'<path d="M0 18H100M0 0V18{ticks}" stroke="currentColor" stroke-width="1"/>{thick}</svg>'
    )


def share_line(share: float) -> str:
    """A share of a whole as a bar from nought, on a line graduated in tenths."""
    ticks = "".join(f"M{step * 10} 10V15" for step in range(11))
    return (
        '<svg class="share" fill="none" viewBox="0 0 100 16" preserveAspectRatio="none"'
        ' aria-hidden="true" focusable="false">'
        f'<path class="dimension" d="M0 15H100{ticks}"/>'
        f'<path fill="currentColor" d="M0 2H{100 * share:.2f}V9H0Z"/></svg>'
    )
