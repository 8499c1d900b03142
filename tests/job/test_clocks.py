"""Clock arithmetic: whatever is asked, however often, and whichever zone the machine lives in."""

import os
import time
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from endfloat.engine.model import Engine
from endfloat.engine.proofread import read_engine
from endfloat.job.clock_events import ClockEnded, ClockStarted
from endfloat.job.clock_rules import clock_holds
from endfloat.job.clock_words import duration, words
from endfloat.job.clocks import Timer, timers
from endfloat.job.events import BuildEvent, JobOpened, StepConfirmed, StepReopened
from endfloat.job.state import State, after, fold, refusal
from endfloat.job.wire import from_body, to_body

TEXT = """\
name: Test single
layout: single
places: {cylinder: {names: [1]}}
characteristics: {}
operations:
  bead: {title: Bead, minutes: 1}
  cover: {title: Cover, minutes: 1}
  caps: {title: Caps, minutes: 1}
  turn: {title: Turn, minutes: 1}
  fill: {title: Fill, minutes: 1}
relations:
  clocked:
    - {what: sealant, starts: bead, close_with: cover, open_minutes: 10, cure_minutes: 60, not_before: [fill],
       why: it leaks}
    - {what: tappets, starts: caps, cure_minutes: 75, not_before: [turn], why: it bends,
       bands: [{at_least: 0 °C, below: 10 °C, minutes: 75}, {at_least: 10 °C, below: 30 °C, minutes: 20}]}
"""
START = datetime(2026, 3, 29, 0, 30, tzinfo=UTC)


def engine() -> Engine:
    read = read_engine(TEXT.encode(), name="engine.yaml")
    assert isinstance(read, Engine), [each.text() for each in read]
    return read


ENGINE = engine()


def at(seconds: float) -> str:
    return (START + timedelta(seconds=seconds)).isoformat()


def only(events: list[BuildEvent], now: str) -> Timer:
    found = timers(ENGINE, events, now)
    assert len(found) == 1
    return found[0]


STEPS = st.sampled_from(["bead", "cover", "caps", "turn", "fill"])
SPANS = st.integers(0, 3000)
MOVES = st.lists(
    st.tuples(
        SPANS,
        st.one_of(
            st.builds(lambda step: ("done", step), STEPS),
            st.builds(lambda step: ("undone", step), STEPS),
            st.just(("hand", "sealant")),
            st.builds(lambda warmth: ("warm", warmth), st.sampled_from(["5 °C", "20 °C", "50 °C", "20 mm"])),
            st.just(("end", "sealant")),
        ),
    ),
    max_size=25,
)


def told(moves: list[tuple[int, tuple[str, str]]]) -> tuple[State, list[BuildEvent], int]:
    """The state after moves of which the refused ones are left out, its entries, and the second it reached."""
    state, kept, second = fold([JobOpened("test", TEXT, "")]), [], 0
    for number, (span, (what, which)) in enumerate(moves):
        second += span
        now, key = at(second), str(number)
        event: BuildEvent = {
            "done": StepConfirmed(which, "Ana", now),
            "undone": StepReopened(which, "dropped", "Ana", now),
            "hand": ClockStarted(key, "sealant", "", "Ana", now),
            "warm": ClockStarted(key, "tappets", which, "Ana", now),
            "end": ClockEnded(key, "sealant", "wiped off", "Ana", now),
        }[what]
        if refusal(state, event) is None:
            state, kept = after(state, event), [*kept, event]
    return state, kept, second


@given(MOVES, SPANS, st.lists(SPANS, max_size=5))
def test_what_is_left_depends_on_record_and_time_alone_however_often_it_is_asked_and_after_a_restart(
    moves: list[tuple[int, tuple[str, str]]], span: int, looks: list[int]
) -> None:
    state, kept, second = told(moves)
    for look in looks:
        timers(ENGINE, state.building, at(second + look))
    asked = timers(ENGINE, state.building, at(second + span))
    started_again = fold([JobOpened("test", TEXT, ""), *(from_body(to_body(event)) for event in kept)])
    assert timers(ENGINE, started_again.building, at(second + span)) == asked


@given(MOVES, SPANS, SPANS)
def test_a_second_that_passes_is_a_second_less_and_nothing_else_moves(
    moves: list[tuple[int, tuple[str, str]]], span: int, further: int
) -> None:
    state, _, second = told(moves)
    early = {(each.clock, each.sort): each for each in timers(ENGINE, state.building, at(second + span))}
    late = {(each.clock, each.sort): each for each in timers(ENGINE, state.building, at(second + span + further))}
    assert set(early) == set(late)
    for name, timer in early.items():
        assert timer.seconds_left - late[name].seconds_left == further
        assert (timer.start, timer.end) == (late[name].start, late[name].end)
        assert timer.seconds_left <= 60 * timer.minutes
        assert not timer.set_back


@given(MOVES, SPANS, st.integers(-14, 14))
def test_the_zone_in_which_a_time_is_written_changes_nothing(
    moves: list[tuple[int, tuple[str, str]]], span: int, hours: int
) -> None:
    state, _, second = told(moves)
    elsewhere = (START + timedelta(seconds=second + span)).astimezone(timezone(timedelta(hours=hours))).isoformat()
    here = [(each.clock, each.seconds_left) for each in timers(ENGINE, state.building, at(second + span))]
    assert [(each.clock, each.seconds_left) for each in timers(ENGINE, state.building, elsewhere)] == here


@pytest.fixture(params=["UTC", "Europe/Berlin", "America/New_York", "Pacific/Chatham"])
def zone(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> Iterator[str]:
    monkeypatch.setenv("TZ", request.param)
    time.tzset()
    yield request.param
    monkeypatch.undo()
    os.environ.setdefault("TZ", "UTC")
    time.tzset()


def test_the_hour_of_daylight_saving_is_no_hour_of_the_cure(zone: str) -> None:
    # In Berlin the clocks go forward at 01:00 UTC on 29 March 2026, in the middle of this cure.
    events: list[BuildEvent] = [StepConfirmed("bead", "Ana", at(0)), StepConfirmed("cover", "Ana", at(60))]
    assert only(events, at(60 + 3599)).seconds_left == 1
    assert clock_holds(ENGINE, events, "fill", at(60 + 3599))
    assert not clock_holds(ENGINE, events, "fill", at(60 + 3600))


@given(st.integers(-100_000, 100_000))
def test_a_clock_set_back_never_gives_more_open_time_and_never_less_of_a_cure_and_is_said(seconds: int) -> None:
    begun: list[BuildEvent] = [StepConfirmed("bead", "Ana", at(0))]
    sealed = [*begun, StepConfirmed("cover", "Ana", at(300))]
    opening, cure = only(begun, at(seconds)), only(sealed, at(300 + seconds))
    assert opening.seconds_left <= 600
    assert cure.seconds_left <= 3600
    assert cure.seconds_left == 3600 - max(0, seconds)
    assert (opening.set_back > 0) == (seconds < -60)
    assert ("set back" in words(opening)) == (seconds < -60)


@given(st.integers(0, 600))
def test_after_the_clock_was_set_back_an_open_time_counts_from_what_the_record_has_seen(later: int) -> None:
    events: list[BuildEvent] = [StepConfirmed("bead", "Ana", at(0)), StepConfirmed("caps", "Ana", at(later))]
    open_time = next(each for each in timers(ENGINE, events, at(-7200)) if each.sort == "finish before")
    assert open_time.seconds_left == 600 - later


@given(st.integers(61, 100_000), st.integers(0, 600))
def test_a_clock_begun_after_the_clock_was_set_back_has_its_whole_open_time_and_says_so(back: int, span: int) -> None:
    events: list[BuildEvent] = [StepConfirmed("caps", "Ana", at(back)), StepConfirmed("bead", "Ana", at(0))]
    open_time = next(each for each in timers(ENGINE, events, at(span)) if each.sort == "finish before")
    assert open_time.seconds_left == 600 - span
    assert "before this began" in words(open_time)


@given(st.integers(0, 100_000))
def test_what_is_left_is_never_told_too_long_and_a_wait_never_too_short(seconds: int) -> None:
    told_down, told_up = duration(seconds), duration(seconds + 59)
    assert minutes_in(told_down) * 60 <= seconds
    assert minutes_in(told_up) * 60 >= seconds


def minutes_in(sentence: str) -> int:
    if sentence == "less than a minute":
        return 0
    numbers = [int(word) for word in sentence.split() if word.isdigit()]
    hours, minutes = (numbers[0], *(numbers[1:] or [0])) if "hour" in sentence else (0, numbers[0])
    return 60 * hours + minutes


def test_at_the_bench_the_wall_decides_and_not_the_minutes_of_the_description() -> None:
    # By the minutes of the steps no time at all lies between the cover and the oil.
    state = fold(
        [JobOpened("test", TEXT, ""), StepConfirmed("bead", "Ana", at(0)), StepConfirmed("cover", "Ana", at(60))]
    )
    early = refusal(state, StepConfirmed("fill", "Ana", at(60 + 3599)))
    assert early is not None
    assert early.code == "clock"
    assert refusal(state, StepConfirmed("fill", "Ana", at(60 + 3600))) is None


def test_the_minute_on_which_an_open_time_ends_is_still_in_time() -> None:
    events: list[BuildEvent] = [StepConfirmed("bead", "Ana", at(0))]
    assert not clock_holds(ENGINE, events, "cover", at(600))
    assert clock_holds(ENGINE, events, "cover", at(601))
    assert not clock_holds(ENGINE, events, "caps", at(5000)), "other steps are not held"
