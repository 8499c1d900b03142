"""How a part may sit, as one of two pictures: its outline, an arrow for the mark on it, and where the front is.

Sizes are in units of one screen pixel on a drawing 150 wide, which is half a phone of 390 less its margins, so that a
letter of 16 is 16 px high there. The front of the engine is on the left. Colours come from classes and currentColor.
"""

from __future__ import annotations

from typing import Literal
from xml.sax.saxutils import escape

Points = Literal["front", "rear", "up", "down"]
Shape = Literal["round", "bar", "plate"]

OUTLINES: dict[str, str] = {
    "round": '<circle cx="92" cy="54" r="48"/>',
    "bar": '<path d="M40 28H144V80H40Z"/>',
    "plate": '<path d="M48 10H138L146 18V90L138 98H48L40 90V18Z"/>',
}
# Where the arrow's tip and tail stand; the head is drawn at the tip. All of them fit the lowest outline.
ARROWS: dict[str, str] = {
    "front": "M126 54H58M58 54L76 40M58 54L76 68",
    "rear": "M58 54H126M126 54L108 40M126 54L108 68",
    "up": "M92 76V32M92 32L78 50M92 32L106 50",
    "down": "M92 32V76M92 76L78 58M92 76L106 58",
}


VIEW_ARROW = (
    '<svg class="view-arrow" viewBox="0 0 34 16" width="34" height="16" aria-hidden="true" focusable="false"'
    ' fill="none" stroke="currentColor" stroke-width="2"><path d="M2 8H30M22 2L30 8L22 14"/></svg>'
)
"""The open arrow that stands before the words of a view."""

PLUMB = (
    '<path class="plumb" d="M164 24V74" stroke-width="1"/><path d="M159 74H169L164 90Z" fill="currentColor"'
    ' stroke="none"/><text x="164" y="18" text-anchor="middle" fill="currentColor" stroke="none"'
    ' font-size="16">UP</text>'
)


def orientation_drawing(shape: Shape, points: Points, *, words: str, view: str, upright: bool = False) -> str:
    """One of the two pictures as one SVG element; where a mark may point up or down, a plumb line shows which is up."""
    label = escape(f"{words}; {view}; the front of the engine is on the left", {'"': "&quot;"})
    nose = '<path class="front" d="M28 14L4 24V84L28 94Z" stroke="none"/>'
    word = (
        '<text class="front-word" transform="translate(22 54) rotate(-90)" text-anchor="middle" stroke="none"'
        ' font-size="16">FRONT</text>'
    )
    width, plumb = (180, PLUMB) if upright else (150, "")
    return (
        f'<svg class="orientation" viewBox="0 0 {width} 108" role="img" aria-label="{label}" fill="none"'
        f' stroke="currentColor">{nose}{word}<g class="outline" stroke-width="3">{OUTLINES[shape]}</g>'
        f'<path class="pointer" d="{ARROWS[points]}" stroke-width="7" stroke-linejoin="miter"/>{plumb}</svg>'
    )
