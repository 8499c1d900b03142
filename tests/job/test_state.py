"""The fold and the rules: what stands, and what may happen now."""

from hypothesis import given
from hypothesis import strategies as st

from endfloat.job.events import (
    Event,
    JobOpened,
    OddReadingKept,
    PlanAgreed,
    PlanWithdrawn,
    ReadingTaken,
    ReadingWithdrawn,
)
from endfloat.job.state import State, after, fold, refusal
from endfloat.job.wire import from_body, to_body

OPENED = JobOpened("demo", "", "")
KEYS = st.sampled_from(["a", "b", "c"])
EVENTS = st.one_of(
    st.just(OPENED),
    st.builds(ReadingTaken, KEYS, *[st.text(max_size=5)] * 7),
    st.builds(ReadingWithdrawn, KEYS, st.text(max_size=3), st.just("Ana")),
    st.builds(OddReadingKept, KEYS, st.just("Ana")),
    st.builds(
        PlanAgreed, st.dictionaries(KEYS, KEYS), *[st.integers(0, 9)] * 3, *[st.text(max_size=3)] * 4, st.just("Ana")
    ),
    st.builds(PlanWithdrawn, st.sampled_from(["Ana", " "])),
)


@given(st.lists(EVENTS, max_size=20))
def test_only_allowed_events_count_and_replay_equals_the_live_state(wanted: list[Event]) -> None:
    state, record = State(), []
    for event in wanted:
        if refusal(state, event) is None:
            state, record = after(state, event), [*record, event]
    assert fold(from_body(to_body(event)) for event in record) == state
    assert state.withdrawn <= set(state.taken)
    assert not record or record[0] == OPENED


def test_a_withdrawal_needs_a_reason_and_a_standing_reading() -> None:
    reading = ReadingTaken("a", "bore_size", "3", "10 mm", "across", "86.05 mm", "B2", "Ana")
    state = fold([OPENED, reading])
    silent = refusal(state, ReadingWithdrawn("a", " ", "Ana"))
    assert silent is not None
    assert silent.code == "no_reason"
    gone = after(state, ReadingWithdrawn("a", "thimble", "Ana"))
    assert gone.standing == ()
    again = refusal(gone, ReadingWithdrawn("a", "thimble", "Ana"))
    assert again is not None
    assert again.code == "no_reading"


AGREED = PlanAgreed({"bore_set": "as_is"}, 100, 2, 0, "shown to be cheapest", "solver", "0", "hash", "Ana")


def test_a_reading_after_the_agreement_makes_the_plan_stale_and_it_may_be_agreed_again() -> None:
    reading = ReadingTaken("a", "bore_size", "3", "10 mm", "across", "86.05 mm", "B2", "Ana")
    state = fold([OPENED, AGREED])
    assert not state.stale
    twice = refusal(state, AGREED)
    assert twice is not None
    assert twice.code == "already_agreed"
    moved = after(state, reading)
    assert moved.stale
    assert refusal(moved, AGREED) is None
    assert fold([OPENED, AGREED, PlanWithdrawn("Ana")]).agreed is None
