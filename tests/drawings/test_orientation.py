"""The two pictures of how a part sits: front marker, words, and pictures that differ."""

import itertools
import xml.etree.ElementTree as ElementTree

import pytest

from endfloat.drawings.orientation import ARROWS, OUTLINES, orientation_drawing


@pytest.mark.parametrize("shape", list(OUTLINES))
@pytest.mark.parametrize("points", list(ARROWS))
def test_each_picture_is_well_formed_says_its_words_and_marks_the_front(shape: str, points: str) -> None:
    drawn = ElementTree.fromstring(orientation_drawing(shape, points, words="tab & ear", view="from <above>"))
    assert drawn.attrib["aria-label"] == "tab & ear; from <above>; the front of the engine is on the left"
    assert [each.text for each in drawn.iter("text")] == ["FRONT"]
    assert "style" not in ElementTree.tostring(drawn).decode()


def test_up_is_shown_by_a_plumb_line_where_a_mark_may_point_up_or_down() -> None:
    drawn = ElementTree.fromstring(orientation_drawing("bar", "up", words="w", view="v", upright=True))
    assert [each.text for each in drawn.iter("text")] == ["FRONT", "UP"]
    assert "plumb" in ElementTree.tostring(drawn).decode()
    assert "plumb" not in orientation_drawing("bar", "front", words="w", view="v")


def test_any_two_pictures_of_one_shape_differ() -> None:
    for shape in OUTLINES:
        drawn = [orientation_drawing(shape, points, words="w", view="v") for points in ARROWS]
        assert all(one != other for one, other in itertools.combinations(drawn, 2))


def test_an_arrow_points_where_it_says_with_the_front_on_the_left() -> None:
    tips = {points: path.split("M")[2].split("L")[0].split() for points, path in ARROWS.items()}
    tails = {points: path.split("M")[1].split("H")[0].split("V")[0].split() for points, path in ARROWS.items()}
    assert float(tips["front"][0]) < float(tails["front"][0])
    assert float(tips["rear"][0]) > float(tails["rear"][0])
    assert float(tips["up"][1]) < float(tails["up"][1])
    assert float(tips["down"][1]) > float(tails["down"][1])
