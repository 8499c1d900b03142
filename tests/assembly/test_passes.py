"""Passes that cover some bolts only, amounts by sort of bolt, orders of their own, and checks between passes."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from test_tightening import BOLT, at, refused, run, way

from endfloat.assembly.pull_rules import objection
from endfloat.assembly.tightening import (
    Close,
    Condemn,
    Deed,
    Fit,
    GoBack,
    LookAt,
    Progress,
    Pull,
    Undo,
    amount_of,
    done,
    everything_left,
    left_in_pass,
    next_check,
    next_pull,
)
from endfloat.engine.joints import Joint

FLUSH = {
    "asks": "How far does the cover stand proud of the case?",
    "after_pass": "1",
    "at": ["left dowel", "right dowel"],
    "reads": "length",
    "low": "0 mm",
    "high": "0.10 mm",
    "page": "8",
    "failed": way(slacken="all", renew="none"),
}
PLACED = {
    "asks": "Does the seal lie in its groove all round?",
    "after_pass": "2",
    "at": ["front"],
    "page": "8",
    "failed": way(slacken="all", renew="none", start_again_at="2"),
}


def cover(**changes: object) -> Joint:
    """Held by bolts 1 and 4, then all nipped in another order, then each sort to its own amount."""
    whole: dict[str, object] = {
        "title": "Cover",
        "closes": "the case",
        "page": "7",
        "drawing": {
            "view": "seen from above",
            "front": "left",
            "outline": [["0 mm", "0 mm"], ["9 mm", "0 mm"], ["9 mm", "9 mm"]],
        },
        "bolts": {"long": {**BOLT, "single_use": "false"}, "short": {**BOLT, "single_use": "false"}},
        "fasteners": [
            {"number": number, "bolt": "long" if number in "14" else "short", "x": f"{number} mm", "y": "1 mm"}
            for number in "1234"
        ],
        "sequence": ["2", "3", "1", "4"],
        "passes": [
            {"amount": "5 N·m", "bolts": ["long"], "page": "7"},
            {"amount": "8 N·m", "sequence": ["4", "3", "2", "1"], "page": "7"},
            {"amounts": {"long": "30 N·m", "short": "20 N·m"}, "page": "7"},
            {"amount": "60 °", "bolts": ["long"], "page": "7"},
        ],
        "checks": {"flush": FLUSH, "placed": PLACED},
        **changes,
    }
    return Joint.model_validate(whole)


IN = Fit("C1", at(0))
FIRST = [Pull(1, bolt, at(1)) for bolt in "14"]
SECOND = [Pull(2, bolt, at(2)) for bolt in "4321"]
THIRD = [Pull(3, bolt, at(3)) for bolt in "2314"]
LAST = [Pull(4, bolt, at(4)) for bolt in "14"]


def flush(text: str, place: str = "left dowel", within: str = "0.02 mm") -> LookAt:
    return LookAt("flush", place, text, within, at(1))


BOTH_FLUSH = [flush("0.05 mm"), flush("0.04 mm", "right dowel")]
SEAL = LookAt("placed", "front", "yes", "", at(2))
STORY: list[Deed] = [IN, *FIRST, *BOTH_FLUSH, *SECOND, SEAL, *THIRD, *LAST]


def test_a_pass_covers_its_bolts_only_and_each_pass_may_have_another_order() -> None:
    asked = []
    progress = Progress()
    for deed in STORY:
        asked.append(next_pull(cover(), progress)) if isinstance(deed, Pull) else None
        progress = run_on(cover(), progress, deed)
    assert asked == [(1, "1"), (1, "4"), *((2, b) for b in "4321"), *((3, b) for b in "2314"), (4, "1"), (4, "4")]
    assert everything_left(cover(), progress) == []
    assert run_on(cover(), progress, Close(at(5))).closed


def run_on(described: Joint, progress: Progress, deed: Deed) -> Progress:
    problem = objection(described, progress, deed, pulled_before=frozenset())
    assert problem is None, problem.text()
    return done(described, progress, deed)


def test_each_sort_of_bolt_has_its_own_amount_in_the_same_pass() -> None:
    told = [(bolt, amount.text) for bolt in "1234" if (amount := amount_of(cover(), 3, bolt))]
    assert told == [("1", "30 N·m"), ("2", "20 N·m"), ("3", "20 N·m"), ("4", "30 N·m")]


def test_a_bolt_that_a_pass_does_not_cover_is_refused_with_those_that_it_does() -> None:
    problem = refused(cover(), run(cover(), IN), Pull(1, "2", at(1)))
    assert problem.code == "not_in_pass"
    assert "a bolt of pass 1: 1, 4" in problem.text()


def test_only_the_bolts_of_a_sort_turn_by_its_angle() -> None:
    whole = run(cover(), *STORY)
    assert {bolt: cover().angle_after(bolt, whole.passes_of(bolt)) for bolt in "12"} == {"1": pytest.approx(60), "2": 0}


def test_the_next_pass_stays_shut_until_every_place_of_the_check_is_good() -> None:
    held = run(cover(), IN, *FIRST)
    assert next_check(cover(), held) == ("flush", "left dowel")
    assert refused(cover(), held, SECOND[0]).code == "check_first"
    half = run(cover(), IN, *FIRST, BOTH_FLUSH[0])
    assert "the check after pass 1 at right dowel" in refused(cover(), half, SECOND[0]).text()
    assert objection(cover(), run(cover(), IN, *FIRST, *BOTH_FLUSH), SECOND[0], pulled_before=frozenset()) is None


def test_a_check_before_its_pass_is_complete_is_refused() -> None:
    assert refused(cover(), run(cover(), IN, FIRST[0]), flush("0.05 mm")).code == "pass_too_early"


def test_a_failed_check_stops_the_joint_and_slackens_as_the_description_says() -> None:
    failed = run(cover(), IN, *FIRST, flush("0.30 mm"))
    problem = refused(cover(), failed, SECOND[0])
    assert problem.code == "rule_first"
    assert "failed at left dowel: 0.30 mm; the limit is 0 mm to 0.10 mm, page 8" in problem.text()
    assert "slacken all, renew nothing, start again at pass 1 (page 9)" in problem.text()
    again = run_on(cover(), failed, GoBack(at(6)))
    assert again.pulled == ()
    assert next_pull(cover(), again) == (1, "1")
    assert next_check(cover(), again) is None


def test_a_failed_look_slackens_its_own_pass_and_keeps_the_one_before_with_its_check() -> None:
    failed = run(cover(), IN, *FIRST, *BOTH_FLUSH, *SECOND, LookAt("placed", "front", "no", "", at(2)))
    again = run_on(cover(), failed, GoBack(at(6)))
    assert again.pulled == ((1, "1"), (1, "4"))
    assert next_pull(cover(), again) == (2, "4")
    assert next_check(cover(), again) is None


@pytest.mark.parametrize(
    ("text", "outcome"), [("0.05 mm", "good"), ("0.09 mm", "close"), ("0.11 mm", "close"), ("0.13 mm", "out")]
)
def test_a_reading_nearer_to_its_limit_than_the_gauge_can_tell_is_neither_good_nor_out(text: str, outcome: str) -> None:
    told = run(cover(), IN, *FIRST, flush(text))
    assert told.outcome("flush", "left dowel") == outcome
    assert (told.trouble is not None) == (outcome == "out")
    assert next_check(cover(), told) == (("flush", "right dowel") if outcome == "good" else ("flush", "left dowel"))


def test_an_answer_that_is_no_reading_or_neither_yes_nor_no_is_refused() -> None:
    held = run(cover(), IN, *FIRST)
    assert refused(cover(), held, flush("flat")).code == "not_a_number"
    assert refused(cover(), held, flush("3 N·m")).code == "wrong_unit"
    seal = run(cover(), IN, *FIRST, *BOTH_FLUSH, *SECOND)
    assert refused(cover(), seal, LookAt("placed", "front", "perhaps", "", at(2))).code == "no_answer"


def test_a_check_without_its_limit_does_not_open_and_names_the_page() -> None:
    blank = cover(checks={"flush": {key: each for key, each in FLUSH.items() if key not in ("low", "high")}})
    problem = refused(blank, run(blank, IN, *FIRST), flush("0.05 mm"))
    assert problem.code == "limit_missing"
    assert "page 8" in problem.text()


def test_a_bolt_pulled_twice_and_one_out_of_its_turn_follow_their_own_rules() -> None:
    twice, skipped = way(slacken="this one", renew="none"), way(slacken="all", renew="none", start_again_at="2")
    described = cover(felt_wrong={"pulled_twice": twice, "out_of_turn": skipped}, checks={})
    begun = run(described, IN, *FIRST, *SECOND[:2])
    assert "say so under `Felt wrong`" in refused(described, begun, SECOND[0]).text()
    again = run_on(described, run_on(described, begun, Condemn(2, "4", "pulled_twice", at(2))), GoBack(at(3)))
    assert again.pulled == ((1, "1"), (2, "3"))
    assert next_pull(described, again) == (1, "4")
    assert "say so under `Felt wrong`" in refused(described, begun, Pull(2, "1", at(2))).text()
    back = run_on(described, run_on(described, begun, Condemn(2, "1", "out_of_turn", at(2))), GoBack(at(3)))
    assert back.pulled == ((1, "1"), (1, "4"))
    assert refused(described, begun, Condemn(2, "1", "pulled_twice", at(2))).code == "unknown_bolt"
    assert refused(described, begun, Condemn(2, "2", "out_of_turn", at(2))).code == "unknown_bolt"


def test_undoing_the_step_that_pulled_a_pass_leaves_no_bolt_of_it_tight_and_asks_for_the_rule() -> None:
    described = cover(undone=way(slacken="all", renew="set"))
    closed = run(described, *STORY, Close(at(5)))
    undone = run_on(described, closed, Undo(2, "nip_cover", at(9)))
    assert not undone.closed
    assert undone.pulled == ((1, "1"), (1, "4"))
    assert refused(described, undone, SECOND[0]).code == "rule_first"
    assert refused(described, undone, GoBack(at(10))).code == "new_set_needed"


def test_undoing_the_step_that_only_closed_the_joint_opens_it_and_leaves_its_pulls() -> None:
    closed = run(cover(), *STORY, Close(at(5)))
    opened = run_on(cover(), closed, Undo(0, "count", at(9)))
    assert (opened.closed, opened.pulled, opened.trouble) == (False, closed.pulled, None)


BOLTS = st.sampled_from(["1", "2", "3", "4", "9"])
FELT = ["slipped", "pulled_twice", "out_of_turn"]
SPOTS = st.sampled_from(["left dowel", "right dowel", "front"])
DEEDS = st.one_of(
    st.builds(Fit, st.sampled_from(["C1", "C2"]), st.just(at(0))),
    st.builds(Pull, st.integers(0, 5), BOLTS, st.just(at(1))),
    st.builds(
        Condemn, st.integers(0, 4), BOLTS, st.sampled_from(["slipped", "pulled_twice", "out_of_turn"]), st.just(at(1))
    ),
    st.builds(
        LookAt,
        st.sampled_from(["flush", "placed", "no"]),
        st.sampled_from(["left dowel", "right dowel", "front"]),
        st.sampled_from(["yes", "no", "0.05 mm", "0.3 mm", "x"]),
        st.just("0.01 mm"),
        st.just(at(1)),
    ),
    st.builds(GoBack, st.just(at(2))),
    st.builds(Undo, st.integers(0, 4), st.just("step"), st.just(at(2))),
    st.builds(Close, st.just(at(3))),
)


@given(st.lists(st.integers(0, 99), max_size=40), st.data())
def test_whatever_is_done_a_closed_joint_has_each_bolt_of_each_pass_and_each_check(
    lucky: list[int], data: st.DataObject
) -> None:
    described, progress = cover(felt_wrong={"slipped": way(slacken="this one", renew="none")}), Progress()
    for chance in lucky:
        upcoming, due = next_pull(described, progress), next_check(described, progress)
        good: Deed = LookAt(*due, "yes" if due[0] == "placed" else "0.05 mm", "0.01 mm", at(1)) if due else Close(at(3))
        if not due and upcoming:
            good = Pull(*upcoming, at(1))
        deed = data.draw(DEEDS) if chance < 30 else good if progress.fitted else IN
        if objection(described, progress, deed, pulled_before=frozenset()) is None:
            progress = done(described, progress, deed)
        complete = [not left_in_pass(described, progress, number) for number in (1, 2, 3, 4)]
        for number, bolt in progress.pulled:
            assert bolt in described.covered(number)
        for name, _, _ in progress.checked:
            assert all(complete[: described.checks[name].after_pass])
        if progress.closed:
            assert all(complete)
            assert next_check(described, progress) is None
        assert len(set(progress.pulled)) == len(progress.pulled)
