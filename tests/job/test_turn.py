"""A bolt is pulled when the build has come to its step, and not before."""

from dataclasses import dataclass
from pathlib import Path

from cast import V8, example
from endfloat.job.events import (
    BoltPulled,
    BoltSetFitted,
    BuildOrderLaidOut,
    Event,
    JobOpened,
    PassCompleted,
    StepConfirmed,
)
from endfloat.job.state import State, after, fold, refusal
from endfloat.problems import Problem

ENGINE, _, _ = example(V8)
TEXT = (V8 / "engine.yaml").read_text()
NOW = "2026-05-03T10:00:00+00:00"
LINES = (Path(__file__).parents[1] / "assembly" / "wrenhallow-order.txt").read_text().splitlines()
ORDER = tuple(line for line in LINES if not line.startswith("#"))


@dataclass
class Bench:
    """The record of one left head, written without the pages."""

    state: State

    def pull(self, number: int, bolt: str) -> Problem | None:
        event = BoltPulled(f"{number}/{bolt}", "left_head", "H1", number, bolt, "W1", "Ana", NOW)
        wrong = refusal(self.state, event)
        if wrong is None:
            self.state = after(self.state, event)
        return wrong


def at(step: str, *, laid: bool = True) -> Bench:
    """All done up to a step, as it stands on the record; with bolts in the left head."""
    done = ORDER[: ORDER.index(step)]
    events: list[Event] = [JobOpened("demo", TEXT, ""), BoltSetFitted("f", "left_head", "H1", "oil", "Ana", NOW)]
    if laid:
        events += [BuildOrderLaidOut(ORDER, 3, 9, 20, True, "Ana"), *(StepConfirmed(each, "Ana", NOW) for each in done)]
    return Bench(fold(events))


def test_no_bolt_is_pulled_while_the_head_is_not_on() -> None:
    wrong = at("left_head_on").pull(1, (ENGINE.joints["left_head"].order(1) or ("",))[0])
    assert wrong is not None
    assert wrong.code == "before_its_turn"
    assert "Lower the left head with its chain held up" in wrong.remedy


def test_all_passes_are_pulled_in_one_go_without_confirming_a_step_between() -> None:
    bench, joint = at("left_pass_1"), ENGINE.joints["left_head"]
    for number in range(1, len(joint.passes) + 1):
        for bolt in joint.order(number) or ():
            assert bench.pull(number, bolt) is None
        bench.state = after(bench.state, PassCompleted("left_head", "H1", number))


def test_without_a_build_order_a_joint_stands_on_its_own() -> None:
    bench, joint = at("left_head_on", laid=False), ENGINE.joints["left_head"]
    assert bench.pull(1, (joint.order(1) or ("",))[0]) is None
