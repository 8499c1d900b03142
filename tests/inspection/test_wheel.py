"""The wheel put right by two stops: invariant to where its nought stands, and published lobe centres come out."""

import math
import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cast import example, typed
from endfloat.engine.model import Engine
from endfloat.engine.proofread import read_engine
from endfloat.engine.timing import Timing
from endfloat.formulas.dead_centres import angles_at_drop
from endfloat.inspection.gauges import Gauge
from endfloat.inspection.verdicts import Verdict
from endfloat.inspection.wheel import (
    CamFinding,
    Touches,
    WheelReading,
    book_angle,
    judge_cam,
    lobe_centre,
    points_read,
    wheel_at_top,
)
from endfloat.quantities.estimates import Estimate
from endfloat.quantities.typed_text import Typed

EXACT = Gauge.model_validate(
    {"sort": "degree wheel", "resolution": "0.000000001 °", "error": "0 °", "repeat": "0 °"}
    | {"source": "drawn for a test"}
)


def v8() -> tuple[Timing, dict[str, Gauge]]:
    engine, evidence, _ = example()
    assert engine.timing is not None
    return engine.timing, dict(evidence.gauges)


def angle(value: float) -> Typed:
    return typed(f"{value:.6f} °")


def touches(top: float, half: float = 63.0) -> Touches:
    return Touches("a", angle((top - half) % 360), angle((top + half) % 360), "R1")


def finding(
    timing: Timing,
    register: dict[str, Gauge],
    cam: str,
    *,
    top: float = 1.5,
    late: float = 0.0,
    predicted: Estimate | None = None,
    other_turn: bool = False,
) -> CamFinding:
    described = timing.cams[cam]
    readings = [
        WheelReading(
            f"{cam} {point}",
            point,
            angle((math.degrees(book_angle(described, point) + described.top_at.si) + top + late) % 360),
            "R1",
            other_turn,
            touches(top),
        )
        for point in described.points
    ]
    return judge_cam(described, timing.dead_centre, register, readings, predicted)


@given(st.floats(0, 359.9), st.floats(-8, 8), st.sampled_from(["left_intake", "left_exhaust", "right_exhaust"]))
def test_a_wheel_set_on_by_any_angle_tells_the_same_centre(top: float, late: float, cam: str) -> None:
    timing, register = v8()
    straight = finding(timing, register, cam, top=0.0, late=late)
    turned = finding(timing, register, cam, top=top, late=late)
    assert straight.centre is not None
    assert turned.centre is not None
    assert math.degrees(turned.centre.value - straight.centre.value) == pytest.approx(0, abs=1e-5)
    assert straight.phase is not None
    assert math.degrees(straight.phase.value) == pytest.approx(-late, abs=1e-5)
    assert turned.centre.standard_uncertainty == pytest.approx(straight.centre.standard_uncertainty)


@given(st.floats(-720, 720), st.floats(5, 85))
def test_the_correction_takes_the_nought_of_the_wheel_out_whatever_the_stop(top: float, half: float) -> None:
    timing, register = v8()
    found = math.degrees(wheel_at_top(timing.dead_centre, register, touches(top, half)).value)
    assert (found - top + 180) % 360 == pytest.approx(180, abs=1e-5)


@given(st.floats(0.001, 0.030), st.floats(-0.008, 0.008), st.floats(-170, 170))
def test_an_offset_pin_is_put_right_by_the_drop_at_the_stop(drop: float, offset: float, top: float) -> None:
    timing, _ = v8()
    described = timing.dead_centre.model_copy(
        update={"offset": typed(f"{offset * 1000:.6f} mm"), "drop": typed(f"{drop * 1000:.6f} mm")}
    )
    sides = angles_at_drop(throw=0.041, rod=0.141, offset=offset, drop=drop)
    before, after = (math.degrees(float(each)) for each in (sides.before, sides.after))
    found = wheel_at_top(described, {"R1": EXACT}, Touches("a", angle(top - before), angle(top + after), "R1"))
    assert (math.degrees(found.value) - top + 180) % 360 == pytest.approx(180, abs=1e-3)


@given(st.floats(-6, 6), st.floats(-6, 6))
def test_what_no_expectation_explains_is_measured_less_predicted(late: float, predicted: float) -> None:
    timing, register = v8()
    known = Estimate(math.radians(predicted))
    found = finding(timing, register, "left_intake", late=late, predicted=known)
    assert found.unexplained is not None
    assert math.degrees(found.unexplained.value) == pytest.approx(-late - predicted, abs=1e-5)
    assert found.expected is not None
    assert math.degrees(found.expected.value) == pytest.approx(108 - predicted, abs=1e-5)


def test_an_exhaust_that_is_late_has_its_centre_nearer_to_the_top() -> None:
    timing, register = v8()
    found = finding(timing, register, "left_exhaust", late=2.0)
    assert found.centre is not None
    assert math.degrees(found.centre.value) == pytest.approx(110.0, abs=1e-5)
    early = finding(timing, register, "left_exhaust", predicted=Estimate(math.radians(-0.52)))
    assert early.expected is not None
    assert math.degrees(early.expected.value) == pytest.approx(111.48, abs=1e-5)


# Intake opens 6 before top and closes 42 after bottom: the lobe centre is 108. By the definition of the centre
# (cam_timing.lobe_timing, whose published row is in tests/published); here it goes all the way from the wheel.
@pytest.mark.parametrize(
    ("late", "verdict"),
    [
        (0.0, Verdict.GOOD),
        (0.52, Verdict.GOOD),
        (1.4, Verdict.LOOKS_GOOD),
        (1.7, Verdict.LOOKS_OUT),
        (2.5, Verdict.OUT),
        (-2.5, Verdict.OUT),
        (17.14, Verdict.OUT),
    ],
)
def test_the_verdict_carries_the_uncertainty_of_the_wheel(late: float, verdict: Verdict) -> None:
    timing, register = v8()
    assert finding(timing, register, "left_intake", late=late).verdict is verdict


def test_a_valve_that_moves_in_the_other_turn_is_a_whole_turn_out() -> None:
    timing, register = v8()
    found = finding(timing, register, "right_intake", other_turn=True)
    assert found.phase is not None
    assert abs(math.degrees(found.phase.value)) == pytest.approx(360, abs=1e-5)


def test_repeats_lessen_the_uncertainty_of_a_centre_but_not_that_of_its_dead_centre() -> None:
    timing, register = v8()
    cam, top = timing.cams["left_intake"], touches(1.5)
    once = [WheelReading(f"{p} 1", p, angle(359.0 if p == "opens" else 225.0), "R1", False, top) for p in cam.points]
    twice = [
        *once,
        *(WheelReading(f"{p} 2", p, angle(1.0 if p == "opens" else 227.0), "R1", False, top) for p in cam.points),
    ]
    first = judge_cam(cam, timing.dead_centre, register, once, None).centre
    second = judge_cam(cam, timing.dead_centre, register, twice, None).centre
    assert first is not None
    assert second is not None
    assert math.degrees(second.value - first.value) == pytest.approx(1.0, abs=1e-6)
    assert second.standard_uncertainty < first.standard_uncertainty
    only_top = wheel_at_top(timing.dead_centre, register, top).standard_uncertainty
    assert second.standard_uncertainty > only_top


def test_two_sides_that_err_apart_are_told_as_a_duration() -> None:
    timing, register = v8()
    cam = timing.cams["left_intake"]
    top = touches(0.0)
    readings = [
        WheelReading("o", "opens", angle(350.0), "R1", False, top),
        WheelReading("c", "closes", angle(226.0), "R1", False, top),
    ]
    found = judge_cam(cam, timing.dead_centre, register, readings, None)
    assert found.sides is not None
    assert math.degrees(found.sides.value) == pytest.approx(8.0, abs=1e-6)
    assert found.centre is not None
    assert math.degrees(found.centre.value) == pytest.approx(108.0, abs=1e-6)


def test_a_cam_without_limits_says_so_and_one_half_read_is_missing_readings() -> None:
    text = (
        "name: t\nlayout: t\nplaces: {cylinder: {names: [1]}}\ncharacteristics: {}\ntiming:\n  running_way: on\n"
        "  dead_centre: {cylinder: 1, seen: shut, throw: 40 mm, rod: 140 mm, drop: 10 mm, page: 1}\n"
        "  cams: {a: {title: A, valve: intake, cylinder: 1, top_at: 0 °, reads: equal lift, lift: 1 mm, centre: 108 °,"
        " teeth: 40, page: 1}}\n  gate: {a: {says: a, short: a, page: 1}}\n  turns: 2\n"
        "  overshoot: {says: on, page: 1}\n  longest_pause: 30 min\n  alike: 1 °\n"
    )
    engine = read_engine(text.encode(), name="engine.yaml")
    assert isinstance(engine, Engine), engine
    assert engine.timing is not None
    _, register = v8()
    assert finding(engine.timing, register, "a").verdict is Verdict.NO_LIMIT
    cam = engine.timing.cams["a"]
    half = [WheelReading("r", "rising", angle(50), "R1", False, touches(0))]
    assert judge_cam(cam, engine.timing.dead_centre, register, half, None).verdict is Verdict.READINGS_MISSING
    assert judge_cam(cam, engine.timing.dead_centre, register, [], None).verdict is Verdict.NOT_MEASURED


PUBLISHED = tomllib.loads((Path(__file__).parents[1] / "published" / "cam-timing-pages.toml").read_text())["value"]
LOBES = [row for row in PUBLISHED if row.get("formula") == "cam_timing.lobe_timing"]


@pytest.mark.parametrize("row", LOBES, ids=[row["row"] for row in LOBES])
def test_published_events_come_out_of_the_wheel_whatever_its_nought(row: dict[str, Any]) -> None:
    timing, register = v8()
    beside_top, beside_bottom = (float(row["inputs"][name].split()[0]) for name in ("beside_top", "beside_bottom"))
    cam = timing.cams["left_intake"].model_copy(update={"opens": None, "closes": None, "top_at": typed("0 °")})
    top = touches(77.7)
    readings = [
        WheelReading("o", "opens", angle((77.7 - beside_top) % 360), "R1", False, top),
        WheelReading("c", "closes", angle((77.7 + 180 + beside_bottom) % 360), "R1", False, top),
    ]
    points = points_read(cam, timing.dead_centre, register, readings)
    if row["result"] == "centre":
        centre = lobe_centre(cam, points)
        assert centre is not None
        found = math.degrees(centre.value)
    else:
        found = math.degrees(points["closes"].value - points["opens"].value)
    decimals = len(row["printed"].partition(".")[2])
    assert found == pytest.approx(float(row["printed"]), abs=0.5 * 10**-decimals)
