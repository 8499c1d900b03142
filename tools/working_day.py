"""A working day at the bench, killed somewhere: what was acknowledged must be there, once.

    python tools/working_day.py [KILLS] [SEED]

prints what was tried, acknowledged, lost and doubled.
"""

import os
import random
import signal
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import endfloat.examples
from endfloat.job.strip_events import PlaceLabelled
from endfloat.job.wire import from_body, verify
from endfloat.problems import Problem
from endfloat.store.sqlite import SqliteStore
from endfloat.workshop.build import build_of, confirm_step, lay_out_order
from endfloat.workshop.check_gauge import check_gauge
from endfloat.workshop.fit_bolt_set import fit_bolt_set
from endfloat.workshop.open_job import open_job
from endfloat.workshop.ports import Store
from endfloat.workshop.pull_bolt import Already, pull_bolt
from endfloat.workshop.record import load
from endfloat.workshop.strip import record
from endfloat.workshop.take_in_parts import take_in
from endfloat.workshop.take_reading import take_reading
from endfloat.workshop.withdraw_reading import withdraw_reading

V8 = Path(endfloat.examples.__file__).parent / "wrenhallow-90-8"
FILES = {"engine": "engine.yaml", "gauges": "gauges.yaml", "readings": "readings.csv", "prices": "prices.yaml"}


@dataclass(frozen=True)
class Outcome:
    """One day: entries acknowledged before the kill, and of those lost; keys found more than once."""

    acknowledged: int
    lost: int
    doubled: int
    finished: bool


def clock() -> str:
    """The day stands still; the store does not ask the time."""
    return "2026-05-03T10:00:00+00:00"


def morning(folder: Path) -> Path:
    """A record with the job opened on the invented V8, copied for every day."""
    path = folder / "morning.sqlite"
    store = SqliteStore(path)
    files = {name: (V8 / file).read_bytes() for name, file in FILES.items()}
    assert open_job(store, clock, by="as found", **files) == []
    return path


def deeds(store: Store, rounds: int) -> Iterator[tuple[str, Problem | None]]:
    """What is done in a day, each with the key it must be found by."""
    for number in range(rounds):
        spot = ("end_float", "engine", ("first push", "second push", "third push")[number % 3], "-")
        text = f"0.1{number % 10}0 mm"
        yield f"r{number}", take_reading(store, clock, key=f"r{number}", spot=spot, text=text, gauge="D1", by="Ana")
        if number % 4 == 1:
            told = withdraw_reading(store, clock, key=f"r{number}", reason="pushed twice", by="Ana")
            yield f"withdrawn r{number}", told
        if number % 5 == 2:
            checked = {"set_to": "0.000", "shows": "0.000", "by": "Ana"}
            yield f"c{number}", check_gauge(store, clock, key=f"c{number}", gauge="D1", **checked)
    yield from _at_the_joint(store, rounds)
    yield "order", lay_out_order(store, clock, by="Ana")
    for part, step in (("main_bolts", "bring_main_bolts"), ("rod_bolts", "bring_rod_bolts")):
        bought = build_of(load(store)[0]).engine.parts[part]
        counted = {"part": part, "count": str(bought.count), "by": "Bo", "looked": bought.looks}
        yield f"{part} in", take_in(store, clock, key=f"{part} in", **counted)
        yield f"step {step}", confirm_step(store, clock, operation=step, by="Ana")
    for removal in ("left_cover", "right_cover"):
        yield f"label {removal}", label(store, removal)


def _at_the_joint(store: Store, rounds: int) -> Iterator[tuple[str, Problem | None]]:
    """The first pass of the left head, as many bolts as the day has rounds for."""
    joint = build_of(load(store)[0]).engine.joints["left_head"]
    stated = {"stated": {"head_bolt": ("oil", "oil")}, "by": "Ana"}
    yield "bolts in", fit_bolt_set(store, clock, key="bolts in", joint="left_head", bolts="H1", **stated)
    for bolt in (joint.order(1) or ())[:rounds]:
        pull = {"joint": "left_head", "pass_number": 1, "bolt": bolt, "gauge": "W1", "by": "Ana", "device": "phone"}
        told = pull_bolt(store, clock, key=f"pull {bolt}", **pull)
        assert not isinstance(told, Already)
        yield f"pull {bolt}", told


def label(store: Store, removal: str) -> Problem | None:
    """Tie on the labels of one removal."""
    labels = tuple(part.label for part in build_of(load(store)[0]).engine.strip[removal].parts)
    return record(store, clock, PlaceLabelled(f"label {removal}", removal, labels, "Ana", clock()))


def key_of(event: object) -> str:
    """The key by which a deed is found again."""
    name = type(event).__name__
    if name == "StepConfirmed":
        return f"step {getattr(event, 'operation', '')}"
    if name == "BuildOrderLaidOut":
        return "order"
    key = str(getattr(event, "key", ""))
    return f"withdrawn {key}" if name == "ReadingWithdrawn" else key


def day(path: Path, after: float, rounds: int, make_store: Callable[[Path], Store] = SqliteStore) -> Outcome:
    """Run a day in a process of its own, kill it after so many seconds, and look at what is on disk."""
    hears, tells = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(hears)
        for key, problem in deeds(make_store(path), rounds):
            # Told only once the use case came back: this is the acknowledgement.
            os.write(tells, f"{key}\n".encode() if problem is None else b"refused\n")
        os.write(tells, b"evening\n")
        os._exit(0)
    os.close(tells)
    time.sleep(after)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    with os.fdopen(hears) as pipe:
        told = pipe.read().split("\n")[:-1]
    entries = SqliteStore(path).entries()
    assert verify(entries) == len(entries)
    found = Counter(key_of(from_body(entry.body)) for entry in entries)
    acknowledged = [line for line in told if line not in ("refused", "evening")]
    lost = sum(found[key] == 0 for key in acknowledged)
    doubled = sum(count > 1 for key, count in found.items() if key and not key.startswith("file-"))
    return Outcome(len(acknowledged), lost, doubled, "evening" in told)


def days(kills: int, seed: int, rounds: int = 20) -> list[Outcome]:
    """So many days, each killed at a moment drawn from the length of a whole one."""
    chance = random.Random(seed)
    outcomes = []
    with tempfile.TemporaryDirectory() as folder:
        first = morning(Path(folder))
        begun = time.monotonic()
        for _ in deeds(SqliteStore(_copy(first, Path(folder) / "whole.sqlite")), rounds):
            pass
        whole = time.monotonic() - begun
        for number in range(kills):
            path = _copy(first, Path(folder) / f"day-{number}.sqlite")
            outcomes.append(day(path, chance.uniform(0, 1.1 * whole), rounds))
            for left in Path(folder).glob(f"day-{number}.sqlite*"):
                left.unlink()
    return outcomes


def _copy(first: Path, path: Path) -> Path:
    path.write_bytes(first.read_bytes())
    return path


def main() -> int:
    """Print the table."""
    kills, seed = (
        (int(word) for word in [*sys.argv[1:], "1000", "1"][:2]) if len(sys.argv) != 2 else (int(sys.argv[1]), 1)
    )
    outcomes = days(kills, seed)
    print(f"{kills} days killed at moments drawn with seed {seed}")
    print(f"  acknowledged {sum(each.acknowledged for each in outcomes):,} entries")
    print(f"  lost         {sum(each.lost for each in outcomes)}")
    print(f"  doubled      {sum(each.doubled for each in outcomes)}")
    print(f"  came home before the kill: {sum(each.finished for each in outcomes)} days")
    return int(any(each.lost or each.doubled for each in outcomes))


if __name__ == "__main__":
    sys.exit(main())
