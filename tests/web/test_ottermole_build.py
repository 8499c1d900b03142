"""The third engine is built through the pages, each step in order, without an override; what is read is read again."""

from datetime import UTC, datetime, timedelta

import pytest
from fastapi.testclient import TestClient
from hands import bring_all_in, do_step, seen

from cast import FERRY
from endfloat.inspection.evaluate import spots_of
from endfloat.job.events import StepDoneAgainstAdvice
from endfloat.job.wire import from_body
from endfloat.reports.papers import make_paper
from endfloat.solver.cp_sat import solve_rows
from endfloat.store.memory import MemoryStore
from endfloat.web.app import make_app
from endfloat.workshop.build import build_of
from endfloat.workshop.holds import MEASURED, OUT, holds, places_of
from endfloat.workshop.open_job import open_job
from endfloat.workshop.plan_work import Planned, agree, work_out
from endfloat.workshop.proving import proved
from endfloat.workshop.record import load
from endfloat.workshop.take_reading import take_reading
from endfloat.workshop.view import view
from endfloat.workshop.withdraw_reading import withdraw_reading

# What the work has made of the places that were out: read where a step asks for it, with this gauge.
VALVES = ("1 inlet", "1 exhaust", "2 inlet", "2 exhaust", "3 inlet", "3 exhaust")
AFTER_THE_WORK = {
    ("bush_bore", "2"): ("1.2506 in", "BORE-1"),
    ("ring_gap", "3"): ("0.0160 in", "LEAF"),
    ("liner_proud", "2"): ("0.0034 in", "DIAL"),
    ("counterbore", "3"): ("1.6945 in", "BORE-1"),
    ("insert_outside", "3"): ("1.6980 in", "OUT-1"),
    ("seat_outside", "2 exhaust"): ("1.480 in", "CALL"),
    ("seat_inside", "2 exhaust"): ("1.380 in", "CALL"),
    ("gear_centres", "engine"): ("5.2489 in", "OUT-5"),
    ("deck", "1"): ("-0.0221 in", "DIAL"),
    ("deck", "2"): ("-0.0219 in", "DIAL"),
    ("deck", "3"): ("-0.0220 in", "DIAL"),
    **{("lash", valve): ("0.0120 in", "LEAF") for valve in VALVES},
    ("tester_reading", "2"): ("91 psi", "LEAK"),
}


class Clock:
    """A clock that a test sets."""

    def __init__(self) -> None:
        self.minute = 0

    def __call__(self) -> str:
        return (datetime(2026, 5, 3, 10, tzinfo=UTC) + timedelta(minutes=self.minute)).isoformat()

    def go_on(self, *, minutes: int) -> None:
        self.minute += minutes


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def store(clock: Clock) -> MemoryStore:
    store = MemoryStore()
    files = {"engine": "engine.yaml", "gauges": "gauges.yaml", "readings": "readings.csv", "prices": "prices.yaml"}
    assert open_job(store, clock, by="file", **{k: (FERRY / file).read_bytes() for k, file in files.items()}) == []
    return store


@pytest.fixture
def page(store: MemoryStore, clock: Clock) -> TestClient:
    """The plan is agreed, all its work is done or back, and the order is laid out."""
    seen_now = view(load(store)[0])
    planned = work_out(seen_now, solve_rows)
    assert isinstance(planned, Planned)
    choice = dict(planned.plan.choice)
    assert agree(store, clock, solve_rows, choice=choice, evidence=seen_now.evidence_hash, by="Ana") is None
    bring_all_in(store, clock)
    page = TestClient(make_app(store, clock, solve_rows, make_paper))
    assert page.post("/build", data={"by": "Ana"}).status_code == 200
    return page


def read_what_the_step_asks(store: MemoryStore, clock: Clock, step: str) -> bool:
    """Measure again what the work altered and this step reads; was there any?"""
    engine = build_of(load(store)[0]).engine
    asked = [
        spot
        for measured in engine.operations[step].measures
        for place in places_of(view(load(store)[0]), measured)
        for spot in spots_of(engine, measured.of, place)
        if spot in AFTER_THE_WORK
    ]
    for characteristic, place in asked:
        described = engine.characteristics[characteristic]
        text, gauge = AFTER_THE_WORK[characteristic, place]
        for station in described.stations:
            for axis in described.axes:
                spot = (characteristic, place, station, axis)
                key = f"{step} {spot}"
                assert take_reading(store, clock, key=key, spot=spot, text=text, gauge=gauge, by="Ana") is None
    return bool(asked)


def build_up_to(page: TestClient, store: MemoryStore, clock: Clock, last: str) -> None:
    order = build_of(load(store)[0]).order
    for step in order[: order.index(last)]:
        read_what_the_step_asks(store, clock, step)
        assert do_step(page, store, clock, step) == 303, step


def test_every_step_is_confirmed_in_order_and_no_override_is_on_the_record(
    page: TestClient, store: MemoryStore, clock: Clock
) -> None:
    held = []
    for step in build_of(load(store)[0]).order:
        if any(each.relation in (MEASURED, OUT) for each in holds(view(load(store)[0]), step)):
            # What was altered holds its step until it is measured as it is now.
            assert do_step(page, store, clock, step) == 422
            assert read_what_the_step_asks(store, clock, step), step
            held.append(step)
        if step == "first_start":
            # Built as far as the first fire asks: cures are over, priming and two lists are left.
            seen_then = proved(load(store)[0], clock())
            assert [each.item.what for each in seen_then.seen if each.why_not] == ["Every step of priming is done"]
        assert do_step(page, store, clock, step) == 303, step
    assert set(held) == {
        "ream_bush",
        "file_ring",
        "insert_3",
        "front_seats",
        "liners_in",
        "read_deck",
        "read_backlash",
        "front_lash",
        "rear_lash",
        "leak_down",
    }
    assert "Every step of the build is done" in page.get("/build").text
    events = [from_body(entry.body) for entry in store.entries()]
    assert not [event for event in events if isinstance(event, StepDoneAgainstAdvice)]
    joints = build_of(load(store)[0]).engine.joints
    assert len(joints) == 7
    assert all(seen(store, name).progress.closed for name in joints)


def test_a_cover_that_is_not_flush_holds_the_screws_and_its_reading_cannot_be_signed_away(
    page: TestClient, store: MemoryStore, clock: Clock
) -> None:
    build_up_to(page, store, clock, "flush_before_pull")
    spot = ("cover_step", "engine", "-", "-")
    assert take_reading(store, clock, key="proud", spot=spot, text="0.0060 in", gauge="LEAF", by="Ana") is None
    assert do_step(page, store, clock, "flush_before_pull") == 422
    signed = page.post("/build/flush_before_pull/anyway", data={"by": "Ana", "reason": "near enough"})
    assert signed.status_code == 422
    assert page.post("/build/cover_pull/done", data={"by": "Ana"}).status_code == 422
    assert withdraw_reading(store, clock, key="proud", by="Ana", reason="the cover was eased and read again") is None
    assert do_step(page, store, clock, "flush_before_pull") == 303


def test_the_pages_speak_of_this_engine_in_its_own_units_and_sides(
    page: TestClient, store: MemoryStore, clock: Clock
) -> None:
    build_up_to(page, store, clock, "mains_pass_2")
    mains = page.get("/joint/main_caps").text
    assert "75 lbf·ft" in mains
    assert "N·m" not in mains
    assert "EASILY MISSED 5/16: 0 of 2" in page.get("/joint/cover_rest").text
    front, rear = page.get("/joint/front_head").text, page.get("/joint/rear_head").text
    # The sides are told apart by their hatch as well, whatever they are called, and nobody speaks of left and right.
    assert ('data-falling="false"' in front, 'data-falling="true"' in rear) == (True, True)
    for text in (front, rear, page.get("/board").text):
        assert "right as seen from the flywheel" not in text
    step = page.get("/build/rear_ferrules").text
    assert "REAR" in step
    assert "The ring holds the inner ferrule" in step
