"""The timing of the cams: what is next, dead centre, one cam at the wheel, and the gate before a turn."""

from __future__ import annotations

import secrets
from collections.abc import Mapping
from typing import Annotated
from urllib.parse import quote

from fastapi import FastAPI, Form, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from endfloat.problems import Problem
from endfloat.web import timing_words as words
from endfloat.web.desk import Desk
from endfloat.web.gate_words import gate_rows, shut_words
from endfloat.workshop.confirm_cams import confirm_cams
from endfloat.workshop.find_dead_centre import find_dead_centre, lose_dead_centre
from endfloat.workshop.read_wheel import open_drive, read_wheel, withdraw_wheel_reading
from endfloat.workshop.timing_view import TimingView, timing_view
from endfloat.workshop.turn_crank import tick_gate, turn_crank

Word = Annotated[str, Form()]
Words = Annotated[list[str] | None, Form()]
NONE = "The description of this engine holds no timing yet. Add `timing:` to it, then read it again."


def add_timing_pages(app: FastAPI, desk: Desk) -> None:
    """The routes of the timing; the fixed ones before those of a cam."""
    _add_board(app, desk)
    _add_dead_centre(app, desk)
    _add_turn(app, desk)
    _add_cam(app, desk)


def _page(
    desk: Desk,
    request: Request,
    template: str,
    *,
    problem: Problem | None = None,
    typed: Mapping[str, object] | None = None,
    more: Mapping[str, object] | None = None,
) -> Response:
    job, now = desk.view(), desk.clock()
    seen = timing_view(job, now)
    if seen is None:
        return desk.stopped(request, NONE)
    last = job.state.timing[-1] if job.state.timing else None
    context = {
        "job": job,
        "seen": seen,
        "timing": seen.timing,
        "next": words.next_deed(seen),
        "correction": words.correction_words(job, seen),
        "distrust": words.trust_words(seen, now),
        "shut": shut_words(seen, now),
        "rows": [words.row_of(seen, name) for name in seen.cams],
        "key": secrets.token_hex(16),
        "typed": typed or {},
        "wheel": usual_wheel(seen),
        "by": last.by if last else "",
        "problem": problem.text() if problem else "",
        **(more or {}),
    }
    return desk.page(request, template, context, 422 if problem else 200)


def usual_wheel(seen: TimingView) -> str:
    """The wheel last read; the first of the register before that."""
    used = seen.progress.dead_centre
    return used.gauge if used else next(iter(seen.wheels), "")


def go_on(link: str) -> Response:
    """To a page that a reload does not send again."""
    return RedirectResponse(link, status_code=303)


def _add_board(app: FastAPI, desk: Desk) -> None:
    def board(request: Request, problem: Problem | None = None) -> Response:
        seen = timing_view(desk.view(), desk.clock())
        drawn = words.both_strips(seen, seen.cams) if seen else {}
        return _page(desk, request, "timing.html", problem=problem, more=drawn)

    @app.get("/timing", response_class=HTMLResponse)
    def timing(request: Request) -> Response:
        return board(request)

    @app.post("/timing/lost", response_class=HTMLResponse)
    def lost(request: Request, key: Word = "", why: Word = "", by: Word = "") -> Response:
        problem = lose_dead_centre(desk.store, desk.clock, key=key, why=why, by=by)
        return board(request, problem) if problem else go_on("/timing/dead-centre")

    @app.post("/timing/opened", response_class=HTMLResponse)
    def opened(request: Request, key: Word = "", cams: Words = None, reason: Word = "", by: Word = "") -> Response:
        problem = open_drive(desk.store, desk.clock, key=key, cams=cams or [], reason=reason, by=by)
        return board(request, problem) if problem else go_on("/timing")

    @app.post("/timing/confirm/{step}", response_class=HTMLResponse)
    def confirm(request: Request, step: str, key: Word = "", seen: Word = "", by: Word = "") -> Response:
        if not seen:
            remedy = "Look, then tick it on the page of the step."
            problem: Problem | None = Problem("not_looked", "the cams", "not ticked", "the cams seen", remedy)
        else:
            problem = confirm_cams(desk.store, desk.clock, key=key, step=step, by=by)
        return board(request, problem) if problem else go_on(f"/build/{quote(step)}")


def _add_dead_centre(app: FastAPI, desk: Desk) -> None:
    @app.get("/timing/dead-centre", response_class=HTMLResponse)
    def page(request: Request) -> Response:
        return _page(desk, request, "timing_dead_centre.html")

    @app.post("/timing/dead-centre", response_class=HTMLResponse)
    def found(
        request: Request,
        key: Word = "",
        before: Word = "",
        after: Word = "",
        seen: Word = "",
        gauge: Word = "",
        by: Word = "",
    ) -> Response:
        told = {"before": before, "after": after, "gauge": gauge, "by": by}
        problem = find_dead_centre(desk.store, desk.clock, key=key, seen=bool(seen), **told)
        if problem:
            return _page(desk, request, "timing_dead_centre.html", problem=problem, typed={**told, "seen": seen})
        return go_on("/timing/dead-centre")


def _add_turn(app: FastAPI, desk: Desk) -> None:
    def gate(request: Request, problem: Problem | None = None, typed: Mapping[str, object] | None = None) -> Response:
        now = desk.clock()
        seen = timing_view(desk.view(), now)
        more = {"gate": gate_rows(seen, now)} if seen else {}
        return _page(desk, request, "timing_turn.html", problem=problem, typed=typed, more=more)

    @app.get("/timing/turn", response_class=HTMLResponse)
    def page(request: Request) -> Response:
        return gate(request)

    @app.post("/timing/turn/tick", response_class=HTMLResponse)
    def tick(request: Request, key: Word = "", condition: Word = "", by: Word = "") -> Response:
        problem = tick_gate(desk.store, desk.clock, key=key, condition=condition, by=by)
        return gate(request, problem, {"by": by}) if problem else go_on(f"/timing/turn#{quote(condition)}")

    @app.post("/timing/turn", response_class=HTMLResponse)
    def turned(request: Request, key: Word = "", turns: Annotated[int, Form()] = 0, by: Word = "") -> Response:
        problem = turn_crank(desk.store, desk.clock, key=key, turns=turns, by=by)
        return gate(request, problem, {"by": by}) if problem else go_on("/timing")


def _cam_page(
    desk: Desk,
    request: Request,
    cam: str,
    *,
    problem: Problem | None = None,
    typed: Mapping[str, object] | None = None,
) -> Response:
    job = desk.view()
    seen = timing_view(job, desk.clock())
    if seen is None or cam not in seen.cams:
        return desk.stopped(request, NONE if seen is None else f"This engine has no cam {cam} to time.")
    more = words.cam_page(job, seen, cam, (typed or {}).get("spot", ""))
    return _page(desk, request, "timing_cam.html", problem=problem, typed=typed, more=more)


def _add_cam(app: FastAPI, desk: Desk) -> None:
    @app.get("/timing/{cam}", response_class=HTMLResponse)
    def page(request: Request, cam: str) -> Response:
        return _cam_page(desk, request, cam)

    @app.post("/timing/{cam}", response_class=HTMLResponse)
    def read(
        request: Request,
        cam: str,
        key: Word = "",
        spot: Word = "",
        text: Word = "",
        gauge: Word = "",
        turned: Word = "",
        other_turn: Word = "",
        by: Word = "",
    ) -> Response:
        problem = read_wheel(
            desk.store,
            desk.clock,
            key=key,
            cam=cam,
            point=spot,
            text=text,
            gauge=gauge,
            turned=bool(turned),
            other_turn=bool(other_turn),
            by=by,
        )
        if problem:
            typed = {"text": text, "gauge": gauge, "by": by, "spot": spot, "other_turn": other_turn}
            return _cam_page(desk, request, cam, problem=problem, typed=typed)
        return go_on(f"/timing/{quote(cam)}")

    @app.post("/timing/{cam}/withdraw", response_class=HTMLResponse)
    def withdraw(
        request: Request, cam: str, key: Word = "", reading: Word = "", reason: Word = "", by: Word = ""
    ) -> Response:
        problem = withdraw_wheel_reading(desk.store, desk.clock, key=key, reading=reading, reason=reason, by=by)
        if problem:
            return _cam_page(desk, request, cam, problem=problem, typed={"reason": reason})
        return go_on(f"/timing/{quote(cam)}")
