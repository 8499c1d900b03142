"""What clamp load to expect: never without lubrication and interval, and told what is missing for one."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from endfloat.assembly.clamp_draws import DRAWS, Errors
from endfloat.assembly.clamp_windows import ClampWindow, NotKnown, clamp_window, torque_and_angles
from endfloat.engine.joints import Joint
from endfloat.formulas.tightening import preload
from endfloat.quantities.typed_text import Typed, read_typed

HEAD_BOLT = {
    "thread": "M11x1.25",
    "length": "95 mm",
    "class": "10.9",
    "single_use": "true",
    "page": "61",
    "lubrication": {"thread": "oil", "head": "oil", "page": "61", "lowest": "0.08", "highest": "0.18"},
    "face": {"across": "17.5 mm", "hole": "12 mm"},
    "grip": {"length": "95 mm", "modulus": "205 GPa", "parts": "5"},
}
WRENCH = Errors(torque=1.5, angle=math.radians(2))


def head(passes: tuple[str, ...] = ("25 N·m", "90 °", "90 °"), **bolt: object) -> Joint:
    """One invented head bolt of the V8, with what a test changes or leaves out (None)."""
    described = {key: each for key, each in {**HEAD_BOLT, **bolt}.items() if each is not None}
    return Joint.model_validate(
        {
            "title": "Head",
            "closes": "the gasket",
            "page": "62",
            "drawing": {
                "view": "seen from above",
                "front": "left",
                "outline": [["0 mm", "0 mm"], ["9 mm", "0 mm"], ["9 mm", "9 mm"]],
            },
            "bolts": {"head_bolt": described},
            "fasteners": [{"number": "1", "bolt": "head_bolt", "x": "1 mm", "y": "1 mm"}],
            "sequence": ["1"],
            "passes": [{"amount": amount or None, "page": "62"} for amount in passes],
        }
    )


def window(joint: Joint, last: int, lubrication: str = "thread oil, under the head oil") -> ClampWindow | NotKnown:
    generator = np.random.default_rng(7)
    numbers = list(range(1, last + 1))
    return clamp_window(joint, "1", numbers, lubrication=lubrication, errors=WRENCH, generator=generator)


def known(joint: Joint, last: int) -> ClampWindow:
    found = window(joint, last)
    assert isinstance(found, ClampWindow), found.sentence
    return found


def degrees(ends: tuple[float, float]) -> tuple[int, int]:
    return round(math.degrees(ends[0])), round(math.degrees(ends[1]))


def test_the_head_bolts_of_the_v8_begin_to_yield_at_the_surface_and_later_in_the_whole_section() -> None:
    after = known(head(), 3)
    assert after.onset is not None
    assert degrees(after.onset.surface) == (92, 97)
    assert degrees(after.onset.section) == (100, 107)
    assert after.drawn.past_yield == 1
    assert known(head(), 2).drawn.past_yield < 0.05


def test_a_torque_alone_has_the_corners_of_friction_and_wrench_as_its_interval() -> None:
    low, middle, high = known(head(), 1).drawn.loads
    same = {"pitch": 0.00125, "pitch_diameter": 0.010188, "half_flank": math.pi / 6, "bearing_diameter": 0.01475}

    def load(torque: float, friction: float) -> float:
        return float(preload(torque=torque, thread_friction=friction, face_friction=friction, prevailing=0.0, **same))

    assert low == pytest.approx(load(23.5, 0.18), rel=1e-3)
    assert middle == pytest.approx(load(25.0, 0.13), rel=1e-3)
    assert high == pytest.approx(load(26.5, 0.08), rel=1e-3)


def test_past_yield_the_clamp_load_varies_less_than_by_torque_alone() -> None:
    by_torque, past = known(head(), 1).drawn.loads, known(head(), 3).drawn.loads
    assert past[2] / past[0] < 1.3 < 2 < by_torque[2] / by_torque[0]


def test_the_same_seed_gives_the_same_window() -> None:
    assert known(head(), 3) == known(head(), 3)


@pytest.mark.parametrize(
    ("joint", "last", "words"),
    [
        (head(lubrication=None), 1, "the lowest and the highest friction (page 61)"),
        (head(lubrication={"thread": "oil", "head": "oil", "page": "60"}), 1, "highest friction (page 60)"),
        (head(face=None), 1, "the face under the head and its hole (page 61)"),
        (head(grip=None), 3, "the stiffness or the grip of the bolt (page 61)"),
        (head(thread="M11"), 1, "the pitch of M11 (page 61)"),
        (head(thread="7/16-20 UNF"), 1, "a metric thread in place of 7/16-20 UNF (page 61)"),
        (head(passes=("25 N·m", "", "90 °")), 3, "how much pass 2 is (page 62)"),
        (head(passes=("90 °",)), 1, "a torque that all angles come after"),
        (head(passes=("25 N·m", "90 °", "40 N·m")), 3, "a torque that all angles come after"),
        (head(**{"class": "11.9"}), 3, "numbers that go together"),
        (head(passes=("250 N·m", "90 °")), 2, "numbers that go together"),
    ],
)
def test_without_what_it_rests_on_no_clamp_load_is_shown_and_the_page_of_it_is_named(
    joint: Joint, last: int, words: str
) -> None:
    found = window(joint, last)
    assert isinstance(found, NotKnown)
    assert found.sentence.startswith("No clamp load is shown. Missing: ")
    assert words in found.sentence


@pytest.mark.parametrize("stated", ["", "  "])
@pytest.mark.parametrize("last", [1, 2, 3])
def test_no_clamp_load_is_ever_shown_before_someone_said_what_is_on_thread_and_head(stated: str, last: int) -> None:
    found = window(head(), last, lubrication=stated)
    assert isinstance(found, NotKnown)
    assert "what is on thread and head (page 61)" in found.sentence


def test_a_stiffness_of_the_description_goes_before_the_grip_and_a_waist_carries_less() -> None:
    assert known(head(stiffness="300 kN/mm"), 2).drawn.past_yield > known(head(), 2).drawn.past_yield
    assert known(head(waist="8 mm"), 3).drawn.loads[2] < known(head(), 3).drawn.loads[0]


AMOUNTS = st.sampled_from(["20 N·m", "40 N·m", "60 °", "90 °"])


@given(st.lists(AMOUNTS, max_size=5))
def test_angles_count_only_after_the_last_torque(texts: list[str]) -> None:
    amounts = [each for text in texts if isinstance(each := read_typed(text, kind=None, place=""), Typed)]
    found = torque_and_angles(amounts)
    words = "".join("T" if "N" in each else "A" for each in texts)
    if not words.startswith("T") or "AT" in words:
        assert found is None
    else:
        assert found is not None
        assert found[0] == amounts[words.rindex("T")].si
        assert found[1] == [each.si for each in amounts[words.rindex("T") + 1 :]]


@settings(max_examples=30)
@given(
    lowest=st.floats(0.05, 0.2),
    more=st.floats(0.02, 0.2),
    torque=st.integers(5, 40),
    angle=st.integers(10, 360),
)
def test_the_interval_is_in_order_and_an_angle_never_clamps_beyond_what_the_strongest_bolt_holds(
    lowest: float, more: float, torque: int, angle: int
) -> None:
    book = {"thread": "oil", "head": "oil", "page": "61", "lowest": f"{lowest:.3f}", "highest": f"{lowest + more:.3f}"}
    found = window(head(passes=(f"{torque} N·m", f"{angle} °"), lubrication=book), 2)
    assert isinstance(found, ClampWindow), found.sentence
    low, middle, high = found.drawn.loads
    assert 0 < low <= middle <= high <= 940e6 * 1.15 * 75.9e-6
    assert found.drawn.torque_seen is not None
    assert found.drawn.torque_seen[0] < found.drawn.torque_seen[1]
    assert found.drawn.past_yield * DRAWS == pytest.approx(round(found.drawn.past_yield * DRAWS))
    assert found.lubrication


def test_the_angle_after_the_torque_is_that_of_all_its_passes() -> None:
    assert known(head(), 2).turned == pytest.approx(math.pi / 2)
    assert known(head(), 3).turned == pytest.approx(math.pi)
