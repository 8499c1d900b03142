"""Readings that stand and no longer count: work came back, or the gauge had moved."""

from pathlib import Path

import pytest
from fastapi.testclient import TestClient

import endfloat.examples
from endfloat.decision.plan import Plan
from endfloat.inspection.judge import Finding
from endfloat.reports.papers import make_paper
from endfloat.solver.cp_sat import solve_rows
from endfloat.store.memory import MemoryStore
from endfloat.web.app import make_app
from endfloat.workshop.build_record import build_record
from endfloat.workshop.check_gauge import check_gauge
from endfloat.workshop.open_job import open_job
from endfloat.workshop.plan_work import Planned, agree, tried, withdraw, work_out
from endfloat.workshop.record import load
from endfloat.workshop.revise_description import revise_description
from endfloat.workshop.sheets import customer_page, machine_shop_sheets, work_agreed
from endfloat.workshop.take_reading import take_reading
from endfloat.workshop.take_work_back import not_back_after_all, take_work_back
from endfloat.workshop.view import View, view

V8 = Path(endfloat.examples.__file__).parent / "wrenhallow-90-8"
FILES = {"engine": "engine.yaml", "gauges": "gauges.yaml", "readings": "readings.csv", "prices": "prices.yaml"}


def clock() -> str:
    return "2026-05-03T10:00:00Z"


@pytest.fixture
def store() -> MemoryStore:
    store = MemoryStore()
    files = {name: (V8 / file).read_bytes() for name, file in FILES.items()}
    assert open_job(store, clock, by="as found", **files) == []
    return store


def seen(store: MemoryStore) -> View:
    return view(load(store)[0])


def finding(store: MemoryStore, on: str, place: str) -> Finding:
    return next(f for f in seen(store).findings if (f.on, f.place) == (on, place))


def agreed(store: MemoryStore) -> dict[str, str]:
    planned = work_out(seen(store), solve_rows)
    assert isinstance(planned, Planned)
    choice = planned.plan.choice
    assert agree(store, clock, solve_rows, choice=choice, evidence=seen(store).evidence_hash, by="Ana") is None
    return dict(choice)


def measure(store: MemoryStore, characteristic: str, place: str, text: str, gauge: str) -> None:
    described = seen(store).engine.characteristics[characteristic]
    for station in described.stations:
        for axis in described.axes:
            spot, key = (characteristic, place, station, axis), f"new {characteristic} {place} {station} {axis}"
            assert take_reading(store, clock, key=key, spot=spot, text=text, gauge=gauge, by="Ana") is None


def test_what_came_back_from_the_machine_shop_is_measured_again_and_judged_on_the_new_sizes(store: MemoryStore) -> None:
    agreed(store)
    assert finding(store, "bore_wear", "7").verdict.code == "out"
    assert take_work_back(store, clock, key="back", decision="bore_set", by="Ana") is None
    assert finding(store, "bore_wear", "7").verdict.code == "outdated"
    assert "measure again" in finding(store, "bore_wear", "7").reason
    measure(store, "bore_size", "7", "86.252 mm", "B2")
    after = finding(store, "bore_wear", "7")
    assert after.estimate is not None
    assert after.estimate.value == pytest.approx(0.002e-3)
    assert after.verdict.code == "good"
    # The others wait; a part that was not machined keeps its readings.
    assert finding(store, "bore_wear", "6").verdict.code == "outdated"
    assert finding(store, "main_wear", "2").verdict.code == "good"


def test_an_old_reading_is_never_averaged_with_a_new_one(store: MemoryStore) -> None:
    agreed(store)
    assert take_work_back(store, clock, key="back", decision="bore_set", by="Ana") is None
    measure(store, "bore_size", "7", "86.252 mm", "B2")
    taken = seen(store).readings_at("bore_size", "7")
    assert [len(column) for column in taken.values()] == [1] * 6
    assert len(seen(store).state.standing) - len(seen(store).current) == len(seen(store).aside) == 48


def test_the_plan_stands_after_work_came_back_and_its_sheet_no_longer_asks_for_it(store: MemoryStore) -> None:
    choice = agreed(store)
    before = tried(seen(store), choice)
    assert take_work_back(store, clock, key="back", decision="bore_set", by="Ana") is None
    after = tried(seen(store), choice)
    assert isinstance(before, Plan)
    assert isinstance(after, Plan)
    assert after.cost == before.cost
    assert not after.out
    parts = {sheet["part"] for sheet in machine_shop_sheets(seen(store), after)}
    assert "block" not in parts
    assert "crank" in parts
    assert work_agreed(seen(store))["bore_set"][1] is not None


def test_work_is_back_once_only_from_an_agreed_plan_and_under_a_name(store: MemoryStore) -> None:
    nothing = take_work_back(store, clock, key="x", decision="bore_set", by="Ana")
    assert nothing is not None
    assert nothing.code == "not_agreed"
    choice = agreed(store)
    assert choice["mains"] == "as_is"
    left = take_work_back(store, clock, key="x", decision="mains", by="Ana")
    assert left is not None
    assert left.code == "not_agreed"
    nobody = take_work_back(store, clock, key="x", decision="bore_set", by=" ")
    assert nobody is not None
    assert nobody.code == "no_name"
    count = len(store.entries())
    assert take_work_back(store, clock, key="x", decision="bore_set", by="Ana") is None
    assert take_work_back(store, clock, key="x", decision="bore_set", by="Ana") is None
    assert len(store.entries()) == count + 1
    twice = take_work_back(store, clock, key="y", decision="bore_set", by="Ana")
    assert twice is not None
    assert twice.code == "already_back"


def test_work_that_is_not_back_after_all_lets_its_readings_count_again(store: MemoryStore) -> None:
    agreed(store)
    before = finding(store, "bore_wear", "7")
    assert take_work_back(store, clock, key="back", decision="bore_set", by="Ana") is None
    held = withdraw(store, clock, by="Ana")
    assert held is not None
    assert held.code == "work_is_back"
    silent = not_back_after_all(store, clock, key="no", decision="bore_set", reason=" ", by="Ana")
    assert silent is not None
    assert silent.code == "no_reason"
    for _ in range(2):
        assert not_back_after_all(store, clock, key="no", decision="bore_set", reason="the crank", by="Bo") is None
    assert finding(store, "bore_wear", "7") == before
    assert withdraw(store, clock, by="Ana") is None


def test_a_gauge_that_is_off_takes_no_reading_until_a_check_is_good(store: MemoryStore) -> None:
    spot = ("bore_size", "3", "10 mm", "across")
    assert check_gauge(store, clock, key="c", gauge="B2", set_to="86.000", shows="86.010", by="Ana") is None
    refused = take_reading(store, clock, key="r", spot=spot, text="86.050", gauge="B2", by="Ana")
    assert refused is not None
    assert refused.code == "gauge_off"
    assert check_gauge(store, clock, key="d", gauge="B2", set_to="86.000", shows="86.000", by="Ana") is None
    assert take_reading(store, clock, key="r", spot=spot, text="86.050", gauge="B2", by="Ana") is None


def test_a_gauge_that_moved_sets_aside_what_it_read_since_its_last_good_check(store: MemoryStore) -> None:
    assert check_gauge(store, clock, key="c1", gauge="B2", set_to="86.000", shows="86,001", by="Ana") is None
    assert finding(store, "bore_wear", "7").verdict.code == "out"
    again = ("bore_size", "3", "10 mm", "across")
    assert take_reading(store, clock, key="later", spot=again, text="86.050", gauge="B2", by="Ana") is None
    assert check_gauge(store, clock, key="c2", gauge="B2", set_to="86.000", shows="86.006", by="Ana") is None
    assert list(seen(store).aside) == ["later"]
    assert finding(store, "bore_wear", "7").verdict.code == "out"


def test_a_first_check_that_is_off_sets_aside_everything_read_with_that_gauge(store: MemoryStore) -> None:
    assert check_gauge(store, clock, key="c2", gauge="B2", set_to="86.000", shows="86.003", by="Ana") is None
    assert finding(store, "bore_wear", "7").verdict.code == "check_zero"
    assert "86.003 mm on 86.000 mm" in finding(store, "bore_wear", "7").reason
    assert check_gauge(store, clock, key="c3", gauge="B2", set_to="86.000", shows="86.000", by="Ana") is None
    measure(store, "bore_size", "7", "86.100 mm", "B2")
    assert finding(store, "bore_wear", "7").verdict.code == "out"


def test_two_steps_off_is_still_good_and_bad_input_writes_nothing(store: MemoryStore) -> None:
    assert check_gauge(store, clock, key="c", gauge="B2", set_to="86.000", shows="86.002", by="Ana") is None
    assert seen(store).aside == {}
    count = len(store.entries())
    codes = []
    for gauge, shows, by in (("B9", "86", "Ana"), ("B2", "", "Ana"), ("B2", "3 bar", "Ana"), ("B2", "86", "")):
        problem = check_gauge(store, clock, key=f"{gauge}{shows}{by}", gauge=gauge, set_to="86", shows=shows, by=by)
        assert problem is not None
        codes.append(problem.code)
    assert codes == ["unknown_gauge", "empty", "wrong_unit", "no_name"]
    assert len(store.entries()) == count


def test_a_description_cannot_lose_work_that_came_back_or_a_gauge_that_was_checked(store: MemoryStore) -> None:
    agreed(store)
    assert take_work_back(store, clock, key="back", decision="bore_set", by="Ana") is None
    assert check_gauge(store, clock, key="c", gauge="W1", set_to="40 N·m", shows="40 N·m", by="Ana") is None
    files = {name: (V8 / FILES[name]).read_bytes() for name in ("engine", "gauges", "prices")}
    files["engine"] = files["engine"].replace(b"rebore_025", b"rebore_0250")
    files["prices"] = files["prices"].replace(b"rebore_025", b"rebore_0250")
    files["gauges"] = files["gauges"].replace(b"W1:", b"W7:")
    problems = revise_description(store, clock, by="Ana", **files)
    assert [problem.code for problem in problems] == ["work_lost", "gauge_lost"]


def test_the_record_tells_checks_work_back_and_what_no_longer_counts(store: MemoryStore) -> None:
    agreed(store)
    assert take_work_back(store, clock, key="back", decision="pins", by="Ana") is None
    assert check_gauge(store, clock, key="c", gauge="B2", set_to="86.000", shows="86.010", by="Ana") is None
    values = build_record(seen(store), store.entries())
    before, now = ({row[0]: row for row in values[name]} for name in ("before", "rows"))  # type: ignore[attr-defined]
    assert before["Pin 3, pin wear"][1:] == ["0.052 ± 0.007 mm", "at most 0.030", "50", "Out of limits."]
    assert now["Pin 3, pin wear"][1] == "not known"
    assert values["checks"] == ["B2 on 86.000 mm: showed 86.010 mm, 2026-05-03, Ana"]
    assert any("back, says Ana, 2026-05-03" in line for line in values["plan"])  # type: ignore[attr-defined]
    assert len(values["aside"]) > 48  # type: ignore[arg-type]
    assert make_paper("build-record", values).startswith(b"%PDF")


def test_the_pages_ask_what_has_come_back_and_whether_the_gauge_still_shows_what_it_should(store: MemoryStore) -> None:
    page = TestClient(make_app(store, clock, solve_rows, make_paper))
    agreed(store)
    listed = page.get("/sheets").text
    assert "What has come back?" in listed
    form = {"decision": "bore_set", "key": "k", "by": "Ana"}
    assert "Back, says Ana, 2026-05-03" in page.post("/sheets/back", data=form).text
    assert page.post("/sheets/back", data={**form, "key": "k2"}).status_code == 422
    assert "Measured before the last machining" in page.get("/measure/bore_size/7").text
    assert "not checked in this job" in page.get("/gauges").text
    check = {"key": "g", "gauge": "M2", "set_to": "50.000", "shows": "50.1", "by": "Ana"}
    assert "Off: set it." in page.post("/gauges", data=check).text
    wrong = page.post("/gauges", data={**check, "key": "h", "shows": "about 50"})
    assert wrong.status_code == 422
    assert 'value="about 50"' in wrong.text


def test_the_papers_name_the_work_in_the_order_of_the_description(store: MemoryStore) -> None:
    agreed(store)
    titles = [title for title, _ in work_agreed(seen(store)).values()]
    assert titles.index("straighten the left head") < titles.index("skim the left head 0.25")
    assert titles.index("skim the right head 0.25") < titles.index("take 0.231 from both intake faces")
    assert [row["title"] for row in customer_page(seen(store))["rows"]] == titles  # type: ignore[attr-defined]


def test_the_customers_page_says_what_was_agreed_and_why_though_readings_change(store: MemoryStore) -> None:
    agreed(store)
    page = customer_page(seen(store))
    assert page["price"] == "2,675 crowns"
    void = page["void"]
    assert isinstance(void, dict)
    assert (void["price"], void["together"]) == ("301 crowns", "2,976 crowns")
    assert "eight flywheel bolts" in void["what"]
    assert page["open"] == ["End float"], (
        "too close to call: the price may change, as the page that asks for a yes says"
    )
    reasons = {row["title"]: row["why"] for row in page["rows"]}  # type: ignore[attr-defined]
    assert reasons["grind all pins to 51.733"].startswith("Pin 3, pin wear 0.052")
    assert take_work_back(store, clock, key="back", decision="pins", by="Ana") is None
    assert customer_page(seen(store)) == page
    record = seen(store).state.agreed
    assert record is not None
    assert record.status == "shown to be cheapest"


def test_a_slip_that_was_typed_does_not_wait_again_when_its_part_came_back() -> None:
    store = MemoryStore()
    files = {name: (V8 / file).read_bytes() for name, file in {**FILES, "slip": "slip.csv"}.items()}
    assert open_job(store, clock, by="as found", **files) == []
    for number, waiting in enumerate(seen(store).slip):
        text = "86.084 mm" if waiting.typed.text == "8.6084 mm" else waiting.typed.text
        spot, key = waiting.spot, f"slip {number}"
        assert take_reading(store, clock, key=key, spot=spot, text=text, gauge=waiting.gauge, by="Ana") is None
    assert seen(store).slip == ()
    agreed(store)
    assert take_work_back(store, clock, key="back", decision="bore_set", by="Ana") is None
    assert seen(store).slip == ()
