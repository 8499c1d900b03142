"""A browser, and the demonstration job served on loopback; skipped loudly where Chromium is missing."""

import threading
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
import uvicorn
from playwright.sync_api import Browser, BrowserContext
from silence import PHONE

import endfloat.examples
from browsing import CHROMIUM
from endfloat.job.wire import from_body
from endfloat.reports.papers import make_paper
from endfloat.solver.cp_sat import solve_rows
from endfloat.store.memory import MemoryPhotos, MemoryStore
from endfloat.web.app import make_app
from endfloat.workshop.open_job import open_job

V8 = Path(endfloat.examples.__file__).parent / "wrenhallow-90-8"


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if "browser" in item.path.parts:
            item.add_marker(pytest.mark.browser)
            if CHROMIUM is None:
                item.add_marker(pytest.mark.skip(reason="no Chromium (Debian: apt-get install chromium)"))


@dataclass
class Served:
    """A job's store and the address of its pages."""

    store: MemoryStore
    address: str

    def events(self, kind: str) -> list[object]:
        return [
            event for event in map(from_body, (e.body for e in self.store.entries())) if type(event).__name__ == kind
        ]


def open_demo(old: str = "", new: str = "") -> MemoryStore:
    """The demonstration job; its description with one text in place of another."""
    store = MemoryStore()
    files = {
        name: (V8 / file).read_bytes()
        for name, file in (
            ("engine", "engine.yaml"),
            ("gauges", "gauges.yaml"),
            ("readings", "readings.csv"),
            ("prices", "prices.yaml"),
            ("slip", "slip.csv"),
        )
    }
    files["engine"] = files["engine"].replace(old.encode(), new.encode(), 1)
    assert open_job(store, clock, by="as found", **files) == []
    return store


def clock() -> str:
    return "2026-05-03T10:00:00Z"


@pytest.fixture
def served(request: pytest.FixtureRequest) -> Iterator[Served]:
    store = open_demo(*getattr(request, "param", ()))
    pages = make_app(store, clock, solve_rows, make_paper, MemoryPhotos())
    config = uvicorn.Config(pages, host="127.0.0.1", port=0, log_level="error")
    server = uvicorn.Server(config)
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    while not server.started:
        assert thread.is_alive()
        threading.Event().wait(0.01)
    port = server.servers[0].sockets[0].getsockname()[1]
    yield Served(store, f"http://127.0.0.1:{port}")
    server.should_exit = True
    thread.join()


@pytest.fixture
def phone(browser: Browser, served: Served) -> Iterator[BrowserContext]:
    context = browser.new_context(viewport={"width": 390, "height": 664}, base_url=served.address)
    context.set_default_timeout(5000)
    yield context
    context.close()


@pytest.fixture
def hand(request: pytest.FixtureRequest, browser: Browser, served: Served) -> Iterator[BrowserContext]:
    """A thumb on a phone, or on a tablet where the test says so."""
    width, height = getattr(request, "param", PHONE)
    context = browser.new_context(
        viewport={"width": width, "height": height},
        has_touch=True,
        base_url=served.address,
        reduced_motion="reduce",
    )
    context.set_default_timeout(8000)
    yield context
    context.close()
