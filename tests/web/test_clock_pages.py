"""Clocks at the bench through the pages: what runs, what is too late, what waits, by which temperature."""

import re

import pytest
from clock_engine import ENGINE, done, opened
from fastapi.testclient import TestClient
from workbench import HandClock, pages_over

from endfloat.job.clock_events import ClockStarted
from endfloat.job.events import StepConfirmed, StepDoneAgainstAdvice
from endfloat.job.wire import from_body
from endfloat.store.memory import MemoryStore
from endfloat.workshop.build import build_of
from endfloat.workshop.build_record import build_record
from endfloat.workshop.record import load
from endfloat.workshop.view import view


@pytest.fixture
def clock() -> HandClock:
    return HandClock()


@pytest.fixture
def store(clock: HandClock) -> MemoryStore:
    return opened(clock)


@pytest.fixture
def page(store: MemoryStore, clock: HandClock) -> TestClient:
    return TestClient(pages_over(store, clock))


def text_of(page: TestClient, path: str) -> str:
    return plain(page.get(path).text)


def plain(html: str) -> str:
    return re.sub(r"\s+", " ", re.sub("<[^>]+>", " ", html)).replace(" ,", ",")


def test_confirming_the_start_runs_the_open_time_on_every_page_and_the_closing_step_ends_it(
    page: TestClient, clock: HandClock
) -> None:
    assert "No clock runs." in text_of(page, "/clocks")
    done(page, "clean", "bead")
    clock.go_on(minutes=4, seconds=10)
    shown = text_of(page, "/clocks")
    assert "Cover sealant finish before 05:50 finish before" in shown
    assert "10 minutes in all" in shown
    for path in ("/", "/build", "/build/cover", "/joint/head", "/board"):
        assert "Cover sealant: 5 minutes left" in text_of(page, path), path
    done(page, "cover")
    assert "Cover sealant: 30 minutes more" in text_of(page, "/build/chain_up")
    assert "not before 30:00" in text_of(page, "/clocks")


def test_the_page_of_clocks_fetches_itself_without_a_script_and_bears_its_end(page: TestClient) -> None:
    done(page, "clean", "bead")
    html = page.get("/clocks").text
    assert '<noscript><meta http-equiv="refresh" content="20"></noscript>' in html
    assert 'datetime="2026-05-03T10:10:00+00:00"' in html
    assert "script-src 'self'" in page.get("/clocks").headers["Content-Security-Policy"]


def test_a_closing_step_past_the_open_time_is_refused_and_a_new_bead_starts_a_new_clock(
    page: TestClient, store: MemoryStore, clock: HandClock
) -> None:
    done(page, "clean", "bead")
    clock.go_on(minutes=12)
    words = "its open time ended 2 minutes ago: a skin on the bead leaks. Wipe both faces clean and lay a new bead."
    assert words in text_of(page, "/build/cover")
    before = len(store.entries())
    answer = page.post("/build/cover/done", data={"by": "Ana"})
    assert answer.status_code == 422
    assert words in plain(answer.text)
    assert len(store.entries()) == before
    undone = page.post("/build/bead/undo", data={"by": "Ana", "reason": "wiped off"})
    assert undone.status_code == 200
    assert "No clock runs." in text_of(page, "/clocks")
    done(page, "bead")
    clock.go_on(minutes=9)
    done(page, "cover")


def test_a_step_done_in_time_and_pressed_late_may_be_signed(
    page: TestClient, store: MemoryStore, clock: HandClock
) -> None:
    done(page, "clean", "bead")
    clock.go_on(minutes=11)
    assert "Do it anyway, and sign" in page.get("/build/cover").text
    form = {"by": "Ana", "reason": "on at the eighth minute, pressed late"}
    assert page.post("/build/cover/anyway", data=form, follow_redirects=False).status_code == 303
    assert isinstance(from_body(store.entries()[-1].body), StepDoneAgainstAdvice)


def test_where_the_description_only_tells_lateness_the_step_passes_and_is_told(clock: HandClock) -> None:
    store = opened(clock, ENGINE.replace("late_do: wipe", "late: told, late_do: wipe"))
    page = TestClient(pages_over(store, clock))
    done(page, "clean", "bead")
    clock.go_on(minutes=12)
    shown = text_of(page, "/build/cover")
    assert "Late. Cover sealant: its open time ended 2 minutes ago" in shown
    done(page, "cover")
    assert isinstance(from_body(store.entries()[-1].body), StepConfirmed)


def test_a_clock_started_by_hand_at_the_first_bead_counts_from_then(
    page: TestClient, store: MemoryStore, clock: HandClock
) -> None:
    done(page, "clean")
    form = {"key": "1", "name": "cover sealant", "by": "Ana", "back": "bead"}
    for _ in range(2):
        assert page.post("/clocks/start", data=form, follow_redirects=False).headers["location"] == "/build/bead"
    clock.go_on(minutes=3)
    done(page, "bead")
    assert "Cover sealant: 7 minutes left" in text_of(page, "/build/cover")
    started = [event for event in map(from_body, (e.body for e in store.entries())) if isinstance(event, ClockStarted)]
    assert len(started) == 1, "a second press is the same entry"
    again = page.post("/clocks/start", data={**form, "key": "2"})
    assert again.status_code == 422
    assert "running already" in again.text


def test_a_long_step_in_the_middle_of_an_open_time_says_that_there_is_no_time_for_it(
    page: TestClient, clock: HandClock
) -> None:
    done(page, "clean", "bead")
    clock.go_on(minutes=6)
    assert "Not now. This takes about 6 minutes. Cover sealant: 4 minutes left." in text_of(page, "/build/caps")
    assert "Not now." not in text_of(page, "/build/hang")
    assert "Not now." not in text_of(page, "/build/cover")


def test_a_clock_started_in_error_is_ended_with_a_reason(page: TestClient, clock: HandClock) -> None:
    done(page, "clean")
    page.post("/clocks/start", data={"key": "1", "name": "cover sealant", "by": "Ana"})
    silent = page.post("/clocks/end", data={"key": "2", "name": "cover sealant", "by": "Ana", "reason": " "})
    assert "no reason" in silent.text
    assert silent.status_code == 422
    page.post("/clocks/end", data={"key": "2", "name": "cover sealant", "by": "Ana", "reason": "wrong tube"})
    assert "No clock runs." in text_of(page, "/clocks")
    done(page, "bead")
    refused = page.post("/clocks/end", data={"key": "3", "name": "cover sealant", "by": "Ana", "reason": "wrong"})
    assert "Undo the step that started it" in refused.text


def to_the_caps(page: TestClient) -> None:
    done(page, "clean", "bead", "cover", "chain_up", "caps")


def test_until_the_temperature_is_told_the_longest_wait_counts_then_that_of_its_band(
    page: TestClient, clock: HandClock
) -> None:
    to_the_caps(page)
    shown = text_of(page, "/clocks")
    assert "How warm is it there? 0 °C to 10 °C 75 minutes; 10 °C to 30 °C 20 minutes" in shown
    assert "Until you say it, the longest time counts." in shown
    assert "Settling of the tappets: 75 minutes more" in shown
    form = {"key": "1", "name": "settling of the tappets", "by": "Ana"}
    for typed, words in (("8", "Type the unit"), ("8 mm", "not temperature"), ("45 °C", "a temperature with a time")):
        answer = page.post("/clocks/start", data={**form, "temperature": typed})
        assert answer.status_code == 422
        assert words in answer.text
        assert f'value="{typed}"' in answer.text, "what was typed is kept"
    clock.go_on(minutes=5)
    assert page.post("/clocks/start", data={**form, "temperature": "18 °C"}, follow_redirects=False).status_code == 303
    shown = text_of(page, "/clocks")
    assert "Settling of the tappets: 15 minutes more" in shown, "the wait began with the last cap"
    assert "20 minutes in all at 18 °C" in shown
    page.post("/clocks/start", data={**form, "key": "2", "temperature": "9 °C"})
    assert "Settling of the tappets: 70 minutes more" in text_of(page, "/clocks"), "the last that was said counts"


def test_a_wait_that_nobody_may_sign_away_keeps_its_step_shut(
    page: TestClient, store: MemoryStore, clock: HandClock
) -> None:
    to_the_caps(page)
    clock.go_on(minutes=10)
    text = text_of(page, "/build/turn")
    assert "Shut:" in text
    assert "Settling of the tappets: 65 minutes more: a valve held open bends." in text
    assert "Do it anyway, and sign" not in text
    signed = page.post("/build/turn/anyway", data={"by": "Ana", "reason": "in a hurry"})
    assert signed.status_code == 422
    assert "turn" not in build_of(load(store)[0]).done


def test_a_clock_set_back_is_said_and_lengthens_nothing_silently(page: TestClient, clock: HandClock) -> None:
    done(page, "clean", "bead")
    clock.go_on(minutes=-30)
    shown = text_of(page, "/clocks")
    assert "finish before 10:00" in shown
    assert "set back by 30 minutes: the time counts from the record" in shown
    assert "10 minutes left" in text_of(page, "/build/cover")
    done(page, "cover")
    shown = text_of(page, "/clocks")
    assert "not before 30:00" in shown
    assert "set back by 30 minutes before this began. Look at the time yourself." in shown


def test_the_build_record_tells_the_clocks(page: TestClient, store: MemoryStore, clock: HandClock) -> None:
    to_the_caps(page)
    page.post("/clocks/start", data={"key": "1", "name": "settling of the tappets", "temperature": "18 °C", "by": "Bo"})
    lines = build_record(view(load(store)[0]), store.entries())["steps"]
    assert "Clock: Settling of the tappets, at 18 °C. Bo, 2026-05-03 10:00" in lines  # type: ignore[operator]
