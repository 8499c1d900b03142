"""The booklet holds every step of the order again, with its cautions, clocks, helper, bolts and lines to write on."""

import io
from pathlib import Path

import pypdf
import pytest

from cast import EXAMPLES
from endfloat.engine.asks import asks_of
from endfloat.job.events import StepConfirmed
from endfloat.problems import Problem
from endfloat.reports.papers import make_paper
from endfloat.store.memory import MemoryStore
from endfloat.workshop.booklet import booklet
from endfloat.workshop.build import build_of, lay_out_order
from endfloat.workshop.open_job import open_job
from endfloat.workshop.record import load
from endfloat.workshop.view import view

FOLDERS = ["wrenhallow-90-8", "tolvenny-1185", "ottermole-3-165"]


def clock() -> str:
    return "2026-05-03T10:00:00Z"


def opened(folder: str, change: tuple[str, str] = ("", "")) -> MemoryStore:
    store = MemoryStore()
    engine = (Path(EXAMPLES) / folder / "engine.yaml").read_text()
    assert change[0] in engine
    engine = engine.replace(*change) if change[0] else engine
    gauges = (Path(EXAMPLES) / folder / "gauges.yaml").read_bytes()
    assert open_job(store, clock, engine=engine.encode(), gauges=gauges, by="Ana") == []
    assert lay_out_order(store, clock, by="Ana") is None
    return store


def values_of(store: MemoryStore) -> dict[str, object]:
    values = booklet(view(load(store)[0]), store.entries())
    assert not isinstance(values, Problem)
    return values


def text_of(values: dict[str, object]) -> str:
    reader = pypdf.PdfReader(io.BytesIO(make_paper("booklet", values)))
    # The foot of a page may stand between two lines of a step: words are sought without their spaces.
    return "".join("".join(page.extract_text().split()) for page in reader.pages)


def bare(words: object) -> str:
    return "".join(str(words).split())


@pytest.mark.parametrize("folder", FOLDERS)
def test_every_step_is_found_again_in_its_order_with_its_cautions_before_it(folder: str) -> None:
    store = opened(folder)
    build, text = build_of(load(store)[0]), text_of(values_of(store))
    at = 0
    for number, name in enumerate(build.order, start=1):
        step = build.step(name)
        start = text.index(bare(f"Step {number} of {len(build.order)}"), at)
        title = text.index(bare(step.title), start)
        following = text.find(bare(f"Step {number + 1} of {len(build.order)}"), title)
        mine = text[start : following if following > 0 else len(text)]
        assert following < 0 or title < following, name
        for caution in step.cautions:
            before = text.index(bare(f"{caution.signal_word} {caution.consequence} {caution.avoidance}"), start)
            assert before < title, name
        asks = asks_of(build.engine, name)
        for words in (*(look.what for look in asks.looks), *asks.counts, *asks.hides, asks.mark):
            assert bare(words)[1:] in mine, words
        assert bare("Done by") in mine, name
        assert bare(step.bank.upper()) in mine
        at = title


@pytest.mark.parametrize("folder", FOLDERS)
def test_every_clock_and_every_call_of_the_helper_stands_on_its_steps(folder: str) -> None:
    store = opened(folder)
    build = build_of(load(store)[0])
    steps = {build.order[each["number"] - 1]: each for each in values_of(store)["steps"]}  # type: ignore[attr-defined]
    relations = build.engine.relations
    for clock_told in relations.clocked:
        told = [line["words"] for line in steps[clock_told.starts]["clocks"] if clock_told.what in line["words"]]
        assert told, clock_told.what
        for waits in clock_told.not_before:
            assert any(line["words"].startswith(f"WAIT, {clock_told.what}") for line in steps[waits]["clocks"])
    for visit in relations.second_person:
        ordered = sorted(visit.operations, key=build.number)
        assert steps[ordered[0]]["helper"].startswith("Call the helper")
        assert [name for name in ordered if steps[name]["may_go"]] == [ordered[-1]]
    inside = {n for v in relations.second_person for n in range(
        min(map(build.number, v.operations)), max(map(build.number, v.operations)) + 1
    )}  # fmt: skip
    assert {build.number(name) for name, each in steps.items() if each["helper"]} == inside


def test_an_amount_that_is_not_known_is_a_line_to_write_on_and_nothing_is_suggested() -> None:
    known, blank = "{amount: 60 N·m, page: 40}", "{page: 40}"
    rows = {}
    for change in (("", ""), (known, blank)):
        steps = values_of(opened("wrenhallow-90-8", change))["steps"]
        damper = next(each for each in steps if each["pulls"] and each["pulls"]["title"].startswith("Damper"))  # type: ignore[attr-defined]
        rows[change] = [row["amount"] for row in damper["pulls"]["passes"]]
    assert rows == {("", ""): ["60 N·m", "120 °"], (known, blank): ["", "120 °"]}


def test_two_sorts_pulled_alike_keep_one_order_and_two_amounts_keep_a_line_each() -> None:
    alike = "{amount: 25 N·m, page: 55,"
    apart = "{amount: 25 N·m, amounts: {long_head_bolt: 30 N·m}, page: 55,"
    blank = "{page: 55,"
    rows = {}
    for change in ((alike, alike), (alike, apart), (alike, blank)):
        steps = values_of(opened("wrenhallow-90-8", change))["steps"]
        right = next(each for each in steps if each["pulls"] and each["pulls"]["title"].startswith("Right head"))  # type: ignore[attr-defined]
        rows[change[1]] = [(row["amount"], row["bolts"]) for row in right["pulls"]["passes"]]
    short = "8, 3, 9, 2, 7, 4, 1, 6, 5"
    assert rows[alike] == [("25 N·m", "8, 3, 9, 2, 7, 4, 10, 1, 6, 5")]
    assert rows[apart] == [("25 N·m", short), ("30 N·m", "10")]
    assert rows[blank] == [("", short), ("", "10")]


def test_bolts_stand_in_the_order_of_their_pass() -> None:
    store = opened("wrenhallow-90-8")
    joints = build_of(load(store)[0]).engine.joints
    text = text_of(values_of(store))
    for name in ("left_head", "right_head"):
        order = joints[name].order(1)
        assert order
        assert bare(", ".join(order)) in text
    assert bare("head bolt; long head bolt at 10, page 55") in text


def test_a_step_done_already_says_so_and_a_job_without_an_order_says_what_to_do() -> None:
    store = opened("wrenhallow-90-8")
    first = build_of(load(store)[0]).order[0]
    store.append([StepConfirmed(first, "Ana", clock())], expected=len(store.entries()), at=clock())
    steps = values_of(store)["steps"]
    assert [each["done"] for each in steps][:2] == ["Done, Ana, 2026-05-03 10:00", ""]  # type: ignore[attr-defined]
    bare_store = MemoryStore()
    files = {k: (Path(EXAMPLES) / FOLDERS[0] / f"{k}.yaml").read_bytes() for k in ("engine", "gauges")}
    assert open_job(bare_store, clock, by="Ana", **files) == []
    told = booklet(view(load(bare_store)[0]), bare_store.entries())
    assert isinstance(told, Problem)
    assert "Lay out the order" in told.text()


@pytest.mark.parametrize("folder", FOLDERS)
def test_the_first_fire_is_on_paper_too(folder: str) -> None:
    store = opened(folder)
    proving = build_of(load(store)[0]).engine.proving
    assert proving is not None
    text = text_of(values_of(store))
    for words in (
        *(step.title for step in proving.priming.values()),
        *(item.what for item in proving.ready.values()),
        *(f"{proving.gauges[rule.gauge].title}: {rule.bound}" for rule in proving.stop_now.values()),
        *(stage.title for stage in proving.run_in.values()),
        *(item.what for item in proving.recheck.values()),
    ):
        assert bare(words)[1:] in text, words
