"""The stage Prove: what is next, priming, and the two lists before the first fire."""

from __future__ import annotations

import secrets
from collections.abc import Sequence
from typing import Annotated

from fastapi import FastAPI, Form, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from endfloat.job.proof import TICK_MINUTES
from endfloat.problems import Problem
from endfloat.web.desk import Desk
from endfloat.workshop import prove
from endfloat.workshop.proving import Proved, proved

Word = Annotated[str, Form()]
Words = Annotated[list[str] | None, Form()]
LISTS = {"first": "/prove/ready", "second": "/prove/ready/second"}


def add_prove_pages(app: FastAPI, desk: Desk) -> None:
    """The routes of priming and of the two lists."""
    _add_priming(app, desk)
    _add_lists(app, desk)


def prove_page(
    desk: Desk,
    request: Request,
    name: str,
    more: dict[str, object],
    *,
    problem: Problem | None = None,
    typed: dict[str, str] | None = None,
) -> Response:
    """A page of this stage; what was typed is kept when it was refused."""
    job = desk.view()
    seen = proved(job.state, desk.clock())
    if seen.engine.proving is None:
        return desk.page(request, "prove_none.html", {"job": job})
    context = {
        "job": job,
        "seen": seen,
        "key": secrets.token_hex(16),
        "problem": problem.text() if problem else "",
        "typed": {"by": last_name(seen), **(typed or {})},
        **more,
    }
    return desk.page(request, name, context, 422 if problem else 200)


def last_name(seen: Proved) -> str:
    """Who entered something of this stage by a key last, or whose the first list is."""
    return next((each.by for each in reversed(seen.proof.keys.values())), "") or seen.proof.signer("first")


def see_other(link: str) -> Response:
    """On to another page after something was written."""
    return RedirectResponse(link, status_code=303)


def _add_priming(app: FastAPI, desk: Desk) -> None:
    @app.get("/prove", response_class=HTMLResponse)
    def prove_next(request: Request) -> Response:
        return prove_page(desk, request, "prove.html", {"ticked": ()})

    @app.post("/prove/prime", response_class=HTMLResponse)
    def primed(
        request: Request,
        step: Word = "",
        key: Word = "",
        showed: Word = "",
        by: Word = "",
        second: Word = "",
        looked: Words = None,
    ) -> Response:
        problem = prove.prime(
            desk.store, desk.clock, key=key, step=step, showed=showed, by=by, looked=looked or [], second=second
        )
        if problem:
            typed = {"showed": showed, "by": by, "second": second}
            return prove_page(desk, request, "prove.html", {"ticked": looked or []}, problem=problem, typed=typed)
        return see_other("/prove")

    @app.post("/prove/withdraw", response_class=HTMLResponse)
    def withdrawn(request: Request, entry: Word = "", reason: Word = "", by: Word = "", back: Word = "") -> Response:
        problem = prove.withdraw(desk.store, desk.clock, key=entry, reason=reason, by=by)
        link = back if back in BACK else "/prove"
        if problem:
            more: dict[str, object] = {"entry": entry, "link": link}
            typed = {"by": by, "reason": reason}
            return prove_page(desk, request, "prove_take_back.html", more, problem=problem, typed=typed)
        return see_other(link)


BACK = ("/prove", "/prove/run", "/prove/run-in", "/prove/recheck", "/prove/compare")


def _add_lists(app: FastAPI, desk: Desk) -> None:
    def list_page(
        request: Request,
        role: str,
        problem: Problem | None = None,
        by: str | None = None,
        ticked: Sequence[str] = (),
    ) -> Response:
        seen = proved(desk.view().state, desk.clock())
        name = seen.proof.signer(role) if by is None else by
        other = next(each for each in LISTS if each != role)
        more: dict[str, object] = {
            "role": role,
            "other": other,
            "lists": LISTS,
            "ticked": ticked,
            "tick_minutes": TICK_MINUTES,
        }
        return prove_page(desk, request, "prove_ready.html", more, problem=problem, typed={"by": name})

    @app.get("/prove/ready", response_class=HTMLResponse)
    def first_list(request: Request) -> Response:
        return list_page(request, "first")

    @app.get("/prove/ready/second", response_class=HTMLResponse)
    def second_list(request: Request) -> Response:
        return list_page(request, "second")

    @app.post("/prove/ready/tick", response_class=HTMLResponse)
    def ticked(request: Request, role: Word = "first", by: Word = "", looked: Words = None) -> Response:
        if role not in LISTS:
            return desk.stopped(request, f"There is no {role} list.")
        problem = prove.tick(desk.store, desk.clock, role=role, items=looked or [], by=by)
        return list_page(request, role, problem, by, looked or []) if problem else see_other(LISTS[role])

    @app.post("/prove/ready/untick", response_class=HTMLResponse)
    def unticked(request: Request, role: Word = "first", item: Word = "", by: Word = "") -> Response:
        if role not in LISTS:
            return desk.stopped(request, f"There is no {role} list.")
        problem = prove.untick(desk.store, desk.clock, role=role, item=item, by=by)
        return list_page(request, role, problem, by) if problem else see_other(LISTS[role])

    @app.post("/prove/fire", response_class=HTMLResponse)
    def fired(request: Request, by: Word = "", second: Word = "") -> Response:
        problem = prove.fire(desk.store, desk.clock, by=by, second=second)
        return list_page(request, "first", problem) if problem else see_other("/prove/run")
