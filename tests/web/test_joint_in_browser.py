"""One story in a real browser on a phone: the left head in three passes, with a pause that was too long."""

import socket
import threading
import time
from collections.abc import Iterator
from typing import Literal

import pytest
import uvicorn
from playwright.sync_api import Browser
from workbench import HandClock, opened_job, pages_over

from browsing import CHROMIUM

pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(CHROMIUM is None, reason="no Chromium here: the story in a browser was NOT run"),
]
LEFT = ["3", "8", "4", "7", "2", "9", "5", "6", "1", "10"]


@pytest.fixture
def served() -> Iterator[tuple[str, HandClock]]:
    clock = HandClock()
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    server = uvicorn.Server(
        uvicorn.Config(pages_over(opened_job(clock), clock), host="127.0.0.1", port=port, log_level="error", ws="none")
    )
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    while not server.started:
        time.sleep(0.02)
    yield f"http://127.0.0.1:{port}", clock
    server.should_exit = True
    thread.join(timeout=5)


def test_the_left_head_is_tightened_on_a_phone_and_a_long_pause_is_told(
    served: tuple[str, HandClock], browser: Browser
) -> None:
    address, clock = served
    page = browser.new_page(viewport={"width": 390, "height": 664}, java_script_enabled=False)
    refused: list[str] = []
    page.on("console", lambda told: refused.append(told.text) if "Content Security" in told.text else None)
    page.goto(f"{address}/joints")
    page.get_by_role("link", name="Left head to block").click()

    def bolts_in(name: str) -> None:
        page.get_by_label("New bolt set").fill(name)
        page.get_by_label("Thread").select_option("oil")
        page.get_by_label("Under the head").select_option("oil")
        page.get_by_label("Who puts them in?").fill("Ana")
        page.get_by_role("button", name="BOLTS ARE IN").click()

    def pull(*bolts: str, gauge: str = "") -> None:
        for bolt in bolts:
            if gauge and page.get_by_label("Gauge").is_visible():
                page.get_by_label("Gauge").select_option(gauge)
            page.get_by_role("button", name=f"BOLT {bolt} PULLED").click()
            clock.go_on(seconds=30)

    bolts_in("H3")
    pull(*LEFT)
    assert page.get_by_text("+ 90 °", exact=True).is_visible()
    pull(*LEFT[:4])
    box = page.get_by_role("button", name="BOLT 2 PULLED").bounding_box()
    assert box is not None
    assert box["height"] >= 125
    assert box["y"] + box["height"] <= 664, "the button lies below the first screen"
    assert box["x"] + box["width"] <= 390

    page.get_by_role("link", name="Stopping now").click()
    assert page.get_by_text("You are inside pass 2").is_visible()
    clock.go_on(hours=3)
    page.goto(f"{address}/joint/left_head")
    assert page.get_by_text("Stopped 3 hours ago inside pass 2").is_visible()
    assert page.get_by_text("slacken all, renew the whole set, start again at pass 1").is_visible()
    assert page.get_by_role("button", name="PULLED").count() == 0

    bolts_in("H3")
    assert page.get_by_text("Bolt set H3, which was already pulled", exact=False).is_visible()
    bolts_in("H4")
    for _ in range(3):
        pull(*LEFT)
    pull("11", "12", "13")
    page.go_back()
    page.get_by_role("button", name="BOLT 13 PULLED").click()
    assert page.get_by_text("Counted once").is_visible()
    page.get_by_role("button", name="THE JOINT IS CLOSED").click()
    assert page.get_by_text("Closed by Ana").is_visible()
    assert refused == []


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_word_front_is_seen_on_its_marker(
    served: tuple[str, HandClock], browser: Browser, scheme: Literal["light", "dark"]
) -> None:
    page = browser.new_page(color_scheme=scheme)
    page.goto(f"{served[0]}/joint/left_head")
    colour = "each => getComputedStyle(each).fill"
    word = page.locator(".joint-drawing text", has_text="FRONT").evaluate(colour)
    assert word != page.locator(".joint-drawing path.front").evaluate(colour)
