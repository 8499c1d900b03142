"""The models of what is bought and taken in before it is built in."""

from __future__ import annotations

from pydantic import Field

from endfloat.engine.described import Described, Page
from endfloat.engine.operations import Look, MeasuredOrName


class BoughtPart(Described):
    """Parts of one sort that come in together and are looked at before they go into the engine.

    `items` are ids of the price list: the parts are expected when the agreed plan buys one of them or removal makes
    void what one of them replaces, and always where none is named or `always` is true. `looks` are ticked as the
    parts are taken in (the number on the bag, the marks, no damage), and `measures` says what a gauge reads on them
    then. The steps of `fitted_by` wait until all of them are in.
    """

    title: str = Field(min_length=1)
    count: int = Field(ge=1)
    items: list[str] = Field(default_factory=list)
    always: bool = False
    looks: list[str] = Field(default_factory=list)
    measures: list[MeasuredOrName] = Field(default_factory=list)
    fitted_by: list[str] = Field(default_factory=list)
    page: Page | None = None

    @property
    def to_see(self) -> list[Look]:
        """Every look, as a step's looks are."""
        return [Look(what=words) for words in self.looks]
