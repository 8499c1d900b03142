"""A joint on a phone and a tablet while the workshop computer is silent: a pass, a take-over."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Browser, BrowserContext, expect
from silence import PHONE, TABLET, fits, in_charge, sent, tap, waiting

from endfloat.job.description import engine_of
from endfloat.workshop.fit_bolt_set import fit_bolt_set, sorts_in_sequence
from endfloat.workshop.record import load

LEFT = ["3", "8", "4", "7", "2", "9", "5", "6", "1", "10"]


def clock() -> str:
    return "2026-05-03T10:00:00Z"


def bolts_in(store) -> None:
    joint = engine_of(load(store)[0].opened.engine).joints["left_head"]
    oil = dict.fromkeys(sorts_in_sequence(joint), ("oil", "oil"))
    assert fit_bolt_set(store, clock, key="in", joint="left_head", bolts="H3", stated=oil, by="Ana") is None


@pytest.mark.parametrize("hand", [PHONE, TABLET], indirect=True, ids=["phone", "tablet"])
def test_a_pass_pulled_while_nothing_answers_goes_on_bolt_by_bolt_and_arrives_once_in_order(
    hand: BrowserContext, served
) -> None:
    bolts_in(served.store)
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
    page.get_by_role("link", name="Stopping now").tap()
    expect(page.get_by_role("heading", name="This page is not kept on this device")).to_be_visible()
    page.go_back()
    waiting(page, 4)
    expect(page.locator(".joint-drawing .next")).to_have_attribute("data-bolt", LEFT[5])
    page.reload()
    waiting(page, 4)
    expect(page.locator(".joint-drawing .next")).to_have_attribute("data-bolt", LEFT[5])
    expect(page.locator(".joint-drawing")).to_have_attribute("aria-label", re.compile(f"next is bolt {LEFT[5]}"))
    expect(page.locator("#left")).to_contain_text("5 left in this pass")
    for bolt in LEFT[5:]:
        tap(page, f"BOLT {bolt} PULLED")
    expect(page.locator("#away-note")).to_contain_text("The pass is done on this device")
    expect(page.get_by_role("button", name="PULLED")).to_have_count(0)
    expect(page.locator(".joint-drawing .next")).to_have_count(0)
    expect(page.get_by_text("25 N·m", exact=True)).to_be_hidden()
    hand.set_offline(False)
    sent(page)
    pulled = served.events("BoltPulled")
    assert [(each.pass_number, each.bolt) for each in pulled] == [(1, bolt) for bolt in LEFT]
    assert len({each.key for each in pulled}) == len(LEFT)
    assert {each.device for each in pulled} == {served.events("JointTakenUp")[0].device}
    expect(page.get_by_text("+ 90 °", exact=True)).to_be_visible()


def test_pulls_that_waited_while_another_device_took_the_joint_over_are_refused_and_stay_with_who_has_it(
    hand: BrowserContext, browser: Browser, served
) -> None:
    bolts_in(served.store)
    page = in_charge(hand.new_page(), "/joint/left_head")
    tap(page, "BOLT 3 PULLED")
    expect(page.get_by_role("button", name="BOLT 8 PULLED")).to_be_visible()
    hand.set_offline(True)
    for bolt in LEFT[1:3]:
        tap(page, f"BOLT {bolt} PULLED")
    waiting(page, 2)
    tablet = browser.new_page(viewport={"width": 820, "height": 1100}, base_url=served.address)
    tablet.goto("/joint/left_head")
    tablet.get_by_text("Take it over, both say yes").click()
    expect(tablet.get_by_text("Does that device say that pulls wait on it?")).to_be_visible()
    tablet.get_by_label("Ana says yes: type that name").fill("Ana")
    tablet.get_by_label("Who goes on?").fill("Bo")
    tablet.get_by_role("button", name="THIS DEVICE GOES ON").click()
    tablet.wait_for_timeout(700)
    tablet.get_by_role("button", name="BOLT 8 PULLED").click()
    expect(tablet.get_by_role("button", name="BOLT 4 PULLED")).to_be_visible()
    hand.set_offline(False)
    expect(page.locator("#kept")).to_have_text("Kept on this device, 2 not in the record", timeout=15_000)
    refused = page.locator("#refused")
    expect(refused).to_contain_text(
        "BOLT 8 PULLED, Left head to block. Bolt 8: found it pulled by Bo on another device"
    )
    expect(refused).to_contain_text("BOLT 4 PULLED. Left head to block: ")
    expect(refused).to_contain_text("Watch it there, or take it over; both say yes.")
    fits(page)
    page.reload()
    expect(page.get_by_role("button", name="Leave it out")).to_have_count(2)
    expect(page.get_by_text("Bo has this joint on another device.")).to_be_visible()
    assert [each.bolt for each in served.events("BoltPulled")] == ["3", "8"]
    tablet.close()
