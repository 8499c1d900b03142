"""The front of the bench: the demonstration, an engine of one's own in five minutes, and ten readings judged."""

import re
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from cast import V8
from endfloat.cli.start import lay_out
from endfloat.reports.papers import make_paper
from endfloat.solver.cp_sat import solve_rows
from endfloat.store.jobs_folder import JobsFolder, key_of
from endfloat.web.app import make_app
from endfloat.web.front import Front
from endfloat.workshop.new_engine import QUESTIONS, new_engine

ANSWERS = {
    "name": "Our pump",
    "layout": "in-line three",
    "cylinders": "3",
    "banks": "",
    "bore": "72,00",
    "bore_limit": "0.10 mm",
    "bore_page": "31",
    "mains": "4",
    "main": "44.000 mm",
    "main_limit": "0.03 mm",
    "main_page": "33",
    "pins": "3",
    "pin": "38.000",
    "pin_limit": "",
    "pin_page": "",
    "micrometer": "0.004 mm",
    "bore_gauge": "0.002 mm",
}


def clock() -> str:
    return "2026-05-03T10:00:00Z"


@pytest.fixture
def jobs(tmp_path: Path) -> JobsFolder:
    return JobsFolder(tmp_path / "jobs")


@pytest.fixture
def page(jobs: JobsFolder) -> TestClient:
    lay_out(jobs, V8)
    return TestClient(Front(jobs, clock, lambda store: make_app(store, clock, solve_rows, make_paper), key_of, V8.name))


def test_a_browser_that_has_no_job_open_is_asked_whose_engine(page: TestClient) -> None:
    answer = page.get("/")
    assert answer.url.path == "/engines"
    assert "Whose engine?" in answer.text
    assert page.get("/static/style.css").status_code == 200
    assert "Wrenhallow" in page.get(f"/engines/{V8.name}").text


def test_an_engine_of_ones_own_is_begun_and_ten_readings_are_judged(page: TestClient, jobs: JobsFolder) -> None:
    answer = page.post("/new", data=ANSWERS)
    assert answer.url.path == "/"
    assert "Our pump" in answer.text
    spots = [(f"{station}|{axis}") for station in ("top", "middle", "bottom") for axis in ("across", "along")]
    for number, spot in enumerate(spots):
        form = {"spot": spot, "key": f"k{number}", "text": "72.14", "gauge": "B1", "by": "Ana"}
        assert page.post("/measure/bore_size/2", data=form).status_code == 200
    for number, spot in enumerate(["front|vertical", "front|level", "rear|vertical", "rear|level"]):
        form = {"spot": spot, "key": f"m{number}", "text": "43.99", "gauge": "M1", "by": "Ana"}
        assert page.post("/measure/main_journal/1", data=form).status_code == 200
    assert "Out of limits" in page.get("/").text
    assert "Good" in page.get("/board").text
    assert (Path(jobs.where("our-pump")) / "engine.yaml").exists()


def test_what_was_left_blank_is_listed_and_read_again_from_the_file(page: TestClient, jobs: JobsFolder) -> None:
    page.post("/new", data=ANSWERS)
    assert "pin_wear, service limit" in page.get("/description").text
    path = Path(jobs.where("our-pump")) / "engine.yaml"
    path.write_text(
        path.read_text().replace("high: null", "high: 0.02 mm").replace("difference}", "difference, page: 35}")
    )
    answer = page.post("/description", data={"by": "Ana"})
    assert "Read again. Saved." in answer.text
    assert "0 numbers still to look up" in answer.text


def test_a_file_that_would_lose_a_reading_is_refused_and_changes_nothing(page: TestClient, jobs: JobsFolder) -> None:
    page.post("/new", data=ANSWERS)
    form = {"spot": "top|across", "key": "k", "text": "72.01", "gauge": "B1", "by": "Ana"}
    page.post("/measure/bore_size/2", data=form)
    path = Path(jobs.where("our-pump")) / "engine.yaml"
    path.write_text(path.read_text().replace("[top, middle, bottom]", "[middle, bottom]"))
    before = jobs.store("our-pump").entries()
    answer = page.post("/description", data={"by": "Ana"})
    assert answer.status_code == 422
    assert "would lose its place" in answer.text
    path.write_text("name: x\n")
    assert page.post("/description", data={"by": "Ana"}).status_code == 422
    assert jobs.store("our-pump").entries() == before


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"name": ""}, "Type it"),
        ({"cylinders": "three"}, "a whole number"),
        ({"cylinders": "400"}, "a whole number"),
        ({"bore": "72 N·m"}, "torque, not length"),
        ({"bore_page": ""}, "without a page"),
        ({"banks": "left, right"}, "as many cylinders on each"),
        ({"name": "a: [b"}, "Leave the signs out"),
        ({"bore": "-72.00"}, "more than nought"),
        ({"micrometer": "-0.004 mm"}, "more than nought"),
        ({"bore_limit": "72.10"}, "the wear alone, the difference from new"),
        ({"main_limit": "43.97 mm"}, "Take it from the size when new, 44.000 mm"),
        ({"bore_limit": "2.838 in"}, "the wear alone, the difference from new"),
        ({"cylinders": "4", "banks": "left, left"}, "each bank by its own name"),
    ],
)
def test_a_wrong_answer_is_said_and_kept_and_nothing_is_made(
    page: TestClient, jobs: JobsFolder, change: dict[str, str], words: str
) -> None:
    before = jobs.names()
    answer = page.post("/new", data={**ANSWERS, **change})
    assert answer.status_code == 422
    assert words in answer.text
    assert 'value="44.000 mm"' in answer.text
    assert jobs.names() == before


def test_a_description_that_does_not_read_well_leaves_no_record_behind(
    page: TestClient, jobs: JobsFolder, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("endfloat.web.front.new_engine", lambda answers: ("name: [\n", "M1: {}\n"))
    before = jobs.names()
    assert page.post("/new", data=ANSWERS).status_code == 422
    assert jobs.names() == before


def test_one_record_that_cannot_be_read_is_named_and_the_other_engines_still_open(
    page: TestClient, jobs: JobsFolder
) -> None:
    jobs.store("half-made")
    answer = page.get("/engines")
    assert answer.status_code == 200
    assert "This record holds no opened job." in answer.text
    assert 'href="/engines/half-made"' not in answer.text
    assert f'href="/engines/{V8.name}"' in answer.text


def test_a_name_that_is_there_already_is_refused(page: TestClient) -> None:
    page.post("/new", data=ANSWERS)
    answer = page.post("/new", data=ANSWERS)
    assert answer.status_code == 422
    assert "a new name" in answer.text


def test_a_made_up_job_name_opens_nothing(page: TestClient, tmp_path: Path) -> None:
    page.cookies.set("job", "../../elsewhere")
    assert page.get("/").url.path == "/engines"
    assert not (tmp_path / "elsewhere").exists()


def test_every_question_has_a_place_in_the_file() -> None:
    texts = new_engine({**ANSWERS, "pin_limit": "0.025 mm", "pin_page": "36"})
    assert isinstance(texts, tuple)
    whole = "\n".join(texts)
    for asked in QUESTIONS:
        answer = {**ANSWERS, "pin_limit": "0.025", "pin_page": "36"}[asked.key]
        if answer and asked.sort in ("length", "page"):
            assert re.sub("[ m,]", "", answer.replace(",", ".")).rstrip("m") in whole


def test_a_page_of_one_engine_writes_nothing_into_another_that_was_opened_since(
    page: TestClient, jobs: JobsFolder
) -> None:
    page.post("/new", data={**ANSWERS, "name": "Ours"})
    page.post("/new", data={**ANSWERS, "name": "Theirs"})
    page.get("/engines/ours")
    mark = re.findall(r'name="job" value="(\w+)"', page.get("/measure/bore_size/2").text)[0]
    form = {"spot": "top|across", "key": "k", "text": "72.01", "gauge": "B1", "by": "Ana", "job": mark}
    page.get("/engines/theirs")
    before = jobs.store("theirs").entries()
    answer = page.post("/measure/bore_size/2", data=form)
    assert answer.status_code == 409
    assert "open in this browser is now Theirs. Nothing was written." in answer.text
    assert jobs.store("theirs").entries() == before
    page.get("/engines/ours")
    assert "Saved: 72.01 mm" in page.post("/measure/bore_size/2", data=form).text


def test_every_form_of_a_job_says_which_job_it_is_of(page: TestClient) -> None:
    page.get(f"/engines/{V8.name}")
    for link in ("/measure/bore_size/7", "/gauges", "/build", "/joint/left_head", "/agree"):
        text = page.get(link).text
        assert text.count('method="post"') == text.count('name="job"') > 0, link


def test_what_is_sent_while_no_engine_is_open_is_refused_and_not_swallowed(page: TestClient) -> None:
    answer = page.post("/measure/bore_size/7", data={"text": "86.100"})
    assert answer.status_code == 409
    assert "No engine is open in this browser. Nothing was written." in answer.text
