"""What is in hand at a joint: the clamp load to expect, the wrench with range and date, an adapter, a second device."""

import re
import threading
from concurrent.futures import ThreadPoolExecutor
from functools import partial

import pytest
from fastapi.testclient import TestClient
from hands import seen, tighten
from workbench import V8, HandClock, pages_over

from endfloat.inspection.gauges import read_gauges
from endfloat.job.events import BoltPulled
from endfloat.job.wire import from_body
from endfloat.problems import Problem
from endfloat.store.memory import MemoryStore
from endfloat.workshop.build_record import build_record
from endfloat.workshop.fit_bolt_set import fit_bolt_set
from endfloat.workshop.open_job import open_job
from endfloat.workshop.pull_bolt import Already, pull_bolt
from endfloat.workshop.record import load
from endfloat.workshop.view import view

ADAPTER = {"length": "380", "offset": "60", "askew": "0"}
CAPS = ["5", "6", "7", "8", "3", "4", "9", "10", "1", "2"]


class Bench:
    """One person at the V8, with a wrench whose range and date a test may change."""

    def __init__(self, **gauges: str) -> None:
        self.clock = HandClock()
        self.store = MemoryStore()
        engine, register = ((V8 / file).read_text() for file in ("engine.yaml", "gauges.yaml"))
        for old, new in gauges.items():
            register = re.sub(rf"{old}: .*", f"{old}: {new}", register, count=1)
        assert open_job(self.store, self.clock, engine=engine.encode(), gauges=register.encode(), by="Ana") == []
        self.client = TestClient(pages_over(self.store, self.clock))

    def bolts_in(self, joint: str, sort: str) -> None:
        stated = {sort: ("oil", "oil")}
        told = fit_bolt_set(self.store, self.clock, key=f"{joint}/in", joint=joint, bolts="B1", stated=stated, by="Ana")
        assert told is None

    def look(self, path: str) -> str:
        answer = self.client.get(path)
        assert answer.status_code == 200
        return answer.text

    def pull(self, joint: str, **data: str) -> tuple[int, str]:
        form = self.look(f"/joint/{joint}").partition("/pull")[2].partition("</form>")[0]
        hidden = dict(re.findall(r'<input type="hidden" name="(\w+)" value="([^"]*)">', form))
        answer = self.client.post(f"/joint/{joint}/pull", data={**hidden, "by": "Ana", "gauge": "W1", **data})
        return answer.status_code, answer.text

    def pulls(self) -> list[BoltPulled]:
        told = [from_body(entry.body) for entry in self.store.entries()]
        return [event for event in told if isinstance(event, BoltPulled)]

    def paper(self, title: str) -> str:
        joints = build_record(view(load(self.store)[0]), [])["joints"]
        assert isinstance(joints, list)
        found = next(each for each in joints if each["title"] == title)
        return " ".join([*found["lines"], *found["expected"], found["stands"]])


def test_the_page_shows_the_clamp_load_with_its_interval_and_lubrication_and_says_when_the_bolts_pass_yield() -> None:
    bench = Bench()
    tighten(bench.store, bench.clock, "left_head", [1, 2], close=False)
    text = bench.look("/joint/left_head")
    load = re.search(r"Clamp load after this: ([\d.]+) to ([\d.]+) kN, middle ([\d.]+) kN; (.*?)\.</p>", text)
    assert load
    assert float(load[1]) < float(load[3]) < float(load[2])
    assert load[4] == "thread oil, under the head oil, friction 0.08 to 0.18 (page 54)"
    assert "the bolts pass yield" in text
    assert "at the surface 92° to 97° after the torque and in the whole section 100° to 107°" in text


def test_the_damper_bolt_shows_no_clamp_load_and_says_what_is_missing_on_which_page() -> None:
    bench = Bench()
    stated = {"damper_bolt": ("oil", "dry")}
    fit_bolt_set(bench.store, bench.clock, key="k", joint="damper_bolt", bolts="D1", stated=stated, by="Ana")
    text = bench.look("/joint/damper_bolt")
    assert "No clamp load is shown. Missing: the lowest and the highest friction (page 40)" in text
    assert "kN" not in text


@pytest.mark.parametrize(
    ("torque", "question"), [("100", ""), ("20", "expected. Less friction"), ("400", "expected. More")]
)
def test_a_torque_seen_outside_the_window_is_a_question_and_the_bolt_counts_all_the_same(
    torque: str, question: str
) -> None:
    bench = Bench()
    tighten(bench.store, bench.clock, "left_head", [1], close=False)
    status, text = bench.pull("left_head", gauge="A1", seen=torque)
    assert status == 200
    assert ("seen," in text) == bool(question)
    assert question in text
    assert bench.pulls()[-1].seen == f"{torque} N·m"
    assert f"Bolt 3, torque at the end of the angle: {torque} N·m." in bench.paper("Left head to block")


def test_a_torque_seen_that_is_no_torque_is_refused_and_kept_in_its_box() -> None:
    bench = Bench()
    tighten(bench.store, bench.clock, "left_head", [1], close=False)
    count = len(bench.pulls())
    status, text = bench.pull("left_head", gauge="A1", seen="much")
    assert (status, len(bench.pulls())) == (422, count)
    assert 'name="seen" value="much"' in text


def test_an_adapter_changes_the_setting_which_is_shown_large_and_both_are_recorded() -> None:
    bench = Bench(least="10 N·m")
    bench.bolts_in("main_caps", "cap_bolt")
    text = bench.look("/joint/main_caps?adapter=typed&length=380&offset=60&askew=0")
    assert 'class="amount">17.3 N·m<' in text
    assert "20 N·m at the bolt through the adapter (wrench 380 mm, adapter 60 mm at 0 °)" in text
    assert bench.pull("main_caps", **ADAPTER)[0] == 200
    pulled = bench.pulls()[-1]
    assert (pulled.length, pulled.offset, pulled.askew, pulled.setting) == ("380 mm", "60 mm", "0 °", "17.3 N·m")
    assert "Set to 17.3 N·m: wrench 380 mm, adapter 60 mm at 0 °." in bench.paper("Main caps to block")
    assert 'class="amount">17.3 N·m<' in bench.look("/joint/main_caps"), "the adapter stays on for the next bolt"
    assert 'class="amount">20 N·m<' in bench.look("/joint/main_caps?adapter=none")


def test_an_adapter_square_to_the_wrench_changes_nothing_and_one_that_makes_no_sense_is_refused() -> None:
    bench = Bench()
    bench.bolts_in("main_caps", "cap_bolt")
    assert 'class="amount">20.0 N·m<' in bench.look("/joint/main_caps?adapter=typed&length=380&offset=60&askew=90")
    for wrong in ({"offset": ""}, {"length": "long"}, {"offset": "400", "askew": "180"}):
        status, text = bench.pull("main_caps", **{**ADAPTER, **wrong})
        assert status == 422, wrong
        assert "Nothing was written" in text
    assert bench.pulls() == []


def test_a_wrench_out_of_its_range_is_refused_also_when_only_the_adapter_takes_it_out() -> None:
    bench = Bench(least="18 N·m")
    bench.bolts_in("main_caps", "cap_bolt")
    assert "W1 measures 18 to 100 N·m" in bench.look("/joint/main_caps?adapter=typed&length=380&offset=60&askew=0")
    status, text = bench.pull("main_caps", **ADAPTER)
    assert status == 422
    assert "found 17.3 N·m on W1; expected a gauge that reaches it; W1 measures 18 to 100 N·m" in text
    assert bench.pull("main_caps")[0] == 200


def test_a_wrench_past_its_date_is_asked_about_and_the_reason_goes_on_the_record() -> None:
    bench = Bench(due="2026-05-02")
    bench.bolts_in("main_caps", "cap_bolt")
    status, text = bench.pull("main_caps")
    assert status == 422
    assert "W1, which was due on 2026-05-02" in text
    assert bench.pull("main_caps", in_spite="checked against the weight this morning")[0] == 200
    assert "W1 was past its date: checked against the weight this morning." in bench.paper("Main caps to block")
    assert 'name="in_spite" value="checked against the weight this morning"' in bench.look("/joint/main_caps")


def test_a_wrench_on_its_last_day_is_not_asked_about() -> None:
    bench = Bench(due="2026-05-03")
    bench.bolts_in("main_caps", "cap_bolt")
    assert bench.pull("main_caps")[0] == 200
    assert bench.pulls()[-1].in_spite == ""


@pytest.mark.parametrize(
    ("entry", "words"),
    [
        ("least: 20 mm", "a torque"),
        ("least: 90 N·m, most: 20 N·m", "least below most"),
        ("due: soon", "soon"),
    ],
)
def test_a_range_or_date_that_cannot_be_is_refused_when_the_register_is_read(entry: str, words: str) -> None:
    text = f"W1: {{sort: torque wrench, resolution: 1 N·m, error: 1 N·m, repeat: 1 N·m, source: s, {entry}}}"
    told = read_gauges(text.encode(), name="gauges.yaml")
    assert isinstance(told, list)
    assert words in told[0].text()


def press(bench: Bench, key: str, bolt: str, start: threading.Barrier, by: str) -> Already | Problem | None:
    """Both hands press at the same moment."""
    start.wait()
    return pull_bolt(bench.store, bench.clock, key=key, joint="main_caps", pass_number=1, bolt=bolt, gauge="W1", by=by)


def test_two_devices_pull_the_same_bolt_at_the_same_time_and_it_counts_once_and_one_is_told() -> None:
    bench = Bench()
    bench.bolts_in("main_caps", "cap_bolt")
    for bolt in CAPS:
        key = seen(bench.store, "main_caps").key(f"1/{bolt}")
        with ThreadPoolExecutor(2) as pool:
            told = list(pool.map(partial(press, bench, key, bolt, threading.Barrier(2)), ("Ana", "Ben")))
        assert sorted(type(each).__name__ for each in told) == ["Already", "NoneType"]
    assert [each.bolt for each in bench.pulls()] == CAPS


def test_the_later_of_two_devices_is_told_who_pulled_the_bolt_and_where_to_say_that_it_was_pulled_twice() -> None:
    bench = Bench()
    bench.bolts_in("main_caps", "cap_bolt")
    form = {"key": seen(bench.store, "main_caps").key("1/5"), "pass_number": "1", "bolt": "5", "gauge": "W1"}
    first, second = (TestClient(pages_over(bench.store, bench.clock)) for _ in range(2))
    assert "Saved: bolt 5 pulled in pass 1." in first.post("/joint/main_caps/pull", data={**form, "by": "Ana"}).text
    text = second.post("/joint/main_caps/pull", data={**form, "by": "Ben"}).text
    assert "Bolt 5 was already pulled in pass 1, by Ana" in text
    assert "Counted once. Do not pull it again." in text
    assert "BOLT 6 PULLED" in text
    assert len(bench.pulls()) == 1
