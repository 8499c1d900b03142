"""How fast is what exists: each figure beside what it should reach, and beside a peer in the same run.

Not a test: machines differ and are shared. Quote medians and ratios.
"""

import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import replace
from math import isclose
from pathlib import Path
from typing import Protocol

import numpy as np
from fastapi.testclient import TestClient
from peers.append_with_psycopg import RawDatabase
from peers.append_with_sqlite3 import RawStore
from peers.decide_with_highs import solve_rows as solve_with_highs
from peers.judge_with_uncertainties import judged_values
from peers.loop_by_scalars import loop_pitches as loop_by_scalars
from peers.tighten_with_scipy import by_loop, by_roots
from peers.valve_gap_by_search import least_by_grid, least_by_search
from random_orders import engine_from, merged_chains
from rich.console import Console
from rich.table import Table
from step_in_browser import median_step
from throwaway_postgres import PROGRAMS, ThrowawayPostgres

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
from endfloat.formulas.torque_angle import torque_then_angle
from endfloat.formulas.valve_gaps import least_pocket_gap
from endfloat.inspection.judge import judge, judge_found
from endfloat.inspection.measured import measured
from endfloat.inspection.together import together
from endfloat.inspection.verdicts import Rule
from endfloat.job.events import JobOpened, ReadingTaken
from endfloat.job.state import fold
from endfloat.job.wire import events_of, next_entry, verify
from endfloat.reports.papers import make_paper
from endfloat.solver.cp_sat import solve_rows
from endfloat.solver.worker import Worker
from endfloat.store.memory import MemoryStore
from endfloat.store.postgres import open_jobs
from endfloat.store.sqlite import SqliteStore
from endfloat.web.app import make_app
from endfloat.workshop.build_record import build_record
from endfloat.workshop.open_job import open_job
from endfloat.workshop.ports import Store
from endfloat.workshop.record import load
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


READING = ReadingTaken("k", "bore_size", "3", "10 mm", "across", "86.0480 mm", "B2", "Ana")
AT = "2026-05-03T10:00:00Z"


class Raw(Protocol):
    """A peer of a store."""

    def append(self, body: str) -> None: ...


def appending(store: Store, raw: Raw, peer: str, where: str) -> list[Row]:
    """Appends of a store and of its peer in turn, so that both meet the same disk."""
    ours, theirs = [], []
    for number in range(200):
        begun = time.perf_counter()
        store.append([READING], expected=number, at=AT)
        ours.append(time.perf_counter() - begun)
        begun = time.perf_counter()
        raw.append("x" * 170)
        theirs.append(time.perf_counter() - begun)
    p95, raw95 = (sorted(times)[int(0.95 * len(times))] for times in (ours, theirs))
    median, raw_median = statistics.median(ours), statistics.median(theirs)
    return [
        (f"durable append{where}, p95", "0.010", p95, f"{peer} {raw95:.4f} s, ratio {p95 / raw95:.2f}"),
        (f"durable append{where}, median", "", median, f"{peer} {raw_median:.4f} s, ratio {median / raw_median:.2f}"),
    ]


def recording() -> list[Row]:
    with tempfile.TemporaryDirectory() as folder:
        raw = RawStore(Path(folder) / "raw.sqlite")
        appended = appending(SqliteStore(Path(folder) / "ours.sqlite"), raw, "sqlite3", "")
        raw.close()
    entries, last = [], None
    # Each reading is another one: bodies read before are kept, and nothing read before may help here.
    for number in range(100_000):
        event = JobOpened("x", "", "") if number == 0 else replace(READING, key=f"k{number}")
        last = next_entry(last, AT, event)
        entries.append(last)
    replay = seconds(lambda: (verify(entries), fold(events_of(entries))), 3)
    return [*appended, ("verify and replay 100,000 events", "0.8", replay, "")]


def recording_in_a_database() -> list[Row]:
    if PROGRAMS is None:
        print("Skipped: appends to PostgreSQL, for want of a server (Debian: apt-get install postgresql).")
        return []
    server = ThrowawayPostgres()
    try:
        with open_jobs(server.url("shop")) as jobs:
            raw = RawDatabase(server.url("shop"))
            appended = appending(jobs.store("job"), raw, "psycopg", ", PostgreSQL")
            raw.close()
    finally:
        server.close()
    return appended


def showing() -> list[Row]:
    store = MemoryStore()
    files = {name: (V8 / file).read_bytes() for name, file in FILES.items()}
    assert open_job(store, lambda: AT, by="speed", **files) == []
    page = TestClient(make_app(store, lambda: AT, solve_rows, make_paper))
    seen = view(load(store)[0])
    record = build_record(seen, store.entries())
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


def stepping() -> list[Row]:
    browser = shutil.which("chromium") or shutil.which("chromium-browser")
    if browser is None:
        print("Skipped: a step in a browser, for want of Chromium (Debian: apt-get install chromium).")
        return []
    taken, count = median_step(browser)
    return [("a step confirmed, DONE to the next on screen", "0.150", taken, f"median of {count}, in a browser")]


def tightening() -> list[Row]:
    """Twenty M11 bolts, 25 N m and 180 degrees; friction, tool, angle, strength and stiffness drawn."""
    chance, size = np.random.default_rng(1), (20, 20_000)
    friction = {name: chance.uniform(0.08, 0.18, size) for name in ("thread_friction", "bearing_friction")}
    bolts = friction | {
        "torque": 25 * chance.uniform(0.96, 1.04, size),
        "angle": np.pi + 0.07 * chance.standard_normal(size),
        "yield_strength": 940e6 * chance.uniform(1, 1.15, size),
        "stiffness": 136e6 * chance.uniform(0.9, 1.1, size),
        "stress_diameter": 0.0098272,
        "pitch": 0.00125,
        "pitch_diameter": 0.0101881,
        "bearing_diameter": 0.01475,
        "hardening": 5e6,
    }
    ours = torque_then_angle(**bolts)
    for peer in (by_roots, by_loop):
        clamp, stretch = peer(**bolts)
        assert np.allclose(ours.clamp, clamp, rtol=1e-9), peer
        assert np.allclose(ours.stretch, stretch, rtol=1e-6, atol=1e-12), peer
    taken = seconds(lambda: torque_then_angle(**bolts))
    roots, loop = seconds(lambda: by_roots(**bolts), 3), seconds(lambda: by_loop(**bolts), 3)
    beside = f"scipy roots {roots:.2f} s, ratio {taken / roots:.2f}; loop {loop:.2f} s, ratio {taken / loop:.2f}"
    return [("torque, then angle, 20 bolts x 20,000", "1", taken, beside)]


def valve_gaps() -> list[Row]:
    """The least valve-to-piston gap of every valve in every draw, its angle and its sensitivities."""
    rng = np.random.default_rng(1)
    draws, shape = 5_000, (5_000, 8, 4)
    angles = np.radians(np.arange(-140.0, 141.0, 4.0))
    lobe = {"table_angle": angles, "table_lift": 0.01 * np.cos(np.pi * angles / angles[-1] / 2) ** 2}
    drawn = {
        "closed_gap": 0.003 + 5e-5 * rng.normal(size=shape),
        "centre": np.radians([108.0, 108.0, -110.0, -110.0]) + 0.01 * rng.normal(size=shape),
        "lash": 2e-4 + 1e-5 * rng.normal(size=shape),
        "throw": 0.043 + 1e-5 * rng.normal(size=(draws, 8, 1)),
        "rod": 0.145 + 1e-5 * rng.normal(size=(draws, 8, 1)),
    }
    same = {"valve_angle": np.radians(12.0), "offset": 0.0005, "rocker_ratio": 1.0, "reach": np.radians(40.0)}
    given = {**same, **lobe, "period": 4 * np.pi}
    ours = least_pocket_gap(**drawn, **given).gap
    # The grid is worked a hundred draws at a time: all at once it would hold gigabytes.
    parts = [slice(k, k + 100) for k in range(0, draws, 100)]
    grid = np.concatenate([least_by_grid(**{n: a[part] for n, a in drawn.items()}, **given) for part in parts])
    assert np.max(np.abs(ours - grid)) < 2e-9, "the grid disagrees"
    few = [(int(k), 3, valve) for k in rng.integers(0, draws, 50) for valve in range(4)]
    one_by_one = [{n: np.broadcast_to(a, shape)[at] for n, a in drawn.items()} for at in few]
    assert all(
        isclose(least_by_search(**one, **given), ours[at], abs_tol=1e-9)
        for one, at in zip(one_by_one, few, strict=True)
    )
    quick = seconds(lambda: least_pocket_gap(**drawn, **given), 5)
    gridded = seconds(
        lambda: [least_by_grid(**{n: a[part] for n, a in drawn.items()}, **given) for part in parts[:5]], 3
    )
    searched = seconds(lambda: [least_by_search(**one, **given) for one in one_by_one], 3)
    gridded, searched = gridded * len(parts) / 5, searched * ours.size / len(few)
    told = (
        f"numpy grid {gridded:.1f} s, ratio {quick / gridded:.3f}; scipy one by one {searched:.0f} s (a sample of each)"
    )
    return [("valve-to-piston gap, 8 x 4 valves, 5,000 draws", "0.3", quick, told)]


FILES = {"engine": "engine.yaml", "gauges": "gauges.yaml", "readings": "readings.csv", "prices": "prices.yaml"}


def main() -> None:
    """Print the table."""
    table = Table("what", "reach, s", "seconds", "beside it", title="endfloat on this machine, medians")
    groups = (judging, deciding, ordering, tightening, laying, valve_gaps)
    for group in (*groups, recording, recording_in_a_database, showing, stepping):
        for what, reach, measured_seconds, beside in group():
            table.add_row(what, reach, f"{measured_seconds:.4f}", beside)
    Console(width=120).print(table)


if __name__ == "__main__":
    main()
