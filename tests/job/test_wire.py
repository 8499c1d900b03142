"""A record read whole."""

import gc

import pytest

from endfloat.errors import UnknownEvent
from endfloat.job.events import ReadingTaken
from endfloat.job.wire import Entry, continued, events_of, to_body, verify

TAKEN = [ReadingTaken(f"k{n}", "bore_size", "3", "10 mm", "across", "86.0480 mm", "B2", "Ana") for n in range(3)]
AT = "2026-05-03T10:00:00+00:00"


def test_the_events_of_a_record_are_those_that_were_written_in_their_order() -> None:
    entries = continued(None, TAKEN, expected=0, at=AT)
    assert verify(entries) == 3
    assert events_of(entries) == TAKEN


@pytest.mark.parametrize(
    "body", ['{"event":"Unheard","version":1}', to_body(TAKEN[0]).replace('"version":1', '"version":2')]
)
def test_an_event_of_a_newer_program_is_told_and_the_collector_runs_again(body: str) -> None:
    assert gc.isenabled()
    with pytest.raises(UnknownEvent):
        events_of([Entry(1, AT, body, "")])
    assert gc.isenabled()
