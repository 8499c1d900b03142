"""Stop the work with a tag, and take it up again."""

from __future__ import annotations

from typing import Annotated

from fastapi import FastAPI, Form, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from endfloat.job.pauses import stopped
from endfloat.job.state import State
from endfloat.problems import Problem
from endfloat.web.clock_lines import day_and_time, wall
from endfloat.web.desk import Desk
from endfloat.web.joint_words import stop_words
from endfloat.web.take_up_form import take_up_context
from endfloat.workshop.last_look import asked, question_of
from endfloat.workshop.pauses import stop_work, take_up
from endfloat.workshop.standing import standing
from endfloat.workshop.tightening import joint_view

Word = Annotated[str, Form()]


def add_pause_pages(app: FastAPI, desk: Desk) -> None:
    """The routes of stopping, the tag, and taking up."""
    _add_stopping(app, desk)
    _add_taking_up(app, desk)


def _add_stopping(app: FastAPI, desk: Desk) -> None:
    def stop_page(
        request: Request, joint: str = "", problem: Problem | None = None, why: str = "", by: str | None = None
    ) -> Response:
        job = desk.view()
        if problem is None and stopped(job.state.building):
            return RedirectResponse("/stop/tag", status_code=303)
        now = desk.clock()
        last = next((name for event in reversed(job.state.building) if (name := event.by.strip())), "")
        context = {
            "job": job,
            "joint": joint,
            "may_stop": words_of(job.state, joint),
            "standing": standing(job.state, now, wall(now)),
            "key": f"stop {now}",
            "why": why,
            "by": last if by is None else by,
            "problem": problem.text() if problem else "",
        }
        return desk.page(request, "stop.html", context, 422 if problem else 200)

    @app.get("/stop", response_class=HTMLResponse)
    def stop(request: Request, joint: str = "") -> Response:
        return stop_page(request, joint)

    @app.post("/stop", response_class=HTMLResponse)
    def stopping(request: Request, joint: Word = "", key: Word = "", why: Word = "", by: Word = "") -> Response:
        problem = stop_work(desk.store, desk.clock, wall(desk.clock()), key=key, why=why, by=by)
        if problem:
            return stop_page(request, joint, problem, why, by)
        return RedirectResponse("/stop/tag", status_code=303)

    @app.get("/stop/tag", response_class=HTMLResponse)
    def tag(request: Request) -> Response:
        job = desk.view()
        stop = stopped(job.state.building)
        if stop is None:
            return desk.stopped(request, "Work goes on: there is no tag.")
        return desk.page(request, "stop_tag.html", {"job": job, "stop": stop, "when": day_and_time(stop.at)})

    @app.get("/stop/tag.pdf")
    def paper(request: Request) -> Response:
        job = desk.view()
        stop = stopped(job.state.building)
        if stop is None:
            return desk.stopped(request, "Work goes on: there is no tag.")
        entries = desk.store.entries()
        name = f"{job.name} (invented)" if job.engine.invented else job.name
        values = {
            "job": name,
            "who": stop.by,
            "why": stop.why,
            "when": day_and_time(stop.at),
            "loose": list(stop.loose),
            "leave": list(stop.leave),
            "running": list(stop.running),
            "first": list(stop.first),
            "record": f"{stop.at[:10]} · record {entries[-1].fingerprint[:16]}",
        }
        return Response(desk.papers("stop-tag", values), media_type="application/pdf")


def words_of(state: State, joint: str) -> list[str]:
    """What a person should know who stops at a joint; nothing where no joint is named."""
    seen = joint_view(state, joint)
    return [] if isinstance(seen, Problem) else [f"{seen.joint.title}.", *stop_words(seen)]


def _add_taking_up(app: FastAPI, desk: Desk) -> None:
    def page(request: Request, problem: Problem | None = None, answers: dict[str, str] | None = None) -> Response:
        job = desk.view()
        now, entries = desk.clock(), desk.store.entries()
        question = question_of(job.state, entries, now, "") or asked(job.state, "Somebody goes on.")
        last = next((name for event in reversed(job.state.building) if (name := event.by.strip())), "")
        shown = question if question.steps or stopped(job.state.building) else None
        context = {
            **take_up_context(job, shown, now, by=last, answers=answers),
            "job": job,
            "stop": stopped(job.state.building),
            "problem": problem.text() if problem else "",
        }
        return desk.page(request, "take_up.html", context, 422 if problem else 200)

    @app.get("/take-up", response_class=HTMLResponse)
    def asks(request: Request) -> Response:
        return page(request)

    @app.post("/take-up", response_class=HTMLResponse)
    async def answered(request: Request) -> Response:
        form = {name: str(value) for name, value in (await request.form()).items()}
        steps = {name.removeprefix("step:"): each for name, each in form.items() if name.startswith("step:")}
        kept = {
            form[f"kept-words:{number}"]: each
            for name, each in form.items()
            if name.startswith("kept:") and f"kept-words:{(number := name.removeprefix('kept:'))}" in form
        }
        by, key = form.get("by", ""), form.get("key", "")
        problem = take_up(desk.store, desk.clock, key=key, by=by, steps=steps, kept=kept)
        return page(request, problem, form) if problem else RedirectResponse("/build", status_code=303)
