"""A step is done when its mark is right, its counts agree, its looks are ticked and its hidden parts answered for."""

import dataclasses

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cast import V8, example
from endfloat.engine.asks import asks_of, same_mark
from endfloat.job.asked import unanswered
from endfloat.job.events import StepConfirmed

ENGINE, _, _ = example(V8)
NOW = "2026-05-03T10:00:00+00:00"


def rightly(step: str) -> StepConfirmed:
    """The step confirmed with everything answered as it should be."""
    asks = asks_of(ENGINE, step)
    return StepConfirmed(
        step,
        "Ana",
        NOW,
        tuple(look.what for look in asks.looks),
        "Bo",
        asks.mark,
        {what: str(wanted) for what, wanted in asks.counts.items()},
        dict.fromkeys(asks.hides, "sound"),
    )


def test_every_step_of_the_v8_is_done_when_all_that_it_asks_for_is_answered() -> None:
    assert [unanswered(ENGINE, rightly(step)) for step in ENGINE.operations] == [None] * len(ENGINE.operations)


@given(st.integers(1, 8).filter(lambda number: number != 6))
def test_the_piston_of_another_bore_is_refused_by_its_mark(number: int) -> None:
    problem = unanswered(ENGINE, dataclasses.replace(rightly("piston_6"), mark=str(number)))
    assert problem is not None
    assert problem.code == "other_part"
    assert f"`{number}`" in problem.text()
    assert "`6`" in problem.text()


@given(st.sampled_from(["l 3", "L3", " L3 ", "l3"]))
def test_spaces_and_capitals_do_not_tell_marks_apart(read: str) -> None:
    assert same_mark(read, "L3")
    assert not same_mark(read, "L8")


@pytest.mark.parametrize("typed", ["", "7", "nine", "08", "8 "])
def test_rags_are_counted_out_to_the_last(typed: str) -> None:
    problem = unanswered(
        ENGINE, dataclasses.replace(rightly("rags_out"), counted={"rags in the intake ports: out": typed})
    )
    assert (problem is None) == (typed.strip() == "8")
    if problem:
        assert problem.code == "wrong_count"
        assert typed.strip() in problem.text()


def test_easily_missed_bolts_are_counted_where_they_are_counted_not_where_they_are_fitted() -> None:
    assert asks_of(ENGINE, "left_m8_counted").counts == {"M8 bolts in the left timing space": 3}
    assert asks_of(ENGINE, "left_m8").counts == {}
    short = dataclasses.replace(rightly("left_m8_counted"), counted={"M8 bolts in the left timing space": "2"})
    problem = unanswered(ENGINE, short)
    assert problem is not None
    assert problem.code == "wrong_count"


def test_a_lock_of_which_there_is_one_is_ticked_in_and_out() -> None:
    assert "crank lock: in" in [look.what for look in asks_of(ENGINE, "crank_lock_in").looks]
    assert "crank lock: out" in [look.what for look in asks_of(ENGINE, "crank_lock_out").looks]
    problem = unanswered(ENGINE, dataclasses.replace(rightly("crank_lock_out"), looked=()))
    assert problem is not None
    assert problem.code == "not_looked"


@pytest.mark.parametrize("answer", ["", "perhaps"])
def test_a_part_that_the_manifold_hides_is_answered_for_before_it_is_hidden(answer: str) -> None:
    given_answers = dict(rightly("manifold").hidden, **{"coolant hose under the manifold": answer})
    problem = unanswered(ENGINE, dataclasses.replace(rightly("manifold"), hidden=given_answers))
    assert problem is not None
    assert problem.code == "not_answered"
    assert "coolant hose under the manifold" in problem.text()
