"""The references are those of the code, and the schema accepts what the program accepts."""

from pathlib import Path

import jsonschema
import pytest
import yaml
from write_references import FOLDER, written

from cast import EXAMPLES
from endfloat.engine.schema import engine_schema


@pytest.mark.parametrize(("name", "text"), written().items(), ids=list(written()))
def test_the_page_is_what_the_code_says(name: str, text: str) -> None:
    assert (FOLDER / name).read_text(encoding="utf-8") == text, "run `python3 dev references`"


def text_only(data: object) -> object:
    """YAML scalars as text, as the loader keeps them; whole numbers and truth stay what the schema asks for."""
    if isinstance(data, dict):
        return {str(key): text_only(value) for key, value in data.items()}
    if isinstance(data, list):
        return [text_only(each) for each in data]
    return data


@pytest.mark.parametrize("folder", sorted(path.name for path in EXAMPLES.iterdir() if (path / "engine.yaml").exists()))
def test_the_schema_knows_every_word_of_the_examples(folder: str) -> None:
    data = yaml.load((Path(EXAMPLES) / folder / "engine.yaml").read_text(), Loader=yaml.BaseLoader)
    validator = jsonschema.Draft202012Validator(engine_schema())
    errors = [
        error
        for error in validator.iter_errors(text_only(data))
        if error.validator in ("additionalProperties", "required", "enum")
    ]
    assert [error.message for error in errors] == []


def test_the_schema_refuses_an_unknown_word() -> None:
    validator = jsonschema.Draft202012Validator(engine_schema())
    errors = list(
        validator.iter_errors({"name": "x", "layout": "y", "places": {}, "characteristics": {}, "colour": "red"})
    )
    assert [error.validator for error in errors] == ["additionalProperties"]
