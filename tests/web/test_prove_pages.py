"""The stage Prove without a script: from priming to the comparison, as two people press it."""

import html
import io
import re

import pypdf
import pytest
from fastapi.testclient import TestClient
from twin import ENGINE, built, opened
from workbench import HandClock, pages_over

from endfloat.job.wire import from_body
from endfloat.reports.papers import make_paper
from endfloat.store.memory import MemoryStore
from endfloat.workshop.build_record import build_record
from endfloat.workshop.record import load
from endfloat.workshop.take_reading import take_reading
from endfloat.workshop.view import view
from endfloat.workshop.withdraw_reading import withdraw_reading

PATHS = ["/prove", "/prove/ready", "/prove/ready/second", "/prove/run", "/prove/run-in", "/prove/recheck"]
LOOKED = {"spin": "oil at the last cam", "fuel": "every joint dry"}


@pytest.fixture
def clock() -> HandClock:
    return HandClock()


@pytest.fixture
def store(clock: HandClock) -> MemoryStore:
    return built(clock)


@pytest.fixture
def page(store: MemoryStore, clock: HandClock) -> TestClient:
    return TestClient(pages_over(store, clock))


def send(page: TestClient, path: str, **fields: object) -> tuple[int, str]:
    """What answers a form, and the words of the problem where there is one."""
    answer = page.post(path, data=fields, follow_redirects=False)
    said = re.search(r'class="problem" role="alert"[^>]*><p>(.*?)</p>', answer.text, re.S)
    return answer.status_code, html.unescape(said.group(1)) if said else ""


def prime_all(page: TestClient) -> None:
    for step, showed in (("fill", ""), ("spin", "1.4"), ("fuel", "")):
        fields = {"step": step, "key": step, "showed": showed, "by": "Ana", "second": "Bo", "looked": LOOKED.get(step)}
        assert send(page, "/prove/prime", **fields) == (303, "")


def tick_both(page: TestClient) -> None:
    assert send(page, "/prove/ready/tick", role="first", by="Ana", looked=["levels", "tools"]) == (303, "")
    assert send(page, "/prove/ready/tick", role="second", by="Bo", looked=["stop", "tools"]) == (303, "")


def fired(page: TestClient) -> None:
    prime_all(page)
    tick_both(page)
    assert send(page, "/prove/fire", by="Ana", second="Bo") == (303, "")


def events(store: MemoryStore) -> list[str]:
    return [type(from_body(entry.body)).__name__ for entry in store.entries()]


def test_the_rule_of_stages_stands_at_prove_once_it_is_built_and_at_hand_over_in_the_end(
    page: TestClient, clock: HandClock
) -> None:
    assert "Prove 0 of 12" in page.get("/").text
    assert "Prime: Fill the oil" in page.get("/").text
    fired(page)
    clock.go_on(minutes=30)
    assert "The engine runs: the log" in page.get("/").text
    send(page, "/prove/stop", reason="warm", planned="yes", by="Ana")
    send(page, "/prove/run-in", stage="first", lasted="20", key="r1", by="Ana")
    send(page, "/prove/recheck", item="leaks", right="yes", key="k1", by="Ana")
    send(page, "/prove/run-in", stage="second", lasted="2", key="r2", by="Ana")
    send(page, "/prove/recheck", item="oil", right="yes", key="k2", by="Ana")
    assert "Nothing is left to prove" in page.get("/prove").text
    assert '<p class="stage">Hand over</p>' in page.get("/").text


def test_before_the_build_is_done_the_list_says_which_steps_are_open(clock: HandClock) -> None:
    page = TestClient(pages_over(opened(clock), clock))
    text = page.get("/prove/ready").text
    assert "No build order is laid out yet." in text
    assert 'action="/prove/fire"' not in text
    assert '<p class="stage">Prove' not in page.get("/").text


def test_an_engine_that_does_not_say_how_it_is_proved_says_so_on_each_page(clock: HandClock) -> None:
    page = TestClient(pages_over(built(clock, ENGINE[: ENGINE.index("proving:")]), clock))
    for path in [*PATHS, "/prove/compare"]:
        answer = page.get(path)
        assert answer.status_code == 200
        assert "does not say how it is proved" in answer.text
    assert send(page, "/prove/fire", by="Ana", second="Bo")[0] in (200, 422)


def test_the_fire_stays_shut_until_both_lists_are_complete_by_two_names(page: TestClient, store: MemoryStore) -> None:
    prime_all(page)
    assert "Shut: 4 still open" in page.get("/prove/ready").text
    send(page, "/prove/ready/tick", role="first", by="Ana", looked=["levels", "tools"])
    status, said = send(page, "/prove/ready/tick", role="second", by="ana", looked=["stop", "tools"])
    assert (status, "a second person" in said) == (422, True)
    assert "FirstFired" not in events(store)
    assert send(page, "/prove/fire", by="Ana", second="Ana")[0] == 422
    send(page, "/prove/ready/tick", role="second", by="Bo", looked=["stop", "tools"])
    assert "IT FIRES" in page.get("/prove/ready").text
    assert "IT FIRES" not in page.get("/prove/ready/second").text
    send(page, "/prove/ready/untick", role="second", item="stop", by="Bo")
    status, said = send(page, "/prove/fire", by="Ana", second="Bo")
    assert (status, "Hand on the stop" in said) == (422, True)
    send(page, "/prove/ready/tick", role="second", by="Bo", looked=["stop"])
    for _ in range(2):
        assert send(page, "/prove/fire", by="Ana", second="Bo") == (303, "")
    assert events(store).count("FirstFired") == 1


def test_an_engine_with_a_place_out_of_limits_is_not_fired(clock: HandClock) -> None:
    fits = "    fits: {what: Nothing is out, sees: no place out of limits}\n    levels:"
    limits = "limits:\n  - {on: leak, use: service, low: 5.0 bar, method: leak-down, page: 62}\nproving:"
    store = built(clock, ENGINE.replace("    levels:", fits).replace("proving:", limits))
    page = TestClient(pages_over(store, clock))
    prime_all(page)
    tick_both(page)
    assert "Out of limits: Cylinder 2, leak." in page.get("/prove/ready").text
    before = store.entries()
    status, said = send(page, "/prove/fire", by="Ana", second="Bo")
    assert (status, "an engine that does not fit is not started" in said) == (422, True)
    assert store.entries() == before
    [found] = [each.key for each in load(store)[0].standing if each.place == "2"]
    assert withdraw_reading(store, clock, key=found, reason="the tester leaked", by="Ana") is None
    again = ("leak", "2", "-", "-")
    assert take_reading(store, clock, key="again", spot=again, text="6.0 bar", gauge="LT", by="Ana") is None
    assert send(page, "/prove/fire", by="Ana", second="Bo") == (303, "")


def test_a_refused_tick_keeps_what_was_ticked_and_typed_and_writes_nothing(
    page: TestClient, store: MemoryStore
) -> None:
    before = store.entries()
    answer = page.post("/prove/ready/tick", data={"role": "first", "by": " ", "looked": ["levels"]})
    assert answer.status_code == 422
    assert 'value="levels" checked' in answer.text
    assert 'value="tools" checked' not in answer.text
    assert store.entries() == before
    assert send(page, "/prove/ready/tick", role="first", by="Ana")[0] == 422
    assert send(page, "/prove/ready/tick", role="third", by="Ana", looked=["levels"])[0] == 404


def test_a_value_beyond_a_stop_says_stop_at_once_and_one_beyond_a_limit_says_what_it_should_be(
    page: TestClient, clock: HandClock
) -> None:
    fired(page)
    clock.go_on(seconds=5)
    quiet = page.get("/prove/run").text
    assert "stop-word" not in quiet
    assert "Running for <span" in quiet
    send(page, "/prove/log", gauge="speed", text="2100", key="g0", by="Ana")
    send(page, "/prove/log", gauge="oil", text="2.4", key="g1", by="Ana")
    beyond = page.get("/prove/run?saved=g1").text
    assert "Saved: Oil pressure 2.4 bar." in beyond
    assert "Oil pressure 2.4 bar: at least 3.0 bar from 2000 rpm, page 61." in beyond
    assert "stop-word" not in beyond
    clock.go_on(seconds=10)
    send(page, "/prove/log", gauge="oil", text="0,5", key="g2", by="Ana")
    said = page.get("/prove/run?saved=g2").text
    assert '<p class="stop-word">STOP</p>' in said
    assert "No oil. Oil pressure: 0.5 bar (stop: below 0.8 bar after 8 s, page 61)." in said
    assert "Then: Find out why." in said
    # It stands after a reload, and cannot be taken back while the engine runs.
    assert "stop-word" in page.get("/prove/run").text
    status, refused = send(page, "/prove/withdraw", entry="g2", reason="slip", by="Ana", back="/prove/run")
    assert (status, "stands still" in refused) == (422, True)


def test_a_gauge_nobody_reads_in_time_says_stop_without_an_entry(page: TestClient, clock: HandClock) -> None:
    fired(page)
    clock.go_on(seconds=7)
    assert "stop-word" not in page.get("/prove/run").text
    clock.go_on(seconds=1)
    assert "8 s have passed" in page.get("/prove/run").text
    send(page, "/prove/log", gauge="oil", text="2.0", key="g", by="Ana")
    assert "stop-word" not in page.get("/prove/run").text


def test_stop_needs_neither_reason_nor_name_and_opens_both_lists_again(
    page: TestClient, store: MemoryStore, clock: HandClock
) -> None:
    fired(page)
    clock.go_on(seconds=20)
    for _ in range(2):
        assert send(page, "/prove/stop") == (303, "")
    assert events(store).count("EngineStopped") == 1
    assert "Stopped by Ana" in page.get("/prove/run").text
    assert "Both lists are open again" in page.get("/prove/ready").text
    assert send(page, "/prove/run-in", stage="first", lasted="20", key="r", by="Ana")[0] == 422
    tick_both(page)
    assert send(page, "/prove/fire", by="Ana", second="Bo") == (303, "")
    assert events(store)[-1] == "FiredAgain"


@pytest.mark.parametrize(
    ("text", "words"), [("", "Type the number"), ("2 3", "Type one"), ("2 °C", "not pressure"), ("two", "Type digits")]
)
def test_a_slip_at_the_log_keeps_what_was_typed_and_writes_nothing(
    page: TestClient, store: MemoryStore, text: str, words: str
) -> None:
    fired(page)
    before = store.entries()
    answer = page.post("/prove/log", data={"gauge": "oil", "text": text, "key": "g", "by": "Ana"})
    assert answer.status_code == 422
    assert words in html.unescape(answer.text)
    assert f'value="{text}"' in answer.text
    assert store.entries() == before


def test_as_found_and_now_stand_side_by_side_in_marks_and_words(page: TestClient, clock: HandClock) -> None:
    fired(page)
    clock.go_on(minutes=20)
    send(page, "/prove/stop", planned="yes", by="Ana")
    assert "as found 6.2" not in page.get("/").text
    for place, text in (("1", "6.2"), ("2", "5.5")):
        fields = {"compared": "leak", "spot": f"{place}|-|-", "text": text, "gauge": "LT", "key": place, "by": "Ana"}
        assert send(page, "/prove/compare", **fields) == (303, "")
    text = page.get("/prove/compare").text
    assert "No change that the gauges can show." in text
    assert "Higher by 1.5 ± 0.3 bar, which is better." in text
    assert text.count('class="beside-line"') == 2
    assert "Cylinder 2: as found" in text or "cylinder 2: as found" in text
    wrong = {"compared": "leak", "spot": "1|-|-", "text": "6.2", "gauge": "none", "key": "x", "by": "Ana"}
    assert send(page, "/prove/compare", **wrong)[0] == 422


def test_the_build_record_prints_what_proving_recorded_stops_and_slips_among_it(
    page: TestClient, store: MemoryStore, clock: HandClock
) -> None:
    fired(page)
    clock.go_on(seconds=20)
    send(page, "/prove/log", gauge="oil", text="0.5", key="g2", by="Ana")
    send(page, "/prove/stop", reason="no oil", by="Bo")
    send(page, "/prove/withdraw", entry="g2", reason="it was 5.0", by="Ana", back="/prove/run")
    tick_both(page)
    send(page, "/prove/fire", by="Ana", second="Bo")
    clock.go_on(minutes=21)
    send(page, "/prove/stop", reason="warm", planned="yes", by="Ana")
    send(page, "/prove/run-in", stage="first", lasted="20", words="even", key="r", by="Ana")
    send(page, "/prove/recheck", item="leaks", found="the sump weeps", right="no", key="k", by="Ana")
    fields = {"compared": "leak", "spot": "2|-|-", "text": "5.5", "gauge": "LT", "key": "c", "by": "Ana"}
    send(page, "/prove/compare", **fields)
    values = build_record(view(load(store)[0]), store.entries())
    reader = pypdf.PdfReader(io.BytesIO(make_paper("build-record", values)))
    text = " ".join(" ".join(each.extract_text().split()) for each in reader.pages)
    for words in (
        "Primed: Spin the pump. Showed 1.4. Looked at with Bo: oil at the last cam. Ana, 2026-05-03 10:00:00.",
        "Looked at, second list: Hand on the stop. Bo",
        "FIRST FIRED; Bo at the stop. Ana",
        "Oil pressure 0.5 bar. STOP: No oil.",
        "TAKEN BACK by Ana: it was 5.0.",
        "STOPPED AT ONCE: no oil. Bo",
        "Fired again; Bo at the stop.",
        "Stopped as planned: warm.",
        "Run in, First heat: 20 min. even",
        "NOT RIGHT: Every joint dry. Found: the sump weeps.",
        "Leak-down, cylinder 2: as found 4.0",
    ):
        assert words in text, words
    assert page.get("/sheets/build-record.pdf").status_code == 200
    assert page.get("/sheets/booklet.pdf").content.startswith(b"%PDF")
