"""A state lost by undoing holds the steps that need it until somebody says that it is so again."""

from endfloat.job.conditions import lost_conditions
from endfloat.job.description import engine_of
from endfloat.job.events import Event, JobOpened, StepConfirmed, StepReopened
from endfloat.job.order_events import ConditionRegained
from endfloat.job.state import fold, refusal
from endfloat.job.wire import from_body, to_body

CHAIN = """\
name: Test twin
layout: twin
places: {cylinder: {names: [1, 2]}}
characteristics: {}
operations:
  feed: {title: Feed the chain, minutes: 1}
  guide: {title: Close the guide, minutes: 1}
  head: {title: Lower the head, minutes: 1}
  bench: {title: Sweep the bench, minutes: 1}
relations:
  kept_true:
    - {state: the chain hangs taut, set_by: feed, during: [head], lost_by_undoing: [guide],
       regain: look into the case and draw it up again, why: a dropped chain lies in the case}
"""
AT = "2026-05-03T10:00:00+00:00"
OPENED = JobOpened("twin", CHAIN, "")
AGAIN = ConditionRegained("k1", "the chain hangs taut", "Ana", AT)
DROPPED: list[Event] = [
    OPENED,
    StepConfirmed("feed", "Ana", AT),
    StepConfirmed("guide", "Ana", AT),
    StepReopened("guide", "wrong bolt", "Ana", AT),
]


def refused(events: list[Event], event: Event) -> str:
    problem = refusal(fold(events), event)
    return problem.code if problem else ""


def test_after_the_undo_the_step_that_needs_the_state_is_held_with_the_rule_and_others_are_not() -> None:
    problem = refusal(fold(DROPPED), StepConfirmed("head", "Ana", AT))
    assert problem is not None
    assert problem.code == "condition_lost"
    assert "Once lost: look into the case and draw it up again." in problem.found
    assert refused(DROPPED, StepConfirmed("bench", "Ana", AT)) == ""
    assert refused(DROPPED[:3], StepConfirmed("head", "Ana", AT)) == ""


def test_once_it_is_so_again_the_step_goes_on() -> None:
    assert refused(DROPPED, AGAIN) == ""
    assert refused([*DROPPED, AGAIN], StepConfirmed("head", "Ana", AT)) == ""
    assert lost_conditions(engine_of(CHAIN), fold([*DROPPED, AGAIN]).building) == {}


def test_doing_again_the_step_that_sets_it_brings_it_back_too() -> None:
    again = [*DROPPED, StepReopened("feed", "dropped", "Ana", AT), StepConfirmed("feed", "Ana", AT)]
    assert refused(again, StepConfirmed("head", "Ana", AT)) == ""


def test_it_is_not_said_twice_nor_without_a_name_nor_where_nothing_is_lost() -> None:
    assert refused(DROPPED[:3], AGAIN) == "not_lost"
    assert refused(DROPPED, ConditionRegained("k1", AGAIN.condition, " ", AT)) == "no_name"
    lost_again = [*DROPPED, AGAIN, StepConfirmed("guide", "Ana", AT), StepReopened("guide", "again", "Ana", AT)]
    assert refused(lost_again, AGAIN) == "key_used"
    assert refused(lost_again, ConditionRegained("k2", AGAIN.condition, "Ana", AT)) == ""


def test_the_event_comes_back_from_the_record_as_it_was() -> None:
    assert from_body(to_body(AGAIN)) == AGAIN
