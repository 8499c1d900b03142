"""A job as a state machine: any deeds in any order, right ones and wrong ones.

What is refused leaves the record as it was; the record read back is the live state; what stands was allowed.
"""

from datetime import UTC, datetime, timedelta

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from endfloat.assembly.check import check
from endfloat.assembly.tightening import Progress, everything_left, next_pull
from endfloat.engine.asks import asks_of
from endfloat.engine.joints import Joint
from endfloat.job.build import laid_out, steps_done
from endfloat.job.description import engine_of
from endfloat.job.events import JobOpened, StepDoneAgainstAdvice
from endfloat.job.joints import progress_of
from endfloat.job.looked_up import as_known
from endfloat.job.state import State, after
from endfloat.job.wire import from_body, to_body, verify
from endfloat.problems import Problem
from endfloat.store.memory import MemoryStore
from endfloat.workshop.build import confirm_step, do_against_advice, lay_out_order, reopen_step
from endfloat.workshop.close_joint import close_joint
from endfloat.workshop.condemn_bolt import condemn_bolt
from endfloat.workshop.fit_bolt_set import fit_bolt_set
from endfloat.workshop.look_up import look_up_amount
from endfloat.workshop.pull_bolt import pull_bolt
from endfloat.workshop.record import load
from endfloat.workshop.regain import regain
from endfloat.workshop.take_joint_back import take_joint_back
from endfloat.workshop.take_reading import take_reading
from endfloat.workshop.withdraw_reading import withdraw_reading

ENGINE = """\
name: Test twin
layout: twin
places: {cylinder: {names: [1, 2]}}
characteristics:
  play: {of: crank, at: cylinder, method: dial gauge}
limits:
  - {on: play, use: assembly, method: dial gauge, page: 3, low: 0.05 mm, high: 0.15 mm}
operations:
  lay_out: {title: Lay out the caps, minutes: 2}
  new_bolts: {title: Bring new bolts, minutes: 1}
  rag_in: {title: Rags in, minutes: 1}
  set_crank: {title: Set the crank, minutes: 3}
  caps: {title: Caps on, minutes: 5, mark: "A1"}
  read_play: {title: Read the play, minutes: 5, measures: [play]}
  pull_first: {title: First pass, minutes: 4, pulls: {joint: cover, passes: [1]}}
  pull_second: {title: Second pass and close, minutes: 4, pulls: {joint: cover, passes: [2], closed: true}}
  rag_out: {title: Rags out, minutes: 1}
  lid:
    title: Lid on
    minutes: 3
    hides: [hose]
    cautions: [{severity: possible minor injury, consequence: It pinches., avoidance: Mind your fingers.}]
  paint: {title: Paint, minutes: 3}
relations:
  before:
    - {first: read_play, then: lid, why: nothing can be read later}
    - {first: caps, then: pull_first, why: the bolts hold the caps}
    - {first: lid, then: paint, why: bare metal rusts}
  own_place: [{part: caps, marks: letters, laid_out_by: lay_out, fitted_by: [caps], why: they were bored so}]
  single_use: [{part: bolts, new_by: new_bolts, used_by: pull_first, why: they stretch}]
  aid_in_aid_out:
    - {aid: rags, count: 2, in_by: rag_in, out_by: rag_out, nought_before: [lid], why: a rag blocks the oil}
  unbroken: [{sequence: [pull_first, pull_second], why: it draws unevenly}]
  kept_true: [{state: the crank stands, set_by: set_crank, during: [caps], regain: set it again, why: it bends}]
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
    sequence: [2, 1]
    passes: [{amount: 20 N·m, page: 12}, {amount: , page: 13}]
    felt_wrong:
      slipped: {slacken: all, renew: set, start_again_at: 1, page: 13}
    undone: {slacken: all, renew: set, start_again_at: 1, page: 14}
"""
GAUGES = """\
D1: {sort: dial gauge, resolution: 0.01 mm, error: 0.002 mm, repeat: 0.001 mm, source: invented}
W1: {sort: torque wrench, resolution: 1 N·m, error: 1 N·m, repeat: 0.5 N·m, source: invented}
A1: {sort: angle gauge, resolution: 1 °, error: 1 °, repeat: 1 °, source: invented}
"""
STEPS = st.sampled_from(list(engine_of(ENGINE).operations))
NAMES = st.sampled_from(["Ana", "Ana", "Bo", " "])
KEYS = st.integers(0, 12).map(str)
SETS = st.sampled_from(["H1", "H2", "H3", ""])
BOLTS = st.sampled_from(["1", "2", "2", "9"])


class Job(RuleBasedStateMachine):
    """One job under any hands."""

    @initialize(steps=st.sampled_from([0, 4, 8, 9, 10, 11, 14]))
    def opened(self, steps: int) -> None:
        self.store, self.now = MemoryStore(), datetime(2026, 5, 3, 8, tzinfo=UTC)
        self.live = after(State(), JobOpened("twin", ENGINE, GAUGES))
        self.store.append([JobOpened("twin", ENGINE, GAUGES)], expected=0, at=self.clock())
        if steps:
            self.go_on_rightly(steps=steps)

    def clock(self) -> str:
        self.now += timedelta(seconds=20)
        return self.now.isoformat()

    def deed(self, told: object, before: int) -> None:
        """What a deed answered: a Problem wrote nothing, anything else wrote what the live state takes up."""
        entries = self.store.entries()
        if isinstance(told, Problem):
            assert len(entries) == before, f"refused, yet written: {told.text()}"
        for entry in entries[before:]:
            self.live = after(self.live, from_body(entry.body))

    @rule(by=NAMES)
    def lay_out(self, by: str) -> None:
        before = len(self.store.entries())
        self.deed(lay_out_order(self.store, self.clock, by=by), before)

    @rule(step=STEPS, by=NAMES, right=st.sampled_from([True, True, True, False]))
    def confirm(self, step: str, by: str, right: bool) -> None:
        before, asks = len(self.store.entries()), asks_of(engine_of(ENGINE), step)
        done = steps_done(engine_of(ENGINE), self.live.building)
        told = confirm_step(
            self.store,
            self.clock,
            operation=step,
            by=by,
            looked=[look.what for look in asks.looks] if right else [],
            mark=asks.mark if right else "B2",
            counted={what: str(count if right else count - 1) for what, count in asks.counts.items()},
            hidden=dict.fromkeys(asks.hides, "sound" if right else ""),
        )
        asked = asks.looks or asks.mark or asks.counts or asks.hides
        assert right or not asked or step in done or isinstance(told, Problem), "closed on a wrong answer"
        self.deed(told, before)

    @rule(steps=st.integers(1, 6))
    def go_on_rightly(self, steps: int) -> None:
        """What a careful person does next, so that the careless deeds between meet a job in the middle."""
        self.lay_out(by="Ana")
        for _ in range(steps):
            engine = engine_of(ENGINE)
            done = steps_done(engine, self.live.building)
            following = next((step for step in laid_out(engine, self.live.building) if step not in done), None)
            if following is None:
                return
            if engine.operations[following].measures:
                for place in ("1", "2"):
                    self.read(key=f"right{len(self.live.taken)}", place=place, text="0.10 mm")
            if engine.operations[following].pulls:
                self.pull_rightly()
            self.confirm(step=following, by="Ana", right=True)

    @rule(by=NAMES)
    def go_on_wrongly(self, by: str) -> None:
        """Confirm what comes next without its mark, its counts, what it hides, its readings and its bolts."""
        done = steps_done(engine_of(ENGINE), self.live.building)
        left = [step for step in engine_of(ENGINE).operations if step not in done]
        for step in left:
            self.confirm(step=step, by=by, right=False)

    def pull_rightly(self) -> None:
        word = f"right{len(self.live.tightening)}"
        self.look_up(key=word, amount="90 °", page="13")
        if not self.joint()[1].fitted:
            self.fit(key=word, bolts=word, by="Ana")
        following = next_pull(*self.joint())
        for _ in range(2):
            if following:
                number, bolt = following
                self.pull(key=f"{word}{bolt}", number=number, bolt=bolt, gauge="W1" if number == 1 else "A1", by="Ana")
            following = next_pull(*self.joint())
        if following is None:
            self.close(key=word, by="Ana")

    def joint(self) -> tuple[Joint, Progress]:
        joint = as_known(engine_of(ENGINE).joints["cover"], "cover", self.live.tightening)
        return joint, progress_of(joint, "cover", self.live.tightening)

    @rule(step=STEPS, by=NAMES, reason=st.sampled_from(["so says page 4", ""]))
    def sign(self, step: str, by: str, reason: str) -> None:
        before = len(self.store.entries())
        self.deed(do_against_advice(self.store, self.clock, operation=step, reason=reason, by=by), before)

    @rule(step=STEPS, by=NAMES, reason=st.sampled_from(["forgot a washer", ""]))
    def undo(self, step: str, by: str, reason: str) -> None:
        before = len(self.store.entries())
        self.deed(reopen_step(self.store, self.clock, operation=step, reason=reason, by=by), before)

    @rule(key=KEYS, by=NAMES)
    def so_again(self, key: str, by: str) -> None:
        before = len(self.store.entries())
        self.deed(regain(self.store, self.clock, key=key, condition="the crank stands", by=by), before)

    @rule(key=KEYS, bolts=SETS, by=NAMES)
    def fit(self, key: str, bolts: str, by: str) -> None:
        before, stated = len(self.store.entries()), {"long": ("oil", "oil")}
        told = fit_bolt_set(self.store, self.clock, key=f"f{key}", joint="cover", bolts=bolts, stated=stated, by=by)
        self.deed(told, before)

    @rule(key=KEYS, number=st.sampled_from([1, 1, 2, 2, 3]), bolt=BOLTS, gauge=st.sampled_from(["W1", "A1"]), by=NAMES)
    def pull(self, key: str, number: int, bolt: str, gauge: str, by: str) -> None:
        before = len(self.store.entries())
        told = pull_bolt(
            self.store, self.clock, key=f"p{key}", joint="cover", pass_number=number, bolt=bolt, gauge=gauge, by=by
        )
        self.deed(told, before)

    @rule(key=KEYS, amount=st.sampled_from(["90 °", "40 N·m", "much"]), page=st.sampled_from(["13", ""]))
    def look_up(self, key: str, amount: str, page: str) -> None:
        before = len(self.store.entries())
        told = look_up_amount(
            self.store,
            self.clock,
            key=f"l{key}",
            joint="cover",
            pass_number=2,
            sort="",
            bolt="",
            amount=amount,
            page=page,
            by="Ana",
        )
        self.deed(told, before)

    @rule(key=KEYS, number=st.integers(0, 2), bolt=BOLTS)
    def felt_wrong(self, key: str, number: int, bolt: str) -> None:
        before = len(self.store.entries())
        told = condemn_bolt(
            self.store, self.clock, key=f"c{key}", joint="cover", pass_number=number, bolt=bolt, feel="slipped", by="Bo"
        )
        self.deed(told, before)

    @rule(key=KEYS)
    def go_back(self, key: str) -> None:
        before = len(self.store.entries())
        self.deed(take_joint_back(self.store, self.clock, key=f"b{key}", joint="cover", new_bolt="", by="Bo"), before)

    @rule(key=KEYS, by=NAMES)
    def close(self, key: str, by: str) -> None:
        before = len(self.store.entries())
        self.deed(close_joint(self.store, self.clock, key=f"z{key}", joint="cover", by=by), before)

    @rule(key=KEYS, place=st.sampled_from(["1", "2", "3"]), text=st.sampled_from(["0.10 mm", "0.30 mm", "ten"]))
    def read(self, key: str, place: str, text: str) -> None:
        before = len(self.store.entries())
        spot = ("play", place, "-", "-")
        self.deed(
            take_reading(self.store, self.clock, key=f"r{key}", spot=spot, text=text, gauge="D1", by="Ana"), before
        )

    @rule(key=KEYS, reason=st.sampled_from(["slip", ""]))
    def withdraw(self, key: str, reason: str) -> None:
        before = len(self.store.entries())
        self.deed(withdraw_reading(self.store, self.clock, key=f"r{key}", reason=reason, by="Ana"), before)

    @rule(minutes=st.integers(1, 600))
    def wait(self, minutes: int) -> None:
        self.now += timedelta(minutes=minutes)

    @invariant()
    def the_record_read_back_is_the_live_state(self) -> None:
        state, _ = load(self.store)
        assert state == self.live

    @invariant()
    def every_event_reads_back_as_it_was_written(self) -> None:
        entries = self.store.entries()
        verify(entries)
        assert all(to_body(from_body(entry.body)) == entry.body for entry in entries)

    @precondition(lambda self: not any(isinstance(each, StepDoneAgainstAdvice) for each in self.live.building))
    @invariant()
    def without_a_signature_what_is_done_breaks_no_relation(self) -> None:
        engine = engine_of(ENGINE)
        assert check(engine, steps_done(engine, self.live.building)) == []

    @invariant()
    def a_closed_joint_has_every_bolt_of_every_pass(self) -> None:
        joint, progress = self.joint()
        if progress.closed:
            assert not everything_left(joint, progress)
            assert {(1, "1"), (1, "2"), (2, "1"), (2, "2")} <= set(progress.pulled)


Job.TestCase.settings = settings(max_examples=60, stateful_step_count=40, deadline=None)
TestJob = Job.TestCase
