"""How fast is what exists: each figure beside what it should reach, and beside a peer in the same run.

Not a test: machines differ and are shared. Quote medians and ratios.
"""

import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from math import isclose
from pathlib import Path

import numpy as np
from fastapi.testclient import TestClient
from peers.append_with_sqlite3 import RawStore
from peers.decide_with_highs import solve_rows as solve_with_highs
from peers.judge_with_uncertainties import judged_values
from peers.loop_by_scalars import loop_pitches as loop_by_scalars
from random_orders import engine_from, merged_chains
from rich.console import Console
from rich.table import Table

import endfloat.examples
from endfloat.assembly.check import check
from endfloat.assembly.cost import cost_of
from endfloat.assembly.generate import BuildOrder, build_order
from endfloat.cli.files import read_evidence
from endfloat.decision.plan import decide, work_of
from endfloat.decision.prices import Prices, read_prices
from endfloat.decision.rows import rows_of
from endfloat.decision.why import Question, why
from endfloat.formulas.chain_loop import loop_pitches
from endfloat.inspection.judge import judge, judge_found
from endfloat.inspection.measured import measured
from endfloat.inspection.together import together
from endfloat.inspection.verdicts import Rule
from endfloat.job.events import JobOpened, ReadingTaken
from endfloat.job.state import fold
from endfloat.job.wire import from_body, next_entry, verify
from endfloat.reports.papers import make_paper
from endfloat.solver.cp_sat import solve_rows
from endfloat.solver.worker import Worker
from endfloat.store.memory import MemoryStore
from endfloat.store.sqlite import SqliteStore
from endfloat.web.app import make_app
from endfloat.workshop.open_job import open_job
from endfloat.workshop.record import load
from endfloat.workshop.sheets import build_record
from endfloat.workshop.view import view

V8 = Path(endfloat.examples.__file__).parent / "wrenhallow-90-8"
Row = tuple[str, str, float, str]


def seconds(work: Callable[[], object], runs: int = 7) -> float:
    """Median wall time of a call after one that warms up."""
    work()
    times = []
    for _ in range(runs):
        begun = time.perf_counter()
        work()
        times.append(time.perf_counter() - begun)
    return statistics.median(times)


def judging() -> list[Row]:
    engine, evidence = read_evidence(V8 / "engine.yaml", readings=None, gauges=None, as_json=False)
    findings = judge(engine, evidence)
    peer = judged_values(engine, evidence)
    for finding in findings:
        if finding.estimate:
            value, u = peer[finding.on, finding.place]
            assert isclose(finding.estimate.value, value, rel_tol=1e-9), finding.key
            # At a tie the peer takes one place, we the larger side: only the value of a spread is compared.
            spread = finding.on in engine.quantities and engine.quantities[finding.on].over
            assert spread or isclose(finding.estimate.standard_uncertainty, u, rel_tol=1e-5), finding.key
    ours, theirs = seconds(lambda: judge(engine, evidence)), seconds(lambda: judged_values(engine, evidence))
    found = measured(engine, evidence)
    what_if = seconds(lambda: judge_found(engine, found, {"right_skim": "skim_010"}, Rule()))
    count = f"{len(evidence.readings)} readings"

    def drawn() -> object:
        return together(engine, found, {}, generator=np.random.default_rng(1))

    return [
        (f"judge the V8, {count}", "0.050", ours, f"uncertainties {theirs:.3f} s, ratio {ours / theirs:.2f}"),
        ("one what-if", "0.020", what_if, ""),
        ("draws of the whole V8, 10,000", "2", seconds(drawn, 3), ""),
    ]


def deciding() -> list[Row]:
    engine, evidence = read_evidence(V8 / "engine.yaml", readings=None, gauges=None, as_json=False)
    prices = read_prices((V8 / "prices.yaml").read_bytes(), name="prices.yaml", engine=engine)
    assert isinstance(prices, Prices)
    found = measured(engine, evidence)
    rows = rows_of(engine, found, prices)
    assert solve_rows(rows).totals == solve_with_highs(rows).totals, "the solvers disagree"
    ours, theirs = seconds(lambda: solve_rows(rows)), seconds(lambda: solve_with_highs(rows))
    worker = Worker()
    begun = time.perf_counter()
    priced = decide(engine, found, prices, worker)
    cold = time.perf_counter() - begun
    warm = seconds(lambda: decide(engine, found, prices, worker))
    question = Question(engine, found, prices, priced.rows, worker, Rule())
    slowest = max(seconds(lambda: why(question, priced.plan, item), 3) for item in work_of(engine, priced.plan.choice))  # noqa: B023
    worker.close()
    return [
        ("decide, proved, warm worker", "1.5", warm, f"cold {cold:.2f} s"),
        ("the same rows, solver alone", "", ours, f"HiGHS {theirs:.3f} s, ratio {ours / theirs:.2f}"),
        ("the slowest why", "0.5", slowest, ""),
    ]


def ordering() -> list[Row]:
    engine, _ = read_evidence(V8 / "engine.yaml", readings=None, gauges=None, as_json=False)
    found = build_order(engine)
    assert isinstance(found, BuildOrder)
    checked = seconds(lambda: check(engine, found.operations))
    steps = f"{len(found.operations)} operations"
    told = "proved" if found.proved else "best found"
    return [
        (f"check a build order, {steps}", "0.005", checked, ""),
        ("find the build order", "1", seconds(lambda: build_order(engine), 3), told),
        *_three_chains(),
    ]


def _three_chains() -> list[Row]:
    """Three sub-assemblies of 45 steps that merge into a last chain of 15, drawn with a seed."""
    description, hidden = merged_chains(1)
    engine = engine_from(description)
    found = build_order(engine)
    assert isinstance(found, BuildOrder)
    assert not check(engine, hidden)
    assert found.cost <= cost_of(engine, hidden)
    told = "proved" if found.proved else "best found"
    return [
        ("check 150 operations, drawn", "0.005", seconds(lambda: check(engine, hidden)), ""),
        ("order three merged chains, 150 operations", "1", seconds(lambda: build_order(engine), 3), f"seed 1, {told}"),
    ]


def laying() -> list[Row]:
    chance = np.random.default_rng(1)
    x = np.array([0.0, -0.150, -0.060, 0.060, 0.150, 0.040])
    y = np.array([0.0, 0.200, 0.420, 0.420, 0.200, 0.150])
    radius = np.array([0.03195, 0.040, 0.0637, 0.0637, 0.040, 0.020])
    turning, teeth = np.array([-1.0, -1, -1, -1, -1, 1]), np.array([21.0, 26, 42, 42, 26, 13])
    drawn = x + chance.normal(0, 5e-5, (5_000, 6))
    rest = {"y": y, "radius": radius, "turning": turning, "teeth": teeth}
    scalars = {name: values.tolist() for name, values in rest.items()}

    def one() -> float:
        return float(loop_pitches(x=x, **rest, pitch=0.009525))

    def many() -> object:
        return loop_pitches(x=drawn, **rest, pitch=0.009525)

    def each() -> list[float]:
        return [loop_by_scalars(row, **scalars, pitch=0.009525) for row in drawn.tolist()]

    assert isclose(one(), loop_by_scalars(x.tolist(), **scalars, pitch=0.009525), rel_tol=1e-12)
    assert np.allclose(np.asarray(many()), each(), rtol=1e-12)
    alone = seconds(lambda: loop_by_scalars(x.tolist(), **scalars, pitch=0.009525), 99)
    ours, theirs = seconds(many), seconds(each)
    return [
        ("a chain round six wheels", "0.001", seconds(one, 99), f"plain Python {alone:.6f} s"),
        ("the same, 5,000 draws", "", ours, f"plain Python {theirs:.3f} s, ratio {ours / theirs:.2f}"),
    ]


def recording() -> list[Row]:
    reading = ReadingTaken("k", "bore_size", "3", "10 mm", "across", "86.0480 mm", "B2", "Ana")
    with tempfile.TemporaryDirectory() as folder:
        store, raw = SqliteStore(Path(folder) / "ours.sqlite"), RawStore(Path(folder) / "raw.sqlite")
        ours, theirs = [], []
        for number in range(200):
            begun = time.perf_counter()
            store.append([reading], expected=number, at="2026-05-03T10:00:00Z")
            ours.append(time.perf_counter() - begun)
            begun = time.perf_counter()
            raw.append("x" * 170)
            theirs.append(time.perf_counter() - begun)
        raw.close()
    entries, last = [], None
    for number in range(100_000):
        last = next_entry(last, "2026-05-03T10:00:00Z", JobOpened("x", "", "") if number == 0 else reading)
        entries.append(last)
    replay = seconds(lambda: (verify(entries), fold(from_body(entry.body) for entry in entries)), 3)
    p95, raw95 = (sorted(times)[int(0.95 * len(times))] for times in (ours, theirs))
    return [
        ("durable append, p95", "0.010", p95, f"sqlite3 {raw95:.4f} s, ratio {p95 / raw95:.2f}"),
        ("durable append, median", "", statistics.median(ours), f"sqlite3 {statistics.median(theirs):.4f} s"),
        ("verify and replay 100,000 events", "0.8", replay, ""),
    ]


def showing() -> list[Row]:
    store = MemoryStore()
    files = {name: (V8 / file).read_bytes() for name, file in FILES.items()}
    assert open_job(store, lambda: "2026-05-03T10:00:00Z", by="speed", **files) == []
    page = TestClient(make_app(store, lambda: "", solve_rows, make_paper))
    seen = view(load(store)[0])
    record = build_record(seen, "0" * 64)
    started = seconds(lambda: subprocess.run([sys.executable, "-m", "endfloat", "--help"], capture_output=True), 3)
    return [
        (
            "page: what needs you now",
            "0.050",
            seconds(lambda: page.get("/")),
            f"{len(page.get('/').content) / 1000:.0f} kB",
        ),
        ("page: one place", "0.050", seconds(lambda: page.get("/measure/bore_size/7")), ""),
        ("page: the decision", "", seconds(lambda: page.get("/decide")), ""),
        ("build record as PDF", "1", seconds(lambda: make_paper("build-record", record), 3), ""),
        ("endfloat --help", "0.4", started, ""),
    ]


FILES = {"engine": "engine.yaml", "gauges": "gauges.yaml", "readings": "readings.csv", "prices": "prices.yaml"}


def main() -> None:
    """Print the table."""
    table = Table("what", "reach, s", "seconds", "beside it", title="endfloat on this machine, medians")
    for group in (judging, deciding, ordering, laying, recording, showing):
        for what, reach, measured_seconds, beside in group():
            table.add_row(what, reach, f"{measured_seconds:.4f}", beside)
    Console(width=120).print(table)


if __name__ == "__main__":
    main()
