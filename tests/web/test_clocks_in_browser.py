"""One story in a real browser on a phone: a bead and its clock, away, stopped in pass 2, taken up by another name."""

import socket
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Literal

import pytest
import uvicorn
from axe_playwright_python.sync_playwright import Axe
from clock_engine import done, opened_in
from fastapi.testclient import TestClient
from hands import pull, tighten
from playwright.sync_api import Browser, Page
from workbench import HandClock, pages_over

from browsing import CHROMIUM
from endfloat.job.events import StepReopened
from endfloat.job.pause_events import WorkStopped, WorkTakenUp
from endfloat.job.wire import from_body
from endfloat.store.sqlite import SqliteStore
from endfloat.workshop.build import build_of
from endfloat.workshop.record import load

pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(CHROMIUM is None, reason="no Chromium here: the story in a browser was NOT run"),
]
HEARD = """
window.tones = 0;
const start = OscillatorNode.prototype.start;
OscillatorNode.prototype.start = function (...at) { window.tones += 1; return start.apply(this, at); };
"""


class Bench:
    """A job in a file, served on one address; `restart` is what a power cut leaves: the file and the time."""

    def __init__(self, file: Path) -> None:
        self.clock = HandClock()
        self.file = file
        opened_in(SqliteStore(file), self.clock)
        with socket.socket() as probe:
            probe.bind(("127.0.0.1", 0))
            self.port = probe.getsockname()[1]
        self.start()

    @property
    def store(self) -> SqliteStore:
        return SqliteStore(self.file)

    def start(self) -> None:
        app = pages_over(self.store, self.clock)
        self.server = uvicorn.Server(
            uvicorn.Config(app, host="127.0.0.1", port=self.port, log_level="error", ws="none")
        )
        self.thread = threading.Thread(target=self.server.run, daemon=True)
        self.thread.start()
        while not self.server.started:
            assert self.thread.is_alive()
            time.sleep(0.02)

    def stop(self) -> None:
        self.server.should_exit = True
        self.thread.join(timeout=10)

    def events(self, kind: type) -> list[object]:
        return [
            each for each in map(from_body, (entry.body for entry in self.store.entries())) if isinstance(each, kind)
        ]


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    bench = Bench(tmp_path / "job.sqlite")
    yield bench
    bench.stop()


def phone(browser: Browser, bench: Bench, refused: list[str]) -> Page:
    context = browser.new_context(
        viewport={"width": 390, "height": 664}, base_url=f"http://127.0.0.1:{bench.port}", timezone_id="Asia/Kolkata"
    )
    context.set_default_timeout(8000)
    page = context.new_page()
    page.on("console", lambda told: refused.append(told.text) if "Content Security" in told.text else None)
    page.on("pageerror", lambda error: refused.append(str(error)))
    return page


def shown_seconds(page: Page) -> int:
    minutes, seconds = page.locator(".figures time").first.inner_text().split(":")
    return 60 * int(minutes) + int(seconds)


def until(true: Callable[[], bool]) -> None:
    """Wait for it; the pages' policy forbids the browser to evaluate a text."""
    end = time.monotonic() + 15
    while not true():
        assert time.monotonic() < end
        time.sleep(0.1)


def confirm(page: Page, step: str, by: str = "Ana") -> None:
    page.goto(f"/build/{step}")
    for box in page.get_by_role("checkbox").all():
        box.check()
    page.get_by_label("Name (goes on the record)").last.fill(by)
    page.wait_for_timeout(650)  # a press within 600 ms of the last one is the same press
    page.get_by_role("button", name="DONE").click()
    page.wait_for_url(lambda address: not address.endswith(f"/build/{step}"))


def answer(page: Page, step: str, words: str) -> None:
    page.get_by_role("group", name=step).get_by_label(words, exact=True).check()


def test_a_bead_a_pause_and_a_stop_on_a_phone(bench: Bench, browser: Browser) -> None:
    refused: list[str] = []
    page = phone(browser, bench, refused)
    page.add_init_script(HEARD)
    confirm(page, "clean")
    confirm(page, "bead")
    assert page.locator("#clock-strip").inner_text() in (
        "Cover sealant: 10 minutes left",
        "Cover sealant: 9 minutes left",
    )

    # the clock is read across the room, and counts between two looks at the workshop computer
    bench.clock.go_on(minutes=4)
    page.locator("#clock-strip a").click()
    assert 350 < shown_seconds(page) <= 360
    box = page.locator(".figures").bounding_box()
    assert box is not None
    assert box["height"] >= 96
    assert box["x"] + box["width"] <= 390
    before = shown_seconds(page)
    until(lambda: shown_seconds(page) < before)

    # a reload and a restart of the server change nothing
    page.reload()
    assert 350 < shown_seconds(page) <= 360
    bench.stop()
    bench.clock.go_on(minutes=2)
    bench.start()
    page.reload()
    assert 230 < shown_seconds(page) <= 240

    # sound after a touch, and when the time runs out
    bench.clock.go_on(minutes=3, seconds=57)
    page.reload()
    page.get_by_role("button", name="Sound on").click()
    page.get_by_text("Sound is on while this page is open.").wait_for()
    heard = page.evaluate("window.tones")
    assert heard >= 1, "a touch lets the page sound"
    bench.clock.go_on(seconds=4)
    until(lambda: page.evaluate("window.tones") >= heard + 6)
    page.get_by_text("time has run out").wait_for()
    page.goto("/build/cover")
    assert page.get_by_text("Wipe both faces clean and lay a new bead", exact=False).first.is_visible()
    assert page.get_by_role("button", name="DONE").count() == 0

    # a new bead in time; then away for 24 minutes, and one step is not so
    hands = TestClient(pages_over(bench.store, bench.clock))
    hands.post("/build/bead/undo", data={"by": "Ana", "reason": "wiped off"})
    done(hands, "bead", "cover", "chain_up", "caps", "lock_in")
    bench.clock.go_on(minutes=24)
    page.goto("/build/pass_1")
    page.get_by_role("link", name="Shut: look at the last steps first").click()
    assert page.get_by_text("You were away 24 minutes. Look at the last 3. Is each still so?").is_visible()
    answer(page, "Lift the chain", "Yes")
    answer(page, "Draw the cam caps down", "Yes")
    page.get_by_role("button", name="GO ON").click()
    assert page.get_by_text("no answer for: Put the lock in").is_visible()
    assert page.get_by_role("group", name="Lift the chain").get_by_label("Yes").is_checked()
    answer(page, "Put the lock in", "No, re-open")
    answer(page, "the crank stands locked", "No, it is lost")
    page.get_by_role("button", name="GO ON").click()
    page.wait_for_url("**/build")
    assert [each.operation for each in bench.events(StepReopened)] == ["bead", "lock_in"]  # type: ignore[attr-defined]
    confirm(page, "lock_in")

    # stopped in the middle of pass 2: the tag says what is loose
    tighten(bench.store, bench.clock, "head", [1], close=False)
    done(hands, "pass_1")
    pull(bench.store, bench.clock, "head", 2, "2")
    page.goto("/build/pass_2")
    page.get_by_role("link", name="Stopping now").click()
    page.get_by_label("Why do you stop?").fill("gone home")
    page.get_by_role("button", name="I STOP").click()
    page.wait_for_url("**/stop/tag")
    assert page.get_by_text("DO NOT GO ON. READ THIS.").is_visible()
    assert page.get_by_text("Head to block: pass 2 of 2, 1 of 3 bolts pulled").is_visible()
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    assert len(bench.events(WorkStopped)) == 1

    # the next morning another name takes it up on another phone
    bench.clock.go_on(hours=20)
    other = phone(browser, bench, refused)
    other.goto("/")
    assert other.get_by_text("You stopped on Sunday with Head to block at pass 2. Read this first.").is_visible()
    other.get_by_role("link", name="Read", exact=True).click()
    other.get_by_role("link", name="I have read it").click()
    assert other.get_by_text("stopped 20 hours ago inside pass 2").is_visible()
    for step in ("Draw the cam caps down", "Put the lock in", "Head, pass 1", "the crank stands locked"):
        answer(other, step, "Yes")
    other.get_by_label("Who goes on?").fill("Bo")
    other.get_by_role("button", name="GO ON").click()
    other.wait_for_url("**/build")
    taken = bench.events(WorkTakenUp)[-1]
    assert isinstance(taken, WorkTakenUp)
    assert (taken.by, taken.still_so) == ("Bo", ("caps", "lock_in", "pass_1"))
    assert build_of(load(bench.store)[0]).next == "pass_2"
    assert refused == []


STRICT = {"rules": {"target-size": {"enabled": True}, "color-contrast-enhanced": {"enabled": True}}}


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_pages_with_clocks_a_question_and_a_tag_fit_every_screen_and_axe_finds_nothing(
    bench: Bench, browser: Browser, scheme: Literal["light", "dark"]
) -> None:
    hands = TestClient(pages_over(bench.store, bench.clock))
    context = browser.new_context(
        viewport={"width": 320, "height": 664},
        base_url=f"http://127.0.0.1:{bench.port}",
        color_scheme=scheme,
        bypass_csp=True,
    )
    page, found = context.new_page(), {}

    def look(*paths: str) -> None:
        for path in paths:
            for width in (320, 820, 1280):
                page.set_viewport_size({"width": width, "height": 664})
                page.goto(path)
                if page.evaluate("document.documentElement.scrollWidth") > width:
                    found[path, width] = "scrolls sideways"
            for each in Axe().run(page, options=STRICT).response["violations"]:
                found[path, each["id"]] = [node["html"][:120] for node in each["nodes"]][:3]

    done(hands, "clean", "bead")
    bench.clock.go_on(minutes=11)
    look("/clocks", "/build/cover")
    hands.post("/build/bead/undo", data={"by": "Ana", "reason": "wiped off"})
    look("/build/bead")
    done(hands, "bead", "cover", "chain_up", "caps", "lock_in")
    look("/clocks", "/stop")
    bench.clock.go_on(minutes=24)
    look("/build", "/build/pass_1")
    hands.post("/stop", data={"key": "s", "why": "gone home", "by": "Ana"})
    look("/", "/stop/tag", "/take-up")
    context.close()
    assert found == {}
