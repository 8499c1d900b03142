"""The pages over the demonstration job, without a script."""

import html
import re
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

import endfloat.examples
from endfloat.job.events import ReadingTaken
from endfloat.job.wire import from_body
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
        for name, file in (
            ("engine", "engine.yaml"),
            ("gauges", "gauges.yaml"),
            ("readings", "readings.csv"),
            ("prices", "prices.yaml"),
        )
    }
    assert open_job(store, clock, by="as found", **files) == []
    return store


@pytest.fixture
def page(store: MemoryStore) -> TestClient:
    return TestClient(make_app(store, clock, solve_rows, make_paper))


def test_the_next_thing_stands_first_with_its_link_and_every_link_leads_somewhere(page: TestClient) -> None:
    first = re.search(r'class="button" href="([^"]+)">(.*?)</a>', page.get("/").text, re.S)
    assert first
    assert first.group(2) == "Measure again: end float"
    assert first.group(1) == "/measure/end_float/engine"
    visited: dict[str, str] = {}
    waiting = ["/"]
    while waiting:
        link = waiting.pop().partition("#")[0]
        # Places of one sort share a page; a choice tried by hand is in the query, and there are thousands.
        sort = link.rpartition("/")[0] if link.startswith(("/number/", "/measure/")) else link
        if sort not in visited and not link.startswith(("/what-if?", "/agree?")):
            visited[sort] = link
            answer = page.get(link)
            assert answer.status_code == 200, link
            waiting += (
                []
                if link.endswith(".pdf")
                else re.findall(r'href="(/(?!font|engines|description)[^"]*)"', html.unescape(answer.text))
            )
    assert len([link for link in visited if link.startswith("/stage/")]) == 8
    assert {"/board", "/decide", "/sheets", "/number/bore_wear/service", "/measure/bore_size"} <= set(visited)


def test_every_finding_stands_once_on_the_laid_out_engine_and_once_in_the_table(page: TestClient) -> None:
    text = page.get("/board?show=Open").text
    drawing, _, table = text.partition("</svg></div>")
    drawn, listed = (re.findall(r'href="(/number/[^"]+)"', part) for part in (drawing, table))
    assert sorted(drawn) == sorted(listed)
    assert len(set(drawn)) == len(drawn) == 78


def test_a_reading_is_saved_as_typed_once_however_often_it_is_sent(page: TestClient, store: MemoryStore) -> None:
    before = len(store.entries())
    for _ in range(2):
        answer = page.post("/measure/bore_size/3", data=FORM)
        assert answer.status_code == 200
        assert "Saved: 86.0480 mm, 10 mm across." in answer.text
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
    assert "You typed 8.604 mm. Its neighbours are near 86.0" in answer.text
    assert "Keep it" in answer.text
    assert "Type it again" in answer.text


def test_an_unknown_place_is_a_sentence_with_a_way_on(page: TestClient) -> None:
    answer = page.get("/measure/bore_size/9")
    assert answer.status_code == 404
    assert 'href="/"' in answer.text


def test_a_number_opens_into_inputs_and_shares_without_the_shared_micrometer(page: TestClient) -> None:
    text = page.get("/number/piston_clearance/service/7").text
    assert "fits.diametral_clearance" in text
    shares_table = text.partition("What makes it uncertain")[2].partition("</table>")[0]
    assert "gauge B2" in shares_table
    assert "gauge M1" not in shares_table
    assert "Fewer than 1 chance in 100" in text
    shares = [float(share) for share in re.findall(r">([0-9.]+) %</td>", shares_table)]
    assert abs(sum(shares) - 100) < 0.06 * len(shares)
    assert "86.100 mm, 10 mm across, gauge B2, as found" in text


def test_any_reading_can_be_taken_back_with_a_reason(page: TestClient, store: MemoryStore) -> None:
    page.post("/measure/bore_size/3", data={**FORM, "text": "86.100"})
    shown = page.get("/measure/bore_size/3").text
    assert "Take a reading back" in shown
    assert "10 mm across: 86.100 mm" in html.unescape(shown)
    taken = {"reading": "k1", "reason": "read at cylinder 4", "by": "Ana"}
    assert "86.100 mm" not in page.post("/measure/bore_size/3/withdraw", data=taken).text
    assert page.post("/measure/bore_size/3/withdraw", data={**taken, "reading": "nothing"}).status_code == 422


def test_entries_delivered_twice_and_in_another_order_each_count_once(page: TestClient, store: MemoryStore) -> None:
    sent = [{**FORM, "key": f"k{number}", "text": f"86.04{number}"} for number in range(5)]
    for number in (3, 0, 3, 4, 1, 0, 2, 4, 2):
        assert page.post("/measure/bore_size/3", data=sent[number]).status_code == 200
    events = [from_body(entry.body) for entry in store.entries()]
    taken = [event.key for event in events if isinstance(event, ReadingTaken) and event.by == "Ana"]
    assert taken == ["k3", "k0", "k4", "k1", "k2"]
    # The same key with another reading is no re-sending: it is refused and said.
    assert page.post("/measure/bore_size/3", data={**sent[0], "text": "86.099"}).status_code == 422


def test_a_refusal_names_the_place_as_every_page_does(page: TestClient, store: MemoryStore) -> None:
    entries = store.entries()
    answer = page.post("/measure/bore_size/7", data={**FORM, "text": "much"})
    assert answer.status_code == 422
    assert "Right 7, bore size: found `much`" in answer.text
    nothing = page.post("/measure/bore_size/7", data={**FORM, "gauge": ""})
    assert "Right 7, bore size: found nothing; expected one of" in html.unescape(nothing.text)
    left = page.post("/measure/bore_size/7/leave", data={"key": "k", "by": "Ana"})
    assert "Right 7, bore size: found nothing; expected one of" in left.text
    assert store.entries() == entries


def test_a_face_says_which_distance_is_along_and_which_across(page: TestClient) -> None:
    text = page.get("/measure/face_flatness/left").text
    assert "Along 10 mm, across 75 mm" in text or "along 10 mm, across 75 mm" in text
    assert ">along 105 mm<" in text
    assert ">across 75 mm<" in text
    assert "10 mm 10 mm" not in text
    assert "10 mm across" in page.get("/measure/bore_size/7").text
