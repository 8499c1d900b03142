"""Steps of the build on a phone and a tablet while the workshop computer is silent."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import BrowserContext, expect
from silence import PHONE, TABLET, fits, in_charge, sent, tap, waiting

from endfloat.engine.asks import asks_of
from endfloat.job.description import engine_of
from endfloat.job.parts import expected_parts
from endfloat.workshop.build import build_of, confirm_step, lay_out_order
from endfloat.workshop.record import load
from endfloat.workshop.take_in_parts import take_in

SILENT = "The workshop computer does not answer"
SEATS = "left_seats: {title: "
TWO_LOOK = "left_seats: {looks: [{what: every seat is dry, second_person: true}], title: "


def clock() -> str:
    return "2026-05-03T10:00:00Z"


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


def confirmed(served) -> list[str]:
    return [event.operation for event in served.events("StepConfirmed")]


@pytest.mark.parametrize("hand", [PHONE, TABLET], indirect=True, ids=["phone", "tablet"])
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


@pytest.mark.parametrize("served", [(SEATS, TWO_LOOK)], indirect=True, ids=["two people look at the seats"])
def test_a_step_that_two_people_look_at_says_that_it_waits_and_keeps_what_was_typed(
    hand: BrowserContext, served
) -> None:
    built_until(served.store, "left_links")
    before = confirmed(served)
    page = in_charge(hand.new_page(), "/build/left_links")
    hand.set_offline(True)
    tap(page, "DONE")
    expect(page).to_have_url(re.compile("/build/left_seats$"))
    page.get_by_text("Every seat is dry").tap()
    page.get_by_label("Who looked too").fill("Bo")
    tap(page, "DONE")
    expect(page.locator("#away-note")).to_have_text(
        "Second-person checks wait until the workshop computer answers. Nothing was kept of this step."
    )
    expect(page.get_by_label("Who looked too")).to_have_value("Bo")
    waiting(page, 1)
    fits(page)
    hand.set_offline(False)
    sent(page)
    expect(page.get_by_label("Who looked too")).to_have_value("Bo")
    tap(page, "DONE")
    expect(page).to_have_url(re.compile("/build/left_stem_seals$"))
    assert confirmed(served) == [*before, "left_links", "left_seats"]
    assert served.events("StepConfirmed")[-1].second == "Bo"


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
    expect(page.locator("#refused")).to_contain_text("Not in the record: DONE. ", timeout=15_000)
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
