"""The timing on the record: early deeds are refused, the gate opens tick by tick, turning back costs the wheel."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from endfloat.engine.timing import Timing
from endfloat.job.clock_events import ClockStarted
from endfloat.job.clocks import timers
from endfloat.job.description import engine_of
from endfloat.job.events import BuildEvent, BuildOrderLaidOut, Event, JobOpened, StepConfirmed, StepReopened
from endfloat.job.state import State, after, fold, refusal
from endfloat.job.timing import TimingProgress, confirm_holds, timing_after
from endfloat.job.timing_events import (
    CamsConfirmedAgain,
    DeadCentreFound,
    DeadCentreLost,
    DriveOpened,
    GateTicked,
    TimingEvent,
    TurnMade,
    WheelRead,
    WheelReadingWithdrawn,
)
from endfloat.job.timing_gate import Shut, gate_at
from endfloat.job.wire import from_body, to_body

TWIN = """\
name: Test twin
layout: twin
places: {cylinder: {names: [1, 2], bank: {left: [1], right: [2]}}}
characteristics: {}
operations:
  caps: {title: Caps down, minutes: 5}
  far_caps: {title: Far caps down, minutes: 5}
  lay: {title: Chain on, minutes: 5}
  turn: {title: Turn it, minutes: 5}
  read: {title: Read, minutes: 5}
relations:
  clocked:
    - {what: near tappets, starts: caps, cure_minutes: 75, not_before: [turn], why: a valve bends,
       bands: [{at_least: 0 °C, below: 20 °C, minutes: 75}, {at_least: 20 °C, below: 40 °C, minutes: 10}]}
    - {what: far tappets, starts: far_caps, cure_minutes: 10, not_before: [turn], why: a valve bends}
timing:
  running_way: clockwise as seen from the front
  dead_centre: {cylinder: 1, seen: both valves are shut, throw: 40 mm, rod: 140 mm, drop: 20 mm, page: 5}
  cams:
    left: {title: Left cam, bank: left, valve: intake, cylinder: 1, top_at: 360 °, reads: events, lift: 1.00 mm,
      centre: 108 °, low: 106 °, high: 110 °, opens: 6 °, closes: 42 °, teeth: 42, page: 6}
    right: {title: Right cam, bank: right, valve: exhaust, cylinder: 2, top_at: 0 °, reads: centre, centre: 112 °,
      low: 110 °, high: 114 °, teeth: 42, page: 7}
    blank: {title: Spare cam, bank: right, valve: exhaust, cylinder: 2, top_at: 0 °, reads: centre, teeth: 42, page: 9}
  gate:
    tappets: {says: They have settled, short: tappets, clocks: [near tappets, far tappets], page: 8}
    pins: {says: Pins are out, short: pins, page: 8}
  turns: 2
  turn_at: turn
  at: {read: [left, right, blank]}
  confirm_before: {lay: {says: They stand, cams: [left], page: 8}}
  overshoot: {says: Go round., page: 9}
  longest_pause: 30 min
  alike: 1 °
"""
OPENED = JobOpened("demo", TWIN, "")


def at(minute: float) -> str:
    return (datetime(2026, 5, 3, 10, tzinfo=UTC) + timedelta(minutes=minute)).isoformat()


def timing() -> Timing:
    found = engine_of(TWIN).timing
    assert found is not None
    return found


FOUND = DeadCentreFound("dc", "-61.5", "64.5", "R1", "Ana", at(0))
PINS = GateTicked("t2", "pins", "Ana", at(1))
CAPS = [StepConfirmed("caps", "Ana", at(-80)), StepConfirmed("far_caps", "Ana", at(-10))]
OPENS = WheelRead("r1", "left", "opens", "355.5", "R1", False, False, "Ana", at(2))
TURNED = TurnMade("turn", 2, "Ana", at(5))
READY: list[Event] = [OPENED, *CAPS, FOUND, PINS]


def refused(state: State, event: Event) -> str:
    problem = refusal(state, event)
    assert problem is not None, "it was allowed"
    assert problem.remedy
    return problem.code


def progress(events: list[Event]) -> TimingProgress:
    return timing_after(timing(), fold(events).timing)


@pytest.mark.parametrize(
    ("before", "after", "code"),
    [
        ("339", "24", None),
        ("-21", "24", None),
        ("-21 °", "24,5 °", None),
        ("100", "205", None),
        ("24", "-21", "no_dead_centre"),  # the two touches exchanged: the middle is the bottom
        ("20", "20", "no_dead_centre"),
        ("20", "23", "no_dead_centre"),
        ("", "23", "empty"),
        ("20", "drei", "not_a_number"),
        ("20", "23 mm", "wrong_unit"),
        ("20", "400", "more_than_a_turn"),
    ],
)
def test_two_touches_are_a_dead_centre_only_the_running_way(before: str, after: str, code: str | None) -> None:
    problem = refusal(fold([OPENED, *CAPS, PINS]), replace(FOUND, before=before, after=after))
    assert (problem and problem.code) == code


def test_dead_centre_turns_the_crank_and_so_waits_for_the_gate() -> None:
    for left_out in (*CAPS, PINS):
        assert refused(fold([OPENED, *(each for each in (*CAPS, PINS) if each != left_out)]), FOUND) == "shut"
    assert refusal(fold([OPENED, *CAPS, PINS]), FOUND) is None


def test_a_reading_waits_for_dead_centre_and_gate_and_says_so() -> None:
    assert refused(fold([OPENED]), OPENS) == "no_dead_centre"
    shut_still = fold([OPENED, FOUND, PINS])
    problem = refusal(shut_still, OPENS)
    assert problem is not None
    assert (problem.code, problem.found) == ("shut", "the gate shut: tappets, not begun")
    assert refusal(fold(READY), OPENS) is None
    assert refused(fold(READY), replace(OPENS, cam="middle")) == "unknown_cam"
    assert refused(fold(READY), replace(OPENS, point="centre")) == "unknown_point"
    assert refused(fold(READY), replace(OPENS, text="35O")) == "unknown_unit"
    assert refused(fold(READY), replace(OPENS, turned=True)) == "other_turns"
    assert refused(fold(READY), replace(OPENS, cam="blank", point="centre")) == "still_to_look_up"
    assert refused(fold(READY), replace(OPENS, by=" ")) == "no_name"
    assert refused(fold([*READY, OPENS]), OPENS) == "key_used"


def shut_by(building: Sequence[BuildEvent], minute: float) -> tuple[Shut, ...]:
    return gate_at(engine_of(TWIN), {"pins": PINS}, building, at(minute)).shut


def warmth(told: str, minute: float, clock: str = "near tappets") -> ClockStarted:
    return ClockStarted(f"{clock} {told}", clock, told, "Ana", at(minute))


def test_a_wait_is_longer_where_it_is_colder_and_runs_by_the_clocks_of_the_build() -> None:
    near, far = StepConfirmed("caps", "Ana", at(0)), StepConfirmed("far_caps", "Ana", at(1))
    assert shut_by([], 0)[0].words == "tappets, not begun"
    assert "Caps down" in shut_by([], 0)[0].says
    assert shut_by([near], 90)[0].words == "tappets, not begun", "one of the two has not begun"
    [left] = shut_by([near, far], 37)
    assert left.words == "tappets, 38 minutes"
    assert "still to be typed" in left.says
    warm = [near, far, warmth("21 °C", 2)]
    [left] = shut_by(warm, 2)
    assert left.words == "tappets, 9 minutes", "the far ones, which began later, end last"
    assert "still to be typed" not in left.says
    assert shut_by(warm, 10.5)[0].words == "tappets, 1 minute"
    assert shut_by(warm, 11) == ()
    undone = [*warm, StepReopened("caps", "cap back", "Ana", at(12))]
    assert shut_by(undone, 200)[0].words == "tappets, not begun", "who draws the caps down anew waits anew"


def test_a_wait_is_not_ticked() -> None:
    by_hand = GateTicked("t3", "tappets", "Ana", at(0))
    assert refused(fold(READY), by_hand) == "by_clock"
    assert refused(fold(READY), replace(by_hand, condition="oil")) == "unknown_condition"
    assert refused(fold(READY), replace(PINS, key="t3")) == "ticked"


@given(st.integers(0, 100), st.integers(0, 6000), st.sampled_from(["", "0 °C", "19.9 °C", "20 °C", "25 °C"]))
def test_the_gate_tells_what_its_clock_tells_and_opens_once(later: int, second: int, told: str) -> None:
    building: list[BuildEvent] = [StepConfirmed("caps", "Ana", at(0)), StepConfirmed("far_caps", "Ana", at(later))]
    building += [warmth(told, later)] if told else []
    now = later + second / 60
    running = [each for each in timers(engine_of(TWIN), building, at(now)) if not each.is_over]
    shut = shut_by(building, now)
    assert bool(shut) == bool(running)
    if running:
        longest = max(each.seconds_left for each in running)
        assert shut[0].words == f"tappets, {-(-longest // 60)} minute{'s' if longest > 60 else ''}"
    else:
        assert shut_by(building, now + 30) == ()


def test_the_turn_is_refused_while_the_gate_is_shut_and_made_once() -> None:
    problem = refusal(fold([OPENED]), TURNED)
    assert problem is not None
    assert (problem.code, problem.found) == ("shut", "the gate shut: tappets, not begun; pins")
    assert refused(fold(READY), replace(TURNED, turns=1)) == "other_turns"
    assert refusal(fold(READY), TURNED) is None
    assert refused(fold([*READY, TURNED]), replace(TURNED, key="again")) == "turned"
    assert refused(fold([*READY, TURNED]), replace(OPENS, key="r2")) == "other_turns"
    assert refusal(fold([*READY, TURNED]), replace(OPENS, key="r2", turned=True)) is None


def test_a_crank_turned_back_has_no_dead_centre_until_it_is_found_again() -> None:
    lost = DeadCentreLost("l", "turned_back", "Ana", at(3))
    assert refused(fold([OPENED]), lost) == "not_found"
    assert refused(fold(READY), replace(lost, why="tired")) == "unknown_reason"
    state = fold([*READY, OPENS, lost])
    problem = refusal(state, replace(OPENS, key="r2", point="closes"))
    assert problem is not None
    assert "Turn to dead centre again before you trust the wheel." in problem.text()
    assert "turned back" in problem.text()
    again = fold([*READY, OPENS, lost, replace(FOUND, key="dc2", before="-60", after="66")])
    assert refusal(again, replace(OPENS, key="r2", point="closes")) is None
    kept = timing_after(timing(), again.timing)
    assert [each.by.key for each in kept.readings] == ["dc"], (
        "what was read before keeps the dead centre it was read by"
    )


def test_after_a_long_pause_the_wheel_is_not_trusted() -> None:
    state = fold([*READY, OPENS])
    assert refusal(state, replace(OPENS, key="r2", point="closes", at=at(32))) is None
    assert refused(state, replace(OPENS, key="r2", point="closes", at=at(33))) == "paused"
    again = after(state, replace(FOUND, key="dc2", at=at(40)))
    assert refused(again, replace(OPENS, key="r2", point="closes", at=at(41))) == "shut"
    seen = after(again, replace(PINS, key="t9", at=at(41)))
    assert refusal(seen, replace(OPENS, key="r2", point="closes", at=at(42))) is None


def test_who_stops_in_the_middle_ticks_the_gate_anew() -> None:
    stopped = [DeadCentreLost("l", "interrupted", "Ana", at(3)), replace(FOUND, key="dc2", at=at(4))]
    assert refused(fold([*READY, OPENS, *stopped]), replace(TURNED, at=at(5))) == "shut"
    moved = [DeadCentreLost("l", "wheel_moved", "Ana", at(3)), replace(FOUND, key="dc2", at=at(4))]
    assert refusal(fold([*READY, OPENS, *moved]), replace(TURNED, at=at(5))) is None


def test_a_withdrawn_reading_stays_on_the_record_and_counts_no_more() -> None:
    gone = WheelReadingWithdrawn("w", "r1", "parallax", "Ana", at(3))
    assert refused(fold(READY), gone) == "no_reading"
    assert refused(fold([*READY, OPENS]), replace(gone, reason=" ")) == "no_reason"
    assert progress([*READY, OPENS, gone]).readings == ()
    assert refused(fold([*READY, OPENS, gone]), replace(gone, key="w2")) == "no_reading"


def test_an_opened_drive_takes_readings_ticks_and_turns() -> None:
    right = WheelRead("r3", "right", "centre", "248", "R1", False, False, "Ana", at(3))
    again = [replace(OPENS, key="r4", turned=True), replace(right, key="r5", turned=True)]
    opened = DriveOpened("o", ("left",), "a tooth out", "Ana", at(6))
    assert refused(fold(READY), replace(opened, cams=())) == "unknown_cam"
    assert refused(fold(READY), replace(opened, cams=("middle",))) == "unknown_cam"
    assert refused(fold(READY), replace(opened, reason="")) == "no_reason"
    now = progress([*READY, OPENS, right, TURNED, *again, opened])
    assert now.turned is None
    assert now.ticks == {}
    assert [(each.read.key, each.read.turned) for each in now.readings] == [("r5", False)]
    assert now.dead_centre == FOUND, "the wheel was not touched"


def test_cams_are_confirmed_right_before_their_step_and_any_entry_in_between_makes_it_void() -> None:
    engine = engine_of(TWIN)
    state = fold([OPENED])
    confirmed = CamsConfirmedAgain("c", "lay", 0, "Ana", at(1))
    assert confirm_holds(engine.timing, state.timing, state.building, "lay")
    assert refused(state, replace(confirmed, step="turn")) == "unknown_step"
    state = after(state, confirmed)
    assert confirm_holds(engine.timing, state.timing, state.building, "lay") == []
    assert confirm_holds(engine.timing, state.timing, state.building, "turn") == []
    order = BuildOrderLaidOut(("lay", "turn", "read"), 0, 0, 0, True, "Ana")
    for between in (order, StepConfirmed("read", "Ana", at(2))):
        [hold] = confirm_holds(engine.timing, state.timing, after(state, between).building, "lay")
        assert "Something was done since they were confirmed." in hold.sentence
    late = after(state, StepConfirmed("read", "Ana", at(2)))
    assert refused(late, replace(confirmed, key="c2")) == "step_between"
    assert refusal(late, replace(confirmed, key="c2", entries=1)) is None


def test_an_engine_without_timing_says_what_to_add() -> None:
    bare = JobOpened("demo", TWIN[: TWIN.index("timing:")], "")
    assert refused(fold([bare]), FOUND) == "no_timing"


KEYS = st.integers(0, 40).map(str)
NAMES = st.sampled_from(["Ana", "Ana", "Ana", " "])
TIMES = st.integers(0, 50).map(at)
CAMS, POINTS = st.sampled_from(["left", "right", "middle"]), st.sampled_from(["opens", "closes", "centre"])
TIMING_EVENTS: st.SearchStrategy[TimingEvent] = st.one_of(
    st.builds(DeadCentreFound, KEYS, st.just("-20"), st.sampled_from(["24", "x"]), st.just("R1"), NAMES, TIMES),
    st.builds(DeadCentreLost, KEYS, st.sampled_from(["turned_back", "interrupted"]), NAMES, TIMES),
    st.builds(WheelRead, KEYS, CAMS, POINTS, st.just("10"), st.just("R1"), st.booleans(), st.booleans(), NAMES, TIMES),
    st.builds(WheelReadingWithdrawn, KEYS, KEYS, st.just("slip"), NAMES, TIMES),
    st.builds(DriveOpened, KEYS, st.lists(CAMS, max_size=2).map(tuple), st.just("a tooth"), NAMES, TIMES),
    st.builds(GateTicked, KEYS, st.sampled_from(["tappets", "pins"]), NAMES, TIMES),
    st.builds(TurnMade, KEYS, st.sampled_from([2, 2, 1]), NAMES, TIMES),
    st.builds(CamsConfirmedAgain, KEYS, st.sampled_from(["lay", "turn"]), st.just(0), NAMES, TIMES),
)


@given(st.lists(TIMING_EVENTS, max_size=30))
def test_a_record_of_allowed_deeds_never_holds_a_turn_with_the_gate_shut_or_a_reading_without_dead_centre(
    wanted: list[TimingEvent],
) -> None:
    state, record = fold([OPENED, *CAPS]), []
    for event in wanted:
        if refusal(state, event) is not None:
            continue
        before = timing_after(timing(), state.timing)
        state, record = after(state, event), [*record, event]
        if isinstance(event, TurnMade):
            assert gate_at(engine_of(TWIN), before.ticks, state.building, event.at).shut == ()
        if isinstance(event, WheelRead):
            assert before.dead_centre is not None
            assert event.turned == (before.turned is not None)
    assert fold(from_body(to_body(event)) for event in [OPENED, *CAPS, *record]) == state
    now = timing_after(timing(), state.timing)
    assert len({each.read.key for each in now.readings}) == len(now.readings)
