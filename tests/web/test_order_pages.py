"""An order of one's own is checked, and missing relations are asked for, without a line on the record."""

from pathlib import Path

import pytest
from fastapi.testclient import TestClient
from hands import do_step

from cast import V8
from endfloat.reports.papers import make_paper
from endfloat.solver.cp_sat import solve_rows
from endfloat.store.memory import MemoryStore
from endfloat.web.app import make_app
from endfloat.workshop.build import build_of
from endfloat.workshop.open_job import open_job
from endfloat.workshop.order_checks import moved
from endfloat.workshop.record import load

FILES = {"engine": "engine.yaml", "gauges": "gauges.yaml", "readings": "readings.csv", "prices": "prices.yaml"}


def now() -> str:
    return "2026-05-03T10:00:00+00:00"


@pytest.fixture
def store() -> MemoryStore:
    store = MemoryStore()
    assert (
        open_job(store, now, by="file", **{name: (Path(V8) / file).read_bytes() for name, file in FILES.items()}) == []
    )
    return store


@pytest.fixture
def page(store: MemoryStore) -> TestClient:
    page = TestClient(make_app(store, now, solve_rows, make_paper))
    assert page.post("/build", data={"by": "Ana"}).status_code == 200
    return page


def test_the_order_laid_out_keeps_every_relation_and_nothing_is_recorded(page: TestClient, store: MemoryStore) -> None:
    before = store.entries()
    order = build_of(load(store)[0]).order
    shown = page.get("/build/order")
    assert shown.status_code == 200
    assert "\n".join(order) in shown.text
    answer = page.post("/build/order", data={"order": "\r\n".join(order)})
    assert answer.status_code == 200
    assert "This order keeps every relation. It calls a helper 3 times" in answer.text
    assert store.entries() == before


def test_a_step_moved_on_the_page_lists_every_violation_and_keeps_the_list(
    page: TestClient, store: MemoryStore
) -> None:
    order = build_of(load(store)[0]).order
    data = {"order": "\n".join(order), "step": "crank_lock_in", "after": "left_cam_caps"}
    answer = page.post("/build/order", data=data)
    assert answer.status_code == 200
    assert "This order breaks" in answer.text
    assert "Here “Put the crank lock in” is step" in answer.text
    assert "left_cam_caps\ncrank_lock_in" in answer.text


def test_a_slip_in_the_typed_list_is_told_with_its_line(page: TestClient, store: MemoryStore) -> None:
    order = list(build_of(load(store)[0]).order)
    order[3] = "lay_cranc"
    answer = page.post("/build/order", data={"order": "\n".join(order)})
    assert answer.status_code == 422
    assert "the order:4" in answer.text
    assert "Did you mean `lay_crank`?" in answer.text


def test_a_step_moves_to_the_front_and_an_unknown_one_moves_nothing() -> None:
    assert moved("abcd", "c", "") == tuple("cabd")
    assert moved("abcd", "a", "d") == tuple("bcda")
    assert moved("abcd", "x", "d") == moved("abcd", "a", "x") == moved("abcd", "a", "a") == tuple("abcd")


def test_what_may_be_missing_is_asked_counted_and_looked_for_harder_on_demand(
    page: TestClient, store: MemoryStore
) -> None:
    before = store.entries()
    shown = page.get("/build/missing").text
    assert "Every fastener tightened: <b>207 of 207</b>" in shown
    assert "the valley. Is that right?" in shown
    answer = page.post("/build/missing", data={"strip": "sump\r\nleft_head\r\nleft_cams\r\n", "seed": "4"})
    assert answer.status_code == 200
    assert "40 random orders that keep every relation were gone through" in answer.text
    assert "At the strip, what “Lower the left head with its chain held up” fits came off before" in answer.text
    assert store.entries() == before


@pytest.mark.parametrize("data", [{"strip": "sumpp", "seed": "1"}, {"strip": "", "seed": "one"}])
def test_a_slip_in_the_strip_or_the_seed_is_told(page: TestClient, data: dict[str, str]) -> None:
    answer = page.post("/build/missing", data=data)
    assert answer.status_code == 422
    assert 'role="alert"' in answer.text


def washed(page: TestClient, store: MemoryStore) -> None:
    order = build_of(load(store)[0]).order
    for step in order[: order.index("wash_block") + 1]:
        assert do_step(page, store, now, step) == 303


def test_undoing_tells_what_it_loses_and_the_rule_of_the_description(page: TestClient, store: MemoryStore) -> None:
    washed(page, store)
    text = page.get("/build/wash_block").text
    assert "UNDO THIS STEP" in text
    assert "What undoing loses" in text
    assert "wash every oilway that stood open again" in text


def test_a_state_lost_by_undoing_holds_its_steps_until_it_is_said_to_be_so_again(
    page: TestClient, store: MemoryStore
) -> None:
    washed(page, store)
    page.post("/build/wash_block/undo", data={"reason": "a plug was in", "by": "Ana"})
    shown = page.get("/build/upper_shells").text
    assert "It is no longer sure that no grit flies in the room" in shown
    assert "IT IS SO AGAIN" in shown
    before = len(store.entries())
    data = {"key": "1", "condition": "no grit flies in the room", "by": "Ana"}
    for _ in range(2):
        answer = page.post("/build/upper_shells/regained", data=data, follow_redirects=False)
        assert answer.status_code == 303
    assert len(store.entries()) == before + 1
    assert "IT IS SO AGAIN" not in page.get("/build/upper_shells").text
    nameless = page.post("/build/upper_shells/regained", data={"key": "2", "condition": "no grit flies in the room"})
    assert nameless.status_code == 422
