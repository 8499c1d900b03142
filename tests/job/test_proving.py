"""Proving: two people, what stops the engine, and what opens the lists again."""

from dataclasses import replace
from datetime import datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from endfloat.engine.proving import Proving
from endfloat.job.description import engine_of
from endfloat.job.events import BuildOrderLaidOut, Event, JobOpened, StepConfirmed, StepReopened
from endfloat.job.pause_events import WorkStopped, WorkTakenUp
from endfloat.job.proof import Proof, overdue, proof_of
from endfloat.job.proving_events import (
    EngineStopped,
    FiredAgain,
    FirstFired,
    GaugeLogged,
    PrimingDone,
    ProvingWithdrawn,
    ReadyTicked,
    ReadyUnticked,
    RecheckDone,
    RunInLogged,
)
from endfloat.job.state import State, after, fold, refusal
from endfloat.job.wire import from_body, to_body

TWIN = """\
name: Test twin
layout: twin
places: {cylinder: {names: [1, 2]}}
characteristics: {}
operations:
  bead: {title: Lay the bead, minutes: 2}
  wait: {title: Lay out the plugs, minutes: 40}
relations:
  clocked:
    - {what: bead, starts: bead, cure_minutes: 30, not_before: [wait], why: it leaks}
proving:
  priming:
    fill: {title: Fill}
    spin: {title: Spin, shows: {gauge: oil, low: 1.0 bar, page: 6}}
  ready:
    built: {what: Built, sees: every step done}
    primed: {what: Primed, sees: every priming step done}
    levels: {what: Levels, who: first}
    stop: {what: Stop, who: second}
  gauges:
    oil: {title: Oil, unit: bar}
    water: {title: Water, unit: °C}
    noise: {title: Noise, words: [even, knock]}
  stop_now:
    no_oil: {gauge: oil, below: 0.8 bar, after: 8 s, say: No oil., page: 6}
    hot: {gauge: water, above: 105 °C, say: Hot., page: 6}
    knock: {gauge: noise, hears: [knock], say: Knock.}
  run_in:
    short: {title: Short, lasts: 20 min}
    long: {title: Long, lasts: 2 h}
  recheck:
    leaks: {what: Dry, sort: leaks, after: short}
"""
START = datetime.fromisoformat("2026-05-03T10:00:00+00:00")
OPENED = JobOpened("demo", TWIN, "")
CLOCK = TWIN.replace("    levels:", "    cured: {what: Cured, sees: no clock running}\n    levels:")


def at(seconds: float) -> str:
    return (START + timedelta(seconds=seconds)).isoformat()


BUILT: list[Event] = [
    BuildOrderLaidOut(("bead", "wait"), 0, 0, 0, True, "Ana"),
    StepConfirmed("bead", "Ana", at(-7200)),
    StepConfirmed("wait", "Ana", at(-7000)),
]
PRIMED: list[Event] = [
    PrimingDone("a", "fill", "", "Ana", at(-60)),
    PrimingDone("b", "spin", "1.4 bar", "Ana", at(-50)),
]
TICKED: list[Event] = [ReadyTicked("levels", "first", "Ana", at(-40)), ReadyTicked("stop", "second", "Bo", at(-30))]
FIRED = FirstFired("Ana", "Bo", at(0))
RUNNING = fold([OPENED, *BUILT, *PRIMED, *TICKED, FIRED])


def proof(state: State) -> Proof:
    return proof_of(engine_of(TWIN).proving or Proving(), state.proving)


def code(state: State, event: Event) -> str:
    problem = refusal(state, event)
    return problem.code if problem else ""


def test_the_engine_fires_when_built_primed_and_looked_at_by_two_and_not_one_piece_earlier() -> None:
    whole: list[Event] = [*BUILT, *PRIMED, *TICKED]
    for left_out in whole:
        state = fold([OPENED, *(each for each in whole if each != left_out)])
        assert code(state, FIRED) == "not_ready", left_out
    assert code(fold([OPENED, *whole]), FIRED) == ""


@pytest.mark.parametrize("name", ["Ana", " ana ", "ANA"])
def test_the_first_person_cannot_be_the_second_however_the_name_is_written(name: str) -> None:
    state = fold([OPENED, *BUILT, *PRIMED, TICKED[0]])
    assert code(state, ReadyTicked("stop", "second", name, at(0))) == "same_person"
    assert code(state, ReadyTicked("stop", "second", "Bo", at(0))) == ""


def test_the_two_who_looked_are_the_two_who_fire() -> None:
    state = fold([OPENED, *BUILT, *PRIMED, *TICKED])
    for by, second in (("Bo", "Ana"), ("Ana", "Ana"), ("Ana", "Cy"), ("Cy", "Bo")):
        assert code(state, FirstFired(by, second, at(0))) == "other_people"
    assert code(state, FiredAgain("Ana", "Bo", at(0))) == "fired_before"


def test_one_list_is_one_persons_and_a_tick_taken_back_shuts_the_fire() -> None:
    twice = TWIN.replace("    stop:", "    tools: {what: Tools, who: first}\n    stop:")
    state = fold([JobOpened("demo", twice, ""), *BUILT, *PRIMED, *TICKED])
    assert code(state, ReadyTicked("tools", "first", "Cy", at(0))) == "other_person"
    assert code(state, ReadyTicked("tools", "second", "Bo", at(0))) == "unknown_item"
    whole = after(state, ReadyTicked("tools", "first", "Ana", at(0)))
    assert code(whole, FIRED) == ""
    back = ReadyUnticked("stop", "second", "Bo", at(0))
    assert code(after(whole, back), FIRED) == "not_ready"
    assert code(after(whole, back), back) == "not_ticked"


def test_a_step_undone_after_both_lists_are_complete_shuts_the_fire() -> None:
    undone = StepReopened("wait", "a rag is missing", "Ana", at(-10))
    assert code(fold([OPENED, *BUILT, *PRIMED, *TICKED, undone]), FIRED) == "not_ready"


def test_while_work_is_stopped_nobody_primes_or_fires_and_an_engine_that_runs_is_stopped_all_the_same() -> None:
    stop = WorkStopped("s", "the bell", (), (), (), (), "Cy", at(-20))
    taken_up = WorkTakenUp("t", ("wait",), (), (), "Ana", at(-10))
    ready = fold([OPENED, *BUILT, *PRIMED, *TICKED, stop])
    problem = refusal(ready, FIRED)
    assert problem is not None
    assert (problem.code, problem.found) == ("stopped", "work that Cy stopped")
    assert "Read the tag" in problem.remedy
    assert code(fold([OPENED, *BUILT, stop]), PRIMED[0]) == "stopped"
    assert code(after(ready, taken_up), FIRED) == ""
    assert code(fold([OPENED, *BUILT, stop, taken_up]), PRIMED[0]) == ""
    running = after(RUNNING, replace(stop, at=at(20)))
    assert code(running, GaugeLogged("g", "oil", "2 bar", "Ana", at(30))) == ""
    halted = EngineStopped("", False, "Ana", at(40))
    assert code(running, halted) == ""
    assert code(after(running, halted), FiredAgain("Ana", "Bo", at(50))) == "stopped"


def test_steps_after_the_one_that_is_the_first_start_are_not_waited_for() -> None:
    until = TWIN.replace("sees: every step done}", "sees: every step done, until: wait}")
    built = [BuildOrderLaidOut(("bead", "wait"), 0, 0, 0, True, "Ana"), StepConfirmed("bead", "Ana", at(-7200))]
    assert code(fold([JobOpened("demo", until, ""), *built, *PRIMED, *TICKED]), FIRED) == ""
    assert code(fold([OPENED, *built, *PRIMED, *TICKED]), FIRED) == "not_ready"


@pytest.mark.parametrize(("minutes", "expected"), [(29, "not_ready"), (30, "")])
def test_a_cure_that_still_runs_shuts_the_fire(minutes: int, expected: str) -> None:
    events = [*BUILT, *PRIMED, *TICKED]
    fired = FirstFired("Ana", "Bo", at(-7200 + minutes * 60))
    assert code(fold([JobOpened("demo", CLOCK, ""), *events]), fired) == expected


def test_a_stop_whose_limit_is_still_to_look_up_shuts_the_fire() -> None:
    blank = TWIN.replace("below: 0.8 bar", "below: ")
    problem = refusal(fold([JobOpened("demo", blank, ""), *BUILT, *PRIMED, *TICKED]), FIRED)
    assert problem is not None
    assert "Its limit is not entered" in problem.found


def test_priming_goes_in_its_order_and_waits_for_what_the_gauge_must_show() -> None:
    state = fold([OPENED])
    assert code(state, PrimingDone("b", "spin", "1.4 bar", "Ana", at(0))) == "too_early"
    filled = after(state, PRIMED[0])
    for showed, expected in (
        ("0.99 bar", "not_shown"),
        ("", "empty"),
        ("1 psi", "not_shown"),
        ("20 psi", ""),
        ("1.0", ""),
    ):
        assert code(filled, PrimingDone("b", "spin", showed, "Ana", at(0))) == expected, showed


def test_priming_taken_back_takes_what_came_after_it_along() -> None:
    state = fold([OPENED, *PRIMED, ProvingWithdrawn("a", "the drain was open", "Ana", at(0))])
    assert proof(state).primed == {}
    assert code(state, PrimingDone("c", "fill", "", "Ana", at(0))) == ""
    assert code(state, ProvingWithdrawn("a", "again", "Ana", at(0))) == "no_entry"


@pytest.mark.parametrize(
    ("gauge", "text", "seconds", "stops"),
    [
        ("oil", "0.0 bar", 7.9, []),
        ("oil", "0.79", 8, ["no_oil"]),
        ("oil", "0.8 bar", 8, []),
        ("oil", "10 psi", 8, ["no_oil"]),
        ("water", "105 °C", 1, []),
        ("water", "105,1", 1, ["hot"]),
        ("noise", "Knock", 1, ["knock"]),
        ("noise", "even", 1, []),
    ],
)
def test_a_value_beyond_a_rule_says_stop_at_once_and_one_at_it_does_not(
    gauge: str, text: str, seconds: float, stops: list[str]
) -> None:
    event = GaugeLogged("g", gauge, text, "Ana", at(seconds))
    assert code(RUNNING, event) == ""
    assert [name for name, _ in proof(after(RUNNING, event)).stops_said] == stops


def test_a_gauge_that_nobody_wrote_down_in_time_is_waited_for() -> None:
    proving = engine_of(TWIN).proving or Proving()
    assert overdue(proving, proof(RUNNING), at(7)) == []
    assert overdue(proving, proof(RUNNING), at(8)) == ["no_oil"]
    early = after(RUNNING, GaugeLogged("g", "oil", "0.2 bar", "Ana", at(3)))
    assert overdue(proving, proof(early), at(8)) == ["no_oil"]
    well = after(early, GaugeLogged("h", "oil", "2.2 bar", "Ana", at(5)))
    assert overdue(proving, proof(well), at(60)) == []


def test_after_a_stop_at_once_both_lists_open_again_and_a_planned_stop_leaves_them() -> None:
    planned = after(RUNNING, EngineStopped("warm", True, "Ana", at(60)))
    assert code(planned, FiredAgain("Ana", "Bo", at(90))) == ""
    assert code(planned, FirstFired("Ana", "Bo", at(90))) == "fired_before"
    for stopped in (
        [EngineStopped("a noise", False, "Ana", at(60))],
        [GaugeLogged("g", "water", "110 °C", "Ana", at(50)), EngineStopped("", True, "Ana", at(60))],
    ):
        state = fold(stopped, RUNNING)
        assert code(state, FiredAgain("Ana", "Bo", at(90))) == "not_ready"
        assert code(state, RunInLogged("r", "short", "20 min", "", "Ana", at(90))) == "opened_again"
        again = fold(TICKED, state)
        assert code(again, FiredAgain("Ana", "Bo", at(90))) == ""


def test_a_value_that_said_stop_is_not_taken_back_while_the_engine_runs() -> None:
    state = after(RUNNING, GaugeLogged("g", "oil", "0.3 bar", "Ana", at(20)))
    slip = ProvingWithdrawn("g", "it was 3.0", "Ana", at(22))
    assert code(state, slip) == "stop_first"
    stopped = after(state, EngineStopped("", False, "Ana", at(24)))
    assert code(stopped, slip) == ""
    assert proof(after(stopped, slip)).opened_again is not None


def test_nothing_is_logged_or_stopped_on_an_engine_that_stands_still() -> None:
    still = fold([OPENED, *BUILT, *PRIMED, *TICKED])
    assert code(still, GaugeLogged("g", "oil", "2 bar", "Ana", at(0))) == "not_running"
    assert code(still, EngineStopped("", False, "Ana", at(0))) == "not_running"
    assert code(RUNNING, ReadyTicked("levels", "first", "Ana", at(1))) == "running"
    assert code(RUNNING, FiredAgain("Ana", "Bo", at(1))) == "running"


def test_the_run_in_goes_stage_by_stage_and_waits_for_what_is_looked_at_again() -> None:
    state = after(RUNNING, EngineStopped("", True, "Ana", at(60)))
    long, leaks = RunInLogged("l", "long", "2 h", "", "Ana", at(90)), RecheckDone("k", "leaks", "", True, "Ana", at(91))
    assert code(state, long) == "too_early"
    assert code(state, leaks) == "not_due"
    half = after(state, RunInLogged("s1", "short", "12 min", "", "Ana", at(70)))
    assert code(half, leaks) == "not_due"
    whole = after(half, RunInLogged("s2", "short", "480 s", "", "Ana", at(80)))
    assert code(whole, long) == "too_early"
    weeps = RecheckDone("k", "leaks", "the sump weeps", False, "Ana", at(91))
    assert code(whole, weeps) == ""
    assert code(after(whole, weeps), long) == "too_early"
    assert code(after(whole, leaks), long) == ""
    for lasted, expected in (("0 min", "not_above_nought"), ("20", "missing_unit"), ("3 km", "wrong_unit")):
        assert code(state, RunInLogged("x", "short", lasted, "", "Ana", at(70))) == expected
    back = after(whole, ProvingWithdrawn("s2", "it was not run", "Ana", at(95)))
    assert code(back, leaks) == "not_due"


KEYS = st.integers(0, 9).map(str)
NAMES = st.sampled_from(["Ana", "Bo", "ana", " "])
TIMES = st.integers(0, 200).map(at)
ITEMS, ROLES = st.sampled_from(["levels", "stop"]), st.sampled_from(["first", "second"])
SHOWN, LASTED = st.sampled_from(["0.1", "knock", "2 bar", ""]), st.sampled_from(["20 min", "1 h", "x"])
WANTED = st.one_of(
    st.builds(PrimingDone, KEYS, st.sampled_from(["fill", "spin"]), SHOWN, NAMES, TIMES),
    st.builds(ReadyTicked, ITEMS, ROLES, NAMES, TIMES),
    st.builds(ReadyUnticked, ITEMS, ROLES, NAMES, TIMES),
    st.builds(FirstFired, NAMES, NAMES, TIMES),
    st.builds(FiredAgain, NAMES, NAMES, TIMES),
    st.builds(GaugeLogged, KEYS, st.sampled_from(["oil", "noise", "?"]), SHOWN, NAMES, TIMES),
    st.builds(EngineStopped, st.sampled_from(["", "noise"]), st.booleans(), NAMES, TIMES),
    st.builds(RunInLogged, KEYS, st.sampled_from(["short", "long"]), LASTED, st.just(""), NAMES, TIMES),
    st.builds(RecheckDone, KEYS, st.just("leaks"), st.just("dry"), st.booleans(), NAMES, TIMES),
    st.builds(ProvingWithdrawn, KEYS, st.sampled_from(["slip", " "]), NAMES, TIMES),
)


def signers(now: Proof, role: str) -> set[str]:
    return {tick.by.strip().casefold() for (_, ticked), tick in now.ticks.items() if ticked == role}


@given(st.booleans(), st.lists(WANTED, max_size=30))
def test_however_entries_come_the_engine_never_runs_without_two_names_and_replay_is_the_live_state(
    ready: bool, wanted: list[Event]
) -> None:
    record: list[Event] = [OPENED, *BUILT, *(PRIMED if ready else []), *(TICKED if ready else [])]
    state = fold(record)
    for event in wanted:
        before = proof(state)
        if refusal(state, event) is not None:
            continue
        state, record = after(state, event), [*record, event]
        now = proof(state)
        if isinstance(event, FirstFired | FiredAgain):
            assert {role for _, role in before.ticks} == {"first", "second"}
            assert event.by.strip().casefold() != event.second.strip().casefold()
            assert set(before.primed) == {"fill", "spin"}
        if isinstance(event, EngineStopped) and (not event.planned or before.stops_said):
            assert now.ticks == {}
        assert not signers(now, "first") & signers(now, "second")
        assert len(signers(now, "first")) <= 1 >= len(signers(now, "second"))
    assert fold(from_body(to_body(event)) for event in record) == state
