"""What a joint asks besides its pulls: blanks typed at the bench with their page, and checks between passes."""

import re

import pytest
from fastapi.testclient import TestClient
from workbench import HandClock, pages_over

from endfloat.job.wire import from_body
from endfloat.store.memory import MemoryStore
from endfloat.workshop.build_record import build_record
from endfloat.workshop.open_job import open_job
from endfloat.workshop.record import load
from endfloat.workshop.view import view

ENGINE = """\
name: Test twin
layout: twin
places: {cylinder: {names: [1, 2]}}
characteristics: {}
joints:
  cover:
    title: Cover to case
    closes: the case
    page: 12
    drawing: {view: seen from above, front: left, outline: [[0 mm, 0 mm], [90 mm, 0 mm], [90 mm, 40 mm]]}
    bolts: {long: {thread: M8x1.25, length: 60 mm, class: 8.8, single_use: false}}
    fasteners:
      - {number: 1, bolt: long, x: 10 mm, y: 10 mm}
      - {number: 2, bolt: long, x: 40 mm, y: 10 mm}
    sequence:
    passes:
      - {amount: 5 N·m, page: 12}
      - {page: 13}
    checks:
      flush: {asks: How far does the cover stand proud?, after_pass: 1, at: [front end], reads: length, high: 0.1 mm,
              page: 14, failed: {slacken: all, renew: none, start_again_at: 1, page: 14}}
      seal: {asks: Does the seal lie in its groove?, after_pass: 2, at: [rear end],
              failed: {slacken: all, renew: none, start_again_at: 2, page: 14}}
"""
GAUGES = """\
W1: {sort: torque wrench, resolution: 1 N·m, error: 1 N·m, repeat: 1 N·m, source: invented}
F1: {sort: feeler, resolution: 0.01 mm, error: 0.005 mm, repeat: 0.005 mm, source: invented}
"""


class Bench:
    """One person at the cover, sending what the form on the page holds."""

    def __init__(self) -> None:
        self.clock = HandClock()
        self.store = MemoryStore()
        assert open_job(self.store, self.clock, engine=ENGINE.encode(), gauges=GAUGES.encode(), by="Ana") == []
        self.client = TestClient(pages_over(self.store, self.clock))

    def look(self) -> str:
        answer = self.client.get("/joint/cover")
        assert answer.status_code == 200
        return answer.text

    def send(self, deed: str, **data: str) -> tuple[int, str]:
        hidden = dict(re.findall(r'<input type="hidden" name="(\w+)" value="([^"]*)">', self.look()))
        answer = self.client.post(f"/joint/cover/{deed}", data={**hidden, "by": "Ana", **data})
        return answer.status_code, answer.text

    def bolts_in(self) -> None:
        status, text = self.send("set", bolts="C1", thread="oil", head="oil")
        assert status == 200, text

    def pull(self, *bolts: str) -> str:
        for bolt in bolts:
            assert f"BOLT {bolt} PULLED" in self.look()
            status, text = self.send("pull", gauge="W1")
            assert status == 200, text
        return self.look()

    def count(self) -> int:
        return len(self.store.entries())

    def paper(self) -> str:
        [joint] = build_record(view(load(self.store)[0]), [])["joints"]  # type: ignore[misc, attr-defined]
        return " ".join(joint["lines"])


@pytest.fixture
def bench() -> Bench:
    return Bench()


def ready(bench: Bench) -> None:
    bench.bolts_in()
    assert bench.send("look-up", value="2 1", page="12")[0] == 200


def test_a_blank_order_names_its_page_offers_nothing_and_opens_the_pass_when_typed(bench: Bench) -> None:
    bench.bolts_in()
    text = bench.look()
    assert "page 12 of your service book" in text
    assert "PULLED" not in text
    assert 'name="value" value=""' in text
    status, text = bench.send("look-up", value="2, 1", page="12")
    assert status == 200
    assert "BOLT 2 PULLED" in text
    assert "order from page 12, typed at the bench by Ana" in text


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ({"value": "2", "page": "12"}, "bolt 1, left out"),
        ({"value": "2 1 2", "page": "12"}, "bolt 2, more than once"),
        ({"value": "2 1 7", "page": "12"}, "bolt 7, which this pass does not have"),
        ({"value": "2 1", "page": ""}, "the page of the service book it stands on"),
        ({"value": "2 1", "page": "12", "by": " "}, "who did it"),
    ],
)
def test_a_wrong_order_says_what_is_wrong_keeps_what_was_typed_and_writes_nothing(
    bench: Bench, typed: dict[str, str], words: str
) -> None:
    bench.bolts_in()
    before = bench.count()
    status, text = bench.send("look-up", **typed)
    assert status == 422
    assert words in text
    assert f'value="{typed["value"]}"' in text
    assert bench.count() == before


def test_a_pass_without_its_torque_asks_for_value_and_page_and_the_record_says_typed_at_the_bench(bench: Bench) -> None:
    ready(bench)
    bench.pull("2", "1")
    assert bench.send("check", text="0.05", gauge="F1")[0] == 200
    text = bench.look()
    assert "Pass 2: page 13 of your service book" in text
    assert "PULLED" not in text
    for value, words in (
        ("9", "a torque or an angle with its unit"),
        ("9 mm", "a torque or an angle"),
        ("-9 N·m", "more than"),
    ):
        status, told = bench.send("look-up", value=value, page="13")
        assert (status, words in told) == (422, True), told
    assert bench.send("look-up", value="9 N·m", page="13")[0] == 200
    text = bench.pull("2")
    assert 'class="amount">9 N·m<' in text
    assert "page 13, typed at the bench by Ana" in text
    assert "Typed at the bench, pass 2, long: 9 N·m, page 13. Ana" in bench.paper()
    assert "Pass 2, 9 N·m" in bench.paper()


def test_a_number_looked_up_cannot_be_changed_once_a_bolt_was_pulled_by_it(bench: Bench) -> None:
    ready(bench)
    bench.pull("2")
    answer = bench.client.post(
        "/joint/cover/look-up",
        data={"key": "k", "what": "sequence", "pass_number": 0, "value": "1 2", "page": "12", "by": "Ana"},
    )
    assert answer.status_code == 422
    assert "bolts pulled by it already" in answer.text


def test_a_number_that_the_description_holds_is_not_replaced_at_the_bench(bench: Bench) -> None:
    ready(bench)
    data = {"key": "k", "what": "amount", "pass_number": 1, "sort": "long", "value": "50 N·m", "page": "9", "by": "Ana"}
    answer = bench.client.post("/joint/cover/look-up", data=data)
    assert answer.status_code == 422
    assert "a number that the description holds" in answer.text


def test_a_check_between_passes_asks_at_its_place_with_limit_page_and_gauge(bench: Bench) -> None:
    ready(bench)
    text = bench.pull("2", "1")
    assert "Front end" in text
    assert "Limit: at most 0.1 mm · page 14" in text
    assert "PULLED" not in text
    assert bench.send("check", text="0.05", gauge="")[0] == 422
    assert "too close to at most 0.1 mm to call" in bench.send("check", text="0.1", gauge="F1")[1]
    assert bench.send("check", text="0.05", gauge="F1")[0] == 200
    assert "After pass 1, front end: 0.05 mm, limit at most 0.1 mm, page 14: good. F1, Ana" in bench.paper()


def test_a_failed_check_slackens_the_pass_by_the_rule_and_the_limit_stays(bench: Bench) -> None:
    ready(bench)
    bench.pull("2", "1")
    status, text = bench.send("check", text="0.3", gauge="F1")
    assert status == 200
    assert "failed at front end: 0.3 mm; the limit is at most 0.1 mm, page 14" in text
    assert "slacken all, renew nothing, start again at pass 1 (page 14)" in text
    assert bench.send("back")[0] == 200
    text = bench.pull("2", "1")
    assert "Limit: at most 0.1 mm · page 14" in text


def test_a_look_is_answered_with_yes_or_no_and_stands_before_closing(bench: Bench) -> None:
    ready(bench)
    bench.pull("2", "1")
    bench.send("check", text="0.05", gauge="F1")
    bench.send("look-up", value="60 °", page="13")
    before = bench.count()
    hidden = bench.look()
    key = re.findall(r'name="key" value="([^"]*)"', hidden)[0]
    for bolt, number in (("2", 1), ("1", 2)):
        key = re.findall(r'name="key" value="([^"]*)"', bench.look())[0]
        data = {"key": key, "pass_number": 2, "bolt": bolt, "gauge": "by hand", "by": "Ana"}
        assert bench.client.post("/joint/cover/pull", data=data).status_code == 200
        assert bench.count() == before + number + (number == 2)
    assert "Does the seal lie in its groove?" in bench.look()
    assert bench.client.post("/joint/cover/close", data={"key": "shut", "by": "Ana"}).status_code == 422
    assert "THE JOINT IS CLOSED" in bench.send("check", text="yes")[1]


def test_every_event_of_the_story_reads_back_as_it_was_written(bench: Bench) -> None:
    ready(bench)
    bench.pull("2", "1")
    bench.send("check", text="0.05", gauge="F1")
    told = [type(from_body(entry.body)).__name__ for entry in bench.store.entries()]
    pulled = ["JointTakenUp", *["BoltPulled"] * 2, "PassCompleted"]
    assert told[1:] == ["BoltSetFitted", "SequenceLookedUp", *pulled, "JointChecked"]
