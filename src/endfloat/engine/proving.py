"""The models of proving: priming, what must be true before the first fire, what stops it, run-in and re-check."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BeforeValidator, Field

from endfloat.engine.amounts import Amount
from endfloat.engine.described import Described, Page
from endfloat.engine.operations import Caution, Look, look_of

Role = Literal["first", "second"]
Sight = Literal[
    "every step done", "every joint closed", "no clock running", "every priming step done", "no place out of limits"
]


class Shown(Described):
    """What a gauge of the log must show before a step of priming is done; a blank side is open."""

    gauge: str
    low: Amount | None = None
    high: Amount | None = None
    page: Page | None = None

    @property
    def words(self) -> str:
        """The limit in words; nothing where it is still to look up."""
        return limit_words(self.low, self.high)


class PrimingStep(Described):
    """One step of priming; the steps are done in the order of the file.

    `amount` is how much goes in, `shows` what a gauge must show, `looks` what is seen with one's own eyes.
    """

    title: str = Field(min_length=1)
    at: str = ""
    persons: int = Field(default=1, ge=1)
    tools: list[str] = Field(default_factory=list)
    cautions: list[Caution] = Field(default_factory=list)
    amount: Amount | None = None
    shows: Shown | None = None
    looks: list[Annotated[Look, BeforeValidator(look_of, json_schema_input_type=str | Look)]] = Field(
        default_factory=list
    )
    why: str = ""
    page: Page | None = None


class ReadyItem(Described):
    """Something that must be true before the first fire.

    Either `who` looks and ticks it: the first person, the second, or both, each on a list of their own. Or the program
    `sees` it in the record: every step of the build done (with `until`, those laid out before that step, which is the
    first start and waits for the fire), every joint closed, no cure still running, every step of priming done, no place
    out of its limits.
    """

    what: str = Field(min_length=1)
    who: Literal["first", "second", "both"] | None = None
    sees: Sight | None = None
    until: str = ""
    why: str = ""
    page: Page | None = None

    def asked_of(self, role: str) -> bool:
        """Whether it stands on the list of that person."""
        return self.who in (role, "both")


class StopRule(Described):
    """When the engine is stopped at once: a gauge of the log `below` or `above` an amount, or one of the words it
    `hears`. With `after`, only once so much time has passed since the engine fired.
    """

    gauge: str
    below: Amount | None = None
    above: Amount | None = None
    hears: list[str] = Field(default_factory=list)
    after: Amount | None = None
    say: str = Field(min_length=1)
    do: str = ""
    page: Page | None = None

    @property
    def blank(self) -> bool:
        """Whether its amount is still to look up."""
        return self.below is None and self.above is None and not self.hears

    @property
    def bound(self) -> str:
        """When it holds, in words: "below 1.0 bar after 10 s"."""
        if self.blank:
            return "a limit still to look up"
        sides = (("below", self.below), ("above", self.above))
        words = [f"{side} {amount.text}" for side, amount in sides if amount is not None] or [" or ".join(self.hears)]
        return words[0] + (f" after {self.after.text}" if self.after else "")


class GaugeLimit(Described):
    """What a gauge should show; with `after` once so much time has passed since firing, with `from_speed` at that
    speed and above."""

    low: Amount | None = None
    high: Amount | None = None
    after: Amount | None = None
    from_speed: Amount | None = None
    page: Page | None = None

    @property
    def words(self) -> str:
        """The limit in words with when it holds and its page."""
        when = f" after {self.after.text}" if self.after else ""
        when += f" from {self.from_speed.text}" if self.from_speed else ""
        bound = limit_words(self.low, self.high) or "a limit still to look up"
        return f"{bound}{when}" + (f", page {self.page}" if self.page else "")


class LoggedGauge(Described):
    """What is written down while the engine runs: an amount in `unit`, or one of `words`, such as a noise."""

    title: str = Field(min_length=1)
    unit: str = ""
    words: list[str] = Field(default_factory=list)
    limits: list[GaugeLimit] = Field(default_factory=list)


class RunInStage(Described):
    """One stage of the run-in, in the order of the file; it `lasts` a time or a distance. Speed and load in words."""

    title: str = Field(min_length=1)
    lasts: Amount | None = None
    speed: str = ""
    load: str = ""
    why: str = ""
    page: Page | None = None


class Recheck(Described):
    """What is looked at again once a stage of the run-in is over (`after`); the next stage waits for it.

    With `joint` its bolts are pulled again to `amount`; never bolts that are single use.
    """

    what: str = Field(min_length=1)
    sort: Literal["bolts", "oil", "leaks", "valve gaps", "other"]
    after: str
    joint: str = ""
    amount: Amount | None = None
    cautions: list[Caution] = Field(default_factory=list)
    why: str = ""
    page: Page | None = None


class Compared(Described):
    """A characteristic that is read again after the run and put beside what was found when the engine came.

    `worse` says which way is the wrong way.
    """

    of: str
    title: str = Field(min_length=1)
    worse: Literal["lower", "higher"] | None = None
    page: Page | None = None


class Proving(Described):
    """How the finished engine is proved: primed, fired by two people, run in, looked at again, compared."""

    priming: dict[str, PrimingStep] = Field(default_factory=dict)
    ready: dict[str, ReadyItem] = Field(default_factory=dict)
    gauges: dict[str, LoggedGauge] = Field(default_factory=dict)
    stop_now: dict[str, StopRule] = Field(default_factory=dict)
    run_in: dict[str, RunInStage] = Field(default_factory=dict)
    recheck: dict[str, Recheck] = Field(default_factory=dict)
    compare: dict[str, Compared] = Field(default_factory=dict)

    def due_after(self, stage: str) -> list[str]:
        """What is looked at again when a stage of the run-in is over."""
        return [name for name, each in self.recheck.items() if each.after == stage]


def limit_words(low: Amount | None, high: Amount | None) -> str:
    """A limit in words; nothing where both sides are open."""
    if low is not None and high is not None:
        return f"{low.text} to {high.text}"
    return f"at least {low.text}" if low is not None else f"at most {high.text}" if high is not None else ""
