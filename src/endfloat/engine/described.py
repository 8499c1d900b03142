"""What every model of an engine description shares."""

from __future__ import annotations

from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field

Page = Annotated[int, Field(ge=1)]


class Described(BaseModel):
    """Base of all models: an unknown word is refused, values are frozen."""

    model_config = ConfigDict(extra="forbid", frozen=True, arbitrary_types_allowed=True)
