"""The front of the bench: the demonstration, an engine of one's own in five minutes, and ten readings judged."""

import hashlib
import html
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
import typer
from fastapi.testclient import TestClient
from httpx2 import Response
from throwaway_postgres import ThrowawayPostgres

from cast import V8
from endfloat.cli.start import lay_out
from endfloat.reports.papers import make_paper
from endfloat.solver.cp_sat import solve_rows
from endfloat.store.jobs_folder import JobsFolder, key_of
from endfloat.store.postgres import PostgresJobs, open_jobs
from endfloat.web.app import make_app
from endfloat.web.front import Front
from endfloat.workshop.new_engine import QUESTIONS, new_engine
from endfloat.workshop.ports import Jobs
from pictures import small_picture

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
    return TestClient(front(jobs))


def front(jobs: Jobs) -> Front:
    return Front(
        jobs, clock, lambda store, photos: make_app(store, clock, solve_rows, make_paper, photos), key_of, V8.name
    )


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


def test_a_description_that_was_refused_leaves_no_job_in_the_folder(jobs: JobsFolder, tmp_path: Path) -> None:
    for name in ("engine.yaml", "gauges.yaml"):
        (tmp_path / name).write_text("name: x\n")
    with pytest.raises(typer.Exit):
        lay_out(jobs, tmp_path)
    assert jobs.names() == []
    assert not Path(jobs.where("")).exists()


def test_a_job_that_cannot_be_read_is_told_and_keeps_nobody_from_the_others(page: TestClient, jobs: JobsFolder) -> None:
    page.post("/new", data=ANSWERS)
    record = Path(jobs.where("spoilt")) / "job.sqlite"
    record.parent.mkdir()
    record.write_bytes(b"spoilt" * 1000)
    shown = page.get("/engines").text
    assert "Our pump" in shown
    assert "spoilt" in shown
    assert 'href="/engines/spoilt"' not in shown
    answer = page.get("/engines/spoilt")
    assert answer.status_code == 503
    assert "Take your last copy" in answer.text


@pytest.fixture
def in_database(database: str) -> Iterator[tuple[PostgresJobs, TestClient]]:
    """The jobs of a database, and the pages of a bench on them."""
    with open_jobs(database) as jobs:
        yield jobs, TestClient(front(jobs))


def test_a_bench_on_a_database_begins_an_engine_and_takes_a_reading(
    in_database: tuple[PostgresJobs, TestClient],
) -> None:
    jobs, page = in_database
    page.post("/new", data=ANSWERS)
    form = {"spot": "top|across", "key": "k", "text": "72.14", "gauge": "B1", "by": "Ana"}
    assert "Saved: 72.14 mm" in page.post("/measure/bore_size/2", data=form).text
    assert jobs.names() == ["our-pump"]
    assert "Our pump" in page.get("/engines").text


def test_a_file_is_taken_along_changed_and_handed_in_and_kept_once_it_reads_well(
    in_database: tuple[PostgresJobs, TestClient],
) -> None:
    jobs, page = in_database
    page.post("/new", data=ANSWERS)
    shown = page.get("/description").text
    assert "our-pump in the database shop" in shown
    assert "/description/prices.yaml" not in shown
    taken = page.get("/description/engine.yaml")
    assert taken.headers["content-disposition"] == "attachment"
    changed = taken.text.replace("high: null", "high: 0.02 mm").replace("difference}", "difference, page: 35}")

    def hand_in(content: str) -> Response:
        return page.post("/description", data={"by": "Ana"}, files={"engine.yaml": ("pump (1).yaml", content)})

    refused = hand_in("name: x\n")
    assert refused.status_code == 422
    assert "Nothing was changed." in refused.text
    assert jobs.read("our-pump", "engine.yaml") == taken.content
    answer = hand_in(changed)
    assert "Read again. Saved." in answer.text
    assert "0 numbers still to look up" in answer.text
    assert jobs.read("our-pump", "engine.yaml") == changed.encode()


def test_only_the_files_of_a_description_are_handed_out_and_only_to_a_bench_with_a_job_open(
    page: TestClient, jobs: JobsFolder
) -> None:
    assert page.get("/description/engine.yaml").url.path == "/engines"
    page.get(f"/engines/{V8.name}")
    assert page.get("/description/engine.yaml").content == jobs.read(V8.name, "engine.yaml")
    assert page.get("/description/job.sqlite").url.path == "/description"


def test_a_database_that_falls_silent_is_a_page_with_a_sentence_and_goes_on_when_it_is_back(
    postgres: ThrowawayPostgres, in_database: tuple[PostgresJobs, TestClient]
) -> None:
    _, page = in_database
    page.post("/new", data=ANSWERS)
    assert page.get("/").status_code == 200
    postgres.kill()
    try:
        answers = [page.get("/"), page.get("/engines"), page.post("/new", data={**ANSWERS, "name": "Other"})]
    finally:
        postgres.start()
    for answer in answers:
        assert answer.status_code == 503
        assert "The database shop on" in answer.text
        assert "Nothing that was saved is lost." in answer.text
        assert answer.headers["content-security-policy"].startswith("default-src 'none'")
    assert "Our pump" in page.get("/").text


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
    [agree] = set(re.findall(r'href="(/agree\?[^"]+)"', page.get("/decide").text))
    for link in ("/measure/bore_size/7", "/gauges", "/build", "/joint/left_head", html.unescape(agree)):
        text = page.get(link).text
        assert text.count('method="post"') == text.count('name="job"') > 0, link


def test_what_is_sent_while_no_engine_is_open_is_refused_and_not_swallowed(page: TestClient) -> None:
    answer = page.post("/measure/bore_size/7", data={"text": "86.100"})
    assert answer.status_code == 409
    assert "No engine is open in this browser. Nothing was written." in answer.text


def test_the_front_too_answers_what_it_cannot_read_with_a_page(page: TestClient) -> None:
    for answer in (page.get("/engines/a/b"), page.post("/engines")):
        assert answer.status_code in (404, 405)
        assert "<h1>Stopped</h1>" in answer.text


def test_a_photograph_lies_beside_the_record_and_one_that_was_changed_is_no_longer_shown(
    page: TestClient, jobs: JobsFolder
) -> None:
    page.get(f"/engines/{V8.name}")
    picture = small_picture("JPEG")
    files = {"photo": ("IMG_1.JPG", picture)}
    assert page.post("/strip/manifold/photo", data={"key": "p", "by": "Ana"}, files=files).status_code == 200
    [kept] = (Path(jobs.where(V8.name)) / "photos").iterdir()
    assert (kept.name, kept.read_bytes()) == (f"{hashlib.sha256(picture).hexdigest()}.jpg", picture)
    assert page.get(f"/strip/photo/{kept.stem}").content == picture
    kept.write_bytes(picture + b"!")
    assert page.get(f"/strip/photo/{kept.stem}").status_code == 404
