"""The opened wheel, read back as XML: bars where the angles are, cut at its ends, hatch within its bar."""

import re
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from endfloat.drawings.opened_wheel import BAR, MARGIN, Valve, opened_wheel

WIDTH = MARGIN * 2 + 720
VALVE = Valve("Left intake cam", "108.4 °", (354, 582), 468, (355.5, 582.5), 469)


def paths(valve: Valve, sort: str, width: int = WIDTH) -> list[str]:
    root = ElementTree.fromstring(opened_wheel([valve], width=width, name='A "wheel" & more'))
    return [each.attrib["d"] for each in root.iter("path") if each.attrib.get("class") == sort]


def xs(line: str) -> list[float]:
    return [float(number) - MARGIN for number in re.findall(r"[MHL](-?[\d.]+)", line)]


def test_the_bars_stand_at_their_degrees() -> None:
    assert xs(paths(VALVE, "book")[0])[:2] == [354, 582]
    assert xs(paths(VALVE, "measured")[0]) == [355.5, 582.5]
    assert [xs(edge) for edge in paths(VALVE, "edge")] == [[355.5], [582.5]]
    assert xs(paths(VALVE, "pointer")[0]) == [469]
    assert xs(paths(VALVE, "centre")[0]) == [468]
    assert xs(paths(VALVE, "neighbour")[0]) == [0, 180, 360, 540, 720]


def test_a_bar_that_runs_over_the_end_comes_back_at_the_beginning() -> None:
    over = Valve("Right intake cam", "", (694, 922), 808, None, None)
    assert [xs(bar)[:2] for bar in paths(over, "book")] == [[694, 720], [0, 202]]
    assert paths(over, "measured") == []
    assert xs(paths(over, "centre")[0]) == [88]


@given(st.floats(-720, 1440), st.floats(1, 700), st.sampled_from(["/", "\\", ""]))
def test_nothing_is_drawn_outside_the_strip(first: float, long: float, hatch: str) -> None:
    valve = Valve("A cam", "", (first, first + long), first + long / 2, (first, first + long), first + long / 2, hatch)
    for sort in ("book", "measured", "edge", "centre", "hatch"):
        for line in paths(valve, sort, width=358):
            assert all(-0.1 <= x <= 358 - 2 * MARGIN + 0.1 for x in xs(line)), (sort, line)
    drawn = sum(xs(bar)[1] - xs(bar)[0] for bar in paths(valve, "measured", width=358))
    assert drawn == pytest.approx(long / 720 * (358 - 2 * MARGIN), abs=0.3)


@pytest.mark.parametrize(("hatch", "rises"), [("/", True), ("\\", False)])
def test_the_hatch_leans_with_the_bank_and_stays_in_its_bar(hatch: str, rises: bool) -> None:
    [lines] = paths(Valve("A cam", "", (100, 300), 200, None, None, hatch), "hatch")
    for low, high in re.findall(r"M[\d.]+ ([\d.]+)L[\d.]+ ([\d.]+)", lines):
        assert (float(high) < float(low)) is rises
        assert abs(float(high) - float(low)) <= BAR


def test_words_of_the_description_are_escaped_and_the_picture_has_a_name() -> None:
    text = opened_wheel([Valve("A <b> cam", "", None, 0, None, None)], width=358, name='A "wheel" & more')
    root = ElementTree.fromstring(text)
    assert root.attrib["aria-label"] == 'A "wheel" & more'
    assert "A <b> cam" in [each.text for each in root.iter("text")]
    assert "style=" not in text
