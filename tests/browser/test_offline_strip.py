"""A removal on a phone while the workshop computer is silent: asked in turn, a photograph, a count refused."""

from __future__ import annotations

import re

from playwright.sync_api import BrowserContext, Page, expect
from silence import fits, in_charge, sent, tap, waiting

from pictures import small_picture
from strip_hands import strip_by_hand

BEFORE_THE_HEAD = [
    *("left_cover", "right_cover", "manifold", "damper", "sump", "timing_cover", "left_tensioner"),
    *("left_sprockets", "left_cams", "left_buckets", "left_m8"),
]
PNG = small_picture("PNG")


def clock() -> str:
    return "2026-05-03T10:00:00Z"


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


def head_in_turn(hand: BrowserContext, served) -> Page:
    """The left head labelled and its orientation told while nothing answers: the photograph is asked."""
    for name in BEFORE_THE_HEAD:
        strip_by_hand(served.store, clock, name)
    page = in_charge(hand.new_page(), "/strip/left_head")
    hand.set_offline(True)
    page.get_by_label("Name (goes on the record)").fill("Ana")
    tap(page, "THE LABEL IS ON")
    page.get_by_text("Tab to the front").tap()
    tap(page, "IT SITS SO")
    waiting(page, 2)
    return page


def test_a_photograph_waits_for_the_workshop_computer_and_says_so(hand: BrowserContext, served) -> None:
    page = head_in_turn(hand, served)
    page.locator("[name=photo]").set_input_files({"name": "face.png", "mimeType": "image/png", "buffer": PNG})
    tap(page, "KEEP THE PHOTOGRAPH")
    expect(page.locator("#away-note")).to_contain_text("A photograph cannot wait on this device.")
    waiting(page, 2)
    fits(page)
    hand.set_offline(False)
    sent(page)
    page.locator("[name=photo]").set_input_files({"name": "face.png", "mimeType": "image/png", "buffer": PNG})
    tap(page, "KEEP THE PHOTOGRAPH")
    expect(page.get_by_role("button", name="IT IS OFF")).to_be_visible()
    assert [each.removal for each in served.events("PhotoBound")] == ["left_head"]


def test_a_count_that_the_rules_refuse_stays_and_is_typed_again_from_where_it_was(hand: BrowserContext, served) -> None:
    page = head_in_turn(hand, served)
    page.get_by_label("No photograph? Why").fill("the camera is flat")
    tap(page, "GO ON WITHOUT")
    page.locator("[name=out]").fill("9")
    page.get_by_label("Who lifts with you?").fill("Bo")
    tap(page, "IT IS OFF")
    waiting(page, 4)
    page.get_by_role("link", name="Next removal").tap()
    hand.set_offline(False)
    expect(page.locator("#refused")).to_contain_text("Not in the record: IT IS OFF. ", timeout=15_000)
    assert [each.removal for each in served.events("PhotoLeftOut")][-1] == "left_head"
    tap(page, "Correct it")
    expect(page.locator("[name=out]")).to_have_value("9")
    expect(page.get_by_label("Who lifts with you?")).to_have_value("Bo")
    page.get_by_label("If not 10: what is missing").fill("one sheared, stud left in")
    tap(page, "IT IS OFF")
    expect(page.locator("#refused")).to_be_hidden()
    told = served.events("PartRemoved")[-1]
    assert (told.out, told.helper) == ({"M11x95, left deck": 9}, "Bo")
