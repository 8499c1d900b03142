"""The flat four is built through the pages in order, without an override; its first start waits for the fire."""

from hands import do_step
from whole_build import agreed_and_back, opened, read_what_the_step_asks
from workbench import HandClock

from cast import FLAT_FOUR
from endfloat.job.events import StepDoneAgainstAdvice
from endfloat.job.wire import from_body
from endfloat.workshop.build import build_of
from endfloat.workshop.holds import MEASURED, OUT, holds
from endfloat.workshop.record import load
from endfloat.workshop.view import view

# A nitrided crank and new rings: what a gauge reads of them once they are in, within the limits of the book.
AFTER_THE_WORK = {
    ("end_float", "engine"): ("0.140 mm", "D1"),
    **{("ring_gap", cylinder): ("0.35 mm", "F1") for cylinder in ("1", "2", "3", "4")},
}


def test_every_step_is_confirmed_in_order_and_no_override_is_on_the_record() -> None:
    clock = HandClock()
    store = opened(FLAT_FOUR, clock)
    page = agreed_and_back(store, clock)
    held = []
    for step in build_of(load(store)[0]).order:
        if any(each.relation in (MEASURED, OUT) for each in holds(view(load(store)[0]), step)):
            assert do_step(page, store, clock, step) == 422
            assert read_what_the_step_asks(store, clock, step, AFTER_THE_WORK), step
            held.append(step)
        if step == "first_start":
            assert "The engine has not fired yet" in page.get("/build/first_start").text
        assert do_step(page, store, clock, step) == 303, step
    assert held == ["dry_close", "rings_1", "rings_2", "rings_3", "rings_4"]
    assert "Every step of the build is done" in page.get("/build").text
    events = [from_body(entry.body) for entry in store.entries()]
    assert not [event for event in events if isinstance(event, StepDoneAgainstAdvice)]
