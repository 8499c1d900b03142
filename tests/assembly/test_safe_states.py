"""Crank and cams as pairs: what a step needs of them, what it changes, and what the list does not allow."""

import pytest
from descriptions import engine_of
from slow_checker import broken

from cast import EXAMPLES, example
from endfloat.assembly.check import check
from endfloat.assembly.contradictions import contradiction
from endfloat.assembly.generate import BuildOrder, NoOrder, build_order
from endfloat.assembly.now import frees, may_do, reopens
from endfloat.engine.model import Engine
from endfloat.engine.proofread import read_engine
from endfloat.problems import Problem

ALL_FOUR = ["unknown", "near", "exact", "blocked"]
PAIRS = {
    "positions": {"safe": "45 degrees before the top", "mark": "the mark on the gear"},
    "start": {"crank": "unknown", "cams": {"left": "out", "right": "out"}},
    "pairs": [
        {"crank": ALL_FOUR, "cams": {"left": ["out"], "right": ["out"]}, "why": "no cam presses"},
        {"crank": ["blocked"], "at": ["safe"], "why": "no piston at the top"},
        {"crank": ALL_FOUR, "cams": {"left": ["timed"], "right": ["timed"]}, "why": "timed cams give way"},
    ],
}
STEPS = {
    "set": {"crank": {"turns": "the short way", "becomes": "near", "at": "safe"}},
    "lock": {"crank": {"needs": ["near"], "becomes": "blocked", "at": "safe", "shown_by": "lock"}},
    "left": {"cams": {"left": {"becomes": "at rest"}}},
    "right": {"cams": {"right": {"needs": ["out"], "becomes": "at rest"}}},
    "left_timed": {"cams": {"left": {"needs": ["at rest"], "becomes": "timed"}}},
    "right_timed": {"cams": {"right": {"needs": ["at rest"], "becomes": "timed"}}},
    "unlock": {"crank": {"needs": ["blocked"], "becomes": "exact", "shown_by": "lock"}},
    "turn": {"crank": {"turns": "all round"}},
}
SOUND = ("set", "lock", "left", "right", "left_timed", "right_timed", "unlock", "turn")


def described(**changed: dict) -> dict:
    steps = {name: {"minutes": 1, **step} for name, step in {**STEPS, **changed}.items()}
    return {"operations": steps, "relations": {}, "safe_states": PAIRS}


def moved(step: str, before: str) -> tuple[str, ...]:
    rest = [each for each in SOUND if each != step]
    at = rest.index(before)
    return (*rest[:at], step, *rest[at:])


def test_one_order_stays_within_the_pairs_for_both_checkers() -> None:
    assert check(engine_of(described()), SOUND) == []
    assert broken(described(), SOUND) == set()


@pytest.mark.parametrize(
    ("order", "step", "words"),
    [
        (moved("left", "set"), "left",
         "“LEFT” would leave the crank at an unknown angle with the left cams at rest and the right cams out, which is "
         "no safe pair: the test says so. What frees it: “SET”, then “LOCK”."),
        (moved("left", "lock"), "left", "would leave the crank near 45 degrees before the top"),
        (moved("lock", "set"), "lock", "“LOCK” needs the crank near a known position; it is at an unknown angle"),
        (moved("unlock", "left_timed"), "unlock",
         "would leave the crank exactly at 45 degrees before the top with the left cams at rest"),
        (moved("unlock", "right_timed"), "unlock", "with the left cams timed and the right cams at rest"),
        (moved("turn", "left"), "turn", "“TURN” turns the crank, which is blocked at 45 degrees before the top"),
        (moved("left_timed", "left"), "left_timed", "needs the left cams at rest; they are out: the test says so. "
         "What frees it: “LEFT”."),
    ],
)  # fmt: skip
def test_a_step_outside_the_pairs_is_refused_with_what_frees_it(order: tuple[str, ...], step: str, words: str) -> None:
    found = check(engine_of(described()), order)
    assert (found[0].relation, found[0].operations) == ("safe_states", (step,))
    assert words in found[0].sentence
    assert "safe_states" in broken(described(), order)


def test_a_turn_all_round_passes_every_position_even_where_it_ends_at_a_safe_one() -> None:
    round_and_back = {"crank": {"turns": "all round", "becomes": "exact", "at": "safe", "shown_by": "lock"}}
    engine = engine_of(described(turn=round_and_back))
    said = check(engine, ("set", "lock", "left", "unlock", "turn"))
    assert "which is no safe pair" in said[0].sentence
    assert check(engine, ("set", "lock", "unlock", "turn")) == []


def test_a_position_is_set_near_first_and_exactly_later_by_a_part_fitted_in_between() -> None:
    steps = {
        "by_eye": {"crank": {"turns": "the short way", "becomes": "near", "at": "mark"}},
        "gear": {},
        "by_mark": {"crank": {"needs": ["near"], "needs_at": ["mark"], "turns": "the short way", "becomes": "exact",
                              "at": "mark", "shown_by": "gear"}},
    }  # fmt: skip
    description = {
        "operations": {name: {"minutes": 1, **step} for name, step in steps.items()},
        "relations": {},
        "safe_states": PAIRS,
    }
    engine = engine_of(description)
    assert check(engine, ("by_eye", "gear", "by_mark")) == []
    said = check(engine, ("by_eye", "by_mark", "gear"))
    assert [each.operations for each in said] == [("gear", "by_mark")]
    assert "sets the crank by what “GEAR” fits" in said[0].sentence
    assert broken(description, ("by_eye", "by_mark", "gear")) == {"safe_states"}
    assert check(engine, ("gear", "by_mark", "by_eye"))[0].operations == ("by_mark",)


def test_the_order_found_stays_within_the_pairs_and_is_the_only_kind_there_is() -> None:
    found = build_order(engine_of(described()))
    assert isinstance(found, BuildOrder)
    assert broken(described(), found.operations) == set()


def test_where_no_step_can_bring_about_what_another_needs_that_is_proved_in_one_sentence() -> None:
    description = described(set={"crank": {"turns": "the short way"}})
    engine = engine_of(description)
    proof = contradiction(engine)
    assert proof is not None
    assert len(proof.sentences) == 1
    assert "“LEFT” needs a state from which it leads to a safe pair, and no step that may come" in proof.text()
    assert build_order(engine) == NoOrder(proved=True)


def test_a_refused_step_says_in_the_middle_of_the_build_what_frees_it() -> None:
    engine = engine_of(described())
    assert [each.relation for each in may_do(engine, ("set",), "left")] == ["safe_states"]
    assert "lock" in frees(engine, ("set",), "left")
    assert may_do(engine, ("set", "lock"), "left") == []


def test_undoing_the_lock_reopens_the_cams_that_only_the_lock_made_safe() -> None:
    engine = engine_of(described())
    fallen = reopens(engine, SOUND[:4], "lock")
    assert fallen == ["left", "right"]
    assert reopens(engine, SOUND[:4], "right") == []


def test_the_v8_names_both_banks_and_refuses_a_turn_with_one_bank_timed() -> None:
    engine = example(EXAMPLES / "wrenhallow-90-8")[0]
    found = build_order(engine)
    assert isinstance(found, BuildOrder)
    done = found.operations[: found.operations.index("right_sprocket_bolts")]
    told = may_do(engine, done, "two_turns")
    assert any("left cams timed and the right cams loaded, which is no safe pair" in each.sentence for each in told)
    assert any(each.relation == "before" for each in told)


def test_what_follows_from_a_broken_link_is_told_once_in_a_whole_order_and_always_at_the_bench() -> None:
    description = described()
    description["relations"]["before"] = [{"first": "lock", "then": "left"}]
    engine = engine_of(description)
    order = ("set", "left", "lock", "right", "left_timed", "right_timed", "unlock", "turn")
    assert [each.relation for each in check(engine, order)] == ["before"]
    assert [each.relation for each in may_do(engine, ("set",), "left")] == ["before", "safe_states"]
    assert broken(description, order) == {"before", "safe_states"}


def proofread(old: str, new: str) -> list[Problem]:
    raw = (EXAMPLES / "wrenhallow-90-8" / "engine.yaml").read_text()
    assert old in raw
    read = read_engine(raw.replace(old, new, 1).encode(), name="engine.yaml")
    assert not isinstance(read, Engine)
    return read


@pytest.mark.parametrize(
    ("old", "new", "code", "words"),
    [
        ("becomes: near, at: safe", "becomes: near, at: saf", "unknown_position", "`saf`"),
        ("becomes: near, at: safe", "becomes: near", "position_without_name", "no position"),
        (", shown_by: crank_lock_in}, page: 34", "}, page: 34", "position_not_shown", "nothing shows"),
        ("shown_by: primary_chain", "shown_by: primary_chian", "unknown_operation", "`primary_chian`"),
        ("cams: {left: {needs: [out], becomes: at rest}}", "cams: {lef: {becomes: at rest}}", "unknown_bank", "`lef`"),
        ("start: {crank: unknown, cams: {left: out,", "start: {crank: unknown, cams: {left: loaded,",
         "start_not_listed", "no pair allows"),
    ],
)  # fmt: skip
def test_a_slip_in_the_list_is_told_with_its_place(old: str, new: str, code: str, words: str) -> None:
    problem = next(each for each in proofread(old, new) if each.code == code)
    assert words in problem.found
    assert problem.place.startswith("engine.yaml:")
