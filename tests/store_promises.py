"""What every store promises, and every place of jobs; a fulfilment inherits the whole suite."""

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from threading import Barrier

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from endfloat.errors import OutsideError, StaleVersion
from endfloat.job.events import Event, JobOpened, ReadingTaken
from endfloat.job.wire import from_body, verify
from endfloat.workshop.ports import Jobs, Store

AT = "2026-05-03T10:00:00Z"
OPENED = JobOpened("demo", "name: x", "B1: {}")
Bench = Callable[[], Jobs]


def taken(key: str) -> ReadingTaken:
    return ReadingTaken(key, "bore_size", "3", "10 mm", "across", "86.0480 mm", "B2", "Ana")


def keys(store: Store) -> list[str]:
    """The keys of a record's readings, in order; its chain is whole."""
    entries = store.entries()
    assert verify(entries) == len(entries)
    return [event.key for entry in entries if isinstance(event := from_body(entry.body), ReadingTaken)]


def take_all(store: Store, wanted: list[str]) -> None:
    """Take readings one by one; whoever was late looks again and goes on."""
    for key in wanted:
        while True:
            try:
                store.append([taken(key)], expected=len(store.entries()), at=AT)
            except StaleVersion:
                continue
            break


def race(bench: Bench, turns: list[tuple[str, int]]) -> list[list[str]]:
    """Two benches append at the same moment, turn by turn; what each of them was told."""
    start = Barrier(2)

    def outcomes(name: str) -> list[str]:
        jobs, told = bench(), []
        for key, place in turns:
            store = jobs.store(key)
            start.wait(30)
            try:
                store.append([taken(f"{name}{place}")], expected=place, at=AT)
                told.append("won")
            except StaleVersion as late:
                told.append(f"late, {late.found} are there")
            except OutsideError as error:
                told.append(str(error))
        return told

    with ThreadPoolExecutor(2) as pool:
        return list(pool.map(outcomes, ("ana", "ben")))


class StorePromises:
    """The suite; a fulfilment gives `store` a fresh one."""

    @pytest.fixture
    def store(self) -> Store:
        raise AssertionError("a fulfilment overrides this")

    def test_what_was_appended_comes_back_in_order_and_as_typed(self, store: Store) -> None:
        store.append([OPENED, taken("a")], expected=0, at=AT)
        store.append([taken("b")], expected=2, at=AT)
        events: list[Event] = [from_body(entry.body) for entry in store.entries()]
        assert events == [OPENED, taken("a"), taken("b")]
        assert verify(store.entries()) == 3

    def test_every_sign_comes_back_as_typed(self, store: Store) -> None:
        @settings(max_examples=30)
        @given(st.text(), st.text(st.sampled_from("\x00\n\r'\"\\%:µ°Ø😀\u2028")))
        def kept(text: str, by: str) -> None:
            event = ReadingTaken("k", "bore_size", "3", "10 mm", "across", text, "B2", by)
            store.append([event], expected=len(store.entries()), at=AT)
            assert from_body(store.entries()[-1].body) == event

        kept()
        assert verify(store.entries()) == len(store.entries()) > 1

    def test_a_stale_writer_is_refused_and_leaves_nothing(self, store: Store) -> None:
        store.append([OPENED], expected=0, at=AT)
        with pytest.raises(StaleVersion) as refused:
            store.append([taken("a"), taken("b")], expected=0, at=AT)
        assert (refused.value.expected, refused.value.found) == (0, 1)
        assert len(store.entries()) == 1

    def test_a_batch_that_is_half_bad_leaves_nothing(self, store: Store) -> None:
        store.append([OPENED], expected=0, at=AT)
        with pytest.raises(TypeError):
            store.append([taken("a"), "no event"], expected=1, at=AT)  # type: ignore[list-item]
        assert len(store.entries()) == 1
        store.append([taken("a")], expected=1, at=AT)
        assert verify(store.entries()) == 2

    def test_nothing_to_append_adds_nothing(self, store: Store) -> None:
        assert store.append([], expected=0, at=AT) == []
        assert store.entries() == []


class JobsPromises:
    """The suite; `bench` opens the same place of jobs once more, as another bench would."""

    @pytest.fixture
    def bench(self) -> Bench:
        raise AssertionError("a fulfilment overrides this")

    def test_a_job_is_there_from_its_first_entry_for_every_bench(self, bench: Bench) -> None:
        ours, theirs = bench(), bench()
        assert ours.names() == []
        for key in ("tolvenny-1185", "our-pump", "Ärger"):
            ours.store(key).append([OPENED], expected=0, at=AT)
        assert theirs.names() == sorted(["our-pump", "tolvenny-1185", "Ärger"])
        assert len(theirs.store("our-pump").entries()) == 1

    def test_what_was_refused_leaves_no_job_behind(self, bench: Bench) -> None:
        with pytest.raises(StaleVersion):
            bench().store("late").append([OPENED], expected=1, at=AT)
        with pytest.raises(TypeError):
            bench().store("bad").append([OPENED, "no event"], expected=0, at=AT)  # type: ignore[list-item]
        assert bench().store("asked-for").entries() == []
        assert bench().names() == []

    def test_jobs_are_kept_apart_each_with_its_own_chain(self, bench: Bench) -> None:
        jobs = bench()
        one, other = jobs.store("one"), jobs.store("other")
        one.append([taken("a")], expected=0, at=AT)
        other.append([taken("b")], expected=0, at=AT)
        one.append([taken("c")], expected=1, at=AT)
        assert (keys(one), keys(other)) == (["a", "c"], ["b"])

    def test_of_two_benches_exactly_one_wins_each_place_in_the_record(self, bench: Bench) -> None:
        turns = [("raced", place) for place in range(20)]
        ana, ben = race(bench, turns)
        for (_, place), outcomes in zip(turns, zip(ana, ben, strict=True), strict=True):
            assert sorted(outcomes) == [f"late, {place + 1} are there", "won"]
        winners = ["ana" if outcome == "won" else "ben" for outcome in ana]
        assert keys(bench().store("raced")) == [f"{name}{place}" for place, name in enumerate(winners)]

    def test_of_two_benches_that_begin_a_job_at_once_exactly_one_does(self, bench: Bench) -> None:
        turns = [(f"job-{number}", 0) for number in range(20)]
        for outcomes in zip(*race(bench, turns), strict=True):
            assert sorted(outcomes) == ["late, 1 are there", "won"]
        assert [keys(bench().store(key)) in (["ana0"], ["ben0"]) for key, _ in turns] == [True] * 20

    def test_two_benches_that_reload_when_late_lose_and_double_nothing(self, bench: Bench) -> None:
        wanted = {name: [f"{name}{number}" for number in range(25)] for name in ("ana", "ben")}
        with ThreadPoolExecutor(2) as pool:
            list(pool.map(lambda name: take_all(bench().store("shared"), wanted[name]), wanted))
        found = keys(bench().store("shared"))
        assert len(found) == 50
        for name, mine in wanted.items():
            assert [key for key in found if key.startswith(name)] == mine

    def test_a_file_comes_back_to_the_byte_and_the_later_one_counts(self, bench: Bench) -> None:
        jobs = bench()
        for key in ("one", "other"):
            jobs.store(key).append([OPENED], expected=0, at=AT)
        jobs.keep("one", "engine.yaml", "name: früher\n")
        jobs.keep("one", "engine.yaml", "name: µ\n\tØ 😀")
        jobs.keep("one", "gauges.yaml", "")
        assert bench().read("one", "engine.yaml") == "name: µ\n\tØ 😀".encode()
        assert bench().read("one", "gauges.yaml") == b""
        assert bench().read("one", "prices.yaml") is None
        assert bench().read("other", "engine.yaml") is None
        assert bench().read("nobody", "engine.yaml") is None

    def test_a_photograph_comes_back_to_the_byte_beside_its_own_job_and_sent_twice_is_harmless(
        self, bench: Bench
    ) -> None:
        jobs, picture = bench(), b"\x89PNG\r\n\x1a\n" + bytes(range(256)) * 40
        for key in ("one", "other"):
            jobs.store(key).append([OPENED], expected=0, at=AT)
        for _ in range(2):
            jobs.photos("one").keep("ab12.png", picture)
        assert bench().photos("one").read("ab12.png") == picture
        assert bench().photos("one").read("cd34.png") is None
        assert bench().photos("other").read("ab12.png") is None
        assert bench().names() == ["one", "other"]

    def test_a_photograph_of_a_job_that_is_not_there_is_a_sentence_and_leaves_nothing(self, bench: Bench) -> None:
        with pytest.raises(OutsideError):
            bench().photos("nobody").keep("ab12.png", b"x")
        assert bench().photos("nobody").read("ab12.png") is None
        assert bench().names() == []

    def test_a_file_of_a_job_that_is_not_there_is_a_sentence_and_leaves_nothing(self, bench: Bench) -> None:
        with pytest.raises(OutsideError, match=r"engine\.yaml"):
            bench().keep("nobody", "engine.yaml", "name: x")
        assert bench().read("nobody", "engine.yaml") is None
        assert bench().names() == []

    def test_where_a_job_is_names_it(self, bench: Bench) -> None:
        assert "our-pump" in bench().where("our-pump")
