"""endfloat build-order as a person runs it, on a small engine."""

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner

from endfloat.cli.main import app

ENGINE = """\
name: Test twin
layout: twin
places: {cylinder: {names: [1, 2]}}
characteristics: {}
operations:
  fit: {title: Fit the case, minutes: 5, tools: [wrench]}
  fill: {title: Fill with oil, minutes: 5}
  wash:
    title: Wash the case
    minutes: 5
    cautions: [{severity: possible minor injury, consequence: Splashes., avoidance: Goggles on.}]
relations:
  before:
    - {first: wash, then: fit, why: dirt stays}
    - {first: fit, then: fill, why: it runs out}
"""


@pytest.fixture
def engine(tmp_path: Path) -> Path:
    (tmp_path / "engine.yaml").write_text(ENGINE)
    return tmp_path


def run(*words: object) -> tuple[int, str]:
    done = CliRunner().invoke(app, ["build-order", *map(str, words)])
    return done.exit_code, done.output


def test_the_cheapest_order_is_printed_with_the_agreed_fields(engine: Path) -> None:
    code, said = run(engine, "--json")
    assert code == 0
    content = json.loads(said)
    assert set(content) == {"operations", "proved", "bound", "helper", "helper_calls", "turns", "tool_changes"}
    assert content["operations"][0] == {"id": "wash", "title": "Wash the case"}
    assert [each["id"] for each in content["operations"]] == ["wash", "fit", "fill"]
    assert content["proved"] is True


def test_a_caution_stands_with_its_step(engine: Path) -> None:
    code, said = run(engine)
    assert code == 0
    lines = said.splitlines()
    assert "CAUTION: Splashes. Goggles on." in lines[lines.index("   1  Wash the case") + 1]


def test_an_order_that_breaks_a_relation_is_exit_1_with_its_sentence(engine: Path) -> None:
    (engine / "mine.txt").write_text("# mine\nfit\n\nwash\nfill\n")
    code, said = run(engine, "--against", engine / "mine.txt", "--json")
    assert code == 1
    assert [(each["relation"], each["operations"]) for each in json.loads(said)["violations"]] == [
        ("before", ["wash", "fit"])
    ]
    (engine / "mine.txt").write_text("wash\nfit\nfill\n")
    code, said = run(engine, "--against", engine / "mine.txt", "--json")
    assert (code, json.loads(said)) == (0, {"violations": []})


@pytest.mark.parametrize(
    ("lines", "codes"),
    [
        ("wash\nfitt\nfit\nfill\n", ["unknown_operation"]),
        ("wash\nfit\nfill\nfit\n", ["repeated_operation"]),
        ("wash\nfit\n", ["missing_operation"]),
        ("", ["missing_operation"]),
    ],
)
def test_a_file_that_is_no_order_of_this_engine_is_exit_1_with_every_problem(
    engine: Path, lines: str, codes: list[str]
) -> None:
    (engine / "mine.txt").write_text(lines)
    code, said = run(engine, "--against", engine / "mine.txt", "--json")
    assert code == 1
    assert [each["code"] for each in json.loads(said)["problems"]] == codes


def test_relations_that_no_order_can_keep_are_exit_1_with_the_proof(engine: Path) -> None:
    clock = "  clocked:\n    - {what: bead, starts: wash, close_with: fill, open_minutes: 7, why: it skins}\n"
    (engine / "engine.yaml").write_text(ENGINE + clock)
    code, said = run(engine, "--json")
    assert code == 1
    problem = json.loads(said)["problems"][0]
    assert problem["code"] == "no_order"
    assert "stays open for 7 minutes" in problem["found"]
