"""The measure page: what does the gauge say here?"""

from __future__ import annotations

from typing import Annotated
from urllib.parse import quote

from fastapi import FastAPI, Form, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from endfloat.problems import Problem
from endfloat.web.bench import bench_context
from endfloat.web.desk import Desk
from endfloat.web.links import measure_link
from endfloat.workshop.keep_odd_reading import keep_odd_reading
from endfloat.workshop.leave_unmeasured import leave_unmeasured
from endfloat.workshop.take_reading import take_reading
from endfloat.workshop.withdraw_reading import withdraw_reading

Field = Annotated[str, Form()]
TYPED_WRONG = "typed wrong"


def add_measure_page(app: FastAPI, desk: Desk) -> None:
    """Entry of the readings of one place, and the answers beside a reading."""

    @app.get("/measure/{characteristic}/{place}", response_class=HTMLResponse)
    def measure(request: Request, characteristic: str, place: str, saved: str = "", at: str = "") -> Response:
        return entry_page(desk, request, characteristic, place, saved=saved, typed={"spot": at} if at else {})

    @app.post("/measure/{characteristic}/{place}", response_class=HTMLResponse)
    def save(
        request: Request,
        characteristic: str,
        place: str,
        spot: Field = "",
        key: Field = "",
        text: Field = "",
        gauge: Field = "",
        by: Field = "",
    ) -> Response:
        station, _, axis = spot.partition("|")
        whole = (characteristic, place, station, axis)
        problem = take_reading(desk.store, desk.clock, key=key, spot=whole, text=text, gauge=gauge, by=by)
        if problem:
            typed = {"text": text, "gauge": gauge, "by": by, "spot": spot}
            return entry_page(desk, request, characteristic, place, problem=problem, typed=typed)
        return go_on(f"{measure_link(characteristic, place)}?saved={quote(key)}")

    @app.post("/measure/{characteristic}/{place}/keep", response_class=HTMLResponse)
    def keep(request: Request, characteristic: str, place: str, reading: Field = "", by: Field = "") -> Response:
        problem = keep_odd_reading(desk.store, desk.clock, key=reading, by=by)
        if problem:
            return entry_page(desk, request, characteristic, place, problem=problem)
        return go_on(measure_link(characteristic, place))

    @app.post("/measure/{characteristic}/{place}/withdraw", response_class=HTMLResponse)
    def withdraw(
        request: Request,
        characteristic: str,
        place: str,
        reading: Field = "",
        by: Field = "",
        spot: Field = "",
        reason: Field = TYPED_WRONG,
    ) -> Response:
        problem = withdraw_reading(desk.store, desk.clock, key=reading, reason=reason, by=by)
        if problem:
            return entry_page(desk, request, characteristic, place, problem=problem)
        return go_on(f"{measure_link(characteristic, place)}?at={quote(spot)}")

    @app.post("/measure/{characteristic}/{place}/leave", response_class=HTMLResponse)
    def leave(
        request: Request, characteristic: str, place: str, answer: Field = "", key: Field = "", by: Field = ""
    ) -> Response:
        where = {"characteristic": characteristic, "place": place}
        problem = leave_unmeasured(desk.store, desk.clock, key=key, answer=answer, by=by, **where)
        if problem:
            return entry_page(desk, request, characteristic, place, problem=problem)
        return go_on(measure_link(characteristic, place))


def go_on(link: str) -> Response:
    """To a page that a reload does not send again."""
    return RedirectResponse(link, status_code=303)


def entry_page(
    desk: Desk,
    request: Request,
    characteristic: str,
    place: str,
    *,
    saved: str = "",
    problem: Problem | None = None,
    typed: dict[str, str] | None = None,
) -> Response:
    """The form for the next spot, with what was taken so far."""
    seen = desk.view()
    described = seen.engine.characteristics.get(characteristic)
    if described is None or described.given is not None or place not in seen.engine.places[described.at].names:
        return desk.stopped(request, f"This engine has no {characteristic.replace('_', ' ')} to measure at {place}.")
    context = {
        **bench_context(seen, characteristic, place, typed or {}),
        "saved": seen.state.taken.get(saved),
        "problem": problem.text() if problem else "",
    }
    return desk.page(request, "measure.html", context, 422 if problem else 200)
