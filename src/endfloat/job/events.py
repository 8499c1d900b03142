"""What happened, in the past tense. An event holds inputs only; conclusions are judged anew."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import get_args

from endfloat.job.clock_events import ClockEnded, ClockStarted
from endfloat.job.joint_events import AmountLookedUp, JointChecked, JointTakenUp, JointUndone, SequenceLookedUp
from endfloat.job.order_events import ConditionRegained
from endfloat.job.part_events import PartArrived, PartSentBack
from endfloat.job.pause_events import ConditionLost, WorkStopped, WorkTakenUp
from endfloat.job.proving_events import ProvingEvent
from endfloat.job.strip_events import StripEvent
from endfloat.job.timing_events import TimingEvent


@dataclass(frozen=True, slots=True)
class JobOpened:
    """A job began on one engine: the texts of its description, gauges and prices as they stood.

    `slip` holds readings that are on paper and still to be typed, as a readings table; empty when there are none.
    """

    name: str
    engine: str
    gauges: str
    prices: str = ""
    slip: str = ""


@dataclass(frozen=True, slots=True)
class DescriptionRevised:
    """The description, gauges or prices were read again from their files, as they stand from here on."""

    engine: str
    gauges: str
    prices: str
    by: str


@dataclass(frozen=True, slots=True)
class ReadingTaken:
    """A reading as typed, with its unit in the text. `key` is unique to the sending device."""

    key: str
    characteristic: str
    place: str
    station: str
    axis: str
    text: str
    gauge: str
    by: str


@dataclass(frozen=True, slots=True)
class ReadingWithdrawn:
    """A correction: the reading with this key no longer counts; it stays in the record."""

    key: str
    reason: str
    by: str


@dataclass(frozen=True, slots=True)
class OddReadingKept:
    """A person looked again at a reading that looked like a slip, and stands by it."""

    key: str
    by: str


@dataclass(frozen=True, slots=True)
class PlaceLeftUnmeasured:
    """A person says why a place has no reading: `answer` is a code of `inspection.measured.ANSWERS`."""

    key: str
    characteristic: str
    place: str
    answer: str
    by: str


@dataclass(frozen=True, slots=True)
class PlanAgreed:
    """A person agreed to a plan: what was chosen and how it looked then, so that a later look can differ openly.

    `choice` is decision to option, `cost` in hundredths, `open_verdicts` what was not yet Good, `solver`
    and `status` how it was found, `evidence` the fingerprint of the readings it rests on. `reasons` says why of each
    decision that means work, `still_open` names what was not known, and `cost_at_worst` is the price if that turns
    out badly (none: then no work of the list would do). `void_cost` comes on top of both, for what removal makes void
    and the plan does not buy (none: it was not told); `days` are until all of it is on the bench.
    """

    choice: dict[str, str]
    cost: int
    days: int
    open_verdicts: int
    status: str
    solver: str
    program: str
    evidence: str
    by: str
    reasons: dict[str, str] = field(default_factory=dict)
    still_open: tuple[str, ...] = ()
    cost_at_worst: int | None = None
    void_cost: int | None = None

    def __post_init__(self) -> None:
        # JSON knows lists only; a record read back equals the one written.
        object.__setattr__(self, "still_open", tuple(self.still_open))


@dataclass(frozen=True, slots=True)
class PlanWithdrawn:
    """The agreement no longer holds; the earlier entry stays."""

    by: str


@dataclass(frozen=True, slots=True)
class WorkReturned:
    """Work of the agreed plan is done or in the house: what it altered is measured anew from here on."""

    key: str
    decision: str
    option: str
    by: str
    at: str


@dataclass(frozen=True, slots=True)
class WorkNotBack:
    """A correction: the work is not back after all, and the readings from before it count again."""

    key: str
    decision: str
    reason: str
    by: str
    at: str


@dataclass(frozen=True, slots=True)
class GaugeChecked:
    """A gauge was put to something of known size: `set_to` what it should show, `shows` what it did, as typed."""

    key: str
    gauge: str
    set_to: str
    shows: str
    by: str
    at: str


@dataclass(frozen=True, slots=True)
class BoltSetFitted:
    """A named set of bolts was put into a joint by hand; `lubrication` in words, as the person found it."""

    key: str
    joint: str
    bolts: str
    lubrication: str
    by: str
    at: str


@dataclass(frozen=True, slots=True)
class BoltPulled:
    """One bolt of a set was pulled in one pass (0: apart from the sequence) with one gauge.

    With an adapter on the wrench: `length` from drive to hand, `offset` and `askew` of the adapter as typed, and the
    `setting` that was shown for them. `seen` is the torque read at the end of an angle, `in_spite` why a gauge was
    used after its due date. All of these as typed, blank when there was nothing to say. `device` is the one that sent
    it, where it is known.
    """

    key: str
    joint: str
    bolts: str
    pass_number: int
    bolt: str
    gauge: str
    by: str
    at: str
    length: str = ""
    offset: str = ""
    askew: str = ""
    setting: str = ""
    seen: str = ""
    in_spite: str = ""
    device: str = ""


@dataclass(frozen=True, slots=True)
class PassCompleted:
    """The last bolt of a pass was pulled."""

    joint: str
    bolts: str
    pass_number: int


@dataclass(frozen=True, slots=True)
class BoltCondemned:
    """A pull felt wrong: `feel` is no_rise, stopped_short, slipped, pulled_twice or out_of_turn. It does not count."""

    key: str
    joint: str
    bolts: str
    pass_number: int
    bolt: str
    feel: str
    by: str
    at: str


@dataclass(frozen=True, slots=True)
class JointTakenBack:
    """The description's way back was carried out; `new_bolt` names the one put in for a condemned one."""

    key: str
    joint: str
    bolts: str
    new_bolt: str
    by: str
    at: str


@dataclass(frozen=True, slots=True)
class JointClosed:
    """A person looked at every pull line and called the joint closed."""

    key: str
    joint: str
    bolts: str
    by: str
    at: str


@dataclass(frozen=True, slots=True)
class BuildOrderLaidOut:
    """A build order was worked out and taken: its steps, what it costs, and whether none is cheaper."""

    operations: tuple[str, ...]
    helper_calls: int
    turns: int
    tool_changes: int
    proved: bool
    by: str

    def __post_init__(self) -> None:
        # JSON knows lists only; a record read back equals the one written.
        object.__setattr__(self, "operations", tuple(self.operations))


@dataclass(frozen=True, slots=True)
class StepConfirmed:
    """A step of the build is done; `looked` are the looks ticked, in words, and `second` who looked too.

    `mark` is what was read on the part, `counted` how many of each thing as typed, `hidden` how each part that the
    step hides was answered for: a code of `engine.asks.HIDDEN_ANSWERS`.
    """

    operation: str
    by: str
    at: str
    looked: tuple[str, ...] = ()
    second: str = ""
    mark: str = ""
    counted: dict[str, str] = field(default_factory=dict)
    hidden: dict[str, str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        # JSON knows lists only; a record read back equals the one written.
        object.__setattr__(self, "looked", tuple(self.looked))


@dataclass(frozen=True, slots=True)
class StepReopened:
    """A step is undone, and with it what waited for it."""

    operation: str
    reason: str
    by: str
    at: str


@dataclass(frozen=True, slots=True)
class StepDoneAgainstAdvice:
    """A step was done although it was refused, signed with a reason."""

    operation: str
    reason: str
    by: str
    at: str


BuildEvent = (
    BuildOrderLaidOut
    | StepConfirmed
    | StepReopened
    | StepDoneAgainstAdvice
    | ConditionRegained
    | ConditionLost
    | ClockStarted
    | ClockEnded
    | WorkStopped
    | WorkTakenUp
)
BenchEvent = ReadingTaken | WorkReturned | WorkNotBack | GaugeChecked
JointEvent = (
    BoltSetFitted
    | BoltPulled
    | PassCompleted
    | BoltCondemned
    | JointTakenBack
    | JointClosed
    | AmountLookedUp
    | SequenceLookedUp
    | JointChecked
    | JointTakenUp
    | JointUndone
)
Event = (
    JobOpened
    | DescriptionRevised
    | ReadingTaken
    | ReadingWithdrawn
    | OddReadingKept
    | PlaceLeftUnmeasured
    | PlanAgreed
    | PlanWithdrawn
    | WorkReturned
    | WorkNotBack
    | GaugeChecked
    | JointEvent
    | BuildEvent
    | PartArrived
    | PartSentBack
    | StripEvent
    | TimingEvent
    | ProvingEvent
)
EVENTS: dict[str, type[Event]] = {kind.__name__: kind for kind in get_args(Event)}
