"""The fold and the rules: what stands, and what may happen now."""

from hypothesis import given
from hypothesis import strategies as st

from endfloat.job.events import Event, JobOpened, OddReadingKept, ReadingTaken, ReadingWithdrawn
from endfloat.job.state import State, after, fold, refusal
from endfloat.job.wire import from_body, to_body

OPENED = JobOpened("demo", "", "")
KEYS = st.sampled_from(["a", "b", "c"])
EVENTS = st.one_of(
    st.just(OPENED),
    st.builds(ReadingTaken, KEYS, *[st.text(max_size=5)] * 7),
    st.builds(ReadingWithdrawn, KEYS, st.text(max_size=3), st.just("Ana")),
    st.builds(OddReadingKept, KEYS, st.just("Ana")),
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
