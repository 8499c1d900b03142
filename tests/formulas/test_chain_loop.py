"""Loops round wheels against hulls of circles, tangents walked point by point, and chains laid the other way round."""

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, MultiPoint, Point, convex_hull, union_all

from endfloat.errors import OutOfRange
from endfloat.formulas.chain_loop import Loop, loop, loop_pitches, mark_angles
from endfloat.formulas.chain_tensioner import push_for_slack, slack, slack_of_push, tensioner_extension
from endfloat.formulas.drive_wheels import belt_pitch_diameter, chain_pitch_diameter, worn_pitch
from endfloat.formulas.two_wheels import crossed_drive, exact_links, open_drive

SEEDS = st.integers(0, 10_000)
TURN = 2 * np.pi


def round_drive(seed: int, wheels: int = 6) -> dict[str, Any]:
    """Wheels of many sizes spread round an oval, anticlockwise, each of them touched."""
    chance = np.random.default_rng(seed)
    angle = TURN * (np.arange(wheels) + chance.uniform(-0.2, 0.2, wheels)) / wheels
    return {
        "x": 0.30 * np.cos(angle),
        "y": 0.45 * np.sin(angle),
        "radius": chance.uniform(0.02, 0.05, wheels),
        "turning": np.ones(wheels),
    }


BACK = {  # A drive with a roller on the back between the crank and each cam.
    "x": np.array([0.0, -0.08, -0.10, 0.10, 0.08]),
    "y": np.array([0.0, 0.20, 0.42, 0.42, 0.20]),
    "radius": np.array([0.032, 0.03, 0.064, 0.064, 0.03]),
    "turning": np.array([-1.0, 1.0, -1.0, -1.0, 1.0]),
}
TEETH = np.array([21.0, 20.0, 42.0, 42.0, 20.0])


def path(laid: Loop, drive: dict[str, Any], steps: int = 400) -> LineString:
    """The loop as many points: along every arc, then over to the next wheel."""
    points = []
    for k in range(len(drive["x"])):
        share = np.linspace(0, 1, steps)
        angles = laid.arrival[k] + drive["turning"][k] * laid.wrap[k] * share
        around = drive["radius"][k] * np.column_stack([np.cos(angles), np.sin(angles)])
        points.append(around + np.array([drive["x"][k], drive["y"][k]]))
    line = np.vstack(points)
    return LineString(np.vstack([line, line[:1]]))


@given(SEEDS, st.integers(2, 8))
def test_a_loop_round_the_outside_is_the_hull_of_the_wheels(seed: int, wheels: int) -> None:
    drive = round_drive(seed, wheels)
    discs = [
        Point(x, y).buffer(radius, quad_segs=400)
        for x, y, radius in zip(drive["x"], drive["y"], drive["radius"], strict=True)
    ]
    assert float(loop(**drive).length) == pytest.approx(convex_hull(union_all(discs)).length, rel=1e-5)


@pytest.mark.parametrize("drive", [BACK, round_drive(3), {**round_drive(5), "turning": np.ones(6)}])
def test_the_loop_touches_every_wheel_enters_none_and_does_not_cross_itself(drive: dict[str, Any]) -> None:
    laid = loop(**drive)
    walked = path(laid, drive)
    assert walked.is_simple
    assert walked.length == pytest.approx(float(laid.length), rel=1e-5)
    for x, y, radius in zip(drive["x"], drive["y"], drive["radius"], strict=True):
        assert walked.distance(Point(x, y)) == pytest.approx(radius, rel=1e-4)


@given(SEEDS)
def test_each_run_leaves_one_wheel_square_to_its_radius_and_meets_the_next(seed: int) -> None:
    drive = BACK if seed % 2 else round_drive(seed)
    laid = loop(**drive)
    centres, radius = drive["x"] + 1j * drive["y"], drive["radius"]
    left = centres + radius * np.exp(1j * laid.departure)
    met = centres + radius * np.exp(1j * laid.arrival)
    run = laid.span * np.exp(1j * laid.direction)
    assert left + run == pytest.approx(np.roll(met, -1), abs=1e-12)
    assert (run * np.conj(left - centres)).real == pytest.approx(0, abs=1e-12)
    assert (run * np.conj(np.roll(met - centres, -1))).real == pytest.approx(0, abs=1e-12)
    assert np.sum(drive["turning"] * laid.wrap) == pytest.approx(TURN if drive is not BACK else -TURN)


@given(SEEDS, st.floats(-3, 3), st.floats(-1, 1), st.floats(0.1, 10))
def test_a_drive_turned_moved_and_scaled_is_the_same_drive(seed: int, turn: float, way: float, scale: float) -> None:
    drive, plain = round_drive(seed), loop(**round_drive(seed))
    moved = (drive["x"] + 1j * drive["y"]) * scale * np.exp(1j * turn) + way
    found = loop(x=moved.real, y=moved.imag, radius=drive["radius"] * scale, turning=drive["turning"])
    assert found.span == pytest.approx(plain.span * scale, rel=1e-9)
    assert found.wrap == pytest.approx(plain.wrap, rel=1e-9)
    assert np.exp(1j * (found.direction - plain.direction - turn)) == pytest.approx(1, abs=1e-9)


def listed_backwards(drive: dict[str, Any]) -> dict[str, Any]:
    """The same drive met the other way round, its first wheel still the first."""
    back = np.r_[0, np.arange(len(drive["x"]) - 1, 0, -1)]
    return {name: values[back] * (-1 if name == "turning" else 1) for name, values in drive.items()}


@given(SEEDS)
def test_a_loop_listed_the_other_way_round_has_the_same_runs_and_wraps(seed: int) -> None:
    drive = BACK if seed % 2 else round_drive(seed)
    one, other = loop(**drive), loop(**listed_backwards(drive))
    assert other.span == pytest.approx(one.span[::-1])
    assert other.wrap == pytest.approx(np.r_[one.wrap[0], one.wrap[:0:-1]])
    assert float(other.length) == pytest.approx(float(one.length))


@given(st.integers(15, 60), st.integers(15, 60), st.floats(0.006, 0.02), st.floats(1.1, 20), st.floats(-3, 3))
def test_two_wheels_hold_the_links_of_the_closed_form(
    teeth: int, other: int, pitch: float, apart: float, turn: float
) -> None:
    z = np.array([float(teeth), float(other)])
    radius = np.asarray(chain_pitch_diameter(pitch=pitch, teeth=z)) / 2
    a = float(apart * radius.sum())
    laid = {"x": np.array([0, a * np.cos(turn)]), "y": np.array([0, a * np.sin(turn)]), "turning": np.ones(2)}
    links = loop_pitches(**laid, radius=radius, teeth=z, pitch=pitch)
    closed = exact_links(pitch=pitch, centre_distance=a, teeth=z[0], other_teeth=z[1])
    assert float(links) == pytest.approx(float(closed), rel=1e-9)
    drive = open_drive(centre_distance=a, pitch_diameter=2 * radius[0], other_pitch_diameter=2 * radius[1])
    assert float(drive.length) == pytest.approx(float(loop(**laid, radius=radius).length), rel=1e-9)
    assert float(drive.wrap + drive.other_wrap) == pytest.approx(TURN)


@given(st.floats(0.02, 0.2), st.floats(0.02, 0.2), st.floats(1.05, 10))
def test_a_crossed_belt_is_as_long_as_its_tangents_and_arcs_walked(one: float, other: float, apart: float) -> None:
    a = apart * (one + other)
    belt = crossed_drive(centre_distance=a, pitch_diameter=2 * one, other_pitch_diameter=2 * other)
    lean = np.pi / 2 - (float(belt.wrap) - np.pi) / 2
    left, met = one * np.exp(1j * lean), a - other * np.exp(1j * lean)
    assert abs(met - left) == pytest.approx(float(belt.run), rel=1e-9)
    assert ((met - left) * np.conj(left)).real == pytest.approx(0, abs=1e-9)
    assert float(belt.length) == pytest.approx(2 * abs(met - left) + (one + other) * 2 * (np.pi - lean), rel=1e-9)


def test_many_drives_at_once_are_as_many_drives_one_by_one() -> None:
    chance = np.random.default_rng(1)
    drive = {**BACK, "x": BACK["x"] + chance.normal(0, 1e-3, (4, 3, 5))}
    drive["radius"] = BACK["radius"] + chance.normal(0, 1e-4, (3, 5))
    rest: dict[str, Any] = {"teeth": TEETH, "pitch": np.linspace(0.0094, 0.0096, 3), "mark": np.zeros((4, 1))}
    together = loop(**drive)
    marks = mark_angles(**drive, **rest, links=np.arange(5.0) * 20)
    links = loop_pitches(**drive, teeth=TEETH, pitch=rest["pitch"])
    assert marks.shape == (4, 3, 5)
    for i, j in np.ndindex(4, 3):
        one = {**drive, "x": drive["x"][i, j], "radius": drive["radius"][j]}
        each = {"teeth": TEETH, "pitch": float(rest["pitch"][j])}
        for field, value in loop(**one)._asdict().items():
            assert getattr(together, field)[i, j] == pytest.approx(value, rel=1e-12)
        assert marks[i, j] == pytest.approx(mark_angles(**one, **each, mark=0.0, links=np.arange(5.0) * 20))
        assert np.asarray(links)[i, j] == pytest.approx(float(loop_pitches(**one, **each)))


def test_a_wheel_that_the_chain_passes_clear_of_is_refused_and_told_which_draw() -> None:
    x = np.array([[0.0, 0.02, 0.0], [0.0, 0.20, 0.0]])
    drive = {"y": np.array([0.0, 0.2, 0.4]), "radius": np.array([0.03, 0.02, 0.05]), "turning": np.array([1.0, -1, 1])}
    assert loop(x=x[0], **drive).wrap[1] > 0
    with pytest.raises(OutOfRange) as caught:
        loop(x=x, **drive)
    assert caught.value.bad.any(axis=-1).tolist() == [False, True]
    with pytest.raises(OutOfRange):
        loop(x=np.array([0.0, 0.005, 0.0]), **{**drive, "turning": np.ones(3)})


def test_wheels_that_overlap_lie_in_each_other_or_cross_are_refused() -> None:
    pair: dict[str, Any] = {"y": np.zeros(2), "radius": np.array([0.03, 0.08])}
    assert float(loop(x=np.array([0, 0.06]), **pair, turning=np.ones(2)).length) > TURN * 0.08
    for x, turning in ((0.04, [1.0, 1.0]), (0.10, [1.0, -1.0]), (0.50, [1.0, -1.0]), (0.5, [1.0, 0.5])):
        with pytest.raises(OutOfRange):
            loop(x=np.array([0.0, x]), **pair, turning=np.array(turning))
    with pytest.raises(OutOfRange):
        loop(x=np.array([0.0, np.nan]), **pair, turning=np.ones(2))


def test_two_wheels_passed_clear_of_on_either_side_do_not_make_up_for_each_other() -> None:
    """One within and one without: the loop seems to turn round once, but each is left out."""
    drive = {"x": np.array([0.0, 0.3, 0.6, 0.3]), "y": np.array([0.0, -0.2, 0.0, -0.01]), "radius": np.full(4, 0.05)}
    with pytest.raises(OutOfRange):
        loop(**drive, turning=np.array([1.0, -1.0, 1.0, 1.0]))


def test_an_eight_of_four_wheels_is_refused() -> None:
    """Its crossing runs share no wheel."""
    drive = {"x": np.array([0.0, 0.0, 0.6, 0.6]), "y": np.array([0.2, -0.2, 0.2, -0.2]), "radius": np.full(4, 0.05)}
    with pytest.raises(OutOfRange):
        loop(**drive, turning=np.array([1.0, 1.0, -1.0, -1.0]))


@given(st.floats(-3, 3), st.floats(0.2, 0.8))
def test_a_wheel_that_is_just_touched_has_no_wrap(turn: float, place: float) -> None:
    """Three wheels of one size in a row, the middle one touched by the run that goes by."""
    centres = np.array([0.0, place, 1.0]) * np.exp(1j * turn)
    drive = {"x": centres.real, "y": centres.imag, "radius": np.full(3, 0.05), "turning": np.ones(3)}
    assert loop(**drive).wrap == pytest.approx([np.pi, 0, np.pi], abs=1e-9)
    inwards = np.array([0, 0.01, 0]) * np.exp(1j * (turn + np.pi / 2))
    with pytest.raises(OutOfRange):
        loop(**{**drive, "x": (centres + inwards).real, "y": (centres + inwards).imag})


# Phase of the marks.

THREE = {"x": np.array([0.0, -0.075, 0.075]), "y": np.array([0.0, 0.42, 0.42]), "turning": -np.ones(3)}
THREE_TEETH = np.array([21.0, 42.0, 42.0])
UP = np.pi / 2


def three_marks(pitch: float = 0.009525, skim: float = 0.0, links: tuple[float, ...] = (0, 71, 87)) -> np.ndarray:
    """Marks of two cams in cam angle from 12 o'clock, minus when late; the crank pulls the left one down.

    The crank's mark stands at 12 o'clock, where no chain is: its next tooth clockwise is counted from, one link less.
    """
    radius = np.asarray(chain_pitch_diameter(pitch=pitch, teeth=THREE_TEETH)) / 2
    drive = {**THREE, "y": THREE["y"] - np.array([0.0, skim, skim])}
    marks = mark_angles(
        **drive, radius=radius, teeth=THREE_TEETH, pitch=pitch, mark=UP - TURN / 21, links=np.array(links, dtype=float)
    )
    return np.degrees((marks - UP + np.pi) % TURN - np.pi)


def test_the_marks_of_a_chain_with_whole_links_do_not_all_stand_at_twelve_o_clock() -> None:
    """71.757 pitches lie between the first two marks and 15.748 between the next: 72 and 16 links make both late."""
    assert three_marks()[1:] == pytest.approx([-2.08, -2.16 - 2.08], abs=0.01)
    late = three_marks(skim=0.0005) - three_marks()
    assert late == pytest.approx([0, -0.435, -0.435], abs=0.001)


@pytest.mark.parametrize(("skim", "late"), [(0.000254, 0.221), (0.000508, 0.443), (0.001, 0.872)])
def test_the_whole_loop_comes_late_by_the_skim_as_worked_elsewhere(skim: float, late: float) -> None:
    assert three_marks(skim=skim)[1] - three_marks()[1] == pytest.approx(-late, abs=0.0006)


@pytest.mark.parametrize(("elongation", "late"), [(0.001, 0.38), (0.003, 1.15), (0.005, 1.90), (0.01, 3.79)])
def test_the_whole_loop_comes_late_by_the_wear_as_worked_elsewhere(elongation: float, late: float) -> None:
    worn = three_marks(pitch=float(worn_pitch(pitch=0.009525, elongation=elongation)))
    assert worn[1] - three_marks()[1] == pytest.approx(-late, abs=0.006)


@given(SEEDS, st.integers(60, 160), st.integers(0, 40), st.floats(-3, 3))
def test_a_taut_chain_gives_the_same_marks_both_ways_round(seed: int, links: int, count: int, mark: float) -> None:
    """With a whole number of links all round, the marks may be counted forwards or backwards."""
    drive = BACK if seed % 2 else round_drive(seed, 5)
    laid = loop(**drive)
    teeth = np.random.default_rng(seed).integers(12, 30, 5).astype(float)
    pitch = float(laid.span.sum() / (links + 40 - (laid.wrap * teeth).sum() / TURN))
    counts = np.array([0.0, count, count + 7, count + 9, count + 20])
    rest: dict[str, Any] = {"pitch": pitch, "mark": mark}
    one = mark_angles(**drive, **rest, teeth=teeth, links=counts)
    back = listed_backwards({**drive, "teeth": teeth, "links": links + 40 - counts})
    back["links"][0] = 0
    other = mark_angles(**back, **rest)
    assert np.exp(1j * other) == pytest.approx(np.exp(1j * np.r_[one[0], one[:0:-1]]), abs=1e-7)


@given(SEEDS, st.floats(-0.5, 0.5))
def test_turning_the_crank_turns_every_mark_in_the_ratio_of_the_teeth(seed: int, turn: float) -> None:
    rest: dict[str, Any] = {
        "radius": BACK["radius"],
        "teeth": TEETH,
        "pitch": 0.0095,
        "links": np.arange(5.0) * 9 + seed % 7,
    }
    drive = {name: BACK[name] for name in ("x", "y", "turning")}
    laid = loop(**BACK)
    middle = float(laid.departure[0] - BACK["turning"][0] * laid.wrap[0] / 2)
    turned = mark_angles(**drive, **rest, mark=middle + turn) - mark_angles(**drive, **rest, mark=middle)
    assert turned == pytest.approx(turn * BACK["turning"] * BACK["turning"][0] * TEETH[0] / TEETH, abs=1e-9)


@given(SEEDS)
def test_one_link_more_moves_a_mark_by_one_tooth(seed: int) -> None:
    drive = round_drive(seed, 5)
    rest: dict[str, Any] = {"teeth": TEETH, "pitch": 0.0095, "mark": 0.0}
    counts, more = np.arange(5.0) * 10, np.array([0.0, 1, 1, 1, 1])
    step = mark_angles(**drive, **rest, links=counts + more) - mark_angles(**drive, **rest, links=counts)
    assert step == pytest.approx(np.array([0, *(TURN / TEETH[1:])]), abs=1e-9)


# The tensioner.

WHEELS = np.array([21.0, 42.0])
BLADE = 0.150


def bladed(pitch: float = 0.008, skim: float = 0.0) -> dict[str, Any]:
    """Two wheels and a blade of 150 mm radius that is pushed in from the right."""
    radius = np.asarray(chain_pitch_diameter(pitch=pitch, teeth=WHEELS)) / 2
    return {
        "x": np.array([0.0, 0.0, 0.185]),
        "y": np.array([0.0, 0.352 - skim, 0.2]),
        "radius": np.append(radius, BLADE),
        "turning": np.array([-1.0, -1.0, 1.0]),
        "teeth": np.append(WHEELS, np.pi / np.arcsin(pitch / 2 / BLADE)),
        "pitch": pitch,
    }


PUSH: dict[str, Any] = {"moving": np.array([0.0, 0.0, 1.0]), "push_angle": np.pi, "travel": 0.03}


@given(st.floats(0, 0.001), st.floats(0, 0.004))
def test_the_loop_at_the_extension_found_holds_the_links(skim: float, elongation: float) -> None:
    drive = bladed(float(worn_pitch(pitch=0.008, elongation=elongation)), skim)
    found = tensioner_extension(**drive, links=120.0, **PUSH)
    assert float(found.extension + found.left) == pytest.approx(0.03)
    drive["x"] = drive["x"] - [0, 0, float(found.extension)]
    assert float(loop_pitches(**drive)) == pytest.approx(120, abs=1e-9)


@given(st.floats(0, 0.0009), st.floats(0.00001, 0.0001))
def test_a_deeper_skim_leaves_less_of_the_travel(skim: float, more: float) -> None:
    one, other = (tensioner_extension(**bladed(skim=each), links=120.0, **PUSH) for each in (skim, skim + more))
    assert other.left < one.left


def test_tensioners_of_many_drives_at_once_are_those_one_by_one() -> None:
    skims, travels = np.array([0.0, 0.0004, 0.0008]), np.array([[0.02], [0.03]])
    drive = bladed()
    drive["y"] = np.stack([bladed(skim=float(skim))["y"] for skim in skims])
    found = tensioner_extension(**drive, links=120.0, **{**PUSH, "travel": travels})
    assert np.shape(found.left) == (2, 3)
    for i, j in np.ndindex(2, 3):
        one = tensioner_extension(
            **bladed(skim=float(skims[j])), links=120.0, **{**PUSH, "travel": float(travels[i, 0])}
        )
        assert np.asarray(found.extension)[i, j] == pytest.approx(float(one.extension), abs=1e-12)


def test_a_chain_too_short_or_too_long_for_the_travel_is_refused() -> None:
    for links in (118.0, 124.0):
        with pytest.raises(OutOfRange) as caught:
            tensioner_extension(**bladed(), links=np.array([120.0, links]), **PUSH)
        assert caught.value.name == "links"
        assert caught.value.bad.tolist() == [False, True]


@given(st.floats(0, 0.05), st.floats(0.05, 0.4), st.floats(0.05, 0.4))
def test_push_and_slack_are_inverse_and_an_uneven_push_takes_up_more(push: float, before: float, after: float) -> None:
    taken = slack_of_push(push=push, before=before, after=after)
    long = LineString([(0, 0), (before, push), (before + after, 0)]).length
    assert float(taken) == pytest.approx(long - before - after, abs=1e-12)
    assert float(push_for_slack(slack=taken, before=before, after=after)) == pytest.approx(push, abs=1e-9)
    middle = (before + after) / 2
    assert float(taken) >= float(slack_of_push(push=push, before=middle, after=middle)) - 1e-15


@pytest.mark.parametrize(("taken", "push"), [(1, 14.6), (2, 20.7), (4, 29.2), (8, 41.5)])
def test_the_middle_of_a_run_of_425_mm_must_go_far_for_a_little_slack(taken: float, push: float) -> None:
    """The rule h = sqrt(dL S / 2) is a little too long; its values for a run of 425 mm."""
    found = float(push_for_slack(slack=taken / 1000, before=0.2125, after=0.2125)) * 1000
    assert np.sqrt(taken * 425 / 2) == pytest.approx(push, abs=0.3)
    assert found == pytest.approx(np.sqrt(taken * 425 / 2 + taken**2 / 4), rel=1e-9)


def test_links_of_three_wheels_and_what_a_longer_chain_leaves_over() -> None:
    """138.263 pitches by an independent script; 140 links leave 16.55 mm, and 17.52 mm after half a millimetre off."""
    radius = np.asarray(chain_pitch_diameter(pitch=0.009525, teeth=THREE_TEETH)) / 2
    plain = loop_pitches(**THREE, radius=radius, teeth=THREE_TEETH, pitch=0.009525)
    lowered = {**THREE, "y": THREE["y"] - [0, 0.0005, 0.0005]}
    skimmed = loop_pitches(**lowered, radius=radius, teeth=THREE_TEETH, pitch=0.009525)
    assert float(plain) == pytest.approx(138.263, abs=0.0005)
    left = [1000 * float(slack(links=140, pitches=each, pitch=0.009525)) for each in (plain, skimmed)]
    assert left == pytest.approx([16.55, 17.52], abs=0.01)
    assert float(slack(links=138, pitches=plain, pitch=0.009525)) * 1000 == pytest.approx(-2.5, abs=0.05)
    assert float(loop(**THREE, radius=radius).length) * 1000 == pytest.approx(1317.48353, abs=2e-5)


def test_a_belt_and_its_wheels_hold_whole_pitches_on_the_pitch_line() -> None:
    """On a belt the arcs are as long as their teeth: the pitches are the length of the pitch line over the pitch."""
    teeth = np.array([22.0, 44.0, 44.0])
    radius = np.asarray(belt_pitch_diameter(pitch=0.008, teeth=teeth)) / 2
    laid = loop(**THREE, radius=radius)
    held = loop_pitches(**THREE, radius=radius, teeth=teeth, pitch=0.008)
    assert float(held) == pytest.approx(float(laid.length) / 0.008)
    assert MultiPoint(np.column_stack([THREE["x"], THREE["y"]])).convex_hull.length < float(laid.length)
