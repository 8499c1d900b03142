"""The models of an engine description. They name things and points; they compute nothing."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field

from endfloat.problems import Problem
from endfloat.quantities.typed_text import Typed, read_typed
from endfloat.quantities.units import Kind


def _length(text: object) -> object:
    """Typed length; a blank stays a blank, to be counted in "still to look up"."""
    if text is None or isinstance(text, Typed):
        return text
    read = read_typed(str(text), kind=Kind.LENGTH, place="")
    if isinstance(read, Problem):
        raise ValueError(f"{read.code}|{read.found}|{read.expected}|{read.remedy}")
    return read


Length = Annotated[Typed, BeforeValidator(_length)]
Reduce = Literal["largest", "smallest", "mean"]


class Described(BaseModel):
    """Base of all models: an unknown word is refused, values are frozen."""

    model_config = ConfigDict(extra="forbid", frozen=True, arbitrary_types_allowed=True)


class Family(Described):
    """Places of one sort, each named, with its bank where there is one."""

    names: list[str] = Field(min_length=1)
    bank: dict[str, list[str]] = Field(default_factory=dict)

    def bank_of(self, name: str) -> str:
        """The bank a place belongs to, or nothing on an in-line engine."""
        return next((bank for bank, names in self.bank.items() if name in names), "")


class Characteristic(Described):
    """What is measured: the part, the places, the stations and axes, and by which method."""

    of: str
    at: str
    method: str
    stations: list[str] = Field(default_factory=lambda: ["-"], min_length=1)
    axes: list[str] = Field(default_factory=lambda: ["-"], min_length=1)
    reduce: Reduce = "mean"


class Quantity(Described):
    """What is derived: one formula, its arguments bound to characteristics by name."""

    at: str
    formula: str
    arguments: dict[str, str] = Field(alias="with")


class Limit(Described):
    """Bounds from the service book, with the method they speak of and the page they stand on."""

    on: str
    use: Literal["new", "service", "machining", "assembly"]
    method: str
    page: Annotated[int, Field(ge=1)] | None = None
    low: Length | None = None
    high: Length | None = None
    inclusive: bool = True


class Engine(Described):
    """One engine type."""

    name: str
    invented: bool = False
    layout: str
    places: dict[str, Family]
    characteristics: dict[str, Characteristic]
    quantities: dict[str, Quantity] = Field(default_factory=dict)
    limits: list[Limit] = Field(default_factory=list)

    def place_label(self, family: str, name: str) -> str:
        """The place in words: "left 3", or "3" on an engine of one bank."""
        return f"{self.places[family].bank_of(name)} {name}".strip()

    def family_of(self, on: str) -> str:
        """The family of places at which a characteristic or quantity is judged."""
        quantity = self.quantities.get(on)
        return self.characteristics[on].at if quantity is None else quantity.at
