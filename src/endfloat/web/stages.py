"""The eight stages of a job: what each holds today, and how far confirmed work has come."""

from __future__ import annotations

from dataclasses import dataclass

from endfloat.drawings.rule import stage_line
from endfloat.workshop.build import build_of
from endfloat.workshop.proving import proved
from endfloat.workshop.strip import strip_of
from endfloat.workshop.view import View


@dataclass(frozen=True, slots=True)
class StageWords:
    """A stage as it stands in this program: its name, what its page holds today, what is counted, where it is done."""

    key: str
    name: str
    today: str
    counted: str = "spots are measured"
    links: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Stage:
    """A stage of one job: its words, the steps confirmed and all its steps, and whether the job stands here."""

    words: StageWords
    done: int
    total: int
    current: bool

    @property
    def line(self) -> str:
        """Its piece of the rule."""
        return stage_line(self.done, self.total)

    @property
    def count(self) -> str:
        """Its name with its count, where its steps are counted."""
        return f"{self.words.name} {self.done} of {self.total}" if self.total else self.words.name


STAGES = (
    StageWords(
        "arrival",
        "Arrival",
        "The job is opened on an engine description and a gauge register, and both are kept word for word."
        " What arrived, and in what state, is not entered here yet: write it on the reading sheet.",
        links=(("What needs you now", "/"),),
    ),
    StageWords(
        "strip",
        "Strip",
        "The engine comes apart here, one part at a time: its label, how it sat, every fastener counted out, and what"
        " can no longer be read afterwards. What is void goes on the purchase list; left and right are never one pile.",
        "parts are off",
        (("What comes off next", "/strip"), ("What is void so far", "/sheets")),
    ),
    StageWords(
        "inspect",
        "Inspect",
        "Every place is measured here, and judged against the limits of your service book.",
        links=(
            ("The laid-out engine with every verdict", "/board"),
            ("All verdicts as a table", "/board#table"),
            ("Does a gauge still show what it should?", "/gauges"),
        ),
    ),
    StageWords(
        "decide",
        "Decide",
        "The cheapest work that brings every fit within its limits together is worked out, explained and agreed here.",
        links=(
            ("Open the plan", "/decide"),
            ("What would change?", "/what-if"),
            ("What is out", "/board?show=Out#list"),
        ),
    ),
    StageWords(
        "buy-and-machine",
        "Buy & machine",
        "The machine-shop sheet and the lists of an agreed plan are written here. Say what has come back: what it"
        " altered is then measured again at Inspect, and judged on the new sizes.",
        links=(
            ("Open the sheets", "/sheets"),
            ("What has come in?", "/parts"),
            ("What is tried dry before it is built?", "/dry-build"),
        ),
    ),
    StageWords(
        "build",
        "Build",
        "The build order is laid out and followed here, one step at a time, joints are tightened bolt by bolt, and"
        " the cams are timed at the degree wheel where the description holds `timing:`.",
        "steps are done",
        (
            ("The next step", "/build"),
            ("The joints, bolt by bolt", "/joints"),
            ("The cams, at the degree wheel", "/timing"),
            ("What runs: the clocks", "/clocks"),
            ("Stopping now", "/stop"),
            ("Would another order do?", "/build/order"),
            ("What may the order have forgotten?", "/build/missing"),
        ),
    ),
    StageWords(
        "prove",
        "Prove",
        "The engine is primed, two people go through a list each before it fires, what it shows is written down, and it"
        " is run in and looked at again, as its description says.",
        "steps are confirmed",
        (
            ("What is next", "/prove"),
            ("Ready to fire?", "/prove/ready"),
            ("Run-in", "/prove/run-in"),
            ("Re-check", "/prove/recheck"),
            ("As found and now", "/prove/compare"),
        ),
    ),
    StageWords(
        "hand-over",
        "Hand over",
        "The build record holds every verdict, limit and reading, the plan agreed, and the joints as tightened."
        " `endfloat verify` shows whether an entry was changed later.",
        links=(("The build record and all papers", "/sheets"),),
    ),
)
STRIP, INSPECT, DECIDE, BUY_AND_MACHINE, BUILD, PROVE = (
    "strip",
    "inspect",
    "decide",
    "buy-and-machine",
    "build",
    "prove",
)
HAND_OVER = "hand-over"


def stages_of(seen: View, now: str) -> tuple[Stage, ...]:
    """All stages of a job; it stands at the latest one that work was confirmed in, or that now is open."""
    measured = len(seen.wanted_spots & seen.taken_spots)
    build = build_of(seen.state)
    strip = strip_of(seen.state)
    counts = {
        STRIP: (len(strip.stands.off), len(strip.engine.strip)),
        INSPECT: (measured, len(seen.wanted_spots)),
        BUILD: (len(build.done), len(build.order)),
    }
    proving = proved(seen.state, now)
    if proving.engine.proving is not None:
        counts[PROVE] = proving.counted
    current = INSPECT
    if measured == len(seen.wanted_spots):
        current = DECIDE
    if strip.waits_now:
        current = STRIP
    if seen.state.agreed is not None:
        current = BUY_AND_MACHINE
    if build.order:
        current = BUILD if build.next else PROVE
    if proving.built and not proving.over:
        current = PROVE
    elif proving.over and not build.next:
        current = HAND_OVER
    return tuple(Stage(words, *counts.get(words.key, (0, 0)), current=words.key == current) for words in STAGES)
