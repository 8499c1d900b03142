"""The pages over the demonstration job, without a script."""

import re
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

import endfloat.examples
from endfloat.reports.papers import make_paper
from endfloat.solver.cp_sat import solve_rows
from endfloat.store.memory import MemoryStore
from endfloat.web.app import make_app
from endfloat.workshop.open_job import open_job

V8 = Path(endfloat.examples.__file__).parent / "wrenhallow-90-8"
FORM = {"spot": "10 mm|across", "key": "k1", "text": "86,0480", "gauge": "B2", "by": "Ana"}


def clock() -> str:
    return "2026-05-03T10:00:00Z"


@pytest.fixture
def store() -> MemoryStore:
    store = MemoryStore()
    files = {
        name: (V8 / file).read_bytes()
        for name, file in (("engine", "engine.yaml"), ("gauges", "gauges.yaml"), ("readings", "readings.csv"))
    }
    assert open_job(store, clock, by="as found", **files) == []
    return store


@pytest.fixture
def page(store: MemoryStore) -> TestClient:
    return TestClient(make_app(store, clock, solve_rows, make_paper))


def test_what_is_out_stands_first_and_every_link_leads_somewhere(page: TestClient) -> None:
    text = page.get("/").text
    first = re.search(r"<li>.*?</li>", text, re.S)
    assert first
    assert "Out of limits" in first.group()
    links = set(re.findall(r'href="(/(?:measure|number)[^"]+)"', text))
    assert len(links) > 50
    assert {page.get(link).status_code for link in links} == {200}


def test_a_reading_is_saved_as_typed_once_however_often_it_is_sent(page: TestClient, store: MemoryStore) -> None:
    before = len(store.entries())
    for _ in range(2):
        answer = page.post("/measure/bore_size/3", data=FORM)
        assert answer.status_code == 200
        assert "Saved: 86,0480" in answer.text
    assert len(store.entries()) == before + 1
    assert "86.0480 mm" in page.get("/measure/bore_size/3").text


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"text": "86,04 86,05"}, "Type one"),
        ({"text": ""}, "not measured"),
        ({"by": " "}, "Type a name"),
        ({"gauge": "B9"}, "Choose a gauge"),
        ({"spot": "99 mm|across"}, "choose it again"),
    ],
)
def test_a_refused_entry_says_why_keeps_what_was_typed_and_writes_nothing(
    page: TestClient, store: MemoryStore, change: dict[str, str], words: str
) -> None:
    before = store.entries()
    answer = page.post("/measure/bore_size/3", data={**FORM, **change})
    assert answer.status_code == 422
    assert words in answer.text
    assert f'value="{change.get("text", FORM["text"])}"' in answer.text
    assert store.entries() == before


def test_an_odd_reading_is_asked_about(page: TestClient) -> None:
    answer = page.post("/measure/bore_size/3", data={**FORM, "text": "8.604"})
    assert "Odd reading: please look" in answer.text
    assert "decimal mark" in answer.text


def test_an_unknown_place_is_a_sentence_with_a_way_on(page: TestClient) -> None:
    answer = page.get("/measure/bore_size/9")
    assert answer.status_code == 404
    assert 'href="/"' in answer.text


def test_a_number_opens_into_inputs_and_shares_without_the_shared_micrometer(page: TestClient) -> None:
    text = page.get("/number/piston_clearance/service/7").text
    assert "fits.diametral_clearance" in text
    assert "gauge B2" in text
    assert "gauge M1" not in text
    assert "Fewer than 1 chance in 100" in text
    shares = [float(share) for share in re.findall(r">([0-9.]+) %</td>", text)]
    assert abs(sum(shares) - 100) < 0.06 * len(shares)
