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


class Editor(yaml.SafeLoader):
    """YAML 1.2, which editors read: `on` is a word and only true and false are truth values."""


Editor.yaml_implicit_resolvers = {
    first: [pair for pair in pairs if pair[0] != "tag:yaml.org,2002:bool" or first in "tTfF"]
    for first, pairs in yaml.SafeLoader.yaml_implicit_resolvers.items()
}


def text_keys(data: object) -> object:
    """YAML as an editor reads it, with the keys that JSON can hold."""
    if isinstance(data, dict):
        return {str(key): text_keys(value) for key, value in data.items()}
    return [text_keys(each) for each in data] if isinstance(data, list) else data


@pytest.mark.parametrize("folder", sorted(path.name for path in EXAMPLES.iterdir() if (path / "engine.yaml").exists()))
def test_an_editor_finds_nothing_wrong_in_the_examples(folder: str) -> None:
    data = yaml.load((Path(EXAMPLES) / folder / "engine.yaml").read_text(), Loader=Editor)
    validator = jsonschema.Draft202012Validator(engine_schema())
    assert [error.message for error in validator.iter_errors(text_keys(data))] == []


@pytest.mark.parametrize("amount", ["86 mm", 3, None])
def test_the_schema_takes_an_amount_as_text_or_number_or_blank(amount: object) -> None:
    limit = engine_schema()["$defs"]["Limit"]["properties"]["low"]
    assert jsonschema.Draft202012Validator(limit).is_valid(amount)
    assert not jsonschema.Draft202012Validator(limit).is_valid({"decimal": "86", "unit": "mm"})


def test_the_schema_refuses_an_unknown_word() -> None:
    validator = jsonschema.Draft202012Validator(engine_schema())
    errors = list(
        validator.iter_errors({"name": "x", "layout": "y", "places": {}, "characteristics": {}, "colour": "red"})
    )
    assert [error.validator for error in errors] == ["additionalProperties"]
