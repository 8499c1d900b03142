"""The wait for the tappets of the V8 is told in one figure, wherever a person at the bench looks."""

import re

import pytest
from fastapi.testclient import TestClient
from timing_bench import start_waits
from workbench import HandClock, opened_job, pages_over

from endfloat.store.memory import MemoryStore

MORE = re.compile(r"Settling of the (?:left|right) tappets: (\d+) minutes? more")
LONGEST = re.compile(r"Not before (\d+) to (\d+) minutes, by temperature: settling")


@pytest.fixture
def clock() -> HandClock:
    return HandClock()


@pytest.fixture
def store(clock: HandClock) -> MemoryStore:
    return opened_job(clock)


@pytest.fixture
def page(store: MemoryStore, clock: HandClock) -> TestClient:
    return TestClient(pages_over(store, clock))


def told(page: TestClient, address: str) -> str:
    """What a page says, without its marks."""
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", re.sub(r"</?span[^>]*>", "", page.get(address).text)))


def warm(page: TestClient, side: str, degrees: str) -> None:
    form = {"key": f"{side} {degrees}", "name": f"settling of the {side} tappets", "temperature": degrees, "by": "Ana"}
    answer = page.post("/clocks/start", data=form, follow_redirects=False)
    assert answer.status_code == 303, answer.text


@pytest.mark.parametrize(
    ("left", "right", "gone", "minutes"),
    [
        ("", "", 37, 38),
        ("18 °C", "22 °C", 3, 32),
        ("22 °C", "18 °C", 34, 1),
        ("22 °C", "", 20, 55),
        ("68 °F", "50 °F", 14, 21),
    ],
)
def test_strip_step_clocks_and_gate_tell_the_same_minutes(
    page: TestClient, store: MemoryStore, clock: HandClock, left: str, right: str, gone: int, minutes: int
) -> None:
    start_waits(store, clock, minutes_ago=0)
    for side, degrees in (("left", left), ("right", right)):
        if degrees:
            warm(page, side, degrees)
    clock.go_on(minutes=gone)
    step, clocks, gate = (told(page, address) for address in ("/build/two_turns", "/clocks", "/timing/turn"))
    word = "minute" if minutes == 1 else "minutes"
    for each in (step, gate):
        assert f"Shut: tappets, {minutes} {word};" in each
    for each in (step, clocks, gate):
        running = [
            int(found) for found in re.findall(r"Settling of the (?:left|right) tappets: (\d+) minutes? more", each)
        ]
        assert max(running) == minutes
    assert LONGEST.findall(step) == [("15", "75"), ("15", "75")], "the step names no figure that no clock has"


def test_the_gate_says_that_the_temperature_is_still_to_be_typed_and_where(
    page: TestClient, store: MemoryStore, clock: HandClock
) -> None:
    asked = "How warm it is there is still to be typed"
    assert asked not in told(page, "/timing/turn"), "nothing runs yet"
    start_waits(store, clock, minutes_ago=0)
    warm(page, "left", "22 °C")
    assert asked in told(page, "/timing/turn")
    assert '<a class="button outlined" href="/clocks">Say how warm it is</a>' in page.get("/timing/turn").text
    assert 'still to be typed: <a href="/clocks">say it</a>' in page.get("/build/two_turns").text
    warm(page, "right", "15 °C")
    assert asked not in told(page, "/timing/turn")
    assert "still to be typed" not in told(page, "/build/two_turns")
    assert "Settling of the right tappets: 35 minutes more, not before" in told(page, "/timing/turn")


def test_the_gate_opens_when_the_clocks_are_over_and_the_rest_is_ticked(
    page: TestClient, store: MemoryStore, clock: HandClock
) -> None:
    start_waits(store, clock, minutes_ago=0)
    for side in ("left", "right"):
        warm(page, side, "25 °C")
    for name in ("pins", "helper", "tensioner", "hands"):
        assert page.post("/timing/turn/tick", data={"key": name, "condition": name, "by": "Ana"}).status_code == 200
    clock.go_on(minutes=14)
    early = page.post("/timing/turn", data={"key": "x", "turns": "2", "by": "Ana"})
    assert early.status_code == 422
    assert "the gate shut: tappets, 1 minute" in early.text
    clock.go_on(minutes=1)
    assert "The gate is open." in told(page, "/timing/turn")
    assert page.post("/timing/turn", data={"key": "x", "turns": "2", "by": "Ana"}).status_code == 200


def test_caps_drawn_down_anew_shut_the_gate_again(page: TestClient, store: MemoryStore, clock: HandClock) -> None:
    start_waits(store, clock, minutes_ago=90)
    assert "Shut: pins;" in told(page, "/timing/turn")
    undone = page.post("/build/left_cam_caps/undo", data={"reason": "a cap reversed", "by": "Ana"})
    assert undone.status_code == 200, undone.text
    assert "Shut: tappets, not begun; pins" in told(page, "/timing/turn")
