"""The papers of an agreed plan: what the machine shop, the supplier and the customer are told."""

import io
from pathlib import Path

import pypdf
import pytest
from fastapi.testclient import TestClient

import endfloat.examples
from endfloat.decision.plan import Plan
from endfloat.reports.papers import make_paper
from endfloat.solver.cp_sat import solve_rows
from endfloat.store.memory import MemoryStore
from endfloat.web.app import make_app
from endfloat.workshop.open_job import open_job
from endfloat.workshop.plan_work import Planned, agree, work_out
from endfloat.workshop.record import load
from endfloat.workshop.sheets import machine_shop_sheets, purchases
from endfloat.workshop.view import View, view

V8 = Path(endfloat.examples.__file__).parent / "wrenhallow-90-8"
FILES = {"engine": "engine.yaml", "gauges": "gauges.yaml", "readings": "readings.csv", "prices": "prices.yaml"}


def clock() -> str:
    return "2026-05-03T10:00:00Z"


@pytest.fixture(scope="module")
def store() -> MemoryStore:
    store = MemoryStore()
    assert (
        open_job(store, clock, by="as found", **{name: (V8 / file).read_bytes() for name, file in FILES.items()}) == []
    )
    planned = work_out(view(load(store)[0]), solve_rows)
    assert isinstance(planned, Planned)
    evidence = view(load(store)[0]).evidence_hash
    assert agree(store, clock, solve_rows, choice=planned.plan.choice, evidence=evidence, by="Ana") is None
    return store


@pytest.fixture(scope="module")
def agreed(store: MemoryStore) -> tuple[View, Plan]:
    seen = view(load(store)[0])
    planned = work_out(seen, solve_rows)
    assert isinstance(planned, Planned)
    return seen, planned.plan


def items(agreed: tuple[View, Plan]) -> dict[str, dict[str, object]]:
    sheets = machine_shop_sheets(*agreed)
    return {str(item["title"]): item for sheet in sheets for item in sheet["items"]}  # type: ignore[attr-defined]


def test_the_most_that_may_come_off_reaches_the_finished_size_with_its_tolerance(agreed: tuple[View, Plan]) -> None:
    told = items(agreed)
    assert told["skim the left head 0.25"]["most"] == "0.26 mm"
    assert told["take 0.231 from both intake faces"]["most"] == "0.251 mm"
    assert told["grind all pins to 51.733"]["most"] == "0.255 mm"
    assert told["straighten the left head"]["most"] == "as little as the work needs"


def test_a_form_is_asked_for_as_at_most_and_a_size_with_its_tolerance(agreed: tuple[View, Plan]) -> None:
    told = {size["what"]: size for size in items(agreed)["skim the left head 0.25"]["sizes"]}  # type: ignore[attr-defined]
    assert told["face flatness"]["finished"] == "at most 0.020 mm"
    assert told["head skim"]["finished"] == "0.25 ± 0.01 mm"
    [bores] = items(agreed)["rebore all eight to 86.25"]["sizes"]  # type: ignore[misc]
    assert bores["finished"] == "86.250 ± 0.008 mm"
    assert bores["places"] == [f"{bank} {n}" for n, bank in enumerate(["left"] * 4 + ["right"] * 4, start=1)]


def test_purchases_add_up_and_the_slowest_stands_first(agreed: tuple[View, Plan]) -> None:
    listed = purchases(*agreed)
    rows = listed["rows"]
    assert next(row["title"] for row in rows).startswith("eight pistons 0.25")  # type: ignore[attr-defined]
    assert [int(row["days"]) for row in rows] == sorted((int(row["days"]) for row in rows), reverse=True)  # type: ignore[attr-defined]
    prices = [int(row["price"].removesuffix(" crowns").replace(",", "")) for row in rows]  # type: ignore[attr-defined]
    assert listed["total"] == f"{sum(prices):,} crowns"


@pytest.mark.parametrize("kind", ["machine-shop-sheet", "purchases", "customer-page", "numbers-to-look-up"])
def test_every_paper_names_an_invented_engine_its_day_and_the_mark_of_its_record(store: MemoryStore, kind: str) -> None:
    page = TestClient(make_app(store, clock, solve_rows, make_paper))
    reader = pypdf.PdfReader(io.BytesIO(page.get(f"/sheets/{kind}.pdf").content))
    text = " ".join(" ".join(each.extract_text().split()) for each in reader.pages)
    assert "Wrenhallow 90-8 (invented)" in text
    assert "2026-05-03" in text
    assert store.entries()[-1].fingerprint[:16] in text
