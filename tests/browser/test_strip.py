"""A head comes off at the bench, by thumb on a phone and on a tablet: asked, labelled, counted one short, reloaded."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect

from strip_hands import strip_by_hand

BEFORE = [
    *("left_cover", "right_cover", "manifold", "damper", "sump", "timing_cover", "left_tensioner"),
    *("left_sprockets", "left_cams", "left_buckets", "left_m8"),
]
STRICT = {"rules": {"target-size": {"enabled": True}, "color-contrast-enhanced": {"enabled": True}}}


def clock() -> str:
    return "2026-05-03T10:00:00Z"


def press(page: Page, words: str) -> None:
    """A thumb on a button at least 20 mm high by the measure of the page."""
    button = page.get_by_role("button", name=words, exact=True)
    box = button.bounding_box()
    assert box
    assert box["height"] >= 96
    button.tap()


def fits(page: Page, width: int) -> None:
    assert page.evaluate("document.documentElement.scrollWidth") <= width


@pytest.mark.parametrize(("width", "height"), [(390, 664), (820, 1100)])
def test_a_head_comes_off_by_thumb_one_bolt_short_with_its_account(
    browser: Browser, served, width: int, height: int
) -> None:
    for name in BEFORE:
        strip_by_hand(served.store, clock, name)
    context = browser.new_context(viewport={"width": width, "height": height}, has_touch=True, base_url=served.address)
    context.set_default_timeout(10_000)
    page = context.new_page()
    said: list[str] = []
    page.on("pageerror", lambda error: said.append(str(error)))

    page.goto("/strip")
    expect(page.locator(".void")).not_to_contain_text("left head gasket")
    page.get_by_role("link", name="Slacken the left head bolts cold and lift the head").tap()
    expect(page.locator(".caution").first).to_contain_text("CAUTION The head weighs 16 kg")
    label = page.locator(".labels li")
    expect(label).to_have_text("LEFT HEAD")
    assert float(label.evaluate("each => parseFloat(getComputedStyle(each).fontSize)")) >= 32
    page.get_by_label("Name (goes on the record)").fill("Ana")
    fits(page, width)
    press(page, "THE LABEL IS ON")

    expect(page.locator(".saved")).to_contain_text("Saved: the label is on.")
    boxes = [each.bounding_box() for each in page.locator(".picture svg").all()]
    assert all(box and box["width"] >= 140 for box in boxes)
    page.get_by_text("Tab to the front").tap()
    fits(page, width)
    press(page, "IT SITS SO")

    expect(page.locator(".saved")).to_contain_text("Saved: how it sits.")
    # the phone was laid aside: what was said stands, and the same question is open
    page.reload()
    expect(page.locator(".ask-words")).to_contain_text("Photograph: the fire face")
    page.get_by_label("No photograph? Why").fill("the camera is flat")
    press(page, "GO ON WITHOUT")

    expect(page.get_by_role("img", name="Left head to block")).to_be_visible()
    page.locator("[name=out]").fill("9")
    fits(page, width)
    press(page, "IT IS OFF")
    expect(page.get_by_role("alert")).to_contain_text("found 9 of 10 M11x95, left deck")
    expect(page.locator("[name=out]")).to_have_value("9")
    page.locator("[name=account]").fill("bolt 7 sheared, its stud stands in the block")
    page.get_by_label("Who lifts with you?").fill("Bo")
    press(page, "IT IS OFF")

    expect(page.locator(".saved")).to_contain_text("Saved: it is off and counted.")
    expect(page.locator("main")).to_contain_text("bolt 7 sheared")
    expect(page.get_by_role("button", name="IT IS CLEAN")).to_be_visible()
    page.goto("/strip")
    expect(page.locator(".void")).to_contain_text("left head gasket")
    expect(page.locator("main")).to_contain_text("Left head: clean")
    context.close()
    assert said == []
    [off] = [each for each in served.events("PartRemoved") if each.removal == "left_head"]
    assert (off.out, off.helper) == ({"M11x95, left deck": 9}, "Bo")
    assert off.account == {"M11x95, left deck": "bolt 7 sheared, its stud stands in the block"}


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing_at_the_strip_and_no_page_scrolls_sideways(browser: Browser, served, scheme: str) -> None:
    for name in ("left_cover", "right_cover"):
        strip_by_hand(served.store, clock, name)
    context = browser.new_context(
        viewport={"width": 320, "height": 664}, base_url=served.address, color_scheme=scheme, bypass_csp=True
    )
    page = context.new_page()
    found = {}
    for path in ("/strip", "/strip/left_cover", "/strip/left_head", "/strip/damper", "/strip/flywheel", "/sheets"):
        page.goto(path)
        fits(page, 320)
        violations = Axe().run(page, options=STRICT).response["violations"]
        if violations:
            found[path] = [(each["id"], [node["html"][:120] for node in each["nodes"]][:3]) for each in violations]
    context.close()
    assert found == {}


def test_the_label_is_printed_and_the_buttons_are_not(browser: Browser, served) -> None:
    page = browser.new_page(base_url=served.address)
    page.emulate_media(media="print")
    page.goto("/strip/left_cover")
    expect(page.locator(".labels li")).to_be_visible()
    expect(page.locator("button").first).to_be_hidden()
    page.close()


def test_a_removal_is_done_without_a_script_and_by_keyboard_alone(browser: Browser, served) -> None:
    context = browser.new_context(java_script_enabled=False, base_url=served.address)
    page = context.new_page()
    page.goto("/strip/left_cover")
    page.get_by_label("Name (goes on the record)").focus()
    page.keyboard.type("Ana")
    page.keyboard.press("Enter")
    expect(page.locator("main")).to_contain_text("Saved: the label is on.")
    page.locator("[name=out]").focus()
    page.keyboard.type("11")
    page.keyboard.press("Enter")
    expect(page.locator("main")).to_contain_text("Saved: it is off and counted.")
    context.close()
