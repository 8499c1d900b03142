"""What stands in whose way, written from the side of the parts, apart from the relations and held against them."""

from __future__ import annotations

from pydantic import Field

from endfloat.engine.described import Described, Page


class BlockedPart(Described):
    """One part: how it gets in, what carries it, what stands in the wrench's way, what hides it.

    `ways` names each way in and the parts that stand in it once they are fitted; one free way is enough, and a part
    without ways can always be reached. `rests_on` names parts that must be there before it. `fasteners` counts those
    that `tightened_by` pulls and that stand in no joint; `wrench_meets` are parts which, once fitted, keep the wrench
    off them. `looked_at_by` is the step that sees or measures it last, and `hidden_by` the parts that end the looking.
    """

    title: str = Field(min_length=1)
    fitted_by: str
    ways: dict[str, list[str]] = Field(default_factory=dict)
    rests_on: list[str] = Field(default_factory=list)
    fasteners: int = Field(default=0, ge=0)
    tightened_by: str = ""
    wrench_meets: list[str] = Field(default_factory=list)
    looked_at_by: str = ""
    hidden_by: list[str] = Field(default_factory=list)
    page: Page | None = None

    def parts_named(self) -> list[tuple[tuple[str | int, ...], str]]:
        """Every other part that this one names, with its path from here."""
        found: list[tuple[tuple[str | int, ...], str]] = []
        for field in ("rests_on", "wrench_meets", "hidden_by"):
            found += [((field, index), each) for index, each in enumerate(getattr(self, field))]
        for way, standing in self.ways.items():
            found += [(("ways", way, index), each) for index, each in enumerate(standing)]
        return found

    def in_every_way(self) -> list[str]:
        """The parts each of which alone shuts every way in."""
        ways = list(self.ways.values())
        return sorted(set(ways[0]).intersection(*ways[1:])) if ways else []
