"""A hand at the bench while the workshop computer is silent, for tests in a browser."""

from playwright.sync_api import Page, expect

PHONE, TABLET = (390, 664), (820, 1180)
A_BREATH = 650
"""Milliseconds: a press within 600 of the last one is the same press."""


def in_charge(page: Page, path: str) -> Page:
    """A page opened twice, so that its worker is in charge and keeps it, and what comes next is kept too."""
    page.goto("/gauges")
    page.evaluate("navigator.serviceWorker.ready")
    page.goto(path, wait_until="networkidle")
    return page


def tap(page: Page, words: str) -> None:
    page.wait_for_timeout(A_BREATH)
    page.get_by_role("button", name=words, exact=True).tap()


def waiting(page: Page, count: int) -> None:
    expect(page.locator("#kept")).to_have_text(f"Kept on this device, {count} waiting")


def sent(page: Page) -> None:
    expect(page.locator("#kept")).to_have_text("Everything shown is saved", timeout=15_000)


def fits(page: Page) -> None:
    assert page.viewport_size
    assert page.evaluate("document.documentElement.scrollWidth") <= page.viewport_size["width"]
