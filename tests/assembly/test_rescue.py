"""Undoing a step that keeps a state true loses the state: the description says how it is brought back."""

from descriptions import descriptions, engine_of
from hypothesis import given, settings
from hypothesis import strategies as st

from cast import EXAMPLES, example
from endfloat.assembly.check import check
from endfloat.assembly.generate import BuildOrder, build_order
from endfloat.assembly.now import may_do, reopens, undone
from endfloat.engine.circles import circle

V8 = example(EXAMPLES / "wrenhallow-90-8")[0]
HUNG = {
    "state": "the chain hangs", "set_by": "feed", "during": ["head", "wheel"], "ended_by": "hook_off",
    "lost_by_undoing": ["guide"], "regain": "feed it again", "regain_by": ["feed"],
}  # fmt: skip
STEPS = ("feed", "guide", "bench", "head", "wheel", "hook_off")


def described(**changed: object) -> dict:
    return {"operations": {each: {"minutes": 1} for each in STEPS}, "relations": {"kept_true": [{**HUNG, **changed}]}}


def test_undoing_what_holds_the_state_reopens_what_brings_it_back_and_all_that_waited_for_that() -> None:
    found = undone(engine_of(described()), STEPS[:4], "guide")
    assert found.reopened == ("feed", "head")
    assert [(each.state, each.do) for each in found.rescues] == [("the chain hangs", "feed it again")]
    assert (
        found.rescues[0].text()
        == "It is no longer sure that the chain hangs: the test says so. Once lost: feed it again."
    )


def test_undoing_what_gave_the_state_up_does_not_give_it_back() -> None:
    found = undone(engine_of(described()), STEPS, "wheel")
    assert found.reopened == ("feed", "head", "hook_off")
    assert len(found.rescues) == 1


def test_without_steps_to_do_again_the_rule_is_told_and_nothing_else_is_reopened() -> None:
    found = undone(engine_of(described(regain_by=[])), STEPS, "wheel")
    assert found.reopened == ("hook_off",)
    assert [each.do for each in found.rescues] == ["feed it again"]


def test_a_state_that_nothing_needs_any_more_is_not_mourned() -> None:
    assert undone(engine_of(described()), STEPS, "guide").rescues == ()
    assert undone(engine_of(described()), STEPS[:5], "bench").rescues == ()


def test_on_the_v8_the_rear_guide_undone_drops_the_chain_and_leaves_the_pistons_alone() -> None:
    found = build_order(V8)
    assert isinstance(found, BuildOrder)
    done = found.operations[: found.operations.index("left_m8_counted") + 1]
    fell = undone(V8, done, "left_rear_guide")
    assert "left_chain_fed" in fell.reopened
    assert {"left_head_on", "left_pass_3"} <= set(fell.reopened)
    assert not [each for each in fell.reopened if each.startswith(("piston", "main", "right_chain"))]
    assert any("feed it again from its tunnel" in each.do for each in fell.rescues)


@settings(max_examples=60)
@given(description=descriptions(most=6), data=st.data())
def test_what_is_left_after_undoing_breaks_nothing(description: dict, data: st.DataObject) -> None:
    for record in description["relations"].get("kept_true", []):
        record["regain_by"] = data.draw(st.sampled_from([[], [record["set_by"]]]))
        record["lost_by_undoing"] = data.draw(st.sampled_from([[], list(description["operations"])[:1]]))
    engine = engine_of(description)
    found = None if circle(engine) else build_order(engine)
    if isinstance(found, BuildOrder):
        step = data.draw(st.sampled_from(found.operations))
        fell = undone(engine, found.operations, step)
        still = [each for each in found.operations if each not in fell.reopened and each != step]
        # The helper's visit, a side half undone beside a finished one, and an attitude that is kept until the undone
        # step are put right by doing it again: nothing done since stood on it.
        again = ("second_person", "sides_differ", "attitude")
        plain = [each for each in check(engine, still) if each.relation not in again]
        assert plain == []


def test_a_side_half_undone_beside_a_finished_one_is_finished_before_anything_else_of_the_other() -> None:
    sides = {"left": ["a", "b"], "right": ["c", "d", "e"]}
    record = {"what": "heads", "sides": sides}
    steps = {name: {"minutes": 1} for name in "abcde"}
    engine = engine_of({"operations": steps, "relations": {"sides_differ": [record]}})
    assert reopens(engine, "abcd", "b") == [], "nothing of the right side depended on it"
    assert may_do(engine, "acd", "b") == []
    assert [each.relation for each in may_do(engine, "acd", "e")] == ["sides_differ"]
    assert may_do(engine, "acdb", "e") == []
