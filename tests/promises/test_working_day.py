"""A working day killed at moments drawn by chance: what was acknowledged is there, once. A thousand: the tool."""

from pathlib import Path

import pytest
from working_day import day, days, morning

from endfloat.errors import DamagedRecord, OutsideError
from endfloat.job.events import Event
from endfloat.job.wire import Entry, verify
from endfloat.store.sqlite import SqliteStore
from endfloat.workshop.record import load
from endfloat.workshop.take_reading import take_reading


def test_nothing_acknowledged_is_lost_and_nothing_counts_twice() -> None:
    outcomes = days(8, seed=7, rounds=12)
    assert sum(each.acknowledged for each in outcomes) > 0
    assert any(not each.finished for each in outcomes)
    assert sum(each.lost for each in outcomes) == 0
    assert sum(each.doubled for each in outcomes) == 0


class Hasty(SqliteStore):
    """A store that says yes before it has written: it keeps the last entries to itself."""

    def __init__(self, path: Path) -> None:
        super().__init__(path)
        self._held: list[Entry] = []

    def append(self, events: list[Event], *, expected: int, at: str) -> list[Entry]:
        fresh = [Entry(expected + n, at, "", "") for n in range(1, len(events) + 1)]
        self._held += fresh
        return fresh


def test_a_store_that_says_yes_too_early_is_found_out(tmp_path: Path) -> None:
    outcome = day(morning(tmp_path), 1.5, 12, Hasty)
    assert outcome.acknowledged > 0
    assert outcome.lost > 0


@pytest.mark.parametrize("kept", [0.3, 0.6, 0.9])
def test_a_record_cut_short_is_a_sentence_and_never_a_shorter_record(tmp_path: Path, kept: float) -> None:
    path = morning(tmp_path)
    raw = path.read_bytes()
    path.write_bytes(raw[: int(len(raw) * kept)])
    with pytest.raises((OutsideError, DamagedRecord), match="Take your last copy"):
        verify(SqliteStore(path).entries())


def test_every_altered_byte_of_an_entry_is_found_with_its_position(tmp_path: Path) -> None:
    path = morning(tmp_path)
    store = SqliteStore(path)
    spot = ("end_float", "engine", "first push", "-")
    assert take_reading(store, lambda: "t", key="mark", spot=spot, text="0.123 mm", gauge="D1", by="Ana") is None
    last = len(store.entries())
    raw = path.read_bytes()
    at = raw.rindex(b"0.123 mm")
    for offset in range(8):
        changed = bytearray(raw)
        changed[at + offset] = ord("9") if changed[at + offset] != ord("9") else ord("8")
        path.write_bytes(changed)
        with pytest.raises(DamagedRecord) as found:
            load(SqliteStore(path))
        assert found.value.position == last


def test_a_clock_set_back_loses_nothing_and_the_order_of_entries_stands(tmp_path: Path) -> None:
    store = SqliteStore(morning(tmp_path))
    times = iter(["2026-05-03T10:00:00Z", "2026-05-03T09:00:00Z", "2020-01-01T00:00:00Z"])
    for number in range(3):
        spot = ("end_float", "engine", "first push", "-")
        told = take_reading(store, lambda: next(times), key=f"k{number}", spot=spot, text="0.12", gauge="D1", by="Ana")
        assert told is None
    entries = store.entries()
    assert verify(entries) == len(entries)
    assert [entry.at[:4] for entry in entries[-3:]] == ["2026", "2026", "2020"]
    assert [taken.key for taken in load(store)[0].standing][-3:] == ["k0", "k1", "k2"]
