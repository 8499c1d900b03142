"""Undoing a step of the build: no bolt that it pulled goes on counting as tight, and the record says so."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from endfloat.job.events import StepReopened
from endfloat.job.joint_events import JointUndone
from endfloat.job.state import refusal
from endfloat.job.wire import from_body
from endfloat.store.memory import MemoryStore
from endfloat.workshop.build import build_of, confirm_step, reopen_step
from endfloat.workshop.build_record import build_record
from endfloat.workshop.close_joint import close_joint
from endfloat.workshop.fit_bolt_set import fit_bolt_set
from endfloat.workshop.open_job import open_job
from endfloat.workshop.pull_bolt import pull_bolt
from endfloat.workshop.record import load
from endfloat.workshop.take_joint_back import take_joint_back
from endfloat.workshop.tightening import JointView, joint_view
from endfloat.workshop.view import view

ENGINE = """\
name: Test twin
layout: twin
places: {cylinder: {names: [1, 2]}}
characteristics: {}
joints:
  cover:
    title: Cover to case
    closes: the case
    page: 12
    drawing: {view: seen from above, front: left, outline: [[0 mm, 0 mm], [90 mm, 0 mm], [90 mm, 40 mm]]}
    bolts: {long: {thread: M8x1.25, length: 60 mm, class: 8.8, single_use: true}}
    fasteners:
      - {number: 1, bolt: long, x: 10 mm, y: 10 mm}
      - {number: 2, bolt: long, x: 40 mm, y: 10 mm}
    sequence: [1, 2]
    passes: [{amount: 20 N·m, page: 12}, {amount: 90 °, page: 12}]
    undone: {slacken: all, renew: set, start_again_at: 1, page: 13}
operations:
  cover_on: {title: Cover on, minutes: 2}
  pass_1: {title: Cover, pass 1, minutes: 2, pulls: {joint: cover, passes: [1]}}
  pass_2: {title: Cover, pass 2, minutes: 2, pulls: {joint: cover, passes: [2]}}
  look: {title: Look at the cover, minutes: 1, pulls: {joint: cover, closed: true}}
  on_top: {title: Guard on top, minutes: 1}
  aside: {title: Something else, minutes: 1}
relations:
  before:
    - {first: cover_on, then: pass_1, why: the bolts go through it}
    - {first: pass_1, then: pass_2, why: a torque goes before an angle}
    - {first: pass_2, then: look, why: all of it is looked at}
    - {first: look, then: on_top, why: it hides the cover}
"""
ENGINE = ENGINE.replace("title: Cover, pass 1", 'title: "Cover, pass 1"').replace("Cover, pass 2", '"Cover, pass 2"')
AT = "2026-05-03T10:00:00+00:00"
STEPS = ["cover_on", "pass_1", "pass_2", "look"]


def clock() -> str:
    return AT


def job() -> MemoryStore:
    store = MemoryStore()
    assert open_job(store, clock, engine=ENGINE.encode(), gauges=b"{}", by="Ana") == []
    assert (
        fit_bolt_set(store, clock, key="in", joint="cover", bolts="C1", stated={"long": ("oil", "oil")}, by="Ana")
        is None
    )
    return store


def cover(store: MemoryStore) -> JointView:
    found = joint_view(load(store)[0], "cover")
    assert isinstance(found, JointView)
    return found


def work(store: MemoryStore, *steps: str) -> None:
    """Do the steps, with what each pulls before it is confirmed."""
    for step in steps:
        if step in ("pass_1", "pass_2"):
            pull(store, int(step[-1]))
        if step == "look":
            assert close_joint(store, clock, key=cover(store).key("close"), joint="cover", by="Ana") is None
        assert confirm_step(store, clock, operation=step, by="Ana") is None


def pull(store: MemoryStore, number: int) -> None:
    for bolt in ("1", "2"):
        key = cover(store).key(f"{number}/{bolt}")
        told = pull_bolt(store, clock, key=key, joint="cover", pass_number=number, bolt=bolt, gauge="W", by="Ana")
        assert told is None


def undo(store: MemoryStore, step: str) -> None:
    assert reopen_step(store, clock, operation=step, reason="seal pinched", by="Ben") is None


@pytest.mark.parametrize(
    ("step", "pulled", "first"),
    [
        ("cover_on", (), 1),
        ("pass_1", (), 1),
        ("pass_2", ((1, "1"), (1, "2")), 2),
    ],
)
def test_undoing_a_step_takes_its_passes_and_those_after_it_off_the_count(
    step: str, pulled: tuple[tuple[int, str], ...], first: int
) -> None:
    store = job()
    work(store, *STEPS)
    undo(store, step)
    progress = cover(store).progress
    assert (progress.closed, progress.pulled) == (False, pulled)
    assert progress.trouble is not None
    assert progress.trouble.what == f"the step that pulled pass {first} was undone"
    told = [from_body(entry.body) for entry in store.entries()][-2:]
    assert [type(event) for event in told] == [JointUndone, StepReopened]


def test_single_use_bolts_that_were_undone_do_not_go_in_again_and_a_new_set_starts_at_pass_1() -> None:
    store = job()
    work(store, *STEPS)
    undo(store, "pass_2")
    told = take_joint_back(store, clock, key="back", joint="cover", new_bolt="", by="Ana")
    assert told is not None
    assert told.code == "new_set_needed"
    stated = {"long": ("oil", "oil")}
    old = fit_bolt_set(store, clock, key="old", joint="cover", bolts="C1", stated=stated, by="Ana")
    assert old is not None
    assert old.code == "set_pulled_before"
    assert fit_bolt_set(store, clock, key="new", joint="cover", bolts="C2", stated=stated, by="Ana") is None
    assert cover(store).upcoming == (1, "1")


def test_undoing_the_look_opens_the_joint_and_leaves_its_bolts_tight() -> None:
    store = job()
    work(store, *STEPS)
    undo(store, "look")
    progress = cover(store).progress
    assert (progress.closed, len(progress.pulled), progress.trouble) == (False, 4, None)
    work(store, "look")
    assert cover(store).progress.closed


def test_bolts_pulled_for_a_step_that_is_not_confirmed_yet_fall_with_what_comes_before_it() -> None:
    store = job()
    work(store, "cover_on")
    pull(store, 1)
    undo(store, "cover_on")
    assert cover(store).progress.pulled == ()


def test_undoing_a_step_that_has_nothing_to_do_with_the_joint_leaves_it_alone() -> None:
    store = job()
    work(store, *STEPS, "aside")
    undo(store, "aside")
    assert cover(store).progress.closed


def test_sending_the_undoing_twice_writes_once_and_the_paper_tells_it() -> None:
    store = job()
    work(store, *STEPS)
    undo(store, "pass_2")
    count = len(store.entries())
    undo(store, "pass_2")
    assert len(store.entries()) == count
    [joint] = build_record(view(load(store)[0]), [])["joints"]  # type: ignore[misc, attr-defined]
    assert "The step pass 2 was undone; pass 2 and later no longer count. Ben" in " ".join(joint["lines"])


def test_the_record_refuses_a_step_undone_while_its_bolts_still_count_as_tight() -> None:
    store = job()
    work(store, *STEPS)
    problem = refusal(load(store)[0], StepReopened("pass_1", "why", "Ana", AT))
    assert problem is not None
    assert problem.code == "joint_still_tight"
    assert "Cover to case" in problem.text()


def test_a_joint_taken_back_holds_what_rests_on_it_even_where_its_step_stays_confirmed() -> None:
    store = job()
    work(store, *STEPS)
    stated = {"long": ("oil", "oil")}
    assert fit_bolt_set(store, clock, key="again", joint="cover", bolts="C2", stated=stated, by="Ana") is None
    held = confirm_step(store, clock, operation="on_top", by="Ana")
    assert held is not None
    assert "pass 1 has 0 of 2 bolts on the record. It was whole when `Cover, pass 1` was confirmed." in held.text()
    assert confirm_step(store, clock, operation="aside", by="Ana") is None
    pull(store, 1)
    pull(store, 2)
    assert close_joint(store, clock, key=cover(store).key("close"), joint="cover", by="Ana") is None
    assert confirm_step(store, clock, operation="on_top", by="Ana") is None


DEEDS = [*STEPS, *STEPS, "on_top", "undo cover_on", "undo pass_1", "undo pass_2", "undo look", "new set"]


@given(st.lists(st.sampled_from(DEEDS), max_size=16))
def test_whatever_is_done_and_undone_nothing_is_put_on_top_of_a_joint_that_is_not_closed(wanted: list[str]) -> None:
    store = job()
    for number, deed in enumerate(wanted):
        before = build_of(load(store)[0]).done
        _try(store, deed, str(number))
        done, progress = build_of(load(store)[0]).done, cover(store).progress
        if "on_top" in done and "on_top" not in before:
            assert progress.closed
            assert len(progress.pulled) == 4
        if deed.startswith("undo ") and deed[5:] in before and deed[5:] != "look":
            first = 2 if deed == "undo pass_2" else 1
            assert [each for each in progress.pulled if each[0] >= first] == []


def _try(store: MemoryStore, deed: str, key: str) -> None:
    """Do it if it is allowed."""
    if deed.startswith("undo "):
        reopen_step(store, clock, operation=deed[5:], reason="why", by="Ana")
        return
    if deed == "new set":
        fit_bolt_set(store, clock, key=key, joint="cover", bolts=f"C{key}", stated={"long": ("oil", "oil")}, by="Ana")
        return
    for bolt in ("1", "2") if deed in ("pass_1", "pass_2") else ():
        here = cover(store).key(f"{deed[-1]}/{bolt}")
        pull_bolt(store, clock, key=here, joint="cover", pass_number=int(deed[-1]), bolt=bolt, gauge="W", by="Ana")
    if deed == "look":
        close_joint(store, clock, key=cover(store).key("close"), joint="cover", by="Ana")
    confirm_step(store, clock, operation=deed, by="Ana")
