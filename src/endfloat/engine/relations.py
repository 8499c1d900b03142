"""The relations between operations: a closed list of sixteen, each with its own fields.

An operation is "done earlier" when it stands before another in the order. What is not done yet counts as
later than everything that is. Each class says in its docstring when an order breaks it.
"""

from __future__ import annotations

from typing import Any, ClassVar, Literal

from pydantic import Field

from endfloat.engine.amounts import Amount
from endfloat.engine.described import Described, Page


class Relation(Described):
    """Base: the reason, in a few words that end a sentence, and the page of the service book."""

    names: ClassVar[tuple[str, ...]] = ()
    why: str = Field(min_length=1)
    page: Page | None = None

    def named(self) -> list[tuple[tuple[str | int, ...], str]]:
        """Every operation this relation names, with its path from the relation."""
        found: list[tuple[tuple[str | int, ...], str]] = []
        for field in self.names:
            value: Any = getattr(self, field)
            if isinstance(value, str):
                found.append(((field,), value))
            elif isinstance(value, list):
                found += [((field, index), each) for index, each in enumerate(value)]
            elif isinstance(value, dict):
                found += [((field, key, i), each) for key, listed in value.items() for i, each in enumerate(listed)]
        return found


class Before(Relation):
    """Broken when `then` is done and `first` is not done earlier."""

    names = ("first", "then")
    first: str
    then: str


class LastChance(Relation):
    """Broken when another operation that closes `zone` is done and `do` is not done earlier."""

    names = ("do",)
    do: str
    zone: str


class KeptTrue(Relation):
    """A state that `set_by` makes true and that every step of `during` needs.

    Broken when a step of `during` is done and `set_by` is not done earlier; when `ended_by` is done and
    `set_by` or a step of `during` is not done earlier; or when a step of `lost_by` is done after `set_by`
    while a step of `during` is not done yet. `regain` says what to do once the state is lost.

    Undoing loses the state too, where a step of `during` is then still to do: undoing `set_by`, or `ended_by` (the
    state had been given up), or a step of `lost_by_undoing` while the state is kept. `regain_by` are the steps that
    must then be done again to bring it back.
    """

    names = ("set_by", "during", "ended_by", "lost_by")
    state: str
    set_by: str
    during: list[str] = Field(min_length=1)
    ended_by: str | None = None
    lost_by: list[str] = Field(default_factory=list)
    lost_by_undoing: list[str] = Field(default_factory=list)
    regain: str = ""
    regain_by: list[str] = Field(default_factory=list)


class Unbroken(Relation):
    """Broken unless the steps of `sequence` follow each other in this order with nothing in between."""

    names = ("sequence",)
    sequence: list[str] = Field(min_length=2)


class SecondPerson(Relation):
    """One visit of a helper, who stays from the first of `operations` to the last.

    Broken when the minutes from the start of the first to the end of the last, with all that is done
    between, exceed `minutes`.
    """

    names = ("operations",)
    operations: list[str] = Field(min_length=1)
    minutes: int = Field(ge=1)


class SpecialTool(Relation):
    """One use of a tool of which there is one: from `fitted_by` to `off_by`.

    Broken when a step of `needed_for` or `off_by` is done and `fitted_by` is not done earlier; when `off_by` is
    done and a step of `needed_for` is not done earlier; or when `fitted_by` of one use is done while the same
    tool (equal words in `tool`) is fitted and not yet off in another use.
    """

    names = ("fitted_by", "needed_for", "off_by")
    tool: str
    fitted_by: str
    needed_for: list[str] = Field(min_length=1)
    off_by: str


class EasilyMissed(Relation):
    """Fasteners that are forgotten: fitted, then counted, then hidden.

    Broken when `counted_by` is done and `fitted_by` is not done earlier, or when a step of `hidden_by` is done
    and `counted_by` is not done earlier.
    """

    names = ("fitted_by", "counted_by", "hidden_by")
    what: str
    count: int = Field(ge=1)
    fitted_by: str
    counted_by: str
    hidden_by: list[str] = Field(min_length=1)


class SidesDiffer(Relation):
    """Lists of two or more sides (banks) whose parts are alike to the eye and not the same.

    Broken when a step of one side is done while the list of another side is begun and not finished. Either
    side may be first.
    """

    names = ("sides",)
    what: str
    sides: dict[str, list[str]] = Field(min_length=2)


class OwnPlace(Relation):
    """Broken when a step of `fitted_by` is done and `laid_out_by`, which reads the marks, is not done earlier."""

    names = ("laid_out_by", "fitted_by")
    part: str
    marks: str
    laid_out_by: str
    fitted_by: list[str] = Field(min_length=1)


class SingleUse(Relation):
    """A part that is spent by `used_by`.

    Broken when `used_by` is done and `new_by`, which brings the new part, is not done earlier; or when `used_by`
    is done and a step of `undone_by`, which would take the part apart again, is not done earlier.
    """

    names = ("new_by", "used_by", "undone_by")
    part: str
    new_by: str
    used_by: str
    undone_by: list[str] = Field(default_factory=list)


class Band(Described):
    """How long a clock runs from one temperature up to, not including, another.

    `minutes` is the cure time or, where the clock has none, the open time.
    """

    at_least: Amount
    below: Amount
    minutes: int = Field(ge=1)


class Clocked(Relation):
    """A clock that `starts` sets running: how long the joint stays open, and how long it cures.

    Open time: broken when `close_with` is done and `starts` is not done earlier, or when the minutes of all that is
    done after `starts` up to and including `close_with` exceed `open_minutes`. Cure time runs from the end
    of `close_with` (of `starts` where there is none): broken when a step of `not_before` is done and that is not
    done earlier, or when the minutes of all that is done between the two fall short of `cure_minutes`.

    At the bench the clock is real. `late` says what a closing step past the open time is: `shut` until the start is
    re-opened, or only `told`. `late_do` is what the service book then asks for. With `never_signed` nobody may sign
    away a wait that is not over. `bands` give the time by temperature: the order is worked out with the plain minutes,
    which are those of one band, and at the bench a person says the temperature; until then the longest cure and
    the shortest open time count.
    """

    names = ("starts", "close_with", "not_before")
    what: str
    starts: str
    close_with: str | None = None
    open_minutes: int | None = Field(default=None, ge=1)
    cure_minutes: int | None = Field(default=None, ge=1)
    not_before: list[str] = Field(default_factory=list)
    late: Literal["shut", "told"] = "shut"
    late_do: str = ""
    never_signed: bool = False
    bands: list[Band] = Field(default_factory=list)

    @property
    def cures_from(self) -> str:
        """The step at whose end the cure begins."""
        return self.close_with or self.starts


class Attitude(Relation):
    """Broken when `until` is done and `since` is not done earlier, or when a step that asks for another attitude
    is done after `since` while `until` is not done yet."""

    names = ("since", "until")
    attitude: str
    since: str
    until: str


class AsOneMove(Relation):
    """Broken unless `operations` follow each other, in whatever order, with nothing in between."""

    names = ("operations",)
    operations: list[str] = Field(min_length=2)


class SlackAndTaut(Relation):
    """A place held by hand, hook or tie from `taken_up_by` to `let_go_by`.

    Broken when a step of `taut_for` or `let_go_by` is done and `taken_up_by` is not done earlier; when `let_go_by`
    is done and a step of `taut_for` is not done earlier; or when a step of `slack_for` is done while it is held.

    What is held by hand may be handed over to a tie or tool by `secured_by`: broken when that is done and `taken_up_by`
    is not done earlier, or when `let_go_by` is done and that is not done earlier. Broken too when a helper is there for
    one step and not for the next while it is held by hand: `taken_up_by` is done, and neither `secured_by` nor
    `let_go_by`. A helper is there for each step for two persons and all through a visit (`second_person`).
    """

    names = ("taken_up_by", "let_go_by", "secured_by", "taut_for", "slack_for")
    what: str
    held_by: Literal["hand", "hook", "tie"]
    taken_up_by: str
    let_go_by: str
    secured_by: str | None = None
    taut_for: list[str] = Field(min_length=1)
    slack_for: list[str] = Field(default_factory=list)

    @property
    def by_hand_until(self) -> str | None:
        """The step that ends the holding by hand; None where a hook or tie holds it from the first."""
        return (self.secured_by or self.let_go_by) if self.held_by == "hand" else None


class ConfirmAgainNow(Relation):
    """Broken when `before` is done and the step just before it is not `check`, or when `check` is done and
    something else comes next."""

    names = ("check", "before")
    check: str
    before: str


class AidInAidOut(Relation):
    """Locks, pins, ties, plugs, rags that go in and must come out, counted to nought.

    Broken when a step of `needed_for` or `out_by` is done and `in_by` is not done earlier; when `out_by` is done and a
    step of `needed_for` is not done earlier; or when a step of `nought_before` is done while the aid is in.
    """

    names = ("in_by", "out_by", "needed_for", "nought_before")
    aid: str
    count: int = Field(default=1, ge=1)
    in_by: str
    out_by: str
    needed_for: list[str] = Field(default_factory=list)
    nought_before: list[str] = Field(default_factory=list)


class Relations(Described):
    """All relations of one engine, by type. The list of types is closed."""

    before: list[Before] = Field(default_factory=list)
    last_chance: list[LastChance] = Field(default_factory=list)
    kept_true: list[KeptTrue] = Field(default_factory=list)
    unbroken: list[Unbroken] = Field(default_factory=list)
    second_person: list[SecondPerson] = Field(default_factory=list)
    special_tool: list[SpecialTool] = Field(default_factory=list)
    easily_missed: list[EasilyMissed] = Field(default_factory=list)
    sides_differ: list[SidesDiffer] = Field(default_factory=list)
    own_place: list[OwnPlace] = Field(default_factory=list)
    single_use: list[SingleUse] = Field(default_factory=list)
    clocked: list[Clocked] = Field(default_factory=list)
    attitude: list[Attitude] = Field(default_factory=list)
    as_one_move: list[AsOneMove] = Field(default_factory=list)
    slack_and_taut: list[SlackAndTaut] = Field(default_factory=list)
    confirm_again_now: list[ConfirmAgainNow] = Field(default_factory=list)
    aid_in_aid_out: list[AidInAidOut] = Field(default_factory=list)

    def each(self) -> list[tuple[str, int, Relation]]:
        """Every relation as type, index within its type, and record."""
        return [(name, index, record) for name in RELATIONS for index, record in enumerate(getattr(self, name))]


RELATIONS = tuple(Relations.model_fields)
