"""The second engine is put in order and tightened without a line of its own in the program."""

import pytest

from cast import EXAMPLES, example
from endfloat.assembly.check import check
from endfloat.assembly.generate import BuildOrder, build_order
from endfloat.assembly.pull_rules import objection
from endfloat.assembly.tightening import Fit, Progress, Pull, done
from endfloat.engine.proofread import read_engine
from endfloat.engine.relations import RELATIONS

FOLDER = EXAMPLES / "tolvenny-1185"
ENGINE = example(FOLDER)[0]


@pytest.fixture(scope="module")
def order() -> BuildOrder:
    found = build_order(ENGINE)
    assert isinstance(found, BuildOrder)
    return found


def moved(order: tuple[str, ...], step: str, *, before: str) -> list[str]:
    rest = [each for each in order if each != step]
    at = rest.index(before)
    return [*rest[:at], step, *rest[at:]]


def test_ninety_five_steps_and_every_sort_of_relation_are_put_in_an_order_that_the_checker_passes(
    order: BuildOrder,
) -> None:
    assert len(order.operations) == 95
    assert {name for name, _, _ in ENGINE.relations.each()} == set(RELATIONS)
    assert check(ENGINE, order.operations) == []
    # The crank is laid in and the case closed in one visit, the pump started in the other; each side is turned up once.
    assert order.proved
    assert order.cost == order.bound == (2, 2, 21)


@pytest.mark.parametrize(
    ("step", "before", "relation", "words"),
    [
        ("plug_2", "blind_circlip_2", "last_chance", "the plug hides the circlip for good"),
        ("fill_oil", "cure_case", "clocked", "oil before its cure washes it out"),
        ("clutch_cover", "count_clutch_bolts", "easily_missed", "the cover goes on as well without them"),
        ("head_two", "head_one_pass_1", "sides_differ", "mirrored"),
        ("turn_twice", "lock_out", "aid_in_aid_out", "the case breaks"),
        ("rings_3", "wash_case", "before", "clean barrel"),
    ],
)
def test_a_wrong_order_is_refused_with_its_own_reason(
    order: BuildOrder, step: str, before: str, relation: str, words: str
) -> None:
    said = check(ENGINE, moved(order.operations, step, before=before))
    assert any(each.relation == relation and words in each.sentence for each in said), said


def test_a_pause_in_the_sealant_is_told_in_minutes(order: BuildOrder) -> None:
    at = order.operations.index("close_case")
    late = [each for each in order.operations if each != "hand_over"]
    late.insert(at, "hand_over")
    assert any(each.relation == "clocked" for each in check(ENGINE, late))


def test_the_case_is_pulled_in_its_spiral_and_its_bolts_may_be_used_again() -> None:
    joint = ENGINE.joints["case"]
    assert not joint.bolts["through_bolt"].single_use
    progress = done(joint, Progress(), Fit("old set", "2026-05-03T10:00:00+00:00"))
    for minute, bolt in enumerate(joint.sequence):
        pull = Pull(1, bolt, f"2026-05-03T10:{minute:02}:30+00:00")
        assert objection(joint, progress, pull, pulled_before=frozenset()) is None
        progress = done(joint, progress, pull)
    again = Pull(1, joint.sequence[0], "2026-05-03T10:12:00+00:00")
    assert objection(joint, progress, again, pulled_before=frozenset()) is not None


def test_the_heads_are_mirrored_and_a_bolt_missed_or_repeated_is_refused() -> None:
    assert ENGINE.joints["head_one"].sequence != ENGINE.joints["head_two"].sequence
    text = (FOLDER / "engine.yaml").read_text()
    for wrong in ("[3, 4, 2, 5, 1, 1]", "[3, 4, 2, 5, 1]"):
        read = read_engine(text.replace("[3, 4, 2, 5, 1, 6]", wrong).encode(), name="engine.yaml")
        assert isinstance(read, list)
        assert any("sequence" in problem.place for problem in read)
