"""The pages in a real browser: width, contrast and names, print, keyboard."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, BrowserContext

PAGES = [
    "/",
    "/board",
    "/stage/inspect",
    "/strip",
    "/strip/left_cover",
    "/strip/left_head",
    "/stage/build",
    "/measure/bore_size/3",
    "/measure/bore_size/7",
    "/measure/face_flatness/left",
    "/number/piston_clearance/service/2",
    "/number/compression_ratio/assembly/2",
    "/decide",
    "/what-if",
    "/agree",
    "/sheets",
    "/gauges?gauge=B2",
    "/joints",
    "/joint/left_head",
    "/joint/rods_pin_1",
    "/build",
    "/build/order",
    "/build/missing",
    "/build/rear_carrier",
    "/build/left_gasket",
    "/parts",
    "/dry-build",
    "/clocks",
    "/stop",
    "/take-up",
    "/timing",
    "/timing/dead-centre",
    "/timing/turn",
    "/timing/left_intake",
    "/formulas",
    "/formulas/compression.ratio",
    "/formulas/compression.swept_volume?bore=86+mm&stroke=86+mm",
]
# A browser writes an answer that refuses to its console, so these are looked at by axe alone.
REFUSING = ["/formulas/compression.swept_volume?bore=86&stroke=-1+mm", "/no/such/page"]


# Rules that axe leaves off unless asked: targets of 24 px with room (WCAG 2.2, 2.5.8) and contrast 7:1 (1.4.6).
STRICT = {"rules": {"target-size": {"enabled": True}, "color-contrast-enhanced": {"enabled": True}}}


@pytest.mark.parametrize("width", [320, 390, 820, 1280])
def test_no_page_scrolls_sideways_or_breaks_its_own_policy(browser: Browser, served, width: int) -> None:
    context = browser.new_context(viewport={"width": width, "height": 664}, base_url=served.address)
    page = context.new_page()
    said: list[str] = []
    page.on("console", lambda message: said.append(message.text))
    page.on("pageerror", lambda error: said.append(str(error)))
    wide = {}
    for path in PAGES:
        page.goto(path)
        found = page.evaluate("document.documentElement.scrollWidth")
        if found > width:
            wide[path] = found
    context.close()
    assert wide == {}
    assert said == []


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing(browser: Browser, served, scheme: str) -> None:
    context = browser.new_context(
        viewport={"width": 390, "height": 664}, base_url=served.address, color_scheme=scheme, bypass_csp=True
    )
    page = context.new_page()
    found = {}
    for path in [*PAGES, *REFUSING]:
        page.goto(path)
        violations = Axe().run(page, options=STRICT).response["violations"]
        if violations:
            found[path] = [(each["id"], [node["html"][:120] for node in each["nodes"]][:3]) for each in violations]
    context.close()
    assert found == {}


def test_value_keypad_and_main_button_are_visible_together_on_a_phone(phone: BrowserContext) -> None:
    page = phone.new_page()
    page.goto("/measure/bore_size/7")
    tops = [page.locator(f"#{name}").bounding_box() for name in ("text", "keypad")]
    save = page.locator(".save").bounding_box()
    page.locator("#text").scroll_into_view_if_needed()
    top = min(box["y"] for box in tops if box)
    bottom = max(box["y"] + box["height"] for box in [*tops, save] if box)
    assert bottom - top <= 664
    assert save
    assert save["height"] >= 125


def test_print_shows_verdicts_and_title_block_and_no_buttons(phone: BrowserContext) -> None:
    page = phone.new_page()
    page.goto("/board")
    page.emulate_media(media="print")
    assert page.locator(".title-block").is_visible()
    assert page.locator("table tbody tr").first.is_visible()
    assert page.locator("button:visible, .button:visible").count() == 0
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") == "rgb(255, 255, 255)"


def test_the_font_is_the_one_of_the_package_with_figures_of_one_width(phone: BrowserContext) -> None:
    page = phone.new_page()
    page.goto("/")
    assert page.evaluate("document.fonts.ready.then(() => document.fonts.check('18px \"Atkinson Hyperlegible\"'))")
    assert page.evaluate("getComputedStyle(document.body).fontVariantNumeric") == "tabular-nums"
    smallest = page.evaluate(
        "Math.min(...[...document.querySelectorAll('body *')].map((e) => parseFloat(getComputedStyle(e).fontSize)))"
    )
    assert smallest >= 16


def test_the_words_of_a_station_end_before_the_strip_begins_and_the_ring_leaves_the_question_readable(
    phone: BrowserContext,
) -> None:
    page = phone.new_page()
    page.goto("/measure/end_float/engine")
    words, edge = page.locator("svg.bore text", has_text="second push"), page.locator("svg.bore path.outline")
    right = "each => each.getBoundingClientRect().right"
    assert words.evaluate(right) < edge.evaluate("each => each.getBoundingClientRect().left")
    ring = 6
    question, field = page.locator(".value-field"), page.locator("#text").bounding_box()
    top = question.bounding_box()
    assert top is not None
    assert field is not None
    assert field["y"] - ring >= top["y"] + question.evaluate("each => parseFloat(getComputedStyle(each).lineHeight)")


# As a browser's own text size does it: every text twice as large, boxes left to follow.
TWICE = """() => {
    const all = [...document.body.querySelectorAll("*")].filter((each) => !each.closest("svg"));
    const sizes = all.map((each) => parseFloat(getComputedStyle(each).fontSize));
    all.forEach((each, n) => { each.style.fontSize = `${2 * sizes[n]}px`; });
}"""


def test_text_at_twice_its_size_still_fits_a_phone(browser: Browser, served) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 664}, base_url=served.address)
    page = context.new_page()
    wide = {}
    for path in PAGES:
        page.goto(path)
        page.evaluate(TWICE)
        found = page.evaluate("document.documentElement.scrollWidth")
        if found > 390:
            wide[path] = found
    context.close()
    assert wide == {}
