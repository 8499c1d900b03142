"""A confirmed step, from the thumb on DONE to the next step on screen, through a real browser and a file on disk."""

import statistics
import tempfile
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path

import uvicorn
from fastapi import FastAPI
from playwright.sync_api import sync_playwright

import endfloat.examples
from endfloat.engine.asks import asks_of
from endfloat.job.parts import expected_parts
from endfloat.reports.papers import make_paper
from endfloat.solver.cp_sat import solve_rows
from endfloat.store.sqlite import SqliteStore
from endfloat.web.app import make_app
from endfloat.workshop.build import Build, build_of, lay_out_order
from endfloat.workshop.open_job import open_job
from endfloat.workshop.ports import Store
from endfloat.workshop.record import load
from endfloat.workshop.take_in_parts import take_in

V8 = Path(endfloat.examples.__file__).parent / "wrenhallow-90-8"
FILES = {"engine": "engine.yaml", "gauges": "gauges.yaml", "readings": "readings.csv", "prices": "prices.yaml"}
STEPS = 15
PAUSE = 1500


def now() -> str:
    return datetime.now(UTC).isoformat()


def seconds_of_steps(browser_path: str) -> list[float]:
    """The time of each of the first steps that ask for nothing but a name."""
    with tempfile.TemporaryDirectory() as folder:
        store = SqliteStore(Path(folder) / "job.sqlite")
        assert (
            open_job(store, now, by="speed", **{name: (V8 / file).read_bytes() for name, file in FILES.items()}) == []
        )
        assert lay_out_order(store, now, by="speed") is None
        _take_in_all(store)
        with (
            _served(make_app(store, now, solve_rows, make_paper)) as address,
            sync_playwright() as playwright,
        ):
            browser = playwright.chromium.launch(executable_path=browser_path, args=["--no-sandbox"])
            page = browser.new_page(viewport={"width": 390, "height": 664})
            times = []
            for _ in range(STEPS):
                build = build_of(load(store)[0])
                step = build.next
                if step is None or not _plain(build, step):
                    break
                page.goto(f"{address}/build/{step}")
                page.get_by_label("Name (goes on the record)").fill("Ana")
                # Two presses within 0.6 seconds are one press of a gloved hand; nobody does a step in less.
                page.wait_for_timeout(PAUSE)
                begun = time.perf_counter()
                page.get_by_role("button", name="DONE").click()
                page.wait_for_url(lambda url, left=step: not url.endswith(f"/{left}"), wait_until="domcontentloaded")
                times.append(time.perf_counter() - begun)
            browser.close()
    return times


def median_step(browser_path: str) -> tuple[float, int]:
    """The median, and of how many steps."""
    times = seconds_of_steps(browser_path)
    return statistics.median(times), len(times)


def _plain(build: Build, step: str) -> bool:
    asks, described = asks_of(build.engine, step), build.step(step)
    asked = asks.looks or asks.mark or asks.counts or asks.hides
    return not (asked or described.pulls or described.measures)


def _take_in_all(store: Store) -> None:
    for name, part in expected_parts(build_of(load(store)[0]).engine, None).items():
        told = take_in(store, now, key=name, part=name, count=str(part.count), by="speed", looked=part.looks)
        assert told is None, told


@contextmanager
def _served(app: FastAPI) -> Iterator[str]:
    server = uvicorn.Server(uvicorn.Config(app, host="127.0.0.1", port=0, log_level="error"))
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    while not server.started:
        threading.Event().wait(0.01)
    yield f"http://127.0.0.1:{server.servers[0].sockets[0].getsockname()[1]}"
    server.should_exit = True
    thread.join()
