"""How proving stands, for every page and paper: what is open, what is next, and how much of it is done."""

from __future__ import annotations

from dataclasses import dataclass

from endfloat.engine.model import Engine
from endfloat.engine.proving import Proving, ReadyItem, StopRule
from endfloat.engine.proving_proofreading import stops_blank
from endfloat.inspection.verdicts import Verdict
from endfloat.inspection.words import label
from endfloat.job.description import engine_of
from endfloat.job.proof import Proof, limits_broken, overdue, proof_of, seconds_between, stops_of, value_of
from endfloat.job.proving import NOTHING_OUT, ROLES, Bench, open_points, sight
from endfloat.job.proving_deeds import stage_done, waits_for
from endfloat.job.proving_events import GaugeLogged, ReadyTicked
from endfloat.job.state import State
from endfloat.quantities.typed_text import Typed
from endfloat.workshop.view import view


@dataclass(frozen=True, slots=True)
class Asked:
    """One line of a list: what must be true, the tick that stands, and why what the program sees is not so yet."""

    name: str
    item: ReadyItem
    tick: ReadyTicked | None
    why_not: str


@dataclass(frozen=True, slots=True)
class Next:
    """What is next of proving: words for a button, and where it is done."""

    words: str
    link: str


@dataclass(frozen=True, slots=True)
class Proved:
    """Proving as it stands at one time."""

    bench: Bench
    proof: Proof
    now: str

    @property
    def engine(self) -> Engine:
        """The engine that is proved."""
        return self.bench.engine

    @property
    def proving(self) -> Proving:
        """What the description says of it."""
        return self.bench.proving

    def asked_of(self, role: str) -> list[Asked]:
        """The list of one person."""
        ticks = self.proof.ticks
        items = self.proving.ready.items()
        return [Asked(name, item, ticks.get((name, role)), "") for name, item in items if item.asked_of(role)]

    @property
    def seen(self) -> list[Asked]:
        """What the program sees in the record by itself."""
        items = self.proving.ready.items()
        return [Asked(n, i, None, sight(self.bench, self.proof, i, self.now)) for n, i in items if i.sees]

    @property
    def out_of_limits(self) -> str:
        """What is out, in words, where the description asks that nothing is; empty where all holds."""
        asked = (item for item in self.proving.ready.values() if item.sees == NOTHING_OUT)
        return next((sight(self.bench, self.proof, item, self.now) for item in asked), "")

    @property
    def open_points(self) -> list[str]:
        """What stands between this engine and its fire."""
        return open_points(self.bench, self.proof, self.now)

    @property
    def blank_stops(self) -> list[StopRule]:
        """The stop rules whose limit is still to look up."""
        return list(stops_blank(self.proving).values())

    @property
    def seconds_running(self) -> int | None:
        """Whole seconds since the engine was started; None when it stands still."""
        start = self.proof.start
        return int(seconds_between(start.at, self.now)) if start else None

    @property
    def waiting_for(self) -> list[str]:
        """The stop rules whose time has passed and whose gauge has not shown that all is well."""
        return overdue(self.proving, self.proof, self.now)

    @property
    def next_priming(self) -> str | None:
        """The step of priming that is next."""
        return next((name for name in self.proving.priming if name not in self.proof.primed), None)

    @property
    def next_stage(self) -> str | None:
        """The stage of the run-in that is not over."""
        return next((n for n in self.proving.run_in if not stage_done(self.proving, self.proof, n)), None)

    @property
    def due(self) -> list[str]:
        """What is to be looked at again now."""
        return [
            item
            for stage in self.proving.run_in
            if stage_done(self.proving, self.proof, stage)
            for item in self.proving.due_after(stage)
            if not self.proof.done(item)
        ]

    @property
    def counted(self) -> tuple[int, int]:
        """How many steps of proving are done, of how many."""
        proof, proving = self.proof, self.proving
        ticks = [(n, role) for n, item in proving.ready.items() for role in ROLES if item.asked_of(role)]
        total = len(proving.priming) + len(ticks) + 1 + len(proving.run_in) + len(proving.recheck)
        ready = len(ticks) if proof.first and not proof.opened_again else len([t for t in ticks if t in proof.ticks])
        stages = [name for name in proving.run_in if stage_done(proving, proof, name)]
        right = [name for name in proving.recheck if proof.done(name)]
        done = len([n for n in proving.priming if n in proof.primed]) + ready
        return done + bool(proof.first) + len(stages) + len(right), total

    @property
    def over(self) -> bool:
        """Whether nothing is left to prove."""
        done, total = self.counted
        return bool(self.engine.proving) and done == total and self.proof.start is None

    @property
    def built(self) -> bool:
        """Whether the build has come as far as the first fire asks."""
        wanted = [item for item in self.proving.ready.values() if item.sees == "every step done"]
        return bool(wanted) and not any(sight(self.bench, self.proof, item, self.now) for item in wanted)

    @property
    def next(self) -> Next | None:
        """What is next; None when nothing is left."""
        if self.proof.start is not None:
            return Next("The engine runs: the log", "/prove/run")
        if self.proof.opened_again is not None:
            return Next("Stopped at once: both lists again", "/prove/ready")
        if self.proof.first is None:
            step = self.next_priming
            return Next(f"Prime: {self.proving.priming[step].title}", "/prove") if step else FIRE
        if self.due:
            return Next(f"Look again: {self.proving.recheck[self.due[0]].what}", "/prove/recheck")
        stage = self.next_stage
        return Next(f"Run in: {self.proving.run_in[stage].title}", "/prove/run-in") if stage else None

    def waits_for(self, stage: str) -> list[str]:
        """What comes before a stage of the run-in."""
        return waits_for(self.proving, self.proof, stage)

    def stage_done(self, stage: str) -> bool:
        """Whether a stage of the run-in is over."""
        return stage_done(self.proving, self.proof, stage)

    def still_to_run(self, stage: str) -> str:
        """How much of a stage is left, in its own unit; nothing when it is over or its length is a blank."""
        lasts = self.proving.run_in[stage].lasts
        if lasts is None or self.stage_done(stage):
            return ""
        left = (lasts.exact_si - self.proof.ran(stage)) / lasts.unit.factor
        return f"{left:.1f}".rstrip("0").rstrip(".") + f" {lasts.unit.shown}"


FIRE = Next("Ready to fire?", "/prove/ready")


def proved(state: State, now: str) -> Proved:
    """Proving of a job at one time."""
    engine = engine_of(state.opened.engine if state.opened else "")
    bench = Bench(engine, state.building, state.tightening, places_out(state))
    return Proved(bench, proof_of(bench.proving, state.proving), now)


def places_out(state: State) -> tuple[str, ...]:
    """Every value that is judged out of its limits, in words; none before a job is opened."""
    if state.opened is None:
        return ()
    seen = view(state)
    return tuple(label(seen.engine, f.on, f.place) for f in seen.findings if f.verdict is Verdict.OUT)


def answer_to(seen: Proved, key: str) -> tuple[list[str], list[str]]:
    """What a value of the log is answered: the sentences that say STOP, and the limits it is beyond."""
    logged = next((each for each in seen.proof.logged if each.key == key), None)
    if logged is None:
        return [], []
    stops = [stop_sentence(seen.proving, name, logged) for name in stops_of(seen.proving, seen.proof, logged)]
    gauge, broken = seen.proving.gauges[logged.gauge], limits_broken(seen.proving, seen.proof, logged)
    beyond = [f"{gauge.title} {shown(seen.proving, logged)}: {e.words}." for e in broken]
    return stops, beyond


def stop_sentence(proving: Proving, name: str, logged: GaugeLogged) -> str:
    """Why the engine is stopped at once, in words, with the page."""
    rule = proving.stop_now[name]
    page = f", page {rule.page}" if rule.page else ""
    return f"{rule.say} {proving.gauges[rule.gauge].title}: {shown(proving, logged)} (stop: {rule.bound}{page})."


def shown(proving: Proving, logged: GaugeLogged) -> str:
    """A value of the log with its unit."""
    value = value_of(proving.gauges.get(logged.gauge), logged.text)
    return value.text if isinstance(value, Typed) else logged.text
