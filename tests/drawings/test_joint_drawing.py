"""The joint drawing, read back as XML: every bolt once, the walk in sequence, the ring on the right bolt."""

import itertools
import re
from dataclasses import replace
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from endfloat.drawings.joint import DrawnBolt, DrawnCircle, JointPicture, joint_drawing

PICTURE = JointPicture(
    title="Left head to block",
    view="seen from above",
    front="left",
    outline=((0, 0), (300, 0), (300, 120), (0, 120)),
    bolts=(
        DrawnBolt("1", 40, 20, angle=90),
        DrawnBolt("2", 150, 20, angle=0),
        DrawnBolt("3", 260, 100),
        DrawnBolt("11", 10, 60, apart=True),
    ),
    walk=("2", "1", "3"),
    walked=2,
    upcoming="3",
    bank="left",
    circles=(DrawnCircle("7", 150, 60, 80),),
    hidden="EASILY MISSED M8: 0 of 1",
)


def parsed(picture: JointPicture) -> ElementTree.Element:
    text = joint_drawing(picture).replace(' xmlns="http://www.w3.org/2000/svg"', "")
    return ElementTree.fromstring(text)


def of(root: ElementTree.Element, sort: str) -> list[ElementTree.Element]:
    return [each for each in root.iter() if each.get("class") == sort]


def points(path: str) -> list[tuple[float, float]]:
    return [(float(x), float(y)) for x, y in re.findall(r"([-\d.]+) ([-\d.]+)", path)]


def middle(bolt: ElementTree.Element) -> tuple[float, float]:
    hexagon = points(next(each for each in bolt if each.get("class") == "hexagon").attrib["d"])
    return sum(x for x, _ in hexagon) / 6, sum(y for _, y in hexagon) / 6


def near(one: tuple[float, float], other: tuple[float, float]) -> bool:
    return abs(one[0] - other[0]) < 0.1 and abs(one[1] - other[1]) < 0.1


def test_every_bolt_stands_once_in_a_hexagon_with_its_number() -> None:
    bolts = of(parsed(PICTURE), "bolt")
    assert [bolt.get("data-bolt") for bolt in bolts] == ["1", "2", "3", "11"]
    for bolt in bolts:
        assert [text.text for text in bolt.iter("text")] == [bolt.get("data-bolt")]
        assert len(points(bolt[0].attrib["d"])) == 6


def test_the_walk_line_joins_the_bolts_in_sequence_and_is_thick_up_to_where_one_is() -> None:
    root = parsed(PICTURE)
    places = {bolt.get("data-bolt"): middle(bolt) for bolt in of(root, "bolt")}
    whole, thick = (points(of(root, sort)[0].attrib["d"]) for sort in ("walk", "walked"))
    assert all(near(point, places[number]) for point, number in zip(whole, PICTURE.walk, strict=True))
    assert thick == whole[:2]
    assert float(of(root, "walked")[0].attrib["stroke-width"]) > float(of(root, "walk")[0].attrib["stroke-width"])


def test_the_ring_and_the_word_next_stand_at_the_next_bolt_only() -> None:
    root = parsed(PICTURE)
    (upcoming,) = of(root, "next")
    (ring,) = of(root, "ring")
    place = next(middle(bolt) for bolt in of(root, "bolt") if bolt.get("data-bolt") == "3")
    assert near((float(ring.attrib["cx"]), float(ring.attrib["cy"])), place)
    assert ring.attrib["stroke-width"] == "6"
    assert [text.text for text in upcoming.iter("text")] == ["NEXT"]
    assert of(parsed(replace(PICTURE, upcoming=None)), "next") == []


@given(st.floats(0, 720))
def test_a_done_bolt_wears_a_pull_line_turned_by_its_angle_and_others_wear_none(angle: float) -> None:
    turned = replace(PICTURE, bolts=(DrawnBolt("1", 40, 20, angle=angle), *PICTURE.bolts[2:]), walk=("1", "3"))
    root = parsed(turned)
    (line,) = of(root, "pull")
    (dot,) = of(root, "dot")
    x, y = middle(of(root, "bolt")[0])
    dx, dy = float(dot.attrib["cx"]) - x, float(dot.attrib["cy"]) - y
    upright = complex(-dy, dx)
    expected = complex(0, 1) ** (angle / 90) * abs(upright)
    assert abs(upright - expected) < 0.1
    assert near(points(line.attrib["d"])[1], (float(dot.attrib["cx"]), float(dot.attrib["cy"])))


def test_half_a_turn_looks_unlike_none() -> None:
    drawn = [joint_drawing(replace(PICTURE, bolts=(DrawnBolt("1", 40, 20, angle=a),), walk=("1",))) for a in (0, 180)]
    dots = [re.search(r'class="dot" cx="([\d.]+)" cy="([\d.]+)"', text) for text in drawn]
    assert dots[0] is not None
    assert dots[1] is not None
    assert dots[0].groups() != dots[1].groups()


@pytest.mark.parametrize(("falling", "sign"), [(False, -1), (True, 1)])
def test_the_bank_is_told_by_its_hatch_and_its_word(falling: bool, sign: int) -> None:
    root = parsed(replace(PICTURE, falling=falling))
    (bank,) = of(root, "bank")
    assert [text.text for text in bank.iter("text")] == ["LEFT"]
    strokes = points(of(root, "hatch")[0].attrib["d"])
    slopes = {round((y2 - y1) / (x2 - x1)) for (x1, y1), (x2, y2) in zip(strokes[::2], strokes[1::2], strict=True)}
    assert slopes == {sign}
    assert of(parsed(replace(PICTURE, bank="")), "bank") == []


def test_easily_missed_fasteners_have_a_boxed_count_and_a_hidden_edge() -> None:
    root = parsed(PICTURE)
    assert len(of(root, "count")) == 1
    assert "EASILY MISSED M8: 0 of 1" in [text.text for text in root.iter("text")]
    dashed = [bolt.get("data-bolt") for bolt in of(root, "bolt") if bolt[0].get("stroke-dasharray") == "6 3"]
    assert dashed == ["11"]


@pytest.mark.parametrize("front", ["left", "right", "top", "bottom", "towards you"])
def test_front_view_and_up_are_said_and_everything_stays_on_the_sheet(front: str) -> None:
    root = parsed(replace(PICTURE, front=front, top_is_up=True))
    words = [text.text for text in root.iter("text")]
    assert ("FRONT" in words) is (front != "towards you")
    assert "seen from above" in words
    assert "UP" in words
    width, height = (float(size) for size in root.attrib["viewBox"].split()[2:])
    for path in root.iter("path"):
        for x, y in points(path.attrib["d"]):
            assert -1 <= x <= width + 1
            assert -1 <= y <= height + 1


def test_nothing_is_styled_inline_and_every_letter_is_large_enough_at_phone_width() -> None:
    text = joint_drawing(PICTURE)
    assert "style=" not in text
    assert "<style" not in text
    assert not re.search(r"#[0-9a-fA-F]{3}", text), "a colour is written into the drawing"
    assert set(re.findall(r'font-size="(\d+)"', text)) == {"16"}
    assert parsed(PICTURE).attrib["viewBox"].split()[2] == "358"


def test_a_title_with_signs_of_markup_is_shown_as_typed() -> None:
    root = parsed(replace(PICTURE, title='Cover <A> & "B"'))
    assert root.attrib["aria-label"].startswith('Cover <A> & "B", seen from above')


@given(st.permutations(["2", "1", "3"]), st.integers(0, 3))
def test_any_sequence_is_walked_in_its_order(walk: list[str], walked: int) -> None:
    root = parsed(replace(PICTURE, walk=tuple(walk), walked=walked))
    places = {bolt.get("data-bolt"): middle(bolt) for bolt in of(root, "bolt")}
    line = points(of(root, "walk")[0].attrib["d"])
    assert all(near(point, places[number]) for point, number in zip(line, walk, strict=True))
    thick = [points(each.attrib["d"]) for each in of(root, "walked")]
    assert thick == ([line[:walked]] if walked > 1 else [])
    assert len(list(itertools.pairwise(line))) == 2


@given(st.integers(0, 11))
def test_the_word_next_covers_no_other_bolt(index: int) -> None:
    """Four rows of three, as close as real bolts lie."""
    bolts = tuple(DrawnBolt(str(n), 30 + 110 * (n % 3), 15 + 50 * (n // 3)) for n in range(12))
    outline = ((0.0, 0.0), (280.0, 0.0), (280.0, 180.0), (0.0, 180.0))
    whole = tuple(bolt.number for bolt in bolts)
    root = parsed(replace(PICTURE, bolts=bolts, outline=outline, walk=whole, walked=0, upcoming=str(index)))
    word = next(each for each in of(root, "next")[0].iter("text"))
    x, y = float(word.attrib["x"]), float(word.attrib["y"]) - 6
    for bolt in of(root, "bolt"):
        if bolt.get("data-bolt") != str(index):
            bx, by = middle(bolt)
            assert abs(bx - x) >= 26 + 16 or abs(by - y) >= 8 + 16
