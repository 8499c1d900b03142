"""Shared settings of all tests, and the one browser and the one database server of a test process."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

import pytest
from hypothesis import settings
from throwaway_postgres import PROGRAMS, ThrowawayPostgres

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


@pytest.fixture(scope="session")
def postgres() -> Iterator[ThrowawayPostgres]:
    """A database server of its own, started with the first test that asks for it."""
    if PROGRAMS is None:
        pytest.skip("no PostgreSQL server (Debian: apt-get install postgresql)")
    server = ThrowawayPostgres()
    yield server
    server.close()


@pytest.fixture
def database(postgres: ThrowawayPostgres) -> Iterator[str]:
    """The address of a database that is as good as new, emptied after the test."""
    yield postgres.url("shop")
    postgres.empty()
