"""The walls between rooms are real: each is broken once in a copy, and the breach is refused."""

import shutil
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
CONTRACTS = tomllib.loads((ROOT / "pyproject.toml").read_text())["tool"]["importlinter"]["contracts"]
LINES = [[room.strip() for room in line.split("|")] for line in CONTRACTS[0]["layers"]]
BREACHES = [
    # the lowest room of each line reaches for a room of the line above it
    *((LINES[number + 1][0], f"endfloat.{line[0]}") for number, line in enumerate(LINES[:-1])),
    # rooms of one line do not know one another
    *((line[0], f"endfloat.{line[1]}") for line in LINES if len(line) > 1 and line[1] != "examples"),
    ("inspection", "os"),
    ("job", "sqlite3"),
    ("decision", "ortools"),
    ("formulas", "logging"),
    ("web", "endfloat.store"),
    ("web", "endfloat.solver"),
]


def refused(folder: Path) -> bool:
    """Does the linter refuse the source in this folder?"""
    linter = Path(sys.executable).with_name("lint-imports")
    done = subprocess.run([linter, "--no-cache"], cwd=folder, capture_output=True, text=True, env={"PYTHONPATH": "src"})
    assert "Contracts:" in done.stdout, done.stdout + done.stderr
    return done.returncode != 0


@pytest.fixture(scope="module")
def copied(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("copy")
    shutil.copy(ROOT / "pyproject.toml", folder)
    shutil.copytree(ROOT / "src", folder / "src", ignore=shutil.ignore_patterns("__pycache__", "*.egg-info"))
    return folder


def test_the_walls_stand_as_they_are(copied: Path) -> None:
    assert not refused(copied)


@pytest.mark.parametrize(("room", "reached"), BREACHES)
def test_a_breach_is_refused(copied: Path, room: str, reached: str) -> None:
    place = copied / "src" / "endfloat" / room
    file = place / "breach.py" if place.is_dir() else place.with_suffix(".py")
    before = file.read_text() if file.exists() else None
    file.write_text((before or "") + f"\nimport {reached}\n")
    try:
        assert refused(copied)
    finally:
        if before is None:
            file.unlink()
        else:
            file.write_text(before)


def test_an_undeclared_room_is_refused(copied: Path) -> None:
    room = copied / "src" / "endfloat" / "utilities"
    room.mkdir()
    (room / "__init__.py").write_text("")
    try:
        assert refused(copied)
    finally:
        shutil.rmtree(room)
