"""The verbs tell what stops them and the way on."""

import importlib.util
import socket
import sys
from importlib.machinery import SourceFileLoader
from pathlib import Path
from types import ModuleType

import pytest

from endfloat.cli.start import free_port

DEV = Path(__file__).parents[2] / "dev"


@pytest.fixture
def dev(tmp_path: Path) -> ModuleType:
    """The verbs, working in an empty folder that has the locks."""
    loader = SourceFileLoader("dev_verbs", str(DEV))
    spec = importlib.util.spec_from_loader("dev_verbs", loader)
    assert spec is not None
    module = importlib.util.module_from_spec(spec)
    loader.exec_module(module)
    (tmp_path / "locks").mkdir()
    for name in ("locks/run.txt", "locks/postgres.txt", "locks/test.txt", "pyproject.toml"):
        (tmp_path / name).write_bytes((DEV.parent / name).read_bytes())
    module.HERE, module.VENV, module.TOOLS = tmp_path, tmp_path / ".venv", tmp_path / ".tools"  # type: ignore[attr-defined]
    return module


def told(capsys: pytest.CaptureFixture[str]) -> str:
    printed = capsys.readouterr()
    return printed.out + printed.err


@pytest.mark.parametrize(
    ("version", "words"), [((3, 10, 1), "needs 3.11 or newer"), ((3, 15, 0), "Use Python 3.11 to 3.14")]
)
def test_a_python_too_old_or_too_new_gets_a_sentence_and_a_way_on(
    dev: ModuleType,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    version: tuple[int, ...],
    words: str,
) -> None:
    monkeypatch.setattr(sys, "version_info", version)
    with pytest.raises(SystemExit) as stopped:
        dev.main(["start"])
    assert stopped.value.code == 3
    assert words in told(capsys)


def test_without_a_network_it_says_so_and_leaves_no_stamp_behind(
    dev: ModuleType, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(dev, "fetch_uv", lambda: None)
    monkeypatch.setattr(dev, "run", lambda *command, quiet=False: int("--require-hashes" in command))
    with pytest.raises(SystemExit) as stopped:
        dev.main(["setup"])
    assert stopped.value.code == 3
    assert "Run this again with a network" in told(capsys)
    assert list(dev.HERE.rglob("stamp-*")) == []


def test_the_lock_is_installed_by_hash_and_the_project_after_it_without_its_dependencies(
    dev: ModuleType, monkeypatch: pytest.MonkeyPatch
) -> None:
    ran: list[tuple[str, ...]] = []

    def run(*command: object, quiet: bool = False) -> int:
        ran.append(tuple(map(str, command)))
        return 0

    monkeypatch.setattr(dev, "fetch_uv", lambda: None)
    monkeypatch.setattr(dev, "run", run)
    (dev.HERE / ".venv").mkdir()
    dev.main(["setup"])
    assert "venv" in ran[0]
    assert "--require-hashes" in ran[1]
    assert {"--no-deps", "--no-build-isolation"} <= set(ran[2])
    count = len(ran)
    dev.main(["setup"])
    assert len(ran) == count, "the stamp makes the second time free"


def test_an_unknown_verb_is_misuse_and_lists_the_verbs(dev: ModuleType, capsys: pytest.CaptureFixture[str]) -> None:
    assert dev.main(["begin"]) == 2
    assert "setup [--postgres] | start" in told(capsys)


@pytest.mark.parametrize(
    ("looked_for", "tests", "package"),
    [
        ("chromium", "the tests in a browser", "chromium"),
        ("database_server", "the tests with a database server", "postgresql"),
    ],
)
def test_what_is_missing_is_named_loudly_or_refused_when_nothing_may_be_skipped(
    dev: ModuleType,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    looked_for: str,
    tests: str,
    package: str,
) -> None:
    monkeypatch.setattr(dev, "setup", lambda kind: None)
    for name in ("chromium", "database_server"):
        monkeypatch.setattr(dev, name, lambda: Path(sys.executable))
    monkeypatch.setattr(dev, "run", lambda *command: 0)
    assert dev.main(["test", "--nothing-skipped"]) == 0
    assert told(capsys) == ""
    monkeypatch.setattr(dev, looked_for, lambda: None)
    assert dev.main(["test"]) == 0
    assert f"SKIPPED, LOUDLY: {tests}" in told(capsys)
    with pytest.raises(SystemExit) as stopped:
        dev.main(["test", "--nothing-skipped"])
    assert stopped.value.code == 3
    assert f"apt-get install {package}" in told(capsys)


def test_the_fast_tests_are_the_rooms_without_file_server_or_browser(
    dev: ModuleType, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    ran: list[str] = []
    monkeypatch.setattr(dev, "setup", lambda kind: None)
    monkeypatch.setattr(dev, "chromium", lambda: None)
    monkeypatch.setattr(dev, "run", lambda *command: ran.extend(map(str, command)) or 0)
    assert dev.main(["test", "--fast", "-x"]) == 0
    assert [Path(word).name for word in ran if Path(word).parent.name == "tests"] == list(dev.FAST)
    assert all((DEV.parent / "tests" / room).is_dir() for room in dev.FAST)
    assert ran[-1] == "-x"
    assert told(capsys) == "", "they need no browser"


@pytest.mark.parametrize(
    ("words", "lock"),
    [
        (["setup"], "run"),
        (["setup", "--postgres"], "postgres"),
        (["start", "--no-browser"], "run"),
        (["start", "--database=postgresql://ana@here/shop"], "postgres"),
        (["start", "--database", "postgresql://ana@here/shop"], "postgres"),
    ],
)
def test_the_driver_of_a_database_is_installed_when_it_is_asked_for(
    dev: ModuleType, monkeypatch: pytest.MonkeyPatch, words: list[str], lock: str
) -> None:
    monkeypatch.delenv("ENDFLOAT_DATABASE", raising=False)
    installed: list[Path] = []

    def install(wanted: Path) -> None:
        dev.VENV.mkdir()
        installed.append(wanted)

    monkeypatch.setattr(dev, "install", install)
    monkeypatch.setattr(dev, "run", lambda *command: 0)
    assert dev.main(words) == 0
    assert installed == [dev.HERE / "locks" / f"{lock}.txt"]


def test_the_lock_of_the_driver_adds_nothing_else_to_what_runs() -> None:
    run, postgres = (
        {
            line.split("==")[0]
            for line in (DEV.parent / "locks" / f"{name}.txt").read_text().splitlines()
            if "==" in line
        }
        for name in ("run", "postgres")
    )
    assert postgres - run == {"psycopg", "psycopg-binary"}
    assert run <= postgres


def test_a_taken_port_gives_the_next_free_one() -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        wanted = taken.getsockname()[1]
        assert wanted < free_port(wanted) < wanted + 20
