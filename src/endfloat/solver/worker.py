"""One warm worker process that answers rows; spawned, never forked, killed on a time-out and started again."""

from __future__ import annotations

import multiprocessing
from multiprocessing.connection import Connection

from endfloat.decision.rows import Rows, Solution
from endfloat.errors import OutsideError


def _serve(connection: Connection) -> None:
    from endfloat.solver.cp_sat import solve_rows

    while True:
        try:
            rows = connection.recv()
        except EOFError:
            return
        connection.send(solve_rows(rows))


class Worker:
    """A solver in a process of its own. Call it with rows; close it at the end."""

    def __init__(self, *, seconds: float = 60.0) -> None:
        self._seconds = seconds
        self._context = multiprocessing.get_context("spawn")
        self._process: multiprocessing.process.BaseProcess | None = None
        self._connection: Connection | None = None

    def start(self) -> None:
        """Start the process, so that the first question finds it warm."""
        ours, theirs = self._context.Pipe()
        process = self._context.Process(target=_serve, args=(theirs,), daemon=True)
        process.start()
        theirs.close()
        self._process, self._connection = process, ours

    def __call__(self, rows: Rows) -> Solution:
        """Answer rows; OutsideError when the worker dies or takes too long, and then it starts anew next time."""
        if self._connection is None:
            self.start()
        connection = self._connection
        assert connection is not None
        try:
            connection.send(rows)
            if connection.poll(self._seconds):
                answer = connection.recv()
                assert isinstance(answer, Solution)
                return answer
        except (EOFError, OSError) as error:
            self.close()
            raise OutsideError("The solver stopped. Ask again; nothing else is affected.") from error
        self.close()
        raise OutsideError(f"No plan within {self._seconds:.0f} seconds. Ask again, or settle a decision by hand.")

    def close(self) -> None:
        """End the process, whatever it does."""
        if self._process is not None:
            self._process.kill()
            self._process.join()
        if self._connection is not None:
            self._connection.close()
        self._process = self._connection = None
