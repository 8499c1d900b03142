"""The verdict marks: posts are the limits, the ball is the reading, the bar its uncertainty."""

from __future__ import annotations

from dataclasses import dataclass
from html import escape

LEFT_POST, RIGHT_POST = "M14 3V21", "M34 3V21"
# What stands beside the posts, in a box 48 by 24.
BESIDE_POSTS = {
    "good": '<path d="M18 12H30" stroke-width="2"/><circle fill="currentColor" stroke="none" cx="24" cy="12" r="5"/>',
    "looks_good": '<path d="M22 12H42" stroke-width="2"/><circle cx="29" cy="12" r="5" stroke-width="2"/>'
    '<path fill="currentColor" stroke="none" d="M29 7A5 5 0 0 0 29 17Z"/>',
    "looks_out": '<path d="M28 12H46" stroke-width="2"/><circle cx="38" cy="12" r="5" stroke-width="2"/>'
    '<path fill="currentColor" stroke="none" d="M38 7A5 5 0 0 1 38 17Z"/>',
    "out": '<path fill="currentColor" stroke="none" d="M38 8H46V16H38Z"/><path d="M34 3V21" stroke-width="5"/>',
    "gauge_too_coarse": '<path d="M2 12H46M2 7V17M46 7V17" stroke-width="2"/>',
    "too_small_to_show": '<path d="M14 21H34" stroke-width="2"/><circle cx="24" cy="18" r="2.5" stroke-width="2"/>',
    "readings_missing": '<circle fill="currentColor" stroke="none" cx="19" cy="12" r="2.5"/>'
    '<circle cx="24" cy="12" r="2.5" stroke-width="2"/><circle cx="29" cy="12" r="2.5" stroke-width="2"/>',
    "odd_reading": '<circle cx="24" cy="15" r="5" stroke-width="2"/>'
    '<path d="M21 3A3 2.4 0 1 1 24 5.4V7M24 8V9.4" stroke-width="1.8"/>',
    "outdated": '<circle cx="24" cy="12" r="5" stroke-width="2"/><path d="M16 20L32 4" stroke-width="2"/>',
    "other_method": '<path d="M19 7H29V17H19Z" stroke-width="2"/>',
    "no_limit": '<circle fill="currentColor" stroke="none" cx="24" cy="12" r="5"/>',
    "not_measured": '<path d="M16 12H32" stroke-width="2" stroke-dasharray="3 3"/>',
}
ZIGZAG_POST = "M34 3L37 6L31 9L37 12L31 15L37 18L34 21"
WITHOUT_POSTS = frozenset({"no_limit"})


@dataclass(frozen=True, slots=True)
class Limits:
    """Which sides a limit has, and whether the reading lies nearer the low one."""

    low: bool = True
    high: bool = True
    near_low: bool = False


def has_mark(code: str) -> bool:
    """Does this verdict carry a mark? Answers such as "does not apply" are words only."""
    return code in BESIDE_POSTS


def mark(code: str, name: str, limits: Limits | None = None, *, bench: bool = False) -> str:
    """The mark of a verdict code as SVG, `name` being what a screen reader says; empty where there is no mark."""
    if code not in BESIDE_POSTS:
        return ""
    classes = "mark bench" if bench else "mark"
    said = f'role="img" aria-label="{escape(name)}"' if name else 'aria-hidden="true"'
    return (
        f'<svg class="{classes}" viewBox="0 0 48 24" width="48" height="24" {said} fill="none" stroke="currentColor">'
        f"{mark_lines(code, limits or Limits())}</svg>"
    )


def mark_lines(code: str, limits: Limits) -> str:
    """The lines of a mark in its box of 48 by 24; a reading near the low limit is the mirror image."""
    mirrored = limits.near_low or (limits.low and not limits.high)
    inner, outer = (limits.low, limits.high) if not mirrored else (limits.high, limits.low)
    posts = ""
    if code not in WITHOUT_POSTS:
        right = ZIGZAG_POST if code == "other_method" else RIGHT_POST
        drawn = (LEFT_POST if inner else "") + (right if outer else "")
        posts = f'<path d="{drawn}" stroke-width="3"/>' if drawn else ""
    lines = posts + BESIDE_POSTS[code]
    return f'<g transform="translate(48 0) scale(-1 1)">{lines}</g>' if mirrored else lines
