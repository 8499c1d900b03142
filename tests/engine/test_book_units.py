"""A book in inches is answered in inches: findings, limits, questions, the box on the bench page, knock-ons."""

import dataclasses

import pytest
from fastapi.testclient import TestClient

from cast import EXAMPLES, FERRY, V8, example, with_value
from endfloat.engine.book_units import book_unit
from endfloat.inspection.judge import judge
from endfloat.inspection.verdicts import Verdict
from endfloat.inspection.words import limit_words, number
from endfloat.job.events import ReadingTaken
from endfloat.job.wire import from_body
from endfloat.reports.papers import make_paper
from endfloat.solver.cp_sat import solve_rows
from endfloat.store.memory import MemoryStore
from endfloat.web.app import make_app
from endfloat.workshop.open_job import open_job

ENGINE, EVIDENCE, _ = example(FERRY)


@pytest.mark.parametrize(
    ("name", "unit"),
    [
        ("liner_wear", "in"),  # its own limit
        ("feed_pressure", "psi"),  # what is given for it
        ("spring_free", "in"),  # the limit is blank: as the book gives lengths elsewhere
        ("proud_spread", "in"),  # a spread has the kind of its values
        ("spring_load_long", "lbf"),
        ("main_leak", "l/min"),  # nothing in the book: the workshop's
        ("ratio", ""),
    ],
)
def test_each_thing_has_the_unit_in_which_its_book_speaks_of_it(name: str, unit: str) -> None:
    assert book_unit(ENGINE, name).shown == unit


@pytest.mark.parametrize("folder", [V8, EXAMPLES / "tolvenny-1185"])
def test_a_metric_book_stays_metric_throughout(folder: object) -> None:
    engine = example(folder)[0]  # type: ignore[arg-type]
    assert not {book_unit(engine, name).shown for name in (*engine.characteristics, *engine.quantities)} & {"in", "psi"}


def test_a_flow_without_a_limit_yet_is_never_told_in_millimetres() -> None:
    leaks = [finding for finding in judge(ENGINE, EVIDENCE) if finding.on == "main_leak"]
    assert [finding.verdict for finding in leaks] == [Verdict.NO_LIMIT] * 4
    assert all(number(finding).endswith("l/min") for finding in leaks)


def test_a_limit_of_four_ten_thousandths_is_not_told_as_nought() -> None:
    [finding] = [f for f in judge(ENGINE, EVIDENCE) if (f.on, f.place) == ("small_end_clearance", "2")]
    assert limit_words(finding) == "at least 0.0004, at most 0.0015 in, page 33"


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("2.8505 in", "0.025 in less than its neighbours"),
        ("73.04 in", "Is it in millimetres?"),
        ("0.2876 in", "Its neighbours are near 2.8758 in. Is the decimal mark"),
    ],
)
def test_a_slip_with_an_inch_gauge_is_asked_about_in_inches(text: str, words: str) -> None:
    slipped = with_value(EVIDENCE, ("main_housing", "1", "-", "upright"), text)
    [finding] = [f for f in judge(ENGINE, slipped) if (f.on, f.place) == ("main_clearance", "1")]
    assert finding.verdict is Verdict.ODD_READING
    assert words in finding.reason


def test_half_a_millimetre_is_no_turn_of_an_inch_thimble() -> None:
    half = with_value(EVIDENCE, ("seat_inside", "2 exhaust", "-", "-"), f"{1.380 - 0.5 / 25.4:.4f} in")
    [finding] = [f for f in judge(ENGINE, half) if (f.on, f.place) == ("seat_width", "2 exhaust")]
    assert finding.verdict is not Verdict.ODD_READING


def test_the_box_shows_inches_and_a_bare_number_is_kept_as_inches() -> None:
    store, clock = MemoryStore(), lambda: "2026-05-03T10:00:00+00:00"
    names = {"engine": "engine.yaml", "gauges": "gauges.yaml", "readings": "readings.csv", "prices": "prices.yaml"}
    read = {name: (FERRY / file).read_bytes() for name, file in names.items()}
    assert open_job(store, clock, by="file", **read) == []
    page = TestClient(make_app(store, clock, solve_rows, make_paper))
    assert '<span class="unit">in</span>' in page.get("/measure/gudgeon_pin/1").text
    form = {"key": "k1", "spot": "-|-", "text": "1.2499", "gauge": "OUT-1", "by": "Ana"}
    assert page.post("/measure/gudgeon_pin/1", data=form).status_code == 200
    last = [event for entry in store.entries() if isinstance(event := from_body(entry.body), ReadingTaken)][-1]
    assert dataclasses.asdict(last)["text"] == "1.2499 in"
