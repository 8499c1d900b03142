"""The models of a pass, of what is looked at between two passes, and of the ways back."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from endfloat.engine.amounts import Amount
from endfloat.engine.described import Described, Page
from endfloat.quantities.units import Kind

Feel = Literal["no_rise", "stopped_short", "slipped", "pulled_twice", "out_of_turn"]


class WayBack(Described):
    """What the service book says when a tightening has gone wrong: data, never a rule of the program.

    The passes from `start_again_at` on no longer count for the bolts that were slackened.
    """

    slacken: Literal["all", "this one", "none"]
    renew: Literal["set", "this one", "none"]
    start_again_at: int = Field(ge=1)
    page: Page
    caution: str = ""

    @property
    def words(self) -> str:
        slacken = {"all": "slacken all", "this one": "slacken this bolt", "none": "slacken nothing"}[self.slacken]
        renew = {"set": "renew the whole set", "this one": "renew this bolt", "none": "renew nothing"}[self.renew]
        again = f"start again at pass {self.start_again_at}"
        if self.slacken == "this one":
            again = "pull it again from the start" if self.start_again_at == 1 else f"pull it again from {again[15:]}"
        return f"{slacken}, {renew}, {again} (page {self.page})"


class Stop(WayBack):
    """A way back after a pause longer than `longest`."""

    longest: Amount


class Interrupted(Described):
    """The rules for a pause inside a pass, and for one between two passes."""

    inside_pass: Stop | None = None
    between_passes: Stop | None = None


class Pass(Described):
    """One round over the bolts: a torque, or an angle added to what stands already.

    It covers the whole sequence of the joint; with `bolts` only those sorts, in that order; with a `sequence` of its
    own only the bolts named there. `amounts` holds what differs by sort of bolt. A blank amount or sequence is still
    to look up, on `page` where the description names it.
    """

    amount: Amount | None = None
    amounts: dict[str, Amount | None] = Field(default_factory=dict)
    bolts: list[str] = Field(default_factory=list)
    sequence: list[str] | None = Field(default_factory=list)
    page: Page | None = None
    note: str = ""


class Check(Described):
    """What is read or looked at once pass `after_pass` is complete, at each of the places named.

    With `reads` it is a reading against `low` and `high`, else a look that is answered with yes or no. When it fails,
    the way back is done; the limit stays what it is.
    """

    asks: str = Field(min_length=1)
    after_pass: int = Field(ge=1)
    at: list[str] = Field(min_length=1)
    reads: Kind | None = None
    low: Amount | None = None
    high: Amount | None = None
    page: Page | None = None
    failed: WayBack | None = None

    @property
    def blank(self) -> bool:
        """Whether its limit is still to look up."""
        return self.reads is not None and self.low is None and self.high is None

    @property
    def limit(self) -> str:
        """Its limit in words, nothing for a look."""
        low, high = self.low.text if self.low else "", self.high.text if self.high else ""
        if low and high:
            return f"{low} to {high}"
        return f"at least {low}" if low else f"at most {high}" if high else ""
