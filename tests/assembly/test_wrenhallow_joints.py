"""The joints of the V8 hold together: every pull has its bolts, its load is sound, and the strip goes the way back."""

import math
from itertools import pairwise

import numpy as np
import pytest

from cast import example
from endfloat.assembly.clamp_draws import Errors
from endfloat.assembly.clamp_windows import ClampWindow, clamp_window
from endfloat.engine.operations import Operation
from endfloat.engine.strip import Removal
from endfloat.inspection.gauges import Gauge
from endfloat.quantities.typed_text import Typed
from endfloat.quantities.units import Kind

ENGINE, EVIDENCE, _ = example()
JOINTS = ENGINE.joints
PULLING = {name: step.pulls for name, step in ENGINE.operations.items() if step.pulls is not None}
SLACKENING = {removal.slackens.joint: removal for removal in ENGINE.strip.values() if removal.slackens is not None}


def reaches(gauge: Gauge, amount: Typed) -> bool:
    return gauge.least is not None and gauge.most is not None and gauge.least.si <= amount.si <= gauge.most.si


def titled(words: str) -> list[tuple[str, Operation]]:
    return [(name, step) for name, step in ENGINE.operations.items() if words in step.title]


def test_every_step_with_the_torque_wrench_in_hand_pulls_a_joint_but_the_trial_that_measures() -> None:
    wrench = {name for name, step in ENGINE.operations.items() if any("torque wrench" in each for each in step.tools)}
    assert {name for name in wrench - PULLING.keys() if not ENGINE.operations[name].measures} == set()


@pytest.mark.parametrize("name", [name for name in JOINTS if name.startswith("rods")])
def test_each_pin_has_the_four_bolts_of_its_two_rods_pulled_in_one_step_and_closed(name: str) -> None:
    [(step, pulls)] = [(step, each) for step, each in PULLING.items() if each.joint == name]
    assert pulls.closed
    assert pulls.passes == list(range(1, len(JOINTS[name].passes) + 1))
    assert len(JOINTS[name].fasteners) == 4
    assert JOINTS[name].single_use
    places = ENGINE.operations[step].shows["cylinder"]
    assert f"left {places[0]} at the front" in JOINTS[name].drawing.view
    assert JOINTS[name].title.startswith(f"Rod caps of left {places[0]} and right {places[1]} on")


@pytest.mark.parametrize("name", JOINTS)
def test_bolts_turned_by_an_angle_pass_yield_and_are_used_once_and_others_stay_below_it(name: str) -> None:
    joint = JOINTS[name]
    for sort in dict.fromkeys(each.bolt for each in joint.fasteners if each.apart is None):
        bolt = next(each.number for each in joint.fasteners if each.bolt == sort)
        last = joint.last_pass_of(bolt)
        numbers = [number for number in range(1, last + 1) if bolt in joint.covered(number)]
        amounts = [amount for number in numbers if (amount := joint.amount_for(number, sort))]
        torque = max((amount for amount in amounts if amount.unit.kind is Kind.TORQUE), key=lambda amount: amount.si)
        off = max(gauge.error.si for gauge in EVIDENCE.gauges.values() if reaches(gauge, torque))
        book = joint.bolts[sort].lubrication
        assert book is not None
        found = clamp_window(
            joint, bolt, numbers, lubrication=book.words, errors=Errors(off, math.radians(2)),
            generator=np.random.default_rng(7),
        )  # fmt: skip
        if name == "damper_bolt":
            continue
        assert isinstance(found, ClampWindow), found.sentence
        turned = any(amount.unit.kind is Kind.ANGLE for amount in amounts)
        assert found.drawn.past_yield > 0.95 if turned else found.drawn.past_yield == 0
        assert joint.bolts[sort].single_use or not turned


@pytest.mark.parametrize("removal", SLACKENING.values(), ids=str)
def test_the_strip_slackens_in_the_reverse_of_the_sequence_and_counts_the_same_bolts(removal: Removal) -> None:
    assert removal.slackens is not None
    joint = JOINTS[removal.slackens.joint]
    assert removal.slackens.order == list(reversed(joint.sequence or []))
    in_sequence = [each for each in joint.fasteners if each.apart is None]
    assert sum(each.count for each in removal.fasteners) == len(in_sequence)


@pytest.mark.parametrize("removal", SLACKENING.values(), ids=str)
def test_what_the_strip_throws_away_is_what_the_joint_may_use_once(removal: Removal) -> None:
    assert removal.slackens is not None
    joint = JOINTS[removal.slackens.joint]
    once = [each for each in joint.fasteners if joint.bolts[each.bolt].single_use]
    assert sum(void.quantity for void in removal.void if "bolt" in void.part) == len(once)


@pytest.mark.parametrize("name", JOINTS)
def test_a_joint_a_step_that_pulls_it_and_the_strip_name_one_page(name: str) -> None:
    steps = {ENGINE.operations[step].page for step, pulls in PULLING.items() if pulls.joint == name}
    slackens = SLACKENING[name].slackens
    assert slackens is not None
    assert {JOINTS[name].page, *(each.page for each in JOINTS[name].passes), slackens.page} == steps
    assert {bolt.page for bolt in JOINTS[name].bolts.values()} == steps


def test_the_long_bolt_of_the_right_head_is_a_sort_of_its_own_in_joint_strip_and_parts() -> None:
    left, right = JOINTS["left_head"], JOINTS["right_head"]
    assert set(right.bolts) - set(left.bolts) == {"long_head_bolt"}
    [long] = [each for each in right.fasteners if each.bolt == "long_head_bolt"]
    assert long.number in (right.sequence or [])
    length = right.bolts["long_head_bolt"].length.text
    assert any(length in look for look in ENGINE.parts["long_head_bolt"].looks)
    sorts = {each.sort: each.count for each in ENGINE.strip["right_head"].fasteners}
    assert sorts == {"M11x95": 9, f"M11x{length.removesuffix(' mm')}": 1}
    assert ENGINE.parts["head_bolts"].count + ENGINE.parts["long_head_bolt"].count == 20


def test_every_joint_is_slackened_at_the_strip() -> None:
    assert SLACKENING.keys() == JOINTS.keys()


def test_passes_of_one_joint_follow_each_other_in_the_steps_that_pull_them() -> None:
    for name in JOINTS:
        passes = [number for pulls in PULLING.values() if pulls.joint == name for number in pulls.passes]
        assert all(later == earlier + 1 for earlier, later in pairwise(passes))
        assert passes == list(range(1, len(JOINTS[name].passes) + 1))


def test_a_title_that_says_the_crank_turns_freely_is_ticked_and_not_only_read() -> None:
    promised = titled("crank turns freely")
    assert len(promised) == 9
    assert all(any("turns freely" in look.what for look in step.looks) for _, step in promised)


def test_rings_are_gapped_before_the_last_wash_and_go_on_with_the_shells_before_each_piston_goes_in() -> None:
    before = [(each.first, each.then) for each in ENGINE.relations.before]
    for place in ENGINE.places["cylinder"].names:
        assert (f"rings_{place}", "wash_block") in before
        told = " ".join(look.what for look in ENGINE.operations[f"piston_{place}"].looks)
        assert f"rings of bag {place} are on" in told
        assert "ring gaps stand" in told
        assert "rod shells lie in" in told
