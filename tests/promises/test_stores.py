"""The record in memory and in one SQLite file, and what can go wrong with a file."""

import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest

from endfloat.errors import DamagedRecord, OutsideError
from endfloat.job.wire import Entry, verify
from endfloat.store.jobs_folder import JobsFolder
from endfloat.store.memory import MemoryStore
from endfloat.store.sqlite import SqliteStore
from store_promises import AT, OPENED, Bench, JobsPromises, StorePromises, taken


class TestMemory(StorePromises):
    @pytest.fixture
    def store(self, tmp_path: Path) -> MemoryStore:
        return MemoryStore()


class TestSqlite(StorePromises):
    @pytest.fixture
    def store(self, tmp_path: Path) -> SqliteStore:
        return SqliteStore(tmp_path / "job.sqlite")


class TestFolder(JobsPromises):
    @pytest.fixture
    def bench(self, tmp_path: Path) -> Bench:
        return lambda: JobsFolder(tmp_path / "jobs")


def test_a_change_of_any_entry_breaks_the_chain() -> None:
    store = MemoryStore()
    store.append([OPENED, taken("a"), taken("b")], expected=0, at=AT)
    good = store.entries()
    changed = Entry(2, AT, good[1].body.replace("86.0480", "86.0380"), good[1].fingerprint)
    for damaged, position in (([good[0], changed, good[2]], 2), ([good[0], good[2]], 2), (good[::-1], 1)):
        with pytest.raises(DamagedRecord) as found:
            verify(damaged)
        assert found.value.position == position


def test_the_file_refuses_update_and_delete(tmp_path: Path) -> None:
    path = tmp_path / "job.sqlite"
    SqliteStore(path).append([OPENED], expected=0, at=AT)
    connection = sqlite3.connect(path)
    for statement in ("UPDATE entries SET body = ''", "DELETE FROM entries"):
        with pytest.raises(sqlite3.IntegrityError, match="only grows"):
            connection.execute(statement)
    connection.close()


def test_a_file_without_its_guard_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "job.sqlite"
    SqliteStore(path).append([OPENED], expected=0, at=AT)
    connection = sqlite3.connect(path)
    connection.execute("DROP TRIGGER entries_refuse_delete")
    connection.commit()
    connection.close()
    with pytest.raises(OutsideError, match="guard"):
        SqliteStore(path)


def test_a_locked_file_is_a_sentence_and_loses_nothing(tmp_path: Path) -> None:
    path = tmp_path / "job.sqlite"
    store = SqliteStore(path)
    store.append([OPENED], expected=0, at=AT)
    other = sqlite3.connect(path, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    with pytest.raises(OutsideError, match="in use by another program"):
        store.append([taken("a")], expected=1, at=AT)
    other.execute("ROLLBACK")
    other.close()
    store.append([taken("a")], expected=1, at=AT)
    assert verify(store.entries()) == 2


def test_a_file_that_is_no_record_and_a_folder_that_cannot_be_made_are_sentences(tmp_path: Path) -> None:
    path = tmp_path / "job.sqlite"
    path.write_bytes(b"not a database at all" * 100)
    with pytest.raises(OutsideError, match="not a job"):
        SqliteStore(path)
    with pytest.raises(OutsideError, match="folder"):
        SqliteStore(path / "job.sqlite").append([OPENED], expected=0, at=AT)


def test_what_was_acknowledged_survives_a_killed_process(tmp_path: Path) -> None:
    path = tmp_path / "job.sqlite"
    program = (
        "import os, pathlib, sys\n"
        "from endfloat.store.sqlite import SqliteStore\n"
        "from endfloat.job.events import JobOpened\n"
        "store = SqliteStore(pathlib.Path(sys.argv[1]))\n"
        "for n in range(20):\n"
        "    store.append([JobOpened(str(n), '', '')], expected=n, at='t')\n"
        "    print(n + 1, flush=True)\n"
        "    if n == 11: os.kill(os.getpid(), 9)\n"
    )
    done = subprocess.run([sys.executable, "-c", program, path], capture_output=True, text=True, check=False)
    acknowledged = int(done.stdout.split()[-1])
    assert (done.returncode, acknowledged) == (-9, 12)
    assert verify(SqliteStore(path).entries()) == 12


def test_a_read_only_file_is_a_sentence_and_loses_nothing(tmp_path: Path) -> None:
    path = tmp_path / "job.sqlite"
    SqliteStore(path).append([OPENED], expected=0, at=AT)
    # Opened read-only by the driver: file modes do not bind the superuser that tests may run as.
    store = SqliteStore(path, read_only=True)
    with pytest.raises(OutsideError, match="may only be read"):
        store.append([taken("a")], expected=1, at=AT)
    assert verify(SqliteStore(path).entries()) == 1


def test_a_full_disk_is_a_sentence_and_loses_nothing(tmp_path: Path) -> None:
    path = tmp_path / "job.sqlite"
    SqliteStore(path).append([OPENED], expected=0, at=AT)
    store = SqliteStore(path, most_pages=8)
    written = 1

    def fill() -> None:
        nonlocal written
        for number in range(1000):
            store.append([taken(f"{number} {'x' * 400}")], expected=written, at=AT)
            written += 1

    with pytest.raises(OutsideError, match="disk is full"):
        fill()
    assert written > 1
    roomy = SqliteStore(path)
    assert verify(roomy.entries()) == written
    roomy.append([taken("a")], expected=written, at=AT)
    assert verify(roomy.entries()) == written + 1
