"""The guided build: is this done? One step a page, the list, and undoing."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Annotated
from urllib.parse import quote

from fastapi import FastAPI, Form, Request
from fastapi.concurrency import run_in_threadpool
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from endfloat.assembly.now import undone
from endfloat.engine.operations import Operation
from endfloat.inspection.words import label
from endfloat.problems import Problem
from endfloat.web.clock_lines import clocks_of_step, held_now
from endfloat.web.desk import Desk
from endfloat.web.gate_words import gate_of_step
from endfloat.web.links import measure_link, number_link
from endfloat.web.step_words import step_words
from endfloat.web.steps_away import step_away
from endfloat.web.take_up_form import take_up_context
from endfloat.workshop.build import (
    Build,
    build_of,
    confirm_step,
    do_against_advice,
    helper_words,
    joints_back,
    lay_out_order,
    refused,
    reopen_step,
    titles,
)
from endfloat.workshop.holds import places_of
from endfloat.workshop.last_look import question_of
from endfloat.workshop.regain import lost_for
from endfloat.workshop.view import View

Word = Annotated[str, Form()]


def add_build_pages(app: FastAPI, desk: Desk) -> None:
    """The routes of the build."""
    _add_looking(app, desk)
    _add_doing(app, desk)


def _step_page(
    desk: Desk,
    request: Request,
    operation: str,
    *,
    problem: Problem | None = None,
    typed: Mapping[str, str] | None = None,
    ticked: Sequence[str] = (),
) -> Response:
    job = desk.view()
    build = build_of(job.state)
    if operation not in build.engine.operations:
        return desk.stopped(request, f"This engine has no step {operation}.")
    fields = typed or {}
    context = {
        **step_shown(job, build, operation, desk.clock()),
        **step_words(build, operation),
        **clocks_of_step(job, operation, desk.clock()),
        "away": step_away(job, build, operation, desk.clock()),
        **gate_of_step(job, operation, desk.clock()),
        "look_first": question_of(job.state, desk.store.entries(), desk.clock(), "", operation),
        "key": desk.clock(),
        "by": fields.get("by", _last_name(build)),
        "reason": fields.get("reason", ""),
        "second": fields.get("second", ""),
        "typed": fields,
        "ticked": ticked,
        "problem": problem.text() if problem else "",
    }
    return desk.page(request, "step.html", context, 422 if problem else 200)


def step_shown(job: View, build: Build, operation: str, now: str) -> dict[str, object]:
    """What a step's page tells: the step, why it is shut or what undoing it takes along, and what comes after."""
    done = operation in build.done
    fell = undone(build.engine, list(build.done), operation) if done else None
    violations, free, overruled = ([], [], False) if done else refused(build, operation, held_now(job, operation, now))
    step = build.step(operation)
    return {
        "job": job,
        "id": operation,
        "step": step,
        "to_measure": to_measure(job, step),
        "number": build.number(operation),
        "count": len(build.order) or len(build.engine.operations),
        "done": done,
        "violations": violations,
        "free": titles(build, free[:3]),
        "overruled": overruled,
        "helper": helper_words(build, operation),
        "again": titles(build, fell.reopened) if fell else [],
        "lost": lost_for(job.state, operation),
        "rescues": [each.text() for each in fell.rescues] if fell else [],
        "back": joint_words_back(job, operation) if done else [],
        "never_tested": never_tested(build, step),
    }


def joint_words_back(job: View, operation: str) -> list[str]:
    """What undoing a step does to each joint it tightened, in words."""
    told = []
    for name, (first, _) in joints_back(job.state, operation).items():
        joint = job.engine.joints[name]
        if not first:
            told.append(f"{joint.title} is no longer closed.")
            continue
        rule = f"Your description says: {joint.undone.words}." if joint.undone else "A new bolt set goes in."
        told.append(f"{joint.title}: pass {first} and later no longer count. {rule}")
    return told


def never_tested(build: Build, step: Operation) -> bool:
    """Whether the step pulls bolts that no wrench may be put on afterwards to test them."""
    return step.pulls is not None and build.engine.joints[step.pulls.joint].drawn_by_angle


def to_measure(job: View, step: Operation) -> list[tuple[str, str]]:
    """Words and link of every place that a step reads, or of the numbers that follow from them."""
    rows = []
    for measured in step.measures:
        for place in places_of(job, measured):
            if measured.of in job.engine.characteristics:
                link = measure_link(measured.of, place)
            else:
                finding = next((f for f in job.findings if (f.on, f.place) == (measured.of, place)), None)
                link = number_link(finding) if finding else "/board"
            rows.append((label(job.engine, measured.of, place), link))
    return rows


def _last_name(build: Build) -> str:
    return build.events[-1].by if build.events else ""


def _add_looking(app: FastAPI, desk: Desk) -> None:
    @app.get("/build", response_class=HTMLResponse)
    def build_page(request: Request) -> Response:
        return _list_page(desk, request)

    @app.post("/build", response_class=HTMLResponse)
    def laid_out(request: Request, by: Word = "") -> Response:
        problem = lay_out_order(desk.store, desk.clock, by=by)
        return _list_page(desk, request, problem) if problem else RedirectResponse("/build", status_code=303)

    @app.get("/build/{operation}", response_class=HTMLResponse)
    def step(request: Request, operation: str) -> Response:
        return _step_page(desk, request, operation)


def unfit(job: View) -> list[str]:
    """How many requirements are out of limits, and how many are not yet settled; each only where there are some."""
    counts = Counter(finding.verdict.family for finding in job.findings)
    return [f"{family} {counts[family]}" for family in ("Out", "Unsettled", "Open") if counts[family]]


def _list_page(desk: Desk, request: Request, problem: Problem | None = None) -> Response:
    job = desk.view()
    build = build_of(job.state)
    question = question_of(job.state, desk.store.entries(), desk.clock(), "")
    context = {
        "job": job,
        "build": build,
        "rows": titles(build, build.order),
        "next": titles(build, [build.next])[0] if build.next else None,
        **take_up_context(job, question, desk.clock(), by=_last_name(build)),
        "laid": next((event for event in reversed(build.events) if hasattr(event, "helper_calls")), None),
        "unfit": unfit(job),
        "problem": problem.text() if problem else "",
    }
    return desk.page(request, "build.html", context, 422 if problem else 200)


def _answers(typed: Mapping[str, str], start: str) -> dict[str, str]:
    """The fields of a form that belong to one question, by what they ask for."""
    return {key.removeprefix(start): value for key, value in typed.items() if key.startswith(start)}


def _add_doing(app: FastAPI, desk: Desk) -> None:
    @app.post("/build/{operation}/done", response_class=HTMLResponse)
    async def done(request: Request, operation: str) -> Response:
        form = await request.form()
        typed = {key: str(value) for key, value in form.items()}
        seen = [str(look) for look in form.getlist("looked")]
        return await run_in_threadpool(confirmed, request, operation, typed, seen)

    def confirmed(request: Request, operation: str, typed: dict[str, str], seen: list[str]) -> Response:
        problem = confirm_step(
            desk.store,
            desk.clock,
            operation=operation,
            by=typed.get("by", ""),
            looked=seen,
            second=typed.get("second", ""),
            mark=typed.get("mark", ""),
            counted=_answers(typed, "counted "),
            hidden=_answers(typed, "hidden "),
        )
        if problem:
            return _step_page(desk, request, operation, problem=problem, typed=typed, ticked=seen)
        return answer(request, operation, None, typed.get("by", ""), "")

    @app.post("/build/{operation}/anyway", response_class=HTMLResponse)
    def anyway(request: Request, operation: str, reason: Word = "", by: Word = "") -> Response:
        problem = do_against_advice(desk.store, desk.clock, operation=operation, reason=reason, by=by)
        return answer(request, operation, problem, by, reason)

    @app.post("/build/{operation}/undo", response_class=HTMLResponse)
    def undo(request: Request, operation: str, reason: Word = "", by: Word = "") -> Response:
        problem = reopen_step(desk.store, desk.clock, operation=operation, reason=reason, by=by)
        if problem:
            return _step_page(desk, request, operation, problem=problem, typed={"by": by, "reason": reason})
        return RedirectResponse(f"/build/{quote(operation)}", status_code=303)

    def answer(request: Request, operation: str, problem: Problem | None, by: str, reason: str) -> Response:
        if problem:
            return _step_page(desk, request, operation, problem=problem, typed={"by": by, "reason": reason})
        following = build_of(desk.view().state).next
        return RedirectResponse(f"/build/{quote(following)}" if following else "/build", status_code=303)
