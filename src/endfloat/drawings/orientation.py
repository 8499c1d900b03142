"""How a part may sit, as one of two pictures: its outline, an arrow for the mark on it, and where the front is.

Sizes are in units of one screen pixel on a drawing 240 wide; the front of the engine is on the left. Colours come from
classes and currentColor.
"""

from __future__ import annotations

from typing import Literal
from xml.sax.saxutils import escape

Points = Literal["front", "rear", "up", "down"]
Shape = Literal["round", "bar", "plate"]

OUTLINES: dict[str, str] = {
    "round": '<circle cx="140" cy="70" r="56"/>',
    "bar": '<path d="M72 46H208V94H72Z"/>',
    "plate": '<path d="M76 18H204L214 28V112L204 122H76L66 112V28Z"/>',
}
# Where the arrow's tip and tail stand; the head is drawn at the tip.
ARROWS: dict[str, str] = {
    "front": "M178 70H102M102 70L120 58M102 70L120 82",
    "rear": "M102 70H178M178 70L160 58M178 70L160 82",
    "up": "M140 104V36M140 36L128 54M140 36L152 54",
    "down": "M140 36V104M140 104L128 86M140 104L152 86",
}
# A bar is too low for an arrow across it.
LOW: dict[str, str] = {
    "up": "M140 88V52M140 52L130 64M140 52L150 64",
    "down": "M140 52V88M140 88L130 76M140 88L150 76",
}


def orientation_drawing(shape: Shape, points: Points, *, words: str, view: str) -> str:
    """One of the two pictures as one SVG element."""
    arrow = LOW.get(points, ARROWS[points]) if shape == "bar" else ARROWS[points]
    label = escape(f"{words}; {view}; the front of the engine is on the left", {'"': "&quot;"})
    nose = '<path class="front" d="M30 30L6 44V96L30 110Z" stroke="none"/>'
    word = (
        '<text class="front-word" transform="translate(24 70) rotate(-90)" text-anchor="middle" stroke="none"'
        ' font-size="16">FRONT</text>'
    )
    return (
        f'<svg class="orientation" viewBox="0 0 240 140" role="img" aria-label="{label}" fill="none"'
        f' stroke="currentColor">{nose}{word}<g class="outline" stroke-width="3">{OUTLINES[shape]}</g>'
        f'<path class="pointer" d="{arrow}" stroke-width="6" stroke-linejoin="miter"/></svg>'
    )
