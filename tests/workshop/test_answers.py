"""What a person answers beside a reading: keep it, withdraw it, leave the place unmeasured."""

from pathlib import Path

import pytest

import endfloat.examples
from endfloat.inspection.judge import Finding
from endfloat.problems import Problem
from endfloat.store.memory import MemoryStore
from endfloat.workshop.keep_odd_reading import keep_odd_reading
from endfloat.workshop.leave_unmeasured import leave_unmeasured
from endfloat.workshop.open_job import open_job
from endfloat.workshop.record import load
from endfloat.workshop.take_reading import take_reading
from endfloat.workshop.view import View, view
from endfloat.workshop.withdraw_reading import withdraw_reading

V8 = Path(endfloat.examples.__file__).parent / "wrenhallow-90-8"


def clock() -> str:
    return "2026-05-03T10:00:00Z"


@pytest.fixture
def store() -> MemoryStore:
    store = MemoryStore()
    files = {
        name: (V8 / file).read_bytes()
        for name, file in (("engine", "engine.yaml"), ("gauges", "gauges.yaml"), ("readings", "readings.csv"))
    }
    assert open_job(store, clock, by="as found", **files) == []
    return store


def seen(store: MemoryStore) -> View:
    return view(load(store)[0])


def finding(store: MemoryStore, on: str, place: str) -> Finding:
    return next(f for f in seen(store).findings if (f.on, f.place) == (on, place))


def slip(store: MemoryStore) -> None:
    spot = ("bore_size", "3", "10 mm", "across")
    assert take_reading(store, clock, key="slip", spot=spot, text="8.604", gauge="B2", by="Ana") is None


def test_a_slip_is_asked_about_and_the_question_goes_when_the_reading_is_kept(store: MemoryStore) -> None:
    slip(store)
    assert list(seen(store).questions) == ["slip"]
    assert finding(store, "bore_wear", "3").verdict.code == "odd_reading"
    assert keep_odd_reading(store, clock, key="slip", by="Ana") is None
    assert seen(store).questions == {}
    assert finding(store, "bore_wear", "3").verdict.code != "odd_reading"


def test_a_slip_is_gone_when_it_is_withdrawn_and_the_verdict_is_as_before(store: MemoryStore) -> None:
    before = finding(store, "bore_wear", "3")
    slip(store)
    assert withdraw_reading(store, clock, key="slip", reason="typed wrong", by="Ana") is None
    assert seen(store).questions == {}
    assert finding(store, "bore_wear", "3") == before


@pytest.mark.parametrize("deed", ["keep", "withdraw", "leave"])
def test_an_answer_sent_twice_counts_once(store: MemoryStore, deed: str) -> None:
    def act() -> Problem | None:
        if deed == "keep":
            return keep_odd_reading(store, clock, key="slip", by="Ana")
        if deed == "withdraw":
            return withdraw_reading(store, clock, key="slip", reason="typed wrong", by="Ana")
        where = {"characteristic": "bore_size", "place": "3"}
        return leave_unmeasured(store, clock, key="k9", answer="does_not_apply", by="Ana", **where)

    slip(store)
    count = len(store.entries())
    assert [act(), act()] == [None, None]
    assert len(store.entries()) == count + 1


@pytest.mark.parametrize(
    ("answer", "code"),
    [
        ("does_not_apply", "does_not_apply"),
        ("not_measured", "not_measured"),
        ("cannot_be_reached", "not_measured"),
    ],
)
def test_a_place_left_unmeasured_has_that_verdict_everywhere_it_is_read_until_it_is_measured(
    store: MemoryStore, answer: str, code: str
) -> None:
    where = {"characteristic": "piston_size", "place": "3"}
    assert leave_unmeasured(store, clock, key="k9", answer=answer, by="Ana", **where) is None
    assert finding(store, "piston_clearance", "3").verdict.code == code
    assert finding(store, "piston_clearance", "4").verdict.code == "good"
    spot = ("piston_size", "3", "-", "-")
    assert spot not in seen(store).wanted_spots
    assert take_reading(store, clock, key="k10", spot=spot, text="85.960", gauge="M1", by="Ana") is None
    assert finding(store, "piston_clearance", "3").verdict.code == "good"
    assert spot in seen(store).wanted_spots


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"answer": "forgot"}, "unknown_answer"),
        ({"by": " "}, "no_name"),
        ({"place": "9"}, "unknown_place"),
        ({"characteristic": "stroke", "place": "engine"}, "unknown_place"),
    ],
)
def test_an_answer_that_makes_no_sense_is_refused_and_nothing_is_written(
    store: MemoryStore, change: dict[str, str], code: str
) -> None:
    before = store.entries()
    entry = {"key": "k9", "characteristic": "bore_size", "place": "3", "answer": "not_measured", "by": "Ana"}
    problem = leave_unmeasured(store, clock, **{**entry, **change})
    assert problem is not None
    assert problem.code == code
    assert store.entries() == before
