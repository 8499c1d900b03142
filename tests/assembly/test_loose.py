"""What a broken-off build leaves behind, one relation at a time; each sentence stands only while it is true."""

import pytest

from cast import EXAMPLES
from endfloat.assembly.loose import loose_now
from endfloat.engine.model import Engine
from endfloat.engine.proofread import read_engine


def engine(relations: str) -> Engine:
    steps = "".join(f"  {each}: {{title: Step {each}, minutes: 1, persons: 2, bank: left}}\n" for each in "abcd")
    text = "name: T\nlayout: t\nplaces: {cylinder: {names: [1], bank: {left: [1]}}}\ncharacteristics: {}\n"
    read = read_engine(f"{text}operations:\n{steps}relations:\n  {relations}\n".encode(), name="engine.yaml")
    assert isinstance(read, Engine), [each.text() for each in read]
    return read


@pytest.mark.parametrize(
    ("relation", "sort", "done", "words"),
    [
        ("kept_true: [{state: it is locked, set_by: a, during: [b], ended_by: c, why: w}]", "leave", "a",
         "Keep it so that it is locked: w."),
        ("unbroken: [{sequence: [a, b], why: w}]", "loose", "a",
         "These go without a break and are not finished: “Step b”: w."),
        ("as_one_move: [{operations: [a, b], why: w}]", "loose", "b",
         "These go as one move and are not finished: “Step a”: w."),
        ("second_person: [{operations: [a, b], minutes: 9, why: w}]", "first", "a",
         "Call the helper back: “Step b” needs two persons."),
        ("special_tool: [{tool: the sleeve, fitted_by: a, needed_for: [b], off_by: c, why: w}]", "leave", "ab",
         "Leave the sleeve on until “Step c”: w."),
        ("easily_missed: [{what: bolts, count: 3, fitted_by: a, counted_by: b, hidden_by: [c], why: w}]", "loose", "a",
         "Not yet counted: bolts, 3."),
        ("sides_differ: [{what: pins, sides: {left: [a, b], right: []}, why: w}]", "loose", "a",
         "Pins: the left side is begun, 1 of 2 steps. Go on with this side."),
        ("own_place: [{part: caps, marks: numbers, laid_out_by: a, fitted_by: [b], why: w}]", "leave", "a",
         "Do not mix caps: each goes to its own place (numbers)."),
        ("attitude: [{attitude: upright, since: a, until: b, why: w}]", "leave", "a",
         "The engine stays upright until “Step b”: w."),
        ("slack_and_taut: [{what: the chain, held_by: hand, taken_up_by: a, let_go_by: c, taut_for: [b], why: w}]",
         "loose", "ab", "Held by hand: the chain. Tie it before anybody lets go: w."),
        ("slack_and_taut: [{what: the chain, held_by: tie, taken_up_by: a, let_go_by: c, taut_for: [b], why: w}]",
         "leave", "a", "Leave the tie on the chain until “Step c”."),
        ("confirm_again_now: [{check: a, before: b, why: w}]", "first", "a",
         "Do “Step a” again straight before “Step b”."),
        ("aid_in_aid_out: [{aid: rags, count: 8, in_by: a, out_by: b, why: w}]", "loose", "a",
         "In the engine: rags, 8. Out at “Step b”."),
    ],
)  # fmt: skip
def test_a_relation_in_the_middle_is_told_and_not_before_or_after(
    relation: str, sort: str, done: str, words: str
) -> None:
    described = engine(relation)
    assert words in getattr(loose_now(described, done), sort)
    for whole in ("", "abcd"):
        told = loose_now(described, whole)
        assert (told.loose, told.leave, told.first) == ((), (), ())


def test_what_is_held_by_hand_is_left_alone_once_it_is_tied() -> None:
    held = "{what: the chain, held_by: hand, taken_up_by: a, secured_by: b, let_go_by: d, taut_for: [c], why: w}"
    told = loose_now(engine(f"slack_and_taut: [{held}]"), "ab")
    assert told.loose == ()
    assert told.first == ()
    assert told.leave == ("Leave the chain as it is tied until “Step d”.",)


@pytest.mark.parametrize("name", ["wrenhallow-90-8", "tolvenny-1185", "ottermole-3-165"])
def test_a_built_engine_leaves_nothing_behind_and_has_clocks_of_more_than_one_sort(name: str) -> None:
    described = read_engine((EXAMPLES / name / "engine.yaml").read_bytes(), name="engine.yaml")
    assert isinstance(described, Engine)
    told = loose_now(described, described.operations)
    assert (told.loose, told.leave, told.first) == ((), (), ())
    clocks = described.relations.clocked
    assert any(clock.open_minutes for clock in clocks)
    assert any(clock.cure_minutes for clock in clocks)
    assert any(clock.bands for clock in clocks)
