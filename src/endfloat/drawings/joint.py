"""The joint drawing: bolts in the person's view, the walk line, the next bolt, and a pull line on each done one.

Sizes are in units of one screen pixel on a drawing 358 wide, which is a phone of 390 less its margins, so that a
letter of 16 is at least 16 px high on every screen from there on. Colours come from classes and currentColor.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any
from xml.sax.saxutils import escape

WIDTH = 358.0
# The one family of page and paper; on a page the style sheet sets it.
FONT = "Atkinson Hyperlegible"
HEXAGON, SMALL_HEXAGON, RING = 16.0, 13.0, 24.0
ON_FRONT = "word on-front"
NOSE_LONG, NOSE_SHORT = 80.0, 24.0
ROW = 36.0
HATCH_STEP = 8.0
Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class DrawnBolt:
    """One bolt at its place in mm; `angle` in degrees it has turned, None before its first pull."""

    number: str
    x: float
    y: float
    angle: float | None = None
    apart: bool = False


@dataclass(frozen=True, slots=True)
class DrawnCircle:
    """A bore or journal in mm, with its name."""

    name: str
    x: float
    y: float
    diameter: float


@dataclass(frozen=True, slots=True)
class JointPicture:
    """What the drawing shows. `walk` is the sequence, of which the first `walked` are pulled in this pass.

    `front` is left, right, top, bottom, "towards you" or "away from you"; `falling` turns the hatch of the bank.
    `hidden` is the boxed count of easily missed fasteners in words, or nothing.
    """

    title: str
    view: str
    front: str
    outline: tuple[Point, ...]
    bolts: tuple[DrawnBolt, ...]
    walk: tuple[str, ...]
    walked: int
    upcoming: str | None
    bank: str = ""
    falling: bool = False
    circles: tuple[DrawnCircle, ...] = ()
    top_is_up: bool = False
    hidden: str = ""


def picture_from(values: Mapping[str, Any]) -> JointPicture:
    """A picture from plain values, as a paper gets them; a word that no picture has is a TypeError."""
    told = dict(values)
    told["bolts"] = tuple(DrawnBolt(**each) for each in values["bolts"])
    told["circles"] = tuple(DrawnCircle(**each) for each in values["circles"])
    told["outline"] = tuple((x, y) for x, y in values["outline"])
    told["walk"] = tuple(values["walk"])
    return JointPicture(**told)


@dataclass(frozen=True, slots=True)
class _Sheet:
    """Millimetres to the drawing: scale, and where the outline begins and ends."""

    scale: float
    left: float
    top: float
    origin: Point
    bottom: float

    def at(self, point: Point) -> Point:
        return (
            round(self.left + (point[0] - self.origin[0]) * self.scale, 2),
            round(self.top + (point[1] - self.origin[1]) * self.scale, 2),
        )


def joint_drawing(picture: JointPicture) -> str:
    """The drawing as one SVG element."""
    sheet = _sheet(picture)
    height = sheet.bottom + _foot_height(picture)
    parts = [
        _outline(picture, sheet),
        *(_circle(circle, sheet) for circle in picture.circles),
        _walk_line(picture, sheet),
        *(_bolt(bolt, sheet) for bolt in picture.bolts),
        _next(picture, sheet),
        _front(picture, sheet),
        _foot(picture, sheet),
    ]
    label = escape(_in_words(picture), {'"': "&quot;"})
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="joint-drawing" viewBox="0 0 {WIDTH:g} {height:g}"'
        f' role="img" aria-label="{label}" fill="none" stroke="currentColor" font-size="16" font-family="{FONT}">'
        f"{''.join(part for part in parts if part)}</svg>"
    )


def gone_on(picture: JointPicture, pulls: int, upcoming: str) -> tuple[str, str]:
    """The ring of the next bolt and the drawing in words, as they are so many pulls later."""
    later = replace(picture, walked=picture.walked + pulls, upcoming=upcoming)
    return _next(later, _sheet(later)), _in_words(later)


def _sheet(picture: JointPicture) -> _Sheet:
    xs, ys = [x for x, _ in picture.outline], [y for _, y in picture.outline]
    left = NOSE_SHORT + 8 if picture.front == "left" else 8.0
    right = NOSE_SHORT + 8 if picture.front == "right" else 8.0
    top = 36.0 + (NOSE_SHORT + 8 if picture.front == "top" else 0)
    across, down = max(xs) - min(xs), max(ys) - min(ys)
    # A round or tall part would else fill the phone and push the button off it.
    scale = min((WIDTH - left - right) / across, 190 / down)
    left += (WIDTH - left - right - across * scale) / 2
    return _Sheet(scale, left, top, (min(xs), min(ys)), top + down * scale)


def _in_words(picture: JointPicture) -> str:
    pulled = ", ".join(picture.walk[: picture.walked]) or "none"
    upcoming = f"next is bolt {picture.upcoming}" if picture.upcoming else "no bolt is next"
    return f"{picture.title}, {picture.view}. Pulled in this pass: {pulled}; {upcoming}. {picture.hidden}".strip()


def _outline(picture: JointPicture, sheet: _Sheet) -> str:
    return f'<path class="part" d="{_path([sheet.at(point) for point in picture.outline])}Z" stroke-width="3"/>'


def _circle(circle: DrawnCircle, sheet: _Sheet) -> str:
    x, y = sheet.at((circle.x, circle.y))
    radius = circle.diameter / 2 * sheet.scale
    name = _text(x, y + 6, circle.name, "quiet") if circle.name else ""
    return (
        f'<circle class="neighbour" cx="{x:g}" cy="{y:g}" r="{radius:.1f}" stroke-width="1.5"'
        f' stroke-dasharray="6 3"/>{name}'
    )


def _walk_line(picture: JointPicture, sheet: _Sheet) -> str:
    places = {bolt.number: sheet.at((bolt.x, bolt.y)) for bolt in picture.bolts}
    points = [places[number] for number in picture.walk]
    if len(points) < 2:
        return ""
    line = f'<path class="walk" d="{_path(points)}" stroke-width="1.5"/>'
    if picture.walked > 1:
        line += f'<path class="walked" d="{_path(points[: picture.walked])}" stroke-width="6"/>'
    return line


def _bolt(bolt: DrawnBolt, sheet: _Sheet) -> str:
    x, y = sheet.at((bolt.x, bolt.y))
    radius = _radius(bolt)
    corners = [
        (x + radius * math.cos(math.radians(turn)), y + radius * math.sin(math.radians(turn)))
        for turn in range(0, 360, 60)
    ]
    dash = ' stroke-dasharray="6 3"' if bolt.apart else ""
    pull = "" if bolt.angle is None else _pull_line(x, y, radius, bolt.angle)
    return (
        f'<g class="bolt" data-bolt="{escape(bolt.number)}"><path class="hexagon" fill="white" d="{_path(corners)}Z"'
        f' stroke-width="2"{dash}/>{pull}{_text(x, y + 6, bolt.number, "number")}</g>'
    )


def _pull_line(x: float, y: float, radius: float, angle: float) -> str:
    """A paint stripe across the hexagon; the dot is its leading end, so that half a turn shows."""
    reach = radius + 5
    dx, dy = reach * math.sin(math.radians(angle)), -reach * math.cos(math.radians(angle))
    return (
        f'<path class="pull" data-angle="{angle:g}" d="M{x - dx:.2f} {y - dy:.2f}L{x + dx:.2f} {y + dy:.2f}"'
        f' stroke-width="3"/><circle class="dot" cx="{x + dx:.2f}" cy="{y + dy:.2f}" r="4" fill="currentColor"/>'
    )


def _next(picture: JointPicture, sheet: _Sheet) -> str:
    bolt = next((each for each in picture.bolts if each.number == picture.upcoming), None)
    if bolt is None:
        return ""
    x, y = sheet.at((bolt.x, bolt.y))
    radius = RING - HEXAGON + _radius(bolt)
    word_x, word_y = _free_place(picture, sheet, bolt, radius)
    return (
        f'<g class="next" data-bolt="{escape(bolt.number)}">'
        f'<circle class="ring" cx="{x:g}" cy="{y:g}" r="{radius:g}" stroke-width="6"/>'
        f"{_text(word_x, word_y, 'NEXT', 'number')}</g>"
    )


def _free_place(picture: JointPicture, sheet: _Sheet, bolt: DrawnBolt, radius: float) -> Point:
    """Where the word stands clear of the other bolts: away from the middle, else beside the ring."""
    x, y = sheet.at((bolt.x, bolt.y))
    clamped = min(max(x, 26), WIDTH - 26)
    above, below = (clamped, y - radius - 6), (clamped, y + radius + 18)
    beside = [(x + radius + 30, y + 6), (x - radius - 30, y + 6)]
    upper = y < (sheet.top + sheet.bottom) / 2
    places = [above, *beside, below] if upper else [below, *beside, above]
    others = [(sheet.at((each.x, each.y)), _radius(each)) for each in picture.bolts if each.number != bolt.number]

    def free(place: Point) -> bool:
        return 26 <= place[0] <= WIDTH - 26 and not any(
            abs(ox - place[0]) < 26 + size and abs(oy - (place[1] - 6)) < 8 + size for (ox, oy), size in others
        )

    return next((place for place in places if free(place)), places[0])


def _radius(bolt: DrawnBolt) -> float:
    return SMALL_HEXAGON if bolt.apart else HEXAGON


def _front(picture: JointPicture, sheet: _Sheet) -> str:
    middle_y = (sheet.top + sheet.bottom) / 2
    middle_x = WIDTH / 2
    half, slant = NOSE_LONG / 2, 6.0
    if picture.front in ("left", "right"):
        outer, inner = (2.0, 2.0 + NOSE_SHORT) if picture.front == "left" else (WIDTH - 2, WIDTH - 2 - NOSE_SHORT)
        nose = [(outer, middle_y - half + slant), (inner, middle_y - half), (inner, middle_y + half)]
        nose.append((outer, middle_y + half - slant))
        x, turn = (outer + inner) / 2 + 6, f' transform="rotate(-90 {(outer + inner) / 2 + 6:g} {middle_y:g})"'
        return f'<path class="front" d="{_path(nose)}Z" stroke-width="2"/>{_text(x, middle_y, "FRONT", ON_FRONT, turn)}'
    if picture.front in ("top", "bottom"):
        outer = 2.0 if picture.front == "top" else sheet.bottom + 32
        inner = outer + NOSE_SHORT if picture.front == "top" else outer - NOSE_SHORT
        nose = [(middle_x - half + slant, outer), (middle_x - half, inner), (middle_x + half, inner)]
        nose.append((middle_x + half - slant, outer))
        words = _text(middle_x, (outer + inner) / 2 + 6, "FRONT", ON_FRONT)
        return f'<path class="front" d="{_path(nose)}Z" stroke-width="2"/>{words}'
    return ""


def _bank(picture: JointPicture, top: float) -> str:
    """The bank's name on its hatch, at the right end of the foot."""
    word = picture.bank.upper()
    width, height = _bank_width(picture), 32.0
    left = WIDTH - width - 2
    strokes = _hatch(left, top, width, height, falling=picture.falling)
    plate = 11.5 * len(word) + 8
    middle = left + width / 2
    return (
        f'<g class="bank" data-falling="{str(picture.falling).lower()}"><path class="hatch" d="{strokes}"'
        f' stroke-width="1"/><rect class="plate" x="{middle - plate / 2:g}" y="{top:g}" width="{plate:g}"'
        f' height="{height:g}" fill="white" stroke="none"/>{_text(middle, top + 22, word, "word")}</g>'
    )


def _bank_width(picture: JointPicture) -> float:
    return 11.5 * len(picture.bank) + 40


def _hatch(left: float, top: float, width: float, height: float, *, falling: bool) -> str:
    strokes = []
    start = -height
    while start < width:
        low, high = max(start, 0), min(start + height, width)
        if high > low:
            rise = [(low, top + height - (low - start)), (high, top + height - (high - start))]
            if falling:
                rise = [(x, 2 * top + height - y) for x, y in rise]
            strokes.append(_path([(left + x, y) for x, y in rise]))
        start += HATCH_STEP
    return "".join(strokes)


def _foot_height(picture: JointPicture) -> float:
    nose = NOSE_SHORT + 8 if picture.front == "bottom" else 0.0
    return 30 + nose + ROW * (2 if picture.hidden or picture.bank else 1)


def _foot(picture: JointPicture, sheet: _Sheet) -> str:
    """View arrow with its words, the plumb line where up is on the paper, the boxed count and the bank."""
    last = ROW if picture.hidden or picture.bank else 0.0
    y = sheet.bottom + _foot_height(picture) - last - 10
    arrow = f'<path class="view" d="M4 {y - 5:g}H30M22 {y - 11:g}L30 {y - 5:g}L22 {y + 1:g}" stroke-width="2"/>'
    parts = [arrow, _text(38, y, picture.view, "view-words", ' text-anchor="start"')]
    if picture.top_is_up:
        x, top = WIDTH - 16, sheet.top
        bob = f"M{x - 5:g} {top + 60:g}H{x + 5:g}L{x:g} {top + 76:g}Z"
        parts.append(f'<path class="plumb" d="M{x:g} {top:g}V{top + 60:g}" stroke-width="1"/>')
        parts.append(f'<path class="bob" d="{bob}" fill="currentColor"/>{_text(x - 6, top - 8, "UP", "word")}')
    if picture.hidden:
        width = WIDTH - 4 - (_bank_width(picture) + 8 if picture.bank else 0)
        box = f'<rect class="count" x="2" y="{y + 12:g}" width="{width:g}" height="32" stroke-width="2"/>'
        parts.append(box + _text(9, y + 34, picture.hidden, "count-words", ' text-anchor="start"'))
    if picture.bank:
        parts.append(_bank(picture, y + 12))
    return "".join(parts)


def _text(x: float, y: float, words: str, sort: str, extra: str = "") -> str:
    anchor = "" if "text-anchor" in extra else ' text-anchor="middle"'
    paint = 'fill="currentColor" stroke="none"'
    if sort == "number":
        # A rim in the colour of the ground keeps the number legible on its pull line, on paper too.
        paint = 'fill="currentColor" stroke="white" stroke-width="5" stroke-linejoin="round" paint-order="stroke"'
    return f'<text class="{sort}" x="{x:g}" y="{y:g}"{anchor}{extra} {paint}>{escape(words)}</text>'


def _path(points: Iterable[Point]) -> str:
    return "M" + "L".join(f"{x:.2f} {y:.2f}" for x, y in points)
