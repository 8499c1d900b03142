"""The gauges: does each still show what it should?"""

from __future__ import annotations

import secrets
from dataclasses import dataclass
from typing import Annotated

from fastapi import FastAPI, Form, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from endfloat.inspection.gauges import Gauge
from endfloat.job.events import GaugeChecked
from endfloat.problems import Problem
from endfloat.web.desk import Desk
from endfloat.workshop.check_gauge import check_gauge
from endfloat.workshop.set_aside import drift
from endfloat.workshop.view import View

Field = Annotated[str, Form()]


@dataclass(frozen=True, slots=True)
class Line:
    """One gauge of the register, its last check, whether that was off, and how many readings are set aside for it."""

    name: str
    gauge: Gauge
    checked: GaugeChecked | None
    off: bool
    aside: int


def add_gauges_page(app: FastAPI, desk: Desk) -> None:
    """The register of the job, and a check of one gauge."""

    @app.get("/gauges", response_class=HTMLResponse)
    def register(request: Request, gauge: str = "") -> Response:
        return listed(request, typed={"gauge": gauge})

    @app.post("/gauges", response_class=HTMLResponse)
    def check(
        request: Request, key: Field = "", gauge: Field = "", set_to: Field = "", shows: Field = "", by: Field = ""
    ) -> Response:
        problem = check_gauge(desk.store, desk.clock, key=key, gauge=gauge, set_to=set_to, shows=shows, by=by)
        if problem:
            typed = {"gauge": gauge, "set_to": set_to, "shows": shows, "by": by}
            return listed(request, typed=typed, problem=problem)
        return RedirectResponse("/gauges", status_code=303)

    def listed(request: Request, *, typed: dict[str, str], problem: Problem | None = None) -> Response:
        seen = desk.view()
        context = {
            "job": seen,
            "lines": lines_of(seen),
            "typed": typed,
            "key": secrets.token_hex(16),
            "problem": problem.text() if problem else "",
        }
        return desk.page(request, "gauges.html", context, 422 if problem else 200)


def lines_of(seen: View) -> list[Line]:
    """Every gauge of the register in its order."""
    last = {event.gauge: event for event in seen.state.bench if isinstance(event, GaugeChecked)}
    doubted = [seen.state.taken[key].gauge for key, gap in seen.aside.items() if gap.verdict.code == "check_zero"]
    lines = []
    for name, gauge in seen.gauges.items():
        checked = last.get(name)
        lines.append(Line(name, gauge, checked, checked is not None and drift(checked, gauge), doubted.count(name)))
    return lines
