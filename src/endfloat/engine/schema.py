"""The JSON Schema of a description, for editors; proofreading says more than a schema can."""

from __future__ import annotations

from typing import Any

from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue
from pydantic_core import core_schema

from endfloat.engine.model import Engine


class _Amounts(GenerateJsonSchema):
    """Amounts are text with a unit, or a bare number where no unit belongs."""

    def is_instance_schema(self, schema: core_schema.IsInstanceSchema) -> JsonSchemaValue:
        return {"type": ["string", "number"], "description": "an amount as typed, such as 54.980 mm"}


def engine_schema() -> dict[str, Any]:
    """The schema as plain data (JSON Schema draft 2020-12)."""
    schema = Engine.model_json_schema(schema_generator=_Amounts, by_alias=True)
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema}
