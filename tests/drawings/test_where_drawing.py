"""Where a step is: front marker, view, banks told apart by hatch and word, and the place of the step."""

from xml.etree import ElementTree

import pytest

from cast import EXAMPLES, FERRY, V8, example
from endfloat.drawings.where import where_drawing
from endfloat.web.where import where


def drawn(folder: object, step: str) -> ElementTree.Element:
    engine, _, _ = example(folder)  # type: ignore[arg-type]
    picture = where(engine, engine.operations[step])
    assert picture is not None
    return ElementTree.fromstring(where_drawing(picture))


def texts(svg: ElementTree.Element) -> list[str]:
    return [each.text or "" for each in svg.iter("text")]


def test_the_piston_of_the_right_bank_is_pointed_at_and_its_bank_outlined_thick() -> None:
    svg = drawn(V8, "piston_6")
    assert [each.text for each in svg.iter("text") if each.get("class") == "on-pointed"] == ["6"]
    assert {"FRONT", "LEFT", "RIGHT"} <= set(texts(svg))
    assert [each.get("stroke-width") for each in svg.iter("rect")] == ["3", "1.5"]
    assert "right 6" in str(svg.get("aria-label"))


def test_left_rises_to_the_right_and_right_falls() -> None:
    hatches = {}
    for path in drawn(V8, "piston_6").iter("path"):
        if (path.get("class") or "").startswith("hatch"):
            start, end = path.get("d", "").removeprefix("M").split("M")[0].split("L")
            hatches[path.get("class")] = float(end.split()[1]) > float(start.split()[1])
    assert hatches == {"hatch bank-0": True, "hatch bank-1": False}, "y runs down, and the right bank is above"


def test_seen_from_below_the_banks_change_places() -> None:
    above, below = texts(drawn(V8, "piston_6")), texts(drawn(V8, "main_cap_3"))
    assert above.index("RIGHT") < above.index("LEFT")
    assert below.index("LEFT") < below.index("RIGHT")
    assert "seen from below, crankcase up" in below


def test_heads_one_behind_the_other_stand_in_one_line_without_hatch() -> None:
    svg = drawn(FERRY, "front_head_on")
    assert len(list(svg.iter("rect"))) == 1
    assert [each.text for each in svg.iter("text") if each.get("class") == "on-pointed"] == ["1", "2"]


@pytest.mark.parametrize("folder", sorted(path for path in EXAMPLES.iterdir() if (path / "engine.yaml").exists()))
def test_every_step_that_names_a_bank_or_a_place_is_drawn_within_its_sheet(folder: object) -> None:
    engine, _, _ = example(folder)  # type: ignore[arg-type]
    drawings = 0
    for step in engine.operations.values():
        picture = where(engine, step)
        assert (picture is None) == (not step.bank and not step.shows)
        if picture is None:
            continue
        drawings += 1
        svg = ElementTree.fromstring(where_drawing(picture))
        _, _, width, height = map(float, str(svg.get("viewBox")).split())
        for text in svg.iter("text"):
            assert 0 <= float(text.get("x", "nan")) <= width
            assert 0 < float(text.get("y", "nan")) < height
    assert drawings > 5
