"""The models of an engine description. They name things and points; they compute nothing."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from endfloat.engine.amounts import Amount
from endfloat.engine.blocking import BlockedPart
from endfloat.engine.described import Described, Page
from endfloat.engine.joints import Joint
from endfloat.engine.operations import Operation, SubAssembly
from endfloat.engine.parts import BoughtPart
from endfloat.engine.proving import Proving
from endfloat.engine.relations import Relations
from endfloat.engine.safe_states import SafeStates
from endfloat.engine.strip import Removal
from endfloat.engine.timing import Timing
from endfloat.engine.views import EngineView
from endfloat.quantities.units import Kind

Reduce = Literal["largest", "smallest", "mean", "range", "minimum zone"]


class Family(Described):
    """Places of one sort, each named, with its bank where there is one.

    `belongs` says, for another family, which of these places belongs to which of its places:
    two cylinders of a V share one crankpin.
    """

    names: list[str] = Field(min_length=1)
    bank: dict[str, list[str]] = Field(default_factory=dict)
    belongs: dict[str, dict[str, list[str]]] = Field(default_factory=dict)

    def bank_of(self, name: str) -> str:
        """The bank a place belongs to, or nothing on an in-line engine."""
        return next((bank for bank, names in self.bank.items() if name in names), "")


class Characteristic(Described):
    """What is measured, or given by the service book: the part, the places, and by which method."""

    of: str
    at: str
    method: str
    kind: Kind = Kind.LENGTH
    stations: list[str] = Field(default_factory=lambda: ["-"], min_length=1)
    axes: list[str] = Field(default_factory=lambda: ["-"], min_length=1)
    reduce: Reduce = "mean"
    given: Amount | None = None
    page: Page | None = None


class Pointed(Described):
    """A characteristic or quantity at one named place, where "the same place" is not meant."""

    of: str
    at: str


class Quantity(Described):
    """What is derived: one formula, its arguments bound by name to characteristics or other quantities.

    `over` in place of `at` gathers all places of a family into one value, as a spread does.
    `knock_on` is the sentence that tells a person what a change of it means.
    """

    at: str | None = None
    over: str | None = None
    formula: str
    arguments: dict[str, str | Pointed] = Field(alias="with")
    method: str = "difference"
    knock_on: str = ""

    @property
    def sources(self) -> dict[str, str]:
        """Argument to the name of what it reads, wherever that is."""
        return {key: source if isinstance(source, str) else source.of for key, source in self.arguments.items()}


class Limit(Described):
    """Bounds from the service book, with the method they speak of and the page they stand on."""

    on: str
    use: Literal["new", "service", "machining", "assembly"]
    method: str
    page: Page | None = None
    low: Amount | None = None
    high: Amount | None = None
    inclusive: bool = True


class Effect(Described):
    """An amount put on a characteristic in some places, with its tolerance as a half-width.

    With `at_most` it is a form, such as a flatness: the papers ask for no more than the amount and its tolerance.
    """

    characteristic: str
    at: Literal["all"] | list[str] = "all"
    to: Amount
    within: Amount | None = None
    at_most: bool = False


class Move(Described):
    """A change by an amount, in some places, with its tolerance as a half-width."""

    characteristic: str
    at: Literal["all"] | list[str] = "all"
    by: Amount
    within: Amount | None = None


class Need(Described):
    """Another decision's option that must be taken too."""

    decision: str
    option: str


class CleanUp(Described):
    """Metal that must be there to be cut: `stock` beyond the worst reading.

    `inside` for a hole made larger, `outside` for a journal made smaller, `face` for a skim, where
    the cut is the option's `removes` and the characteristic is the flatness.
    """

    of: str
    at: Literal["all"] | list[str] = "all"
    metal: Literal["inside", "outside", "face"]
    stock: Amount


class ShopWords(Described):
    """What the machine-shop sheet says beside the finished size."""

    datum: str
    mate: str = ""
    finish: str = ""
    first: str = ""


class Option(Described):
    """One way to settle a decision; it states only the direct physical change."""

    title: str
    sort: Literal["as is", "fit", "machine", "replace"] = Field(alias="class")
    sets: list[Effect] = Field(default_factory=list)
    moves: list[Move] = Field(default_factory=list)
    renews: list[str] = Field(default_factory=list)
    needs: list[Need] = Field(default_factory=list)
    clean_up: CleanUp | None = None
    removes: Amount | None = None
    catalogue: list[str] = Field(default_factory=list)
    shop: ShopWords | None = None

    @property
    def buys(self) -> bool:
        """Whether it stands on the purchases: a machine shop is asked on a sheet of its own."""
        return self.sort in ("replace", "fit") and bool(self.catalogue)

    @property
    def only_buys(self) -> bool:
        """Whether its work is done when what it buys is here; what is fitted is worked on after that."""
        return self.sort == "replace" and self.buys


class Decision(Described):
    """A question with options of which exactly one is taken; `owner` is the part, bank or set it concerns."""

    owner: str
    title: str
    options: dict[str, Option] = Field(min_length=1)

    @property
    def as_found(self) -> str | None:
        """The option that leaves things as they are, where there is one."""
        return next((name for name, option in self.options.items() if option.sort == "as is"), None)


class Engine(Described):
    """One engine type. `views` say how it lies in front of the person, by attitude of the stand; the first is usual."""

    name: str
    invented: bool = False
    layout: str
    places: dict[str, Family]
    views: dict[str, EngineView] = Field(default_factory=dict)
    characteristics: dict[str, Characteristic]
    quantities: dict[str, Quantity] = Field(default_factory=dict)
    limits: list[Limit] = Field(default_factory=list)
    decisions: dict[str, Decision] = Field(default_factory=dict)
    assemblies: dict[str, SubAssembly] = Field(default_factory=dict)
    operations: dict[str, Operation] = Field(default_factory=dict)
    relations: Relations = Field(default_factory=Relations)
    safe_states: SafeStates | None = None
    blocking: dict[str, BlockedPart] = Field(default_factory=dict)
    joints: dict[str, Joint] = Field(default_factory=dict)
    parts: dict[str, BoughtPart] = Field(default_factory=dict)
    strip: dict[str, Removal] = Field(default_factory=dict)
    timing: Timing | None = None
    proving: Proving | None = None

    def place_label(self, family: str, name: str) -> str:
        """The place in words: "left 3", or "3" on an engine of one bank."""
        return f"{self.places[family].bank_of(name)} {name}".strip()

    def family_of(self, on: str) -> str:
        """The family of places at which a characteristic or quantity is judged."""
        quantity = self.quantities.get(on)
        if quantity is None:
            return self.characteristics[on].at
        return quantity.at or quantity.over or ""

    def places_of(self, on: str) -> list[str]:
        """The places at which a characteristic or quantity has a value."""
        quantity = self.quantities.get(on)
        if quantity is not None and quantity.over is not None:
            return [quantity.over]
        return self.places[self.family_of(on)].names

    def place_seen_from(self, family: str, name: str, other: str) -> str | None:
        """The place of the family `other` that belongs to a place: the same, its bank, or the only one."""
        if family == other:
            return name
        shared = self.places[family].belongs.get(other)
        if shared is not None:
            return next((owner for owner, names in shared.items() if name in names), None)
        names = self.places[other].names
        bank = self.places[family].bank_of(name)
        if bank in names:
            return bank
        return names[0] if len(names) == 1 else None


Choice = dict[str, str]
"""Decision to option; a decision that is not named stays as found."""
