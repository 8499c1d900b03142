"""The first fire by two people in two browsers: refused, refused again, fired, stopped, ready again, run in."""

import threading
from collections.abc import Iterator
from dataclasses import dataclass

import pytest
import uvicorn
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect
from twin import built
from workbench import HandClock, pages_over

from browsing import CHROMIUM
from endfloat.job.wire import from_body
from endfloat.store.memory import MemoryStore
from endfloat.workshop import prove

pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(CHROMIUM is None, reason="no Chromium here: the first fire in a browser was NOT run"),
]
PHONE, TABLET = (390, 664), (820, 1180)
STRICT = {"rules": {"target-size": {"enabled": True}, "color-contrast-enhanced": {"enabled": True}}}


@dataclass
class Served:
    """A job's store and the address of its pages."""

    store: MemoryStore
    address: str

    def events(self, kind: str) -> list[object]:
        found = [from_body(entry.body) for entry in self.store.entries()]
        return [event for event in found if type(event).__name__ == kind]


@pytest.fixture
def hand() -> HandClock:
    return HandClock()


@pytest.fixture
def twin(hand: HandClock) -> Iterator[Served]:
    store = built(hand)
    config = uvicorn.Config(pages_over(store, hand), host="127.0.0.1", port=0, log_level="error")
    server = uvicorn.Server(config)
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    while not server.started:
        assert thread.is_alive()
        threading.Event().wait(0.01)
    yield Served(store, f"http://127.0.0.1:{server.servers[0].sockets[0].getsockname()[1]}")
    server.should_exit = True
    thread.join()


def person(browser: Browser, served: Served, width: int, height: int) -> Page:
    context = browser.new_context(viewport={"width": width, "height": height}, base_url=served.address)
    context.set_default_timeout(5000)
    return context.new_page()


def make_ready(twin: Served, hand: HandClock) -> None:
    """Primed, and both lists complete."""
    for key, step, showed, looked in (
        ("a", "fill", "", []),
        ("b", "spin", "1.4", ["oil at the last cam"]),
        ("c", "fuel", "", ["every joint dry"]),
    ):
        told = prove.prime(twin.store, hand, key=key, step=step, showed=showed, by="Ana", looked=looked, second="Bo")
        assert told is None
    assert prove.tick(twin.store, hand, role="first", items=["levels", "tools"], by="Ana") is None
    assert prove.tick(twin.store, hand, role="second", items=["stop", "tools"], by="Bo") is None


def tick(page: Page, name: str, *things: str) -> None:
    for thing in things:
        page.get_by_label(thing, exact=False).first.check()
    page.get_by_label("Name (goes on the record)").first.fill(name)
    page.get_by_role("button", name="I LOOKED AT THESE").click()


def test_the_first_fire_of_two_people_with_a_stop_at_once_in_the_middle(
    browser: Browser, twin: Served, hand: HandClock
) -> None:
    ana, bo = person(browser, twin, *PHONE), person(browser, twin, *TABLET)
    # priming, by the pages
    ana.goto("/prove")
    expect(ana.locator("h1")).to_have_text("Fill the oil")
    ana.get_by_label("Name (goes on the record)").first.fill("Ana")
    ana.get_by_role("button", name="DONE").click()
    expect(ana.locator("h1")).to_have_text("Spin the pump")
    ana.get_by_label("Oil at the last cam").check()
    ana.locator("[name=showed]").fill("0.4")
    ana.get_by_role("button", name="DONE").click()
    expect(ana.locator(".problem[role=alert]")).to_contain_text("expected at least 1.0 bar, page 60")
    assert ana.locator("[name=showed]").input_value() == "0.4"
    ana.locator("[name=showed]").fill("1.4")
    ana.get_by_role("button", name="DONE").click()
    ana.get_by_label("Every joint dry").check()
    ana.get_by_label("Who looked too").fill("Bo")
    ana.get_by_role("button", name="DONE").click()
    ana.get_by_role("link", name="Ready to fire?").first.click()
    # an incomplete list is refused
    expect(ana.locator(".knock-on")).to_contain_text("Shut: 4 still open before it may fire.")
    expect(ana.get_by_role("button", name="IT FIRES")).to_have_count(0)
    tick(ana, "Ana", "Levels read", "Tools counted")
    expect(ana.locator(".knock-on")).to_contain_text("2 on the second person's list")
    # the same name is refused on the second list, in the second browser
    bo.goto("/prove/ready/second")
    tick(bo, "ana", "Hand on the stop", "Tools counted")
    expect(bo.locator(".problem[role=alert]")).to_contain_text("expected a second person")
    expect(bo.get_by_label("Hand on the stop")).to_be_checked()
    assert not [each for each in twin.events("ReadyTicked") if getattr(each, "role", "") == "second"]
    bo.get_by_label("Name (goes on the record)").first.fill("Bo")
    bo.get_by_role("button", name="I LOOKED AT THESE").click()
    expect(bo.locator("main")).to_contain_text("Both lists are complete. Ana fires; you stand at the stop.")
    # the first person sees it by the plain link
    expect(ana.get_by_role("button", name="IT FIRES")).to_have_count(0)
    ana.get_by_role("link", name="Look again", exact=True).click()
    # taken back meanwhile by the second person: the page that still shows the button is refused
    bo.locator(".ticked li", has_text="Hand on the stop").get_by_role("button").click()
    ana.get_by_role("button", name="IT FIRES").click()
    expect(ana.locator(".problem[role=alert]")).to_contain_text("still open: Hand on the stop (the second list)")
    tick(bo, "Bo", "Hand on the stop")
    ana.goto("/prove/ready")
    ana.get_by_role("button", name="IT FIRES").click()
    expect(ana.locator("h1")).to_contain_text("Running for")
    # STOP is the largest control and in sight, also far down the log
    buttons = [each.bounding_box() for each in ana.locator("button").all()]
    areas = [box["width"] * box["height"] for box in buttons if box]
    stop = ana.locator("button.stop").bounding_box()
    assert stop
    assert stop["width"] * stop["height"] == max(areas)
    ana.get_by_role("button", name="SAVE SPEED").scroll_into_view_if_needed()
    expect(ana.locator("button.stop")).to_be_in_viewport(ratio=1)
    # below the stop rule: STOP, and still STOP after a reload in the middle
    hand.go_on(seconds=12)
    field = ana.locator("form.gauge", has_text="Oil pressure").locator("[name=text]")
    field.fill("0.5")
    ana.get_by_role("button", name="SAVE OIL PRESSURE").click()
    expect(ana.locator(".stop-now")).to_contain_text("No oil. Oil pressure: 0.5 bar")
    ana.reload()
    expect(ana.locator(".stop-now")).to_be_in_viewport()
    expect(ana.locator("button.stop")).to_be_in_viewport()
    bo.goto("/prove/run")
    expect(bo.locator(".stop-now")).to_contain_text("STOP")
    ana.locator("button.stop").click()
    expect(ana.locator("h1")).to_have_text("The engine stands still")
    # both lists again, then the run-in
    ana.get_by_role("link", name="Stopped at once: both lists again").click()
    tick(ana, "Ana", "Levels read", "Tools counted")
    bo.goto("/prove/ready/second")
    tick(bo, "Bo", "Hand on the stop", "Tools counted")
    ana.get_by_role("link", name="Look again", exact=True).click()
    ana.get_by_role("button", name="IT FIRES").click()
    expect(ana.locator("h1")).to_contain_text("Running for")
    hand.go_on(minutes=20)
    assert prove.log_gauge(twin.store, hand, key="well", gauge="oil", text="3.5", by="Ana") is None
    ana.reload()
    ana.get_by_label("Why it is stopped").fill("first heat over")
    ana.get_by_role("button", name="Stopped as planned, all well").click()
    ana.get_by_role("link", name="Run in: First heat").click()
    ana.get_by_label("How long was it run?").fill("20")
    ana.get_by_role("button", name="SAVE").click()
    expect(ana.locator("main")).to_contain_text("Shut. First:")
    expect(ana.locator("main")).to_contain_text("Every joint dry")
    ana.reload()
    expect(ana.locator("main")).to_contain_text("First heat: 20 min")
    kinds = [len(twin.events(kind)) for kind in ("FirstFired", "FiredAgain", "EngineStopped", "RunInLogged")]
    assert kinds == [1, 1, 2, 1]
    ana.context.close()
    bo.context.close()


@pytest.mark.parametrize("width", [320, 390, 820, 1280])
def test_no_page_of_this_stage_scrolls_sideways_or_breaks_its_own_policy(
    browser: Browser, twin: Served, hand: HandClock, width: int
) -> None:
    page = person(browser, twin, width, 664)
    said: list[str] = []
    page.on("console", lambda message: said.append(message.text))
    page.on("pageerror", lambda error: said.append(str(error)))
    paths = ["/", "/prove", "/prove/ready", "/prove/ready/second", "/prove/run", "/prove/run-in", "/prove/recheck"]
    wide = {}

    def look() -> None:
        for path in [*paths, "/prove/compare"]:
            page.goto(path)
            found = page.evaluate("document.documentElement.scrollWidth")
            if found > width:
                wide[path] = found

    look()
    make_ready(twin, hand)
    look()
    assert prove.fire(twin.store, hand, by="Ana", second="Bo") is None
    hand.go_on(seconds=20)
    assert prove.log_gauge(twin.store, hand, key="g", gauge="noise", text="knock", by="Ana") is None
    look()
    page.context.close()
    assert wide == {}
    assert said == []


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing_before_while_and_after_the_engine_runs(
    browser: Browser, twin: Served, hand: HandClock, scheme: str
) -> None:
    context = browser.new_context(
        viewport={"width": 390, "height": 664}, base_url=twin.address, color_scheme=scheme, bypass_csp=True
    )
    page = context.new_page()
    found = {}

    def look(when: str, *paths: str) -> None:
        for path in paths:
            page.goto(path)
            violations = Axe().run(page, options=STRICT).response["violations"]
            if violations:
                found[when, path] = [(e["id"], [n["html"][:120] for n in e["nodes"]][:3]) for e in violations]

    look("before", "/prove", "/prove/ready", "/prove/ready/second", "/prove/run", "/prove/run-in", "/prove/compare")
    make_ready(twin, hand)
    look("ready", "/prove/ready", "/prove/ready/second")
    assert prove.fire(twin.store, hand, by="Ana", second="Bo") is None
    look("runs", "/prove/run")
    hand.go_on(seconds=20)
    assert prove.log_gauge(twin.store, hand, key="g", gauge="noise", text="knock", by="Ana") is None
    look("stop", "/prove/run?saved=g")
    assert prove.stop_engine(twin.store, hand, reason="knock", planned=False, by="Ana") is None
    look("after", "/prove/run", "/prove/ready", "/prove/run-in", "/prove/recheck", "/prove/compare")
    context.close()
    assert found == {}
