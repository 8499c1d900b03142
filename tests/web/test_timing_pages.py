"""The pages of the timing as plain forms: what is next at each stage, what is refused, and what was typed kept."""

import re
from dataclasses import replace

import pytest
from fastapi.testclient import TestClient
from timing_bench import find, open_gate, read_all, start_waits, timing_of, turn, wheel_at
from workbench import HandClock, opened_job, pages_over

from endfloat.store.memory import MemoryStore
from endfloat.workshop.record import load
from endfloat.workshop.turn_crank import tick_gate


@pytest.fixture
def clock() -> HandClock:
    return HandClock()


@pytest.fixture
def store(clock: HandClock) -> MemoryStore:
    return opened_job(clock)


@pytest.fixture
def page(store: MemoryStore, clock: HandClock) -> TestClient:
    return TestClient(pages_over(store, clock))


def next_button(page: TestClient, address: str = "/timing") -> str:
    found = re.search(r'<a class="button" href="([^"]+)">([^<]+)</a>', page.get(address).text)
    return found.group(2) if found else ""


def test_what_is_next_goes_from_dead_centre_to_every_cam_good(
    page: TestClient, store: MemoryStore, clock: HandClock
) -> None:
    assert next_button(page) == "Before you turn it"
    open_gate(store, clock)
    assert next_button(page) == "Find dead centre by two stops"
    assert find(store, clock) is None
    assert next_button(page) == "Read the left intake cam"
    read_all(store, clock, "first")
    assert next_button(page) == "Turn it 2 full turns"
    turn(store, clock)
    assert next_button(page) == "Read the left intake cam, after the 2 turns"
    read_all(store, clock, "after", {"left_exhaust": 1.4})
    assert next_button(page) == "Read the left exhaust cam again"
    clock.go_on(hours=1)
    assert next_button(page) == "Before you turn it"
    assert "You were away 60 minutes. Turn to dead centre again before you trust the wheel." in page.get("/timing").text
    open_gate(store, clock, "again")
    assert next_button(page) == "Turn to dead centre again"


def test_a_good_timing_says_so_and_asks_nothing_more(page: TestClient, store: MemoryStore, clock: HandClock) -> None:
    assert find(store, clock) is None
    turn(store, clock)
    read_all(store, clock, "after")
    assert "Every cam read good after the 2 turns." in page.get("/timing").text
    assert next_button(page) == ""


def test_dead_centre_is_not_asked_for_while_the_gate_is_shut(page: TestClient, store: MemoryStore) -> None:
    shown = page.get("/timing/dead-centre").text
    assert "Finding dead centre turns the crank." in shown
    assert "Shut: tappets, not begun; pins" in shown
    assert next_button(page, "/timing/dead-centre") == "Before you turn it"
    assert 'name="before"' not in shown
    form = {"key": "k", "before": "338.5", "after": "24.5", "seen": "yes", "gauge": "R1", "by": "Ana"}
    answer = page.post("/timing/dead-centre", data=form)
    assert answer.status_code == 422
    assert "the gate shut: tappets, not begun; pins" in answer.text
    assert timing_events(store) == ()


def test_dead_centre_is_typed_refused_kept_and_then_shown_with_its_correction(
    page: TestClient, store: MemoryStore, clock: HandClock
) -> None:
    open_gate(store, clock)
    form = {"key": "k", "before": "24", "after": "-21", "seen": "yes", "gauge": "R1", "by": "Ana"}
    answer = page.post("/timing/dead-centre", data=form)
    assert answer.status_code == 422
    assert 'value="24"' in answer.text
    assert "Left in, it breaks a piston" not in answer.text
    assert 'value="-21"' in answer.text
    assert "What you typed is kept below" in answer.text
    right = page.post("/timing/dead-centre", data={**form, "before": "338.5", "after": "24.5"})
    assert right.status_code == 200
    assert "Dead centre by two stops: correction −1.5 °" in right.text
    assert "Left in, it breaks a piston" in right.text


def test_the_gate_says_what_shuts_it_and_opens_when_the_wait_is_over(
    page: TestClient, store: MemoryStore, clock: HandClock
) -> None:
    assert "Shut: tappets, not begun; pins; helper; tensioners; hands" in page.get("/timing/turn").text
    assert "It runs from the end of the step “Draw the left cam caps down" in page.get("/timing/turn").text
    assert "FULL TURNS MADE" not in page.get("/timing/turn").text
    for name in ("pins", "helper", "tensioner", "hands"):
        told = page.post("/timing/turn/tick", data={"key": name, "condition": name, "by": "Ana"})
        assert told.status_code == 200
    ticked = page.post("/timing/turn/tick", data={"key": "t", "condition": "tappets", "by": "Ana"})
    assert ticked.status_code == 422
    assert "the gate opens when they are over" in ticked.text
    start_waits(store, clock, minutes_ago=37)
    assert re.search(r"Shut: tappets, <span [^>]*>38 minutes</span>", page.get("/timing/turn").text)
    early = page.post("/timing/turn", data={"key": "x", "turns": "2", "by": "Ana"})
    assert early.status_code == 422
    assert "shut: tappets, 38 minutes" in early.text
    clock.go_on(minutes=38)
    assert "2 FULL TURNS MADE, NO HARD STOP" in page.get("/timing/turn").text
    assert page.post("/timing/turn", data={"key": "x", "turns": "2", "by": "Ana"}).status_code == 200
    assert timing_of(store, clock).turned


def test_one_cam_shows_its_figure_put_right_and_keeps_what_was_refused(
    page: TestClient, store: MemoryStore, clock: HandClock
) -> None:
    assert find(store, clock) is None
    timing = timing_of(store, clock).timing
    form = {"key": "1", "spot": "opens", "text": "35O.9", "gauge": "R1", "turned": "", "by": "Ana"}
    refused = page.post("/timing/left_intake", data=form)
    assert refused.status_code == 422
    assert 'value="35O.9"' in refused.text
    half = page.post("/timing/left_intake", data={**form, "text": "355.9"}).text
    assert re.search(r'class="told-as">5\.6 ° before the top <span class="quiet">wheel 355\.9<', half)
    assert "When it closes" in half
    closes = f"{wheel_at(timing, 'left_intake', 'closes', late=0.4):.1f}"
    whole = page.post("/timing/left_intake", data={**form, "key": "2", "spot": "closes", "text": closes}).text
    assert "108.4" in whole
    assert "Good" in whole
    assert "Expected after skim and new chain: 107.4 to 108.6 °" in whole
    assert "limit 106.5 ° to 109.5 °, after the top, page 38" in whole
    key = timing_of(store, clock).readings("left_intake")[1].read.key
    empty = page.post("/timing/left_intake/withdraw", data={"key": "w", "reading": key, "reason": " ", "by": "Ana"})
    assert empty.status_code == 422
    back = page.post("/timing/left_intake/withdraw", data={"key": "w", "reading": key, "reason": "askew", "by": "Ana"})
    assert "When it closes" in back.text


def test_a_tooth_out_is_told_on_the_page_with_the_way_on(
    page: TestClient, store: MemoryStore, clock: HandClock
) -> None:
    assert find(store, clock) is None
    read_all(store, clock, "first", {"left_exhaust": 720 / 42})
    assert next_button(page) == "Left exhaust cam is out: see why"
    told = page.get("/timing/left_exhaust").text
    assert "1 tooth of 17.1 °; the others hold." in told
    assert "it is not proof" in told
    refused = page.post("/timing/turn", data={"key": "x", "turns": "2", "by": "Ana"})
    assert refused.status_code == 422
    form = {"key": "o", "cams": ["left_exhaust"], "reason": "a tooth out", "by": "Ana"}
    assert "Shut: pins" in page.post("/timing/opened", data=form).text
    assert page.post("/timing/opened", data={**form, "key": "p", "cams": []}).status_code == 422


def test_overshoot_and_interruption_have_their_words(page: TestClient, store: MemoryStore, clock: HandClock) -> None:
    assert find(store, clock) is None
    assert "Do not turn back. Go round two full turns the running way." in page.get("/timing/turn").text
    for why, words in (("turned_back", "The crank was turned back."), ("interrupted", "The work was interrupted.")):
        told = page.post("/timing/lost", data={"key": why, "why": why, "by": "Ana"})
        assert f"{words} Turn to dead centre again before you trust the wheel." in told.text
        assert find(store, clock, f"again {why}") is None


def test_the_steps_and_the_overview_lead_to_the_timing(page: TestClient, store: MemoryStore, clock: HandClock) -> None:
    assert 'href="/timing"' in page.get("/").text
    assert 'href="/timing/turn"' in page.get("/build/two_turns").text
    assert 'href="/timing/left_exhaust"' in page.get("/build/left_wheel").text
    assert "/timing" not in page.get("/build/wash_block").text
    unseen = page.post("/timing/confirm/left_sprockets", data={"key": "c", "by": "Ana"})
    assert unseen.status_code == 422


def test_every_form_names_its_job_and_one_of_another_job_is_refused(
    page: TestClient, store: MemoryStore, clock: HandClock
) -> None:
    assert find(store, clock) is None
    read_all(store, clock, "first")
    for address in ("/timing", "/timing/dead-centre", "/timing/turn", "/timing/left_intake"):
        text = page.get(address).text
        forms = re.findall(r"<form[^>]*method=\"post\".*?</form>", text, flags=re.S)
        assert forms
        assert all('name="job"' in form for form in forms), address
    other = page.post("/timing/turn", data={"job": "0" * 16, "key": "x", "turns": "2", "by": "Ana"})
    assert other.status_code == 409
    assert not timing_of(store, clock).turned


@pytest.mark.parametrize(
    ("address", "form"),
    [
        ("/timing/nothing", {}),
        ("/timing/left_intake", {"spot": "sideways", "text": "1"}),
        ("/timing/turn", {"turns": "1"}),
        ("/timing/turn/tick", {"condition": "oil"}),
        ("/timing/lost", {"why": "tired"}),
        ("/timing/confirm/wash_block", {"seen": "yes"}),
        ("/timing/left_intake/withdraw", {"reading": "none", "reason": "x"}),
    ],
)
def test_nonsense_is_answered_with_a_page_and_written_nowhere(
    page: TestClient, store: MemoryStore, address: str, form: dict[str, str]
) -> None:
    before = len(store.entries())
    answer = page.post(address, data={"key": "k", "gauge": "R1", "by": "Ana", **form})
    assert answer.status_code in (404, 422)
    assert "<h1" in answer.text
    assert len(store.entries()) == before


def test_sending_twice_is_one_entry(page: TestClient, store: MemoryStore, clock: HandClock) -> None:
    for _ in range(2):
        told = tick_gate(store, clock, key="p", condition="pins", by="Ana")
        assert told is None
    assert find(store, clock) is None
    before = timing_events(store)
    assert [type(event).__name__ for event in before] == ["GateTicked"] * 4 + ["DeadCentreFound"]
    assert find(store, clock) is None
    assert timing_events(store) == before


def timing_events(store: MemoryStore) -> tuple[object, ...]:
    return load(store)[0].timing


def test_an_engine_without_timing_says_what_to_add(clock: HandClock) -> None:
    opened = load(opened_job(clock))[0].opened
    assert opened is not None
    bare = MemoryStore()
    bare.append([replace(opened, engine=opened.engine[: opened.engine.index("\ntiming:")])], expected=0, at=clock())
    page = TestClient(pages_over(bare, clock))
    for address in ("/timing", "/timing/turn", "/timing/dead-centre", "/timing/left_intake"):
        answer = page.get(address)
        assert answer.status_code == 404
        assert "Add `timing:` to it" in answer.text
    assert "/timing" not in page.get("/").text
