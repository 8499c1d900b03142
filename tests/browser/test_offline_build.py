"""The build, a joint and the strip in a real browser on a phone while the workshop computer is silent."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from endfloat.engine.asks import asks_of
from endfloat.job.description import engine_of
from endfloat.job.parts import expected_parts
from endfloat.workshop.build import build_of, confirm_step, lay_out_order
from endfloat.workshop.fit_bolt_set import fit_bolt_set, sorts_in_sequence
from endfloat.workshop.record import load
from endfloat.workshop.take_in_parts import take_in
from strip_hands import strip_by_hand

LEFT = ["3", "8", "4", "7", "2", "9", "5", "6", "1", "10"]
SILENT = "The workshop computer does not answer"
BEFORE_THE_HEAD = [
    *("left_cover", "right_cover", "manifold", "damper", "sump", "timing_cover", "left_tensioner"),
    *("left_sprockets", "left_cams", "left_buckets", "left_m8"),
]
A_BREATH = 650
"""Milliseconds: a press within 600 of the last one is the same press."""


def clock() -> str:
    return "2026-05-03T10:00:00Z"


@pytest.fixture
def hand(browser: Browser, served) -> BrowserContext:
    context = browser.new_context(
        viewport={"width": 390, "height": 664}, has_touch=True, base_url=served.address, reduced_motion="reduce"
    )
    context.set_default_timeout(8000)
    yield context
    context.close()


def in_charge(page: Page, path: str) -> Page:
    """A page opened twice, so that its worker is in charge and keeps it, and what comes next is kept too."""
    page.goto("/gauges")
    page.evaluate("navigator.serviceWorker.ready")
    page.goto(path, wait_until="networkidle")
    return page


def built_until(store, step: str) -> None:
    """Every step of the laid-out order before this one is done."""
    assert lay_out_order(store, clock, by="Ana") is None
    state = load(store)[0]
    for name, part in expected_parts(engine_of(state.opened.engine), None).items():
        if set(part.fitted_by) & {"bring_main_bolts", "bring_rod_bolts"}:
            told = take_in(store, clock, key=name, part=name, count=str(part.count), by="Bo", looked=part.looks)
            assert told is None
    order = build_of(state).order or build_of(load(store)[0]).order
    for each in order[: order.index(step)]:
        looks = [look.what for look in asks_of(engine_of(state.opened.engine), each).looks]
        assert confirm_step(store, clock, operation=each, by="Ana", looked=looks) is None


def tap(page: Page, words: str) -> None:
    page.wait_for_timeout(A_BREATH)
    page.get_by_role("button", name=words, exact=True).tap()


def waiting(page: Page, count: int) -> None:
    expect(page.locator("#kept")).to_have_text(f"Kept on this device, {count} waiting")


def sent(page: Page) -> None:
    expect(page.locator("#kept")).to_have_text("Everything shown is saved", timeout=15_000)


def fits(page: Page) -> None:
    assert page.evaluate("document.documentElement.scrollWidth") <= 390


def confirmed(served) -> list[str]:
    return [event.operation for event in served.events("StepConfirmed")]


def test_three_steps_done_while_nothing_answers_open_one_another_and_arrive_once_in_order(
    hand: BrowserContext, served
) -> None:
    built_until(served.store, "left_links")
    before = confirmed(served)
    page = in_charge(hand.new_page(), "/build/left_links")
    hand.set_offline(True)
    tap(page, "DONE")
    expect(page).to_have_url(re.compile("/build/left_seats$"))
    waiting(page, 1)
    expect(page.locator("#away")).to_contain_text(SILENT)
    expect(page.locator("#away")).to_contain_text("Shown as of ")
    tap(page, "DONE")
    expect(page).to_have_url(re.compile("/build/left_stem_seals$"))
    expect(page.locator("#away-note")).to_contain_text("The 2 steps before this one wait on this device.")
    expect(page.locator("#shut")).to_be_hidden()
    fits(page)
    page.reload()
    waiting(page, 2)
    tap(page, "DONE")
    expect(page).to_have_url(re.compile("/build/right_bolts_out$"))
    waiting(page, 3)
    assert confirmed(served) == before
    hand.set_offline(False)
    sent(page)
    assert confirmed(served) == [*before, "left_links", "left_seats", "left_stem_seals"]
    expect(page.locator("#away-note")).to_have_count(0)
    expect(page.get_by_role("button", name="DONE")).to_be_visible()


def test_a_pass_pulled_while_nothing_answers_goes_on_bolt_by_bolt_and_arrives_once_in_order(
    hand: BrowserContext, served
) -> None:
    joint = engine_of(load(served.store)[0].opened.engine).joints["left_head"]
    oil = dict.fromkeys(sorts_in_sequence(joint), ("oil", "oil"))
    assert fit_bolt_set(served.store, clock, key="in", joint="left_head", bolts="H3", stated=oil, by="Ana") is None
    page = in_charge(hand.new_page(), "/joint/left_head")
    expect(page.get_by_role("button", name="BOLT 3 PULLED")).to_be_visible()
    hand.set_offline(True)
    tap(page, "BOLT 3 PULLED")
    expect(page.locator("#away-note")).to_contain_text("it gives this device the joint")
    hand.set_offline(False)
    tap(page, "BOLT 3 PULLED")
    expect(page.get_by_role("button", name="BOLT 8 PULLED")).to_be_visible()
    hand.set_offline(True)
    for count, bolt in enumerate(LEFT[1:5], start=1):
        tap(page, f"BOLT {bolt} PULLED")
        waiting(page, count)
    expect(page.locator("#away-note")).to_contain_text("Only this device may record this joint")
    fits(page)
    page.reload()
    waiting(page, 4)
    expect(page.locator("#left")).to_contain_text("5 left in this pass")
    for bolt in LEFT[5:]:
        tap(page, f"BOLT {bolt} PULLED")
    expect(page.locator("#away-note")).to_contain_text("The pass is done on this device")
    expect(page.get_by_role("button", name="PULLED")).to_have_count(0)
    hand.set_offline(False)
    sent(page)
    pulled = served.events("BoltPulled")
    assert [(each.pass_number, each.bolt) for each in pulled] == [(1, bolt) for bolt in LEFT]
    assert len({each.key for each in pulled}) == len(LEFT)
    expect(page.get_by_text("+ 90 °", exact=True)).to_be_visible()


def test_a_removal_is_answered_and_taken_off_while_nothing_answers(hand: BrowserContext, served) -> None:
    for name in BEFORE_THE_HEAD:
        strip_by_hand(served.store, clock, name)
    page = in_charge(hand.new_page(), "/strip/left_head")
    before = len(served.store.entries())
    hand.set_offline(True)
    page.get_by_label("Name (goes on the record)").fill("Ana")
    tap(page, "THE LABEL IS ON")
    waiting(page, 1)
    page.get_by_text("Tab to the front").tap()
    tap(page, "IT SITS SO")
    waiting(page, 2)
    page.reload()
    waiting(page, 2)
    page.get_by_label("No photograph? Why").fill("the camera is flat")
    tap(page, "GO ON WITHOUT")
    waiting(page, 3)
    page.locator("[name=out]").fill("10")
    page.get_by_label("Who lifts with you?").fill("Bo")
    fits(page)
    tap(page, "IT IS OFF")
    waiting(page, 4)
    expect(page.locator("#away-note")).to_contain_text("All that is asked here is kept on this device")
    page.get_by_role("link", name="Next removal").tap()
    expect(page).not_to_have_url(re.compile("left_head"))
    waiting(page, 4)
    assert len(served.store.entries()) == before
    hand.set_offline(False)
    sent(page)
    kinds = ("PlaceLabelled", "OrientationChosen", "PhotoLeftOut", "PartRemoved")
    told = [[each for each in served.events(kind) if each.removal == "left_head"] for kind in kinds]
    assert [len(each) for each in told] == [1, 1, 1, 1]
    assert (told[3][0].out, told[3][0].helper) == ({"M11x95, left deck": 10}, "Bo")
    assert len(served.store.entries()) == before + 4


def test_a_step_refused_on_arrival_stays_with_its_sentence_and_what_does_not_depend_on_it_goes_through(
    hand: BrowserContext, served
) -> None:
    built_until(served.store, "left_seats")
    before = confirmed(served)
    page = in_charge(hand.new_page(), "/build/left_seats")
    hand.set_offline(True)
    page.get_by_label("Name (goes on the record)").fill("")
    tap(page, "DONE")
    expect(page).to_have_url(re.compile("/build/left_stem_seals$"))
    tap(page, "DONE")
    expect(page).to_have_url(re.compile("/build/right_bolts_out$"))
    tap(page, "DONE")
    waiting(page, 3)
    hand.set_offline(False)
    expect(page.locator("#refused")).to_contain_text("Not in the record: DONE, ", timeout=15_000)
    assert confirmed(served) == [*before, "right_bolts_out"]
    expect(page.get_by_role("button", name="Send it again")).to_have_count(2)
    page.reload()
    expect(page.get_by_role("button", name="Send it again")).to_have_count(2)
    fits(page)
    page.goto("/build/left_seats")
    page.get_by_label("Name (goes on the record)").fill("Ana")
    tap(page, "DONE")
    expect(page.get_by_role("button", name="Send it again")).to_have_count(1)
    page.get_by_role("button", name="Send it again").tap()
    expect(page.locator("#refused")).to_be_hidden()
    assert confirmed(served) == [*before, "right_bolts_out", "left_seats", "left_stem_seals"]
