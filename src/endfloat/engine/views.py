"""How the engine lies in front of the person, so that a drawing can show where a step is."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from endfloat.engine.described import Described


class EngineView(Described):
    """The engine as seen while it hangs in one attitude of the stand; places stand from the front to the rear.

    `rows` are its banks from the top of the drawing to the bottom; none where all stand in one line. `along` is the
    family that stands in these rows, its cylinders.
    """

    seen: str = Field(min_length=1)
    along: str
    front: Literal["left", "right"] = "left"
    rows: list[str] = Field(default_factory=list)
