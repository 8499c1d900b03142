"""Buy and machine: what has come in, and what is tried dry before it is built."""

from __future__ import annotations

import secrets
from collections.abc import Sequence
from typing import Annotated

from fastapi import FastAPI, Form, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from endfloat.engine.parts import BoughtPart
from endfloat.inspection.words import label, place_words, thing_words
from endfloat.job.parts import parts_in
from endfloat.problems import Problem
from endfloat.web.desk import Desk
from endfloat.web.links import entry_link, measure_link
from endfloat.workshop.dry_build import Trial, trials
from endfloat.workshop.holds import places_of
from endfloat.workshop.take_in_parts import parts_listed, send_back, take_in, title_of
from endfloat.workshop.view import View

Word = Annotated[str, Form()]


def add_parts_pages(app: FastAPI, desk: Desk) -> None:
    """The routes of parts and of the dry build."""

    @app.get("/parts", response_class=HTMLResponse)
    def parts(request: Request) -> Response:
        return parts_page(request)

    @app.post("/parts/{part}/in", response_class=HTMLResponse)
    def came_in(
        request: Request,
        part: str,
        key: Word = "",
        count: Word = "",
        by: Word = "",
        looked: Annotated[list[str] | None, Form()] = None,
    ) -> Response:
        ticked = looked or []
        problem = take_in(desk.store, desk.clock, key=key, part=part, count=count, by=by, looked=ticked)
        if problem:
            return parts_page(request, part, problem, {"count": count, "by": by}, ticked)
        return RedirectResponse(f"/parts#{part}", status_code=303)

    @app.post("/parts/{part}/back", response_class=HTMLResponse)
    def went_back(
        request: Request, part: str, key: Word = "", count: Word = "", reason: Word = "", by: Word = ""
    ) -> Response:
        problem = send_back(desk.store, desk.clock, key=key, part=part, count=count, reason=reason, by=by)
        if problem:
            return parts_page(request, part, problem, {"back": count, "reason": reason, "by": by})
        return RedirectResponse(f"/parts#{part}", status_code=303)

    def parts_page(
        request: Request,
        part: str = "",
        problem: Problem | None = None,
        typed: dict[str, str] | None = None,
        ticked: Sequence[str] = (),
    ) -> Response:
        seen = desk.view()
        here = parts_in(seen.state.arrivals)
        rows = [(name, each, here.get(name, 0), to_read(seen, each)) for name, each in parts_listed(seen).items()]
        context = {
            "job": seen,
            "agreed": seen.state.agreed,
            "rows": rows,
            "missing": sum(each.count > count for _, each, count, _ in rows),
            "entries": [(event, title_of(seen, event.part)) for event in seen.state.arrivals],
            "wrong": part,
            "first": next((name for name, each, count, _ in rows if each.count > count), ""),
            "problem": problem.text() if problem else "",
            "typed": typed or {},
            "ticked": ticked,
            "key": secrets.token_hex(16),
            "by": seen.state.arrivals[-1].by if seen.state.arrivals else "",
        }
        return desk.page(request, "parts.html", context, 422 if problem else 200)

    @app.get("/dry-build", response_class=HTMLResponse)
    def dry_build(request: Request) -> Response:
        seen = desk.view()
        found = trials(seen)
        context = {
            "job": seen,
            "agreed": seen.state.agreed,
            "groups": grouped(seen, found),
            "good": sum(each.good for each in found),
            "all": len(found),
        }
        return desk.page(request, "dry_build.html", context)


def to_read(seen: View, part: BoughtPart) -> list[tuple[str, str]]:
    """What a gauge reads on the parts as they come in: words and where it is entered, until it is taken."""
    rows = []
    for measured in part.measures:
        taken = {(each.characteristic, each.place) for each in seen.current}
        for place in places_of(seen, measured):
            if (measured.of, place) not in taken:
                rows.append((label(seen.engine, measured.of, place), measure_link(measured.of, place)))
    return rows


def grouped(seen: View, found: Sequence[Trial]) -> list[dict[str, object]]:
    """The trials by what changed them: a heading of work, and a row for all places that stand alike."""
    groups: dict[tuple[str, ...], list[Trial]] = {}
    for trial in found:
        groups.setdefault(trial.causes, []).append(trial)
    return [
        {
            "causes": causes,
            "still_out": list(dict.fromkeys(title for each in trials_of for title in each.still_out)),
            "rows": _rows(seen, trials_of),
        }
        for causes, trials_of in groups.items()
    ]


def _rows(seen: View, found: Sequence[Trial]) -> list[dict[str, object]]:
    alike: dict[tuple[str, str, str | None], list[Trial]] = {}
    for trial in found:
        now = "Waits for the work" if trial.still_out else trial.finding.verdict.words
        alike.setdefault((trial.finding.on, "Tried: good" if trial.good else now, trial.step), []).append(trial)
    return [
        {
            "thing": thing_words(on),
            "places": [
                (place_words(seen.engine, on, each.finding.place) or "here", entry_link(seen, each.finding))
                for each in trials_of
            ],
            "now": now,
            "waits": bool(trials_of[0].still_out),
            "family": "open" if trials_of[0].still_out else trials_of[0].finding.verdict.family.lower(),
            "good": trials_of[0].good,
            "step": step,
            "step_title": seen.engine.operations[step].title if step else "",
        }
        for (on, now, step), trials_of in alike.items()
    ]
