"""After the first fire: the run-in, what is looked at again, and the engine as found beside the engine now."""

from __future__ import annotations

from typing import Annotated

from fastapi import FastAPI, Form, Request
from fastapi.responses import HTMLResponse, Response
from markupsafe import Markup

from endfloat.drawings.beside import beside, ends_of
from endfloat.inspection.offered import offered
from endfloat.problems import Problem
from endfloat.web.desk import Desk
from endfloat.web.pages.prove import prove_page, see_other
from endfloat.workshop import prove
from endfloat.workshop.compared import Beside, compared_rows, spot_options
from endfloat.workshop.proving import Proved, proved
from endfloat.workshop.view import View

Word = Annotated[str, Form()]


def add_after_pages(app: FastAPI, desk: Desk) -> None:
    """The routes of run-in, re-check and comparison."""
    _add_run_in(app, desk)
    _add_compare(app, desk)


def _add_run_in(app: FastAPI, desk: Desk) -> None:
    def page(
        request: Request, name: str, problem: Problem | None = None, typed: dict[str, str] | None = None
    ) -> Response:
        return prove_page(desk, request, name, {}, problem=problem, typed=typed)

    @app.get("/prove/run-in", response_class=HTMLResponse)
    def run_in(request: Request) -> Response:
        return page(request, "prove_run_in.html")

    @app.post("/prove/run-in", response_class=HTMLResponse)
    def ran(
        request: Request, stage: Word = "", lasted: Word = "", words: Word = "", key: Word = "", by: Word = ""
    ) -> Response:
        problem = prove.log_run_in(desk.store, desk.clock, key=key, stage=stage, lasted=lasted, words=words, by=by)
        typed = {"lasted": lasted, "words": words, "by": by, "stage": stage}
        return page(request, "prove_run_in.html", problem, typed) if problem else see_other("/prove/run-in")

    @app.get("/prove/recheck", response_class=HTMLResponse)
    def recheck(request: Request) -> Response:
        return page(request, "prove_recheck.html")

    @app.post("/prove/recheck", response_class=HTMLResponse)
    def rechecked(
        request: Request, item: Word = "", found: Word = "", right: Word = "", key: Word = "", by: Word = ""
    ) -> Response:
        said = right == "yes"
        problem = prove.recheck(desk.store, desk.clock, key=key, item=item, found=found, right=said, by=by)
        typed = {"found": found, "by": by, "item": item}
        return page(request, "prove_recheck.html", problem, typed) if problem else see_other("/prove/recheck")


def _add_compare(app: FastAPI, desk: Desk) -> None:
    def page(request: Request, problem: Problem | None = None, typed: dict[str, str] | None = None) -> Response:
        job = desk.view()
        more: dict[str, object] = {"compared": compared_shown(job, proved(job.state, desk.clock()))}
        return prove_page(desk, request, "prove_compare.html", more, problem=problem, typed=typed)

    @app.get("/prove/compare", response_class=HTMLResponse)
    def compare(request: Request) -> Response:
        return page(request)

    @app.post("/prove/compare", response_class=HTMLResponse)
    def read(
        request: Request,
        compared: Word = "",
        spot: Word = "",
        text: Word = "",
        gauge: Word = "",
        key: Word = "",
        by: Word = "",
    ) -> Response:
        place, _, rest = spot.partition("|")
        station, _, axis = rest.partition("|")
        whole = (place, station, axis)
        problem = prove.read_again(
            desk.store, desk.clock, key=key, compared=compared, spot=whole, text=text, gauge=gauge, by=by
        )
        typed = {"text": text, "by": by, "gauge": gauge, "spot": spot, "compared": compared}
        return page(request, problem, typed) if problem else see_other("/prove/compare")


def compared_shown(job: View, seen: Proved) -> list[dict[str, object]]:
    """Each thing compared: its rows with their pictures, the spots still to read, and the gauges that read it."""
    if seen.engine.proving is None:
        return []
    told = []
    for name, each in seen.proving.compare.items():
        rows = compared_rows(job, seen.proof, name, each)
        marks = [mark for row in rows for mark in (row.found_mark, row.now_mark) if mark]
        pictures = [drawn(row, ends_of(marks)) for row in rows]
        told.append(
            {
                "name": name,
                "each": each,
                "rows": list(zip(rows, pictures, strict=True)),
                "spots": {
                    key: f"{row.label}: {words}" if row.label else words
                    for row in rows
                    for key, words in spot_options(row).items()
                },
                "gauges": offered(seen.engine, job.gauges, each.of),
            }
        )
    return told


def drawn(row: Beside, ends: tuple[float, float]) -> Markup:
    """Both readings of a place on one line."""
    name = f"{row.label}: as found {row.found}, now {row.now}. {row.words}"
    return Markup(beside(row.found_mark, row.now_mark, ends, name))
