"""All cams together: the pattern that fits is told with its numbers, and nothing is told where none fits."""

import math
from collections.abc import Mapping

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cast import example
from endfloat.engine.timing import Timing
from endfloat.inspection.timing_patterns import CamErrors, diagnose

NAMES = ("left_intake", "left_exhaust", "right_intake", "right_exhaust")
TOOTH = 720 / 42


def v8() -> Timing:
    timing = example()[0].timing
    assert timing is not None
    return timing


def words(errors: Mapping[str, float], **more: dict[str, float]) -> list[str]:
    found = {
        name: CamErrors(
            math.radians(error),
            *(math.radians(more[sort][name]) if name in more.get(sort, {}) else None for sort in ("readings", "sides")),
        )
        for name, error in errors.items()
    }
    return [each.words for each in diagnose(v8(), found)]


def four(left_intake: float, left_exhaust: float, right_intake: float, right_exhaust: float) -> dict[str, float]:
    return dict(zip(NAMES, (left_intake, left_exhaust, right_intake, right_exhaust), strict=True))


@pytest.mark.parametrize(
    ("errors", "shows", "fits"),
    [
        (four(-6.0, -6.4, 0.2, -0.3), "Left bank, both cams late by 6.0 to 6.4 °; the others hold.", "that bank"),
        (four(0, -17.6, 0, 0), "Left exhaust cam late by 17.6 °, 1 tooth of 17.1 °; the others hold.", "a tooth out"),
        (four(0, 0, 2 * TOOTH, 2 * TOOTH), "Right bank, both cams early by 34.3 °, 2 teeth of 17.1 °", "jackshaft"),
        (four(-2, -2.5, -2.2, -1.9), "All cams late by 1.9 to 2.5 °.", "the primary chain"),
        (four(0, 360, 0, 0), "Left exhaust cam early by 360.0 °; the others hold.", "the wrong stroke"),
        (four(0, 0, -3, 0), "Right intake cam late by 3.0 °; the others hold.", "turned on its cam"),
    ],
)
def test_a_pattern_is_told_with_its_numbers_and_is_no_proof(errors: dict[str, float], shows: str, fits: str) -> None:
    [told] = words(errors)
    assert told.startswith(shows)
    assert fits in told
    assert told.endswith("it is not proof.")


@pytest.mark.parametrize(
    "errors",
    [
        four(0.9, -0.9, 0.5, 0),  # all hold
        four(-12, 0, 0, 0),  # no size of the table
        four(-3, 3, 0, 0),  # one bank, but its cams err apart
        four(3, 3, 3, 3),  # all early: the table knows only late
    ],
)
def test_nothing_is_told_where_no_pattern_fits(errors: dict[str, float]) -> None:
    assert words(errors) == []


def test_one_cam_alone_is_no_pattern_of_all() -> None:
    assert words({"left_intake": -2.0}) == []


def test_readings_and_sides_that_differ_have_lines_of_their_own() -> None:
    hold = four(0, 0, 0, 0)
    [told] = words(hold, readings={**hold, "left_intake": -5.0})
    assert told.startswith("Left intake cam: first and second reading differ by 5.0 °; the others hold.")
    [told] = words(hold, sides={**hold, "right_exhaust": 6.0})
    assert told.startswith("Right exhaust cam: opening and closing side differ by 6.0 °; the others hold.")


@given(st.sampled_from(NAMES), st.integers(-8, 8).filter(bool), st.floats(-0.9, 0.9))
def test_whole_teeth_and_a_little_are_told_as_teeth_of_that_cam(name: str, teeth: int, rest: float) -> None:
    [told] = words({**four(0, 0, 0, 0), name: teeth * TOOTH + rest})
    assert v8().cams[name].title in told
    assert f"{abs(teeth)} {'tooth' if abs(teeth) == 1 else 'teeth'} of 17.1 °" in told


@given(st.permutations(NAMES), st.lists(st.floats(-40, 40), min_size=4, max_size=4))
def test_the_order_in_which_cams_were_read_changes_nothing(order: list[str], sizes: list[float]) -> None:
    errors = dict(zip(NAMES, sizes, strict=True))
    assert words({name: errors[name] for name in order}) == words(errors)
