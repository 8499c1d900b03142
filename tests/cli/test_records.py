"""Readings typed on the pages are judged and decided from the command line by naming their record."""

import json
from pathlib import Path

import pytest
from test_commands import V8, endfloat_command

from endfloat.store.sqlite import SqliteStore
from endfloat.workshop.build import lay_out_order
from endfloat.workshop.open_job import open_job
from endfloat.workshop.take_reading import take_reading

FILES = {"engine": "engine.yaml", "gauges": "gauges.yaml", "readings": "readings.csv", "prices": "prices.yaml"}


def clock() -> str:
    return "2026-05-03T10:00:00Z"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A job's folder as the pages leave it: the record, and the description without readings."""
    store = SqliteStore(tmp_path / "job.sqlite")
    assert (
        open_job(store, clock, by="as found", **{name: (V8 / file).read_bytes() for name, file in FILES.items()}) == []
    )
    for name in ("engine.yaml", "gauges.yaml", "prices.yaml"):
        (tmp_path / name).write_bytes((V8 / name).read_bytes())
    # A second reading of one gap, so that record and files differ.
    spot = ("ring_gap", "1", "-", "-")
    assert take_reading(store, clock, key="k", spot=spot, text="2.00 mm", gauge="F1", by="Ana") is None
    return tmp_path


def test_a_record_or_its_folder_is_judged_with_what_was_typed_on_the_pages(folder: Path) -> None:
    answers = [endfloat_command("judge", named, "--json") for named in (folder / "job.sqlite", folder)]
    assert [done.returncode for done in answers] == [0, 0], answers[0].stderr + answers[1].stderr
    assert answers[0].stdout == answers[1].stdout
    files = json.loads(endfloat_command("judge", V8, "--json").stdout)
    record = json.loads(answers[0].stdout)
    assert len(record) == len(files)
    differing = {(new["characteristic"], new["place"]) for old, new in zip(files, record, strict=True) if old != new}
    assert differing == {("ring_gap", "1")}


def test_a_record_is_decided_with_the_prices_it_holds(folder: Path) -> None:
    (folder / "prices.yaml").unlink()
    done = endfloat_command("decide", folder / "job.sqlite", "--json")
    assert done.returncode == 0, done.stderr
    assert json.loads(done.stdout)["cost"]["low"] == 2675.0


def test_a_folder_without_readings_says_where_readings_typed_on_the_pages_stand(folder: Path) -> None:
    (folder / "job.sqlite").unlink()
    for command in ("judge", "decide"):
        done = endfloat_command(command, folder)
        assert done.returncode == 3
        assert "readings.csv" in done.stderr
        assert "Readings typed on the pages stand in a job's record" in done.stderr
        assert "job.sqlite" in done.stderr


def test_a_record_that_is_not_there_is_a_sentence_and_one_with_other_readings_is_misuse(folder: Path) -> None:
    missing = endfloat_command("judge", folder / "other" / "job.sqlite")
    assert missing.returncode == 3
    assert "endfloat start" in missing.stderr
    assert not (folder / "other").exists()
    both = endfloat_command("judge", folder / "job.sqlite", "--readings", V8 / "readings.csv")
    assert both.returncode == 2
    files = endfloat_command("judge", folder, "--readings", V8 / "readings.csv")
    assert files.returncode == 0


def test_the_booklet_is_printed_once_an_order_is_laid_out_and_before_says_what_to_do(folder: Path) -> None:
    to = folder / "on-paper.pdf"
    early = endfloat_command("print", folder / "job.sqlite", "--kind", "booklet", "--to", to)
    assert early.returncode == 1
    assert "Lay out the order" in early.stderr
    assert not to.exists()
    assert lay_out_order(SqliteStore(folder / "job.sqlite"), clock, by="Ana") is None
    done = endfloat_command("print", folder / "job.sqlite", "--kind", "booklet", "--to", to)
    assert done.returncode == 0, done.stderr
    assert to.read_bytes().startswith(b"%PDF")
    strange = endfloat_command("print", folder / "job.sqlite", "--kind", "poster")
    assert strange.returncode == 2
    assert "build-record or booklet" in " ".join(strange.stderr.split())
