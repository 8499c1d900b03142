"""The repository tests itself: cards, sizes, a wheel that works, and words that do not belong."""

import ast
import doctest
import os
import re
import subprocess
import sys
import zipfile
from pathlib import Path

import numpy as np
import pytest

from card_examples import example_arguments
from endfloat.cards import CARDS, Bound, Card
from endfloat.cli.main import COMMANDS
from endfloat.errors import OutOfRange
from endfloat.formulas.sources import SOURCES

ROOT = Path(__file__).parents[2]
SOURCE = sorted((ROOT / "src").rglob("*.py"))
MOST_LINES, MOST_MODULE = 40, 400


@pytest.mark.parametrize("card", CARDS.values(), ids=list(CARDS))
def test_every_formula_says_what_it_does_and_its_example_is_true(card: Card) -> None:
    assert card.summary.endswith(".")
    assert card.source
    assert card.arguments
    tests = [test for test in doctest.DocTestFinder(recurse=False).find(card.function) if test.examples]
    assert tests, "no example"
    with np.printoptions(legacy="1.25"):
        for test in tests:
            test.globs.update(np=np)
            assert doctest.DocTestRunner().run(test).failed == 0


BOUNDS = [(card, bound) for card in CARDS.values() for bound in card.bounds]


@pytest.mark.parametrize(
    ("card", "bound"), BOUNDS, ids=[f"{c.key}: {b.name} {b.relation} {b.number:g}" for c, b in BOUNDS]
)
def test_a_formula_refuses_what_its_card_says_it_refuses(card: Card, bound: Bound) -> None:
    symbol = next(symbol for symbol in card.arguments if symbol.name == bound.name)
    beyond = {"<": -1e-6, "<=": 0.0, ">": 1e-6, ">=": 0.0}[bound.relation] * max(1.0, abs(bound.number))
    arguments = example_arguments(card)
    for bad in (bound.number + beyond, float("nan")):
        value = np.full_like(given, bad) if isinstance(given := arguments[bound.name], np.ndarray) else bad
        with pytest.raises(OutOfRange) as caught:
            card.function(**{**arguments, bound.name: value})
        assert caught.value.name == bound.name
        assert caught.value.unit == symbol.unit
        assert caught.value.source in {reference.key for reference in card.references}
        assert any(char.isdigit() for char in caught.value.expected)


def functions(path: Path) -> list[tuple[str, int]]:
    """Functions of a file with their length in lines, without docstrings and the functions inside them."""
    found = []
    for node in ast.walk(ast.parse(path.read_text())):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            first = node.body[0]
            told = isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant)
            length = (node.end_lineno or 0) - node.lineno + 1
            length -= (first.end_lineno or 0) - first.lineno + 1 if told else 0
            inner = [each for each in ast.walk(node) if isinstance(each, ast.FunctionDef | ast.AsyncFunctionDef)]
            length -= sum(
                (each.end_lineno or 0) - each.lineno + 1 for each in inner if each is not node and each in node.body
            )
            found.append((f"{path.relative_to(ROOT / 'src' / 'endfloat')}:{node.name}", length))
    return found


# Longer than forty lines today; this list may only shrink.
LONG = {
    "engine/positions.py:read_yaml",
    "engine/references.py:_arguments",
    "job/state.py:_fold_readings",
    "workshop/new_engine.py:_engine_text",
}


def test_no_function_is_longer_than_forty_lines() -> None:
    long = {name for path in SOURCE for name, length in functions(path) if length > MOST_LINES}
    assert long == LONG


def test_no_module_is_longer_than_four_hundred_lines() -> None:
    assert [path for path in SOURCE if len(path.read_text().splitlines()) > MOST_MODULE] == []


def committed() -> list[Path]:
    done = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, text=True, check=True)
    return [ROOT / name for name in done.stdout.split("\0") if name and (ROOT / name).is_file()]


def test_no_file_names_a_place_of_one_machine_or_a_package_host() -> None:
    # Put together here so that this file does not hold what it looks for.
    places = "|".join(("wo" + "rk", "ho" + "me", "ro" + "ot"))
    bad = re.compile(rf"(^|[^A-Za-z0-9_.])/({places})/|(pypi|pythonhosted|npmjs)\.(org|com)")
    hits = [
        f"{path.relative_to(ROOT)}: {match.group()}"
        for path in committed()
        if path.suffix in {".py", ".md", ".toml", ".yaml", ".txt", ".html", ".js", ".css", ".typ", ""}
        if (match := bad.search(path.read_text(errors="replace")))
    ]
    assert hits == []


def test_every_command_and_verb_is_told_in_the_readme_or_the_docs() -> None:
    texts = "".join(
        path.read_text() for path in [ROOT / "README.md", ROOT / "CONTRIBUTING.md", *(ROOT / "docs").rglob("*.md")]
    )
    assert [name for name in COMMANDS if f"endfloat {name}" not in texts] == []
    verbs = re.findall(r'verb == "(\w+)"', (ROOT / "dev").read_text())
    assert len(verbs) >= 5
    assert [verb for verb in verbs if not re.search(rf"dev .*\b{verb}\b", texts)] == []


OPENED_ELSEWHERE = """
import sys
sys.path.insert(0, sys.argv[1])
import endfloat, pathlib
from endfloat.engine.proofread import read_engine
from endfloat.engine.model import Engine
from endfloat.reports.papers import make_paper
from endfloat.web.app import STATIC, make_templates
root = pathlib.Path(endfloat.__file__).parent
assert str(root).startswith(sys.argv[1]), root
for folder in ("wrenhallow-90-8", "tolvenny-1185", "ottermole-3-165"):
    path = root / "examples" / folder
    assert isinstance(read_engine((path / "engine.yaml").read_bytes(), name="engine.yaml"), Engine)
    for name in ("gauges.yaml", "readings.csv", "prices.yaml", "story.md"):
        assert (path / name).exists(), name
assert (STATIC / "style.css").exists()
make_templates().get_template("overview.html")
assert make_paper("numbers-to-look-up", {"job": "x", "rows": []}).startswith(b"%PDF")
print("opened")
"""


def test_a_wheel_installed_elsewhere_opens_the_examples(tmp_path: Path) -> None:
    command = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", tmp_path]
    subprocess.run(command, cwd=ROOT, check=True, capture_output=True)
    [wheel] = tmp_path.glob("*.whl")
    elsewhere = tmp_path / "elsewhere"
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(elsewhere)
    done = subprocess.run(
        [sys.executable, "-c", OPENED_ELSEWHERE, str(elsewhere)],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        env={**os.environ, "PYTHONSAFEPATH": "1"},
    )
    assert done.stdout.strip() == "opened", done.stderr


def test_every_source_is_one_that_a_formula_rests_on() -> None:
    used = {reference.key for card in CARDS.values() for reference in card.references}
    assert set(SOURCES) - used <= {"memory", "practice"}
