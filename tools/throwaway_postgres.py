"""A throw-away PostgreSQL server from Debian's programs, in a temporary folder, for tests and benchmarks."""

import os
import shutil
import signal
import subprocess
import tempfile
import time
from contextlib import suppress
from pathlib import Path
from typing import Any

PROGRAMS = max(Path("/usr/lib/postgresql").glob("*/bin/postgres"), key=lambda path: float(path.parts[-3]), default=None)
PATIENCE = 30
# The socket stands in for a network: whoever is called `stranger` needs a password, the others need none.
ENTRANCE = "local all stranger scram-sha-256\nlocal all all trust\n"
# Small memory and no vacuum keep the start short; what makes an entry durable stays as Debian ships it.
SETTINGS = {
    "listen_addresses": "",
    "shared_buffers": "16MB",
    "autovacuum": "off",
    "recovery_init_sync_method": "syncfs",
    "lc_messages": "C",
}


class ThrowawayPostgres:
    """A server of its own, reached through a socket in its folder; `close` ends it and removes the folder."""

    def __init__(self) -> None:
        assert PROGRAMS is not None, "PostgreSQL's programs are missing"
        self.folder = Path(tempfile.mkdtemp(prefix="endfloat-pg-"))
        # The server refuses to run as the superuser of the machine.
        self._as: dict[str, Any] = {}
        if os.geteuid() == 0:
            import pwd

            owner = pwd.getpwnam("postgres")
            os.chown(self.folder, owner.pw_uid, owner.pw_gid)
            self._as = {"user": owner.pw_uid, "group": owner.pw_gid, "extra_groups": []}
        command = [PROGRAMS.with_name("initdb"), "--no-sync", "--auth=trust", "--username=postgres"]
        command += ["--encoding=UTF8", "--locale=C", "--pgdata", self._data]
        subprocess.run(command, check=True, capture_output=True, cwd=self.folder, **self._as)
        (self._data / "pg_hba.conf").write_text(ENTRANCE)
        self.start()
        self.run("postgres", "CREATE ROLE stranger LOGIN PASSWORD 'right'", "CREATE DATABASE shop")

    @property
    def _data(self) -> Path:
        return self.folder / "data"

    def start(self) -> None:
        """Start, and wait until it answers; what a killed server left behind may hold the start up for a while."""
        until = time.monotonic() + PATIENCE
        self._process = self._launch()
        while not self._answers():
            assert time.monotonic() < until, (self.folder / "log").read_text()[-2000:]
            if self._process.poll() is not None:
                time.sleep(0.2)
                self._process = self._launch()
            time.sleep(0.02)

    def _launch(self) -> subprocess.Popen[bytes]:
        settings = {**SETTINGS, "unix_socket_directories": str(self.folder)}
        words = [word for name, value in settings.items() for word in ("-c", f"{name}={value}")]
        with (self.folder / "log").open("ab") as log:
            return subprocess.Popen(
                [str(PROGRAMS), "-D", self._data, *words], stdout=log, stderr=log, cwd=self.folder, **self._as
            )

    def _answers(self) -> bool:
        import psycopg

        try:
            psycopg.connect(self.url("postgres")).close()
        except psycopg.OperationalError:
            return False
        return True

    def kill(self) -> None:
        """End it as a power cut would: no word to anybody, nothing written any more."""
        number = self._process.pid
        sessions = Path(f"/proc/{number}/task/{number}/children").read_text().split()
        self._process.kill()
        for session in sessions:
            with suppress(ProcessLookupError):
                os.kill(int(session), signal.SIGKILL)
        self._process.wait()

    def close(self) -> None:
        """End it and remove what it kept."""
        self._process.send_signal(signal.SIGQUIT)
        self._process.wait()
        shutil.rmtree(self.folder, ignore_errors=True)

    def url(self, database: str, *, user: str = "postgres", password: str = "") -> str:
        """The address of a database here."""
        who = f"{user}:{password}" if password else user
        return f"postgresql://{who}@/{database}?host={self.folder}"

    def empty(self) -> None:
        """Make the database `shop` as good as new: many times faster than a new one, above all after a kill."""
        self.run("postgres", "ALTER DATABASE shop RESET ALL", "ALTER DATABASE shop OWNER TO postgres")
        self.run("shop", "DROP SCHEMA IF EXISTS endfloat CASCADE", "DROP SCHEMA public CASCADE", "CREATE SCHEMA public")

    def run(self, database: str, *statements: str) -> list[tuple[Any, ...]]:
        """Run statements as the server's superuser, each for itself; the rows of the last."""
        import psycopg

        with psycopg.connect(self.url(database), autocommit=True) as connection:
            for statement in statements:
                cursor = connection.execute(statement.encode())
            return cursor.fetchall() if cursor.description else []
