"""The first ten minutes on a phone: ten readings from a slip, one odd; the plan moves, is agreed, and a sheet opens."""

import re
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from endfloat.job.events import PlanAgreed, ReadingTaken
from endfloat.job.wire import from_body, verify
from endfloat.store.sqlite import SqliteStore


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[tuple[str, Path]]:
    """The program as a newcomer starts it; its address and its folder of jobs."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    program = Path(sys.executable).with_name("endfloat")
    command = [program, "start", "--no-browser", "--port", str(port), "--jobs", tmp_path / "jobs"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True) as process:
        address = f"http://127.0.0.1:{port}"
        deadline = time.monotonic() + 40
        while True:
            try:
                urllib.request.urlopen(f"{address}/alive", timeout=1).close()
                break
            except OSError:
                assert process.poll() is None, process.stdout and process.stdout.read()
                assert time.monotonic() < deadline, "the program did not answer"
                time.sleep(0.1)
        yield address, tmp_path / "jobs"
        process.terminate()
        process.communicate(timeout=20)


def test_ten_readings_a_decision_and_a_sheet(bench: tuple[str, Path], browser: Browser) -> None:
    address, jobs = bench
    page = browser.new_page(viewport={"width": 390, "height": 664})
    page.set_default_timeout(15_000)
    page.goto(address)
    expect(page.locator("h1")).to_have_text("Whose engine?")
    page.get_by_role("link", name="The demonstration engine").click()

    slip = page.locator(".slip li")
    assert slip.count() == 10
    lines = [re.match(r"(.*): (\S+) (\S+) \((\w+)\)", each, re.S) for each in slip.all_inner_texts()]
    links = [each.get_attribute("href") or "" for each in slip.locator("a").all()]
    for number, (line, link) in enumerate(zip(lines, links, strict=True), start=1):
        assert line
        page.goto(address + link)
        if number == 1:
            page.locator("[name=by]").first.fill("Ana")
        page.locator("#text").fill(line[2])
        page.locator(".save").click()
        if number == 4:
            expect(page.locator("main")).to_contain_text("Is the decimal mark in the right place?")
            page.get_by_role("button", name="Type it again").click()
            page.locator("#text").fill("86.084")
            page.locator(".save").click()
        expect(page.locator("main")).to_contain_text("Saved:")
        if number == 6:
            expect(page.locator("main")).to_contain_text("Out of limits")
    page.goto(address)
    assert page.locator(".slip").count() == 0

    page.goto(f"{address}/number/bore_wear/service/7")
    expect(page.locator("main")).to_contain_text("0.100 ± 0.008 mm")
    expect(page.locator("main")).to_contain_text("page 42")

    page.goto(f"{address}/decide")
    expect(page.locator("main")).to_contain_text("Rebore all eight to 86.25")
    expect(page.locator(".knock-on")).to_contain_text("0.325 mm")
    page.get_by_text("Why not cheaper?").click()
    expect(page.get_by_text("Leave the bores:")).to_be_visible()

    page.get_by_role("link", name="Change something").click()
    page.locator("select[name=right_skim]").select_option("skim_010")
    page.get_by_role("button", name="WORK IT OUT").click()
    expect(page.locator(".problem")).to_contain_text("Ratio spread 0.12")
    page.get_by_role("link", name="Put it back").click()

    page.get_by_role("link", name="I agree: write the sheets").click()
    page.locator("[name=by]").fill("Ana")
    page.get_by_role("button", name="AGREE").click()
    expect(page.locator("main")).to_contain_text("Agreed by Ana")
    page.go_back()
    page.reload()
    page.goto(f"{address}/sheets")
    page.get_by_role("link", name="Open the machine-shop sheet").click()
    expect(page.locator("main")).to_contain_text("86.250 ± 0.008 mm")
    expect(page.locator("main")).to_contain_text("Done: actual")

    entries = SqliteStore(jobs / "wrenhallow-90-8" / "job.sqlite").entries()
    verify(entries)
    events = [from_body(entry.body) for entry in entries]
    assert sum(isinstance(event, PlanAgreed) for event in events) == 1
    assert sum(isinstance(event, ReadingTaken) and event.by == "Ana" for event in events) == 11
