"""The clocks: what runs, how long still, and until when?"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated
from urllib.parse import quote

from fastapi import FastAPI, Form, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from endfloat.engine.sentences import capital
from endfloat.job.clocks import runs_of
from endfloat.problems import Problem
from endfloat.web.clock_lines import started_words
from endfloat.web.desk import Desk
from endfloat.workshop.build import build_of
from endfloat.workshop.clocks import end_clock, start_clock
from endfloat.workshop.view import View

Word = Annotated[str, Form()]
# How many of the next steps are looked through for clocks that they start.
AHEAD = 8


def add_clock_pages(app: FastAPI, desk: Desk) -> None:
    """The routes of the clocks."""

    @app.get("/clocks", response_class=HTMLResponse)
    def clocks(request: Request) -> Response:
        return _page(desk, request)

    @app.post("/clocks/start", response_class=HTMLResponse)
    def started(
        request: Request, key: Word = "", name: Word = "", temperature: Word = "", by: Word = "", back: Word = ""
    ) -> Response:
        problem = start_clock(desk.store, desk.clock, key=key, name=name, temperature=temperature, by=by)
        if problem:
            return _page(desk, request, problem, {"name": name, "temperature": temperature, "by": by})
        return RedirectResponse(f"/build/{quote(back)}" if back else "/clocks", status_code=303)

    @app.post("/clocks/end", response_class=HTMLResponse)
    def ended(request: Request, key: Word = "", name: Word = "", reason: Word = "", by: Word = "") -> Response:
        problem = end_clock(desk.store, desk.clock, key=key, name=name, reason=reason, by=by)
        if problem:
            return _page(desk, request, problem, {"name": name, "reason": reason, "by": by})
        return RedirectResponse("/clocks", status_code=303)


def _page(
    desk: Desk, request: Request, problem: Problem | None = None, typed: Mapping[str, str] | None = None
) -> Response:
    job = desk.view()
    runs, _ = runs_of(job.engine, job.state.building)
    context = {
        "job": job,
        "by_hand": [(capital(name), name) for name, run in runs.items() if run.by_hand and not run.started],
        "soon": soon(job),
        "key": desk.clock(),
        "by": next((name for event in reversed(job.state.building) if (name := event.by.strip())), ""),
        "typed": typed or {},
        "problem": problem.text() if problem else "",
    }
    return desk.page(request, "clocks.html", context, 422 if problem else 200)


def soon(job: View) -> list[tuple[str, str, str, str]]:
    """The clocks that the next steps start: the step, the clock, and what it asks for."""
    build = build_of(job.state)
    ahead = [step for step in build.order if step not in build.done][:AHEAD]
    return [
        (step, build.step(step).title, capital(clock.what), started_words(clock, step))
        for step in ahead
        for clock in job.engine.relations.clocked
        if clock.starts == step
    ]
