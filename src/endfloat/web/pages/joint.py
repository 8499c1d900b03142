"""The joints, and one of them as it is tightened: which bolt, how much, next?"""

from __future__ import annotations

from typing import Annotated
from urllib.parse import quote

from fastapi import FastAPI, Form, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from endfloat.drawings.joint import joint_drawing, picture_from
from endfloat.job.joint_device import holder
from endfloat.problems import Problem
from endfloat.web.desk import Desk
from endfloat.web.device import device_of
from endfloat.web.joint_away import pulled_elsewhere, rest_of
from endfloat.web.joint_words import board_rows, page_of, when
from endfloat.workshop.check_joint import check_joint
from endfloat.workshop.clamp_words import question_about
from endfloat.workshop.close_joint import close_joint
from endfloat.workshop.condemn_bolt import condemn_bolt
from endfloat.workshop.fit_bolt_set import fit_bolt_set
from endfloat.workshop.joint_picture import joint_picture
from endfloat.workshop.look_up import look_up_amount, look_up_sequence
from endfloat.workshop.pull_bolt import Already, gauges_of, pull_bolt
from endfloat.workshop.record import load
from endfloat.workshop.take_joint_back import take_joint_back
from endfloat.workshop.take_over_joint import take_over_joint
from endfloat.workshop.tightening import JointView, joint_view, joint_views
from endfloat.workshop.wrench import Adapter

Word = Annotated[str, Form()]
Words = Annotated[list[str], Form()]
Count = Annotated[int, Form()]


def add_joint_pages(app: FastAPI, desk: Desk) -> None:
    """The routes of all joint pages."""
    _add_looking(app, desk)
    _add_pulling(app, desk)
    _add_setting(app, desk)
    _add_asking(app, desk)


def _page(
    desk: Desk,
    request: Request,
    template: str,
    name: str,
    *,
    problem: Problem | None = None,
    adapter: Adapter | None = None,
    **more: object,
) -> Response:
    job = desk.view()
    seen = joint_view(job.state, name)
    if isinstance(seen, Problem):
        return desk.stopped(request, seen.text())
    has = holder(job.state.tightening, name)
    page = page_of(seen, job.state, desk.clock(), adapter)
    mine = has is not None and has.device == device_of(request)
    context = {
        "job": job,
        "seen": seen,
        "elsewhere": has if has and has.device != device_of(request) else None,
        "page": page,
        "rest": rest_of(seen, page.asked) if mine and page.asked else None,
        "drawing": joint_drawing(picture_from(joint_picture(seen, ring=page.mode == "pull"))),
        "problem": problem.text() if problem else "",
        **more,
    }
    return desk.page(request, template, context, 422 if problem else 200)


def _answer(desk: Desk, request: Request, name: str, problem: Problem | None, saved: str, **typed: object) -> Response:
    """Back to the joint with what was saved, or the same page with what is wrong and what was typed."""
    if problem:
        return _page(desk, request, "joint.html", name, problem=problem, typed=typed, saved="")
    return RedirectResponse(f"/joint/{quote(name)}?saved={quote(saved)}#content", status_code=303)


def _told_already(already: Already, where: str) -> str:
    earlier = already.pulled
    return (
        f"Bolt {earlier.bolt} was already pulled{where}, by {earlier.by}, {when(earlier.at)}. Counted once."
        " Do not pull it again. If it was pulled twice on the engine, say so under `Felt wrong`."
    )


def _answer_again(desk: Desk, request: Request, name: str, told: Already, where: str) -> Response:
    """What a pull is told that was on the record before: counted once, or pulled by another device too."""
    twice = pulled_elsewhere(told, device_of(request))
    if twice:
        return _page(desk, request, "joint.html", name, problem=twice, typed={}, saved="")
    return RedirectResponse(f"/joint/{quote(name)}?again={quote(_told_already(told, where))}", status_code=303)


def _asked_about(desk: Desk, name: str, bolt: str, pass_number: int) -> str:
    """A question where the torque seen at the end of an angle lies outside what is expected."""
    state = load(desk.store)[0]
    found = joint_view(state, name)
    last = found.last_pull if isinstance(found, JointView) else None
    if last is None or isinstance(found, Problem) or (last.pass_number, last.bolt) != (pass_number, bolt):
        return ""
    return question_about(found, gauges_of(state), last) if last.seen else ""


def _add_looking(app: FastAPI, desk: Desk) -> None:
    @app.get("/joints", response_class=HTMLResponse)
    def joints(request: Request) -> Response:
        job = desk.view()
        rows = board_rows(joint_views(job.state).values(), desk.clock())
        return desk.page(request, "joints.html", {"job": job, "rows": rows})

    @app.get("/joint/{name}", response_class=HTMLResponse)
    def joint(
        request: Request,
        name: str,
        saved: str = "",
        again: str = "",
        asks: str = "",
        adapter: str = "",
        length: str = "",
        offset: str = "",
        askew: str = "",
    ) -> Response:
        typed = Adapter(length, offset, askew) if adapter else None
        return _page(desk, request, "joint.html", name, adapter=typed, saved=saved, again=again, asks=asks, typed={})

    @app.get("/joint/{name}/wrong", response_class=HTMLResponse)
    def wrong(request: Request, name: str) -> Response:
        return _page(desk, request, "joint_wrong.html", name)


def _add_pulling(app: FastAPI, desk: Desk) -> None:
    @app.post("/joint/{name}/pull", response_class=HTMLResponse)
    def pull(
        request: Request,
        name: str,
        key: Word = "",
        pass_number: Count = -1,
        bolt: Word = "",
        gauge: Word = "",
        by: Word = "",
        length: Word = "",
        offset: Word = "",
        askew: Word = "",
        seen: Word = "",
        in_spite: Word = "",
    ) -> Response:
        adapter = Adapter(length, offset, askew)
        told = pull_bolt(
            desk.store,
            desk.clock,
            key=key,
            joint=name,
            pass_number=pass_number,
            bolt=bolt,
            gauge=gauge,
            by=by,
            adapter=adapter,
            seen=seen,
            in_spite=in_spite,
            device=device_of(request),
        )
        where = f" in pass {pass_number}" if pass_number > 0 else ""
        if isinstance(told, Already):
            return _answer_again(desk, request, name, told, where)
        if told is not None:
            typed = {"gauge": gauge, "by": by, "seen": seen, "in_spite": in_spite}
            return _page(desk, request, "joint.html", name, problem=told, adapter=adapter, typed=typed, saved="")
        asks = _asked_about(desk, name, bolt, pass_number)
        question = f"&asks={quote(asks)}" if asks else ""
        saved = quote(f"Saved: bolt {bolt} pulled{where}.")
        return RedirectResponse(f"/joint/{quote(name)}?saved={saved}{question}#content", status_code=303)

    @app.post("/joint/{name}/take-over", response_class=HTMLResponse)
    def take_over(request: Request, name: str, key: Word = "", by: Word = "", gave: Word = "") -> Response:
        device = device_of(request)
        problem = take_over_joint(desk.store, desk.clock, key=key, joint=name, device=device, by=by, gave=gave)
        return _answer(desk, request, name, problem, "Saved: this device has the joint now.", by=by, gave=gave)

    @app.post("/joint/{name}/wrong", response_class=HTMLResponse)
    def felt_wrong(
        request: Request, name: str, key: Word = "", pull: Word = "", feel: Word = "", by: Word = ""
    ) -> Response:
        number, _, bolt = pull.partition("/")
        problem = condemn_bolt(
            desk.store,
            desk.clock,
            key=key,
            joint=name,
            pass_number=int(number) if number.isdecimal() else -1,
            bolt=bolt,
            feel=feel,
            by=by,
        )
        if problem:
            return _page(desk, request, "joint_wrong.html", name, problem=problem)
        return _answer(desk, request, name, None, f"Saved: bolt {bolt} felt wrong. It does not count as pulled.")


def _add_setting(app: FastAPI, desk: Desk) -> None:
    @app.post("/joint/{name}/set", response_class=HTMLResponse)
    def fit(
        request: Request,
        name: str,
        key: Word = "",
        bolts: Word = "",
        by: Word = "",
        sort: Words = [],  # noqa: B006
        thread: Words = [],  # noqa: B006
        head: Words = [],  # noqa: B006
    ) -> Response:
        stated = dict(zip(sort, zip(thread, head, strict=False), strict=False))
        problem = fit_bolt_set(desk.store, desk.clock, key=key, joint=name, bolts=bolts, stated=stated, by=by)
        saved = f"Saved: bolt set {bolts.strip()} is in. Start at pass 1."
        return _answer(desk, request, name, problem, saved, bolts=bolts, by=by, stated=stated)

    @app.post("/joint/{name}/back", response_class=HTMLResponse)
    def back(request: Request, name: str, key: Word = "", new_bolt: Word = "", by: Word = "") -> Response:
        problem = take_joint_back(desk.store, desk.clock, key=key, joint=name, new_bolt=new_bolt, by=by)
        saved = "Saved: done as your description says. Go on below."
        return _answer(desk, request, name, problem, saved, new_bolt=new_bolt, by=by)

    @app.post("/joint/{name}/close", response_class=HTMLResponse)
    def close(request: Request, name: str, key: Word = "", by: Word = "") -> Response:
        problem = close_joint(desk.store, desk.clock, key=key, joint=name, by=by)
        return _answer(desk, request, name, problem, "Saved: the joint is closed.", by=by)


def _add_asking(app: FastAPI, desk: Desk) -> None:
    @app.post("/joint/{name}/look-up", response_class=HTMLResponse)
    def look_up(
        request: Request,
        name: str,
        key: Word = "",
        what: Word = "",
        pass_number: Count = -1,
        sort: Word = "",
        bolt: Word = "",
        value: Word = "",
        page: Word = "",
        by: Word = "",
    ) -> Response:
        same = {"key": key, "joint": name, "page": page, "by": by}
        if what == "sequence":
            problem = look_up_sequence(desk.store, desk.clock, pass_number=pass_number, sequence=value, **same)
        else:
            problem = look_up_amount(
                desk.store, desk.clock, pass_number=pass_number, sort=sort, bolt=bolt, amount=value, **same
            )
        saved = f"Saved: {value.strip()}, page {page.strip()}, typed at the bench."
        typed = {"what": f"{what}{pass_number}{sort}{bolt}", "value": value, "page": page, "by": by}
        return _answer(desk, request, name, problem, saved, **typed)

    @app.post("/joint/{name}/check", response_class=HTMLResponse)
    def check(
        request: Request,
        name: str,
        key: Word = "",
        check: Word = "",
        place: Word = "",
        text: Word = "",
        gauge: Word = "",
        by: Word = "",
    ) -> Response:
        problem = check_joint(
            desk.store, desk.clock, key=key, joint=name, check=check, place=place, text=text, gauge=gauge, by=by
        )
        return _answer(desk, request, name, problem, f"Saved: {place}, {text}.", text=text, gauge=gauge, by=by)
