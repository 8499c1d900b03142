"""Work broken off through the pages: looked at again, re-opened, stopped with a tag, taken up by another name."""

import io
import re

import pypdf
import pytest
from clock_engine import done, opened
from fastapi.testclient import TestClient
from hands import pull, tighten
from httpx2 import Response
from workbench import HandClock, pages_over

from endfloat.job.events import StepReopened
from endfloat.job.pause_events import ConditionLost, WorkStopped, WorkTakenUp
from endfloat.job.wire import from_body
from endfloat.store.memory import MemoryStore
from endfloat.workshop.build import build_of
from endfloat.workshop.build_record import build_record
from endfloat.workshop.pull_bolt import pull_bolt
from endfloat.workshop.record import load
from endfloat.workshop.view import view


@pytest.fixture
def clock() -> HandClock:
    return HandClock()


@pytest.fixture
def store(clock: HandClock) -> MemoryStore:
    return opened(clock)


@pytest.fixture
def page(store: MemoryStore, clock: HandClock) -> TestClient:
    return TestClient(pages_over(store, clock))


def plain(html: str) -> str:
    return re.sub(r"\s+", " ", re.sub("<[^>]+>", " ", html)).replace(" ,", ",")


def text_of(page: TestClient, path: str) -> str:
    return plain(page.get(path).text)


def events(store: MemoryStore, kind: type) -> list[object]:
    return [event for event in map(from_body, (entry.body for entry in store.entries())) if isinstance(event, kind)]


def looked(page: TestClient, by: str, steps: dict[str, str], kept: dict[str, str] | None = None) -> Response:
    """Answer the question that stands on the page of taking up."""
    html = page.get("/take-up").text
    found = re.search(r'name="key" value="([^"]+)"', html)
    assert found, html
    form = {"key": found.group(1), "by": by, **{f"step:{step}": answer for step, answer in steps.items()}}
    for number, (words, answer) in enumerate((kept or {}).items()):
        form |= {f"kept-words:{number}": words, f"kept:{number}": answer}
    return page.post("/take-up", data=form, follow_redirects=False)


LOCKED = "the crank stands locked"


def test_after_more_than_ten_minutes_the_last_three_are_asked_for_and_no_step_is_done_before(
    page: TestClient, store: MemoryStore, clock: HandClock
) -> None:
    done(page, "clean", "bead", "cover", "chain_up")
    assert "Is each still so?" not in page.get("/build").text
    clock.go_on(minutes=24)
    shown = text_of(page, "/build")
    assert "You were away 24 minutes. Look at the last 3. Is each still so?" in shown
    assert "2 Lay the bead" in shown
    assert "1 Clean both faces" not in shown[: shown.index("GO ON")]
    step = page.get("/build/caps").text
    assert "Shut: look at the last steps first" in step
    assert "DONE</button>" not in step
    before = len(store.entries())
    answer = page.post("/build/caps/done", data={"by": "Ana"})
    assert answer.status_code == 422
    assert "Look at the last steps first" in answer.text
    assert len(store.entries()) == before
    assert looked(page, "Ana", {"bead": "yes", "cover": "yes", "chain_up": "yes"}).headers["location"] == "/build"
    assert "Is each still so?" not in page.get("/build").text
    done(page, "caps")
    taken = events(store, WorkTakenUp)
    assert [(each.by, each.still_so) for each in taken] == [("Ana", ("bead", "cover", "chain_up"))]  # type: ignore[attr-defined]


def test_the_time_that_a_step_takes_is_no_absence_from_it(page: TestClient, clock: HandClock) -> None:
    done(page, "clean", "bead", "cover", "chain_up")
    clock.go_on(minutes=10 + 6)  # the cam caps take six
    done(page, "caps")
    clock.go_on(minutes=10 + 2, seconds=1)  # the lock takes two
    answer = page.post("/build/lock_in/done", data={"by": "Ana"})
    assert answer.status_code == 422
    assert "You were away 12 minutes" in answer.text


def test_an_entry_in_between_does_not_answer_the_question(
    page: TestClient, store: MemoryStore, clock: HandClock
) -> None:
    to_the_lock(page, clock)
    clock.go_on(minutes=50)
    tighten(store, clock, "head", [1], close=False)
    clock.go_on(minutes=1)
    answer = page.post("/build/pass_1/done", data={"by": "Ana"})
    assert answer.status_code == 422
    assert "You were away 50 minutes before your last entries" in answer.text


def to_the_lock(page: TestClient, clock: HandClock) -> None:
    done(page, "clean", "bead", "cover", "chain_up", "caps", "lock_in")


def test_one_that_is_not_so_is_re_opened_with_what_waited_for_it(
    page: TestClient, store: MemoryStore, clock: HandClock
) -> None:
    to_the_lock(page, clock)
    clock.go_on(minutes=24)
    partly = looked(page, "Ana", {"chain_up": "yes", "caps": "no"}, {LOCKED: "yes"})
    assert partly.status_code == 422
    assert "no answer for: Put the lock in" in plain(partly.text)
    assert 'value="no" checked' in partly.text, "what was answered stays"
    answer = looked(page, "Ana", {"chain_up": "yes", "caps": "no", "lock_in": "yes"}, {LOCKED: "yes"})
    assert answer.status_code == 303
    assert build_of(load(store)[0]).done == ("clean", "bead", "cover", "chain_up")
    assert [each.operation for each in events(store, StepReopened)] == ["caps"]  # type: ignore[attr-defined]
    taken = events(store, WorkTakenUp)[-1]
    assert isinstance(taken, WorkTakenUp)
    assert (taken.still_so, taken.reopened) == (("chain_up",), ("caps", "lock_in"))
    done(page, "caps")


def test_a_condition_found_lost_holds_its_steps_until_it_is_so_again(
    page: TestClient, store: MemoryStore, clock: HandClock
) -> None:
    to_the_lock(page, clock)
    clock.go_on(minutes=24)
    yes = {"chain_up": "yes", "caps": "yes", "lock_in": "yes"}
    assert looked(page, "Ana", yes).status_code == 422, "the condition is asked for too"
    assert looked(page, "Ana", yes, {LOCKED: "no"}).status_code == 303
    assert len(events(store, ConditionLost)) == 1
    shown = text_of(page, "/build/pass_1")
    assert "It is no longer sure that the crank stands locked" in shown
    assert "Once lost: turn it back to its mark and lock it" in shown
    tighten(store, clock, "head", [1], close=False)
    assert page.post("/build/pass_1/done", data={"by": "Ana"}).status_code == 422
    page.post("/build/pass_1/regained", data={"key": "1", "condition": LOCKED, "by": "Ana"})
    done(page, "pass_1")


def test_another_name_looks_first_and_then_both_may_go_on(page: TestClient, clock: HandClock) -> None:
    done(page, "clean", "bead", "cover", "chain_up")
    answer = page.post("/build/caps/done", data={"by": "Bo"})
    assert answer.status_code == 422
    assert "Bo has not worked on this build yet" in answer.text
    assert looked(page, "Bo", {"bead": "yes", "cover": "yes", "chain_up": "yes"}).status_code == 303
    done(page, "caps", by="Bo")
    done(page, "lock_in", by=" ana ")


def test_a_name_whose_own_last_entry_is_old_is_asked_although_another_worked_on(
    page: TestClient, clock: HandClock
) -> None:
    done(page, "clean", "bead", "cover", "chain_up")
    looked(page, "Bo", {"bead": "yes", "cover": "yes", "chain_up": "yes"})
    for step in ("caps", "lock_in"):
        clock.go_on(minutes=12)
        if step == "lock_in":
            looked(page, "Bo", {"cover": "yes", "chain_up": "yes", "caps": "yes"})
        done(page, step, by="Bo")
    answer = page.post("/build/pass_1/done", data={"by": "Ana"})
    assert "You were away 24 minutes" in answer.text


def in_the_middle_of_pass_2(page: TestClient, store: MemoryStore, clock: HandClock) -> None:
    to_the_lock(page, clock)
    tighten(store, clock, "head", [1], close=False)
    done(page, "pass_1")
    pull(store, clock, "head", 2, "2")


def test_who_stops_leaves_a_tag_that_says_what_is_loose_what_is_left_alone_and_what_comes_first(
    page: TestClient, store: MemoryStore, clock: HandClock
) -> None:
    in_the_middle_of_pass_2(page, store, clock)
    assert 'href="/stop"' in page.get("/build/pass_2").text
    assert 'href="/stop?joint=head"' in page.get("/joint/head").text
    assert "You are inside pass 2: bolts 1 and 3 still to pull" in page.get("/stop?joint=head").text
    for form, words in (({"why": "", "by": "Ana"}, "no reason"), ({"why": "gone home", "by": " "}, "no name")):
        silent = page.post("/stop", data={"key": "s", **form})
        assert silent.status_code == 422
        assert words in silent.text
    assert 'value="gone home"' in silent.text
    for _ in range(2):
        assert page.post("/stop", data={"key": "s", "why": "gone home", "by": "Ana"}).url.path == "/stop/tag"
    assert len(events(store, WorkStopped)) == 1
    stop = events(store, WorkStopped)[0]
    assert isinstance(stop, WorkStopped)
    assert "Head to block: pass 2 of 2, 1 of 3 bolts pulled; bolt 1 is next." in stop.loose
    assert "Held by hand: the chain. Tie it before anybody lets go: it drops into the case." in stop.loose
    assert "In the engine: the crank lock, 1. Out at “Take the lock out”." in stop.loose
    assert "Keep it so that the crank stands locked: it turns with the bolts." in stop.leave
    assert "Head to block: put no wrench on a pulled bolt to test it. Look at its paint stripe." in stop.leave
    assert stop.running[0].startswith("Cover sealant: not before ")
    assert "After 20 min from the last pull: slacken all, renew the whole set, start again at pass 1" in stop.first[0]
    tag = text_of(page, "/stop/tag")
    assert "DO NOT GO ON. READ THIS." in tag
    for sentence in (*stop.loose, *stop.leave, *stop.running, *stop.first, "Ana stopped, Sunday 3 May"):
        assert sentence in tag.replace("&#39;", "'"), sentence
    paper = page.get("/stop/tag.pdf")
    assert paper.headers["content-type"] == "application/pdf"
    read = pypdf.PdfReader(io.BytesIO(paper.content))
    assert len(read.pages) == 1
    printed = " ".join(read.pages[0].extract_text().split())
    for sentence in (*stop.loose, *stop.leave, *stop.running, *stop.first, "Ana stopped, Sunday 3 May"):
        assert sentence in printed, sentence


def test_while_work_is_stopped_the_first_page_says_so_and_nothing_is_done_or_pulled(
    page: TestClient, store: MemoryStore, clock: HandClock
) -> None:
    in_the_middle_of_pass_2(page, store, clock)
    page.post("/stop", data={"key": "s", "why": "gone home", "by": "Ana"})
    clock.go_on(days=2)
    shown = text_of(page, "/")
    assert "You stopped on Sunday with Head to block at pass 2. Read this first." in shown
    assert 'href="/stop/tag"' in page.get("/board").text
    before = len(store.entries())
    assert page.post("/build/pass_2/done", data={"by": "Ana"}).status_code == 422
    told = pull_bolt(store, clock, key="x", joint="head", pass_number=2, bolt="1", gauge="A1", by="Ana")
    assert told is not None
    assert page.post("/stop", data={"key": "t", "why": "again", "by": "Ana"}).status_code == 422
    assert len(store.entries()) == before


def test_taking_up_says_the_rule_of_the_joint_and_the_work_goes_on_under_another_name(
    page: TestClient, store: MemoryStore, clock: HandClock
) -> None:
    in_the_middle_of_pass_2(page, store, clock)
    page.post("/stop", data={"key": "s", "why": "gone home", "by": "Ana"})
    clock.go_on(hours=20)
    shown = text_of(page, "/take-up")
    assert "Ana stopped the work: gone home. Look at the last 3." in shown
    assert "Head to block: stopped 20 hours ago inside pass 2. Your description says: slacken all, renew" in shown
    assert "Look at the paint stripe of every bolt. Put no wrench on it." in shown
    steps = {"caps": "yes", "lock_in": "yes", "pass_1": "yes"}
    assert looked(page, "Bo", steps, {LOCKED: "yes"}).status_code == 303
    assert "Work is stopped" not in page.get("/").text
    assert page.get("/stop/tag").status_code == 404
    assert "Work goes on: there is no tag." in page.get("/stop/tag").text
    lines = build_record(view(load(store)[0]), store.entries())["steps"]
    assert any(line.startswith("STOPPED: gone home. Loose: Head to block") for line in lines)  # type: ignore[attr-defined]
    assert lines[-1].startswith("Taken up again. Looked at, and still so: Draw the cam caps down, Put the lock in")  # type: ignore[index]


def test_nothing_is_asked_before_the_first_step_and_stopping_then_leaves_nothing_loose(page: TestClient) -> None:
    assert "there is nothing to look at" in page.get("/take-up").text
    assert "Nothing is loose." in page.get("/stop").text
    page.post("/stop", data={"key": "s", "why": "lunch", "by": "Ana"})
    assert looked(page, "Bo", {}).status_code == 303
    done(page, "clean", by="Bo")
