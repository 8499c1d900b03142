"""One story at the bench by touch: four cams of the V8, a tooth out found and put right, two turns, read again."""

import socket
import threading
import time
from collections.abc import Iterator

import pytest
import uvicorn
from playwright.sync_api import Browser, Page
from timing_bench import find, open_gate, start_waits, timing_of, wheel_at
from workbench import HandClock, opened_job, pages_over

from browsing import CHROMIUM
from endfloat.store.memory import MemoryStore

pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(CHROMIUM is None, reason="no Chromium here: the story in a browser was NOT run"),
]
TITLES = {
    "left_intake": "Left intake cam",
    "left_exhaust": "Left exhaust cam",
    "right_intake": "Right intake cam",
    "right_exhaust": "Right exhaust cam",
}
Bench = tuple[str, MemoryStore, HandClock]


@pytest.fixture
def bench() -> Iterator[Bench]:
    clock = HandClock()
    store = opened_job(clock)
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    server = uvicorn.Server(
        uvicorn.Config(pages_over(store, clock), host="127.0.0.1", port=port, log_level="error", ws="none")
    )
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    while not server.started:
        time.sleep(0.02)
    yield f"http://127.0.0.1:{port}", store, clock
    server.should_exit = True
    thread.join(timeout=5)


def fits(page: Page) -> None:
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), f"{page.url} runs off the side"


def dead_centre(page: Page) -> None:
    page.get_by_label("Touch before it").fill("338.5")
    page.get_by_label("Touch after it").fill("24.5")
    page.get_by_label("both valves of left 1 are shut").tap()
    page.get_by_label("Name (goes on the record)").first.fill("Ana")
    page.get_by_role("button", name="DEAD CENTRE FOUND").or_(page.get_by_role("button", name="TAKE IT AGAIN")).tap()
    page.get_by_text("Dead centre by two stops: correction −1.5 °").wait_for()


def tick(page: Page, *conditions: str) -> None:
    for condition in conditions:
        name = page.locator(f"#{condition}").get_by_label("Name (goes on the record)")
        if name.count():
            name.fill("Ana")
        page.locator(f"#{condition}").get_by_role("button", name="SEEN: IT IS SO").tap()
        page.locator(f"#{condition}").get_by_text("Ticked by Ana").wait_for()


def read(page: Page, store: MemoryStore, clock: HandClock, cam: str, late: float = 0.0) -> None:
    """Both events of a cam by the keys of the page."""
    timing = timing_of(store, clock).timing
    for point in ("opens", "closes"):
        page.locator("p.spot", has_text=f"When it {point}").wait_for()
        for key in f"{wheel_at(timing, cam, point, late=late):.1f}":
            page.get_by_role("button", name="decimal point" if key == "." else key, exact=True).tap()
        page.get_by_role("button", name="SAVE & NEXT").tap()
        said = "before the" if point == "opens" else "wheel reading"
        page.locator("#content").get_by_text(said).first.wait_for()
    page.get_by_text("Read it once more").wait_for()


@pytest.mark.parametrize(("width", "height"), [(390, 664), (820, 1180)])
def test_four_cams_are_timed_by_touch_and_a_tooth_is_found_and_put_right(
    bench: Bench, browser: Browser, width: int, height: int
) -> None:
    address, store, clock = bench
    context = browser.new_context(viewport={"width": width, "height": height}, has_touch=True, is_mobile=True)
    context.set_default_timeout(8000)
    page = context.new_page()
    refused: list[str] = []
    page.on("console", lambda told: refused.append(told.text) if "Content Security" in told.text else None)

    page.goto(f"{address}/")
    page.get_by_role("link", name="Cam timing").tap()
    page.get_by_role("link", name="Before you turn it").first.tap()
    page.get_by_text("Shut: tappets, not begun; pins; helper; tensioners; hands").first.wait_for()
    start_waits(store, clock, minutes_ago=22)
    page.get_by_role("link", name="Look again").tap()
    page.get_by_text("Shut: tappets, 53 minutes; pins").first.wait_for()
    fits(page)
    page.get_by_role("link", name="Say how warm it is").tap()
    for side, told in (("left", "8 °C"), ("right", "18 °C")):
        form = page.locator("form", has_text=f"Settling of the {side} tappets: how warm?")
        form.get_by_label("Temperature, with its unit").fill(told)
        form.get_by_label("Name (goes on the record)").fill("Ana")
        form.get_by_role("button", name="THAT IS HOW WARM IT IS").tap()
        page.get_by_text(f"minutes in all at {told}").wait_for()
    clock.go_on(minutes=15)
    page.goto(f"{address}/timing/turn")
    tick(page, "pins", "helper", "tensioner", "hands")
    page.get_by_text("Shut: tappets, 38 minutes").first.wait_for()
    assert page.get_by_role("button", name="FULL TURNS MADE").count() == 0
    fits(page)
    clock.go_on(minutes=20)
    page.reload()
    page.get_by_text("Shut: tappets, 18 minutes").first.wait_for()
    clock.go_on(minutes=18)
    page.get_by_role("link", name="Look again").tap()
    page.get_by_text("The gate is open.").wait_for()

    page.get_by_role("link", name="Find dead centre by two stops").tap()
    page.get_by_role("heading", name="Where is dead centre?").wait_for()
    fits(page)
    dead_centre(page)
    page.get_by_role("link", name="Read the left intake cam").tap()
    for cam, late in (("left_intake", 0.0), ("left_exhaust", 720 / 42), ("right_intake", 0.2)):
        read(page, store, clock, cam, late)
        fits(page)
        following = list(TITLES.values())[list(TITLES).index(cam) + 1]
        if cam != "left_exhaust":
            page.get_by_role("link", name=f"Next: {following}").tap()
            continue
        assert page.get_by_text("Out of limits").is_visible()
        page.reload()
        page.locator(".figure", has_text="94.9").wait_for()
        clock.go_on(minutes=50)
        page.reload()
        page.get_by_text("You were away 50 minutes. Turn to dead centre again before you trust the wheel.").wait_for()
        page.goto(f"{address}/timing")
        page.get_by_role("link", name="Before you turn it").first.tap()
        tick(page, "pins", "helper", "tensioner", "hands")
        page.get_by_role("link", name="Turn to dead centre again").tap()
        dead_centre(page)
        page.goto(f"{address}/timing/right_intake")
    read(page, store, clock, "right_exhaust")
    page.get_by_role("link", name="All cams read: what is next").tap()
    page.get_by_role("link", name="Left exhaust cam is out: see why").wait_for()
    assert page.get_by_text("Left exhaust cam late by 17.1 °, 1 tooth of 17.1 °; the others hold.").is_visible()
    assert page.get_by_text("it is not proof").is_visible()
    fits(page)

    page.get_by_role("link", name="Left exhaust cam is out: see why").tap()
    page.get_by_text("Take a reading back").tap()
    page.get_by_label("Why").fill("pointer was bent")
    page.get_by_role("button", name="TAKE IT BACK").tap()
    page.locator("p.spot", has_text="When it opens").wait_for()
    page.goto(f"{address}/timing")
    page.get_by_text("The drive is opened, to put a cam right").tap()
    page.get_by_role("checkbox", name="Left exhaust cam").check()
    page.get_by_label("Why?").fill("a tooth out")
    page.get_by_role("button", name="THE DRIVE IS OPEN").tap()
    page.get_by_text("Shut: pins; helper; tensioners; hands").wait_for()

    page.get_by_role("link", name="Before you turn it").first.tap()
    tick(page, "pins", "helper", "tensioner", "hands")
    page.goto(f"{address}/timing/left_exhaust")
    read(page, store, clock, "left_exhaust", 0.2)
    page.get_by_role("link", name="All cams read: what is next").tap()
    page.get_by_role("link", name="Turn it 2 full turns").tap()
    page.get_by_role("button", name="2 FULL TURNS MADE, NO HARD STOP").tap()
    page.get_by_role("link", name="Read the left intake cam, after the 2 turns").tap()
    for cam in TITLES:
        read(page, store, clock, cam, 0.1)
        page.get_by_role("link", name="Next: ").or_(page.get_by_role("link", name="Every cam is good")).tap()
    page.get_by_text("Every cam read good after the 2 turns.").wait_for()
    fits(page)
    assert timing_of(store, clock).all_good
    assert refused == []
    context.close()


@pytest.mark.parametrize("address", ["/build/two_turns", "/timing/turn"])
def test_strip_clock_and_gate_count_down_together(bench: Bench, browser: Browser, address: str) -> None:

    home, store, clock = bench
    start_waits(store, clock, minutes_ago=0)
    clock.go_on(minutes=36, seconds=57)
    page = browser.new_page(viewport={"width": 390, "height": 664})
    page.goto(f"{home}{address}")
    assert "39 minutes" in page.locator("[data-left]").first.inner_text()
    page.locator("#clock-strip", has_text="38 minutes more").wait_for()
    told = page.locator("[data-left], [data-end]").all_inner_texts()
    assert len(told) >= 5
    assert all("38 minutes" in each for each in told), told
    for box in page.locator(".shut").all():
        assert "Shut: tappets, 38 minutes; pins" in " ".join(box.inner_text().split("\n"))
    page.close()


def test_value_keys_and_save_are_seen_together_on_a_phone(bench: Bench, browser: Browser) -> None:

    address, store, clock = bench
    assert find(store, clock) is None
    open_gate(store, clock)
    context = browser.new_context(viewport={"width": 390, "height": 664}, has_touch=True, is_mobile=True)
    page = context.new_page()
    page.goto(f"{address}/timing/left_intake")
    for point in ("opens", "closes"):
        page.locator("p.spot", has_text=f"When it {point}").wait_for()
        page.evaluate("scrollTo(0, 0)")
        for shown in (page.locator("#text"), page.get_by_role("button", name="SAVE & NEXT")):
            box = shown.bounding_box()
            assert box is not None
            assert box["y"] >= 0
            assert box["y"] + box["height"] <= 664, point
        page.locator("#text").fill("355.9")
        page.get_by_role("button", name="SAVE & NEXT").tap()
    context.close()


def test_a_reading_taken_while_the_workshop_computer_is_away_waits_on_the_device_and_is_sent(
    bench: Bench, browser: Browser
) -> None:

    address, store, clock = bench
    assert find(store, clock) is None
    open_gate(store, clock)
    context = browser.new_context(viewport={"width": 390, "height": 664}, has_touch=True, is_mobile=True)
    context.set_default_timeout(10000)
    page = context.new_page()
    page.goto(f"{address}/timing/left_intake")
    page.get_by_role("button", name="SAVE & NEXT").wait_for()
    context.set_offline(True)
    for point, text in (("opens", "355.9"), ("closes", "223.7")):
        page.locator("p.spot", has_text=f"When it {point}").wait_for()
        page.locator("#text").fill(text)
        page.get_by_role("button", name="SAVE & NEXT").tap()
    page.locator("#kept", has_text="Kept on this device, 2 waiting").wait_for()
    assert timing_of(store, clock).readings("left_intake") == ()
    context.set_offline(False)
    page.locator("#kept", has_text="Everything shown is saved").wait_for()
    assert [each.read.point for each in timing_of(store, clock).readings("left_intake")] == ["opens", "closes"]
    context.close()
