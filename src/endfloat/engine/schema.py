"""The JSON Schema of a description, for editors; proofreading says more than a schema can."""

from __future__ import annotations

from typing import Any

from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue
from pydantic_core import core_schema

from endfloat.engine.model import Engine


class _Scalars(GenerateJsonSchema):
    """Editors read `1` and `10.9` as numbers where the program keeps them as text."""

    def str_schema(self, schema: core_schema.StringSchema) -> JsonSchemaValue:
        return {**super().str_schema(schema), "type": ["string", "number"]}


def engine_schema() -> dict[str, Any]:
    """The schema as plain data (JSON Schema draft 2020-12)."""
    schema = Engine.model_json_schema(schema_generator=_Scalars, by_alias=True)
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema}
