"""Where a step is: the engine in outline as the person sees it, its banks hatched, the places of the step flagged.

Sizes are in screen pixels on a drawing 358 wide, a phone of 390 less its margins. Colours come from classes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

WIDTH, NOSE, ROW, GAP, HATCH = 358, 72, 72, 12, 8
LEAST_WORD = 10


@dataclass(frozen=True, slots=True)
class PlaceRow:
    """Places of one bank from the front to the rear; `here` are those of the step, `lettered` the bank's name.

    `worked_on` draws the outline thick; `falling` turns the hatch, None leaves it out; `journals` are round.
    """

    places: tuple[str, ...]
    here: frozenset[str] = frozenset()
    lettered: str = ""
    worked_on: bool = False
    falling: bool | None = None
    journals: bool = False


@dataclass(frozen=True, slots=True)
class WherePicture:
    """The rows from top to bottom, what the view is called, and at which end the front is."""

    seen: str
    front_left: bool
    rows: tuple[PlaceRow, ...]
    note: str = ""

    @property
    def words(self) -> str:
        """The drawing for one who does not see it."""
        pointed = [f"{row.lettered} {place}".strip() for row in self.rows for place in row.places if place in row.here]
        banks = [row.lettered for row in self.rows if row.worked_on and row.lettered]
        told = ", ".join(pointed) or " and ".join(f"the {bank} bank" for bank in banks) or "the whole engine"
        return f"{self.seen}, front at the {'left' if self.front_left else 'right'}: {told}"


def where_drawing(picture: WherePicture) -> str:
    """The drawing as one SVG element."""
    top, body = 28, []
    for index, row in enumerate(picture.rows):
        body.append(_row(row, index, top, picture.front_left))
        top += ROW + GAP
    middle = 28 + (top - GAP - 28) / 2
    words = _view(picture, top + 16)
    return (
        f'<svg class="where-drawing" viewBox="0 0 {WIDTH} {top + 28 + (20 if picture.note else 0)}" role="img"'
        f' aria-label="{escape(picture.words)}" fill="none" stroke="currentColor">'
        f"{_front(picture.front_left, middle)}{''.join(body)}{words}</svg>"
    )


def _front(left: bool, y: float) -> str:
    """The flat nose at the front end; its word stands above it, for it is wider than the nose."""
    nose = [(28, y - 20), (28, y + 20), (8, y + 10), (8, y - 10)]
    points = nose if left else [(WIDTH - x, each) for x, each in nose]
    x, anchor = (0, "start") if left else (WIDTH, "end")
    path = "M" + "L".join(f"{px:g} {py:g}" for px, py in points) + "Z"
    word = f'<text x="{x}" y="16" text-anchor="{anchor}" stroke="none" font-weight="700">FRONT</text>'
    return f'<path class="front" d="{path}" stroke="none"/>{word}'


def _row(row: PlaceRow, index: int, y: int, front_left: bool) -> str:
    left, wide = (36, WIDTH - 40) if front_left else (4, WIDTH - 40)
    outline = f'<rect x="{left}" y="{y}" width="{wide}" height="{ROW}" stroke-width="{3 if row.worked_on else 1.5}"/>'
    letter = ""
    if row.lettered:
        letter = (
            f'<text x="{left + 6}" y="{y + 18}" stroke="none" font-weight="700">{escape(row.lettered.upper())}</text>'
        )
    hatch = "" if row.falling is None else _hatch(left, y, wide, falling=row.falling, name=f"bank-{index}")
    names = row.places if front_left else tuple(reversed(row.places))
    cell = wide / max(1, len(names))
    places = "".join(_place(row, name, left + cell * (n + 0.5), y + ROW - 26) for n, name in enumerate(names))
    return hatch + outline + letter + places


def _hatch(left: float, y: float, wide: float, *, falling: bool, name: str) -> str:
    """A band of 45 degree lines along the bank's top edge: rising to the right, or falling."""
    band = 24
    lines = []
    for x in range(int(left) + 96, int(left + wide) - band, HATCH):
        start, end = (y, y + band) if falling else (y + band, y)
        lines.append(f"M{x} {start}L{x + band} {end}")
    return f'<path class="hatch {name}" d="{"".join(lines)}" stroke-width="1"/>'


def _place(row: PlaceRow, name: str, x: float, y: float) -> str:
    here = name in row.here
    r = 20 if here else 17
    shape = f'<circle cx="{x:.1f}" cy="{y}" r="{r}" stroke-width="{3 if here else 1.5}"'
    filled = f'{shape} class="pointed"/>' if here else f"{shape}/>"
    text = "on-pointed" if here else "word"
    double = f'<path d="M{x - 12:.1f} {y - r - 4}H{x + 12:.1f}" stroke-width="1.5"/>' if row.journals else ""
    return (
        f'{filled}{double}<text class="{text}" x="{x:.1f}" y="{y + 6}" text-anchor="middle" stroke="none"'
        f' font-weight="{700 if here else 400}">{escape(name)}</text>'
    )


def _view(picture: WherePicture, y: float) -> str:
    arrow = f'<path d="M2 {y - 5}H26M18 {y - 11}L26 {y - 5}L18 {y + 1}" stroke-width="1.5"/>'
    words = f'<text x="34" y="{y}" stroke="none">{escape(picture.seen)}</text>'
    note = f'<text x="0" y="{y + 22}" stroke="none">{escape(picture.note)}</text>' if picture.note else ""
    return arrow + words + note


def rows_of(banks: Sequence[tuple[str, tuple[str, ...]]]) -> tuple[PlaceRow, ...]:
    """Rows with no step on them."""
    return tuple(PlaceRow(places, lettered=bank) for bank, places in banks)
