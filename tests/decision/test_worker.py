"""The solver's own process: warm, killed when it must be, and started again."""

import os
import signal
import time

import pytest

from cast import example
from endfloat.decision.rows import rows_of
from endfloat.errors import OutsideError
from endfloat.inspection.measured import measured
from endfloat.solver.cp_sat import solve_rows
from endfloat.solver.worker import Worker


def test_a_worker_answers_like_the_solver_and_survives_its_own_death() -> None:
    engine, evidence, prices = example()
    rows = rows_of(engine, measured(engine, evidence), prices)
    worker = Worker()
    try:
        assert worker(rows) == solve_rows(rows)
        process = worker._process
        assert process is not None
        assert process.pid is not None
        os.kill(process.pid, signal.SIGKILL)
        time.sleep(0.1)
        with pytest.raises(OutsideError, match="Ask again"):
            worker(rows)
        assert worker(rows) == solve_rows(rows)
    finally:
        worker.close()


def test_a_worker_that_takes_too_long_is_stopped_with_a_sentence() -> None:
    engine, evidence, prices = example()
    rows = rows_of(engine, measured(engine, evidence), prices)
    worker = Worker(seconds=0.0)
    with pytest.raises(OutsideError, match="No plan within"):
        worker(rows)
    assert worker._process is None
