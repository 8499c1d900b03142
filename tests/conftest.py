"""Shared settings of all tests, and the one browser of a test process."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

import pytest
from hypothesis import settings

from browsing import CHROMIUM, QUIET

if TYPE_CHECKING:
    from playwright.sync_api import Browser

settings.register_profile("steady", deadline=None, print_blob=True)
settings.load_profile("steady")


@pytest.fixture(scope="session")
def browser() -> Iterator["Browser"]:
    """Chromium, started once a process: its synchronous interface allows one only."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=CHROMIUM, args=QUIET)
        yield started
        started.close()
