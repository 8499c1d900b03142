"""The order: check one as you would have it, ask what may be missing, and say that a lost state is true again."""

from __future__ import annotations

from typing import Annotated
from urllib.parse import quote

from fastapi import FastAPI, Form, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from endfloat.assembly.strip_hunt import put_back
from endfloat.problems import Problem
from endfloat.web.desk import Desk
from endfloat.workshop.build import Build, build_of, titles
from endfloat.workshop.order_checks import OrderChecked, check_typed, hunt, moved
from endfloat.workshop.regain import regain
from endfloat.workshop.strip import strip_of

Word = Annotated[str, Form()]
REPLAYED = 40


def add_order_pages(app: FastAPI, desk: Desk) -> None:
    """The routes; they stand before those of a single step."""

    @app.get("/build/order", response_class=HTMLResponse)
    def order(request: Request) -> Response:
        build = build_of(desk.view().state)
        return _order_page(desk, request, build, "\n".join(build.order or build.engine.operations), None)

    @app.post("/build/order", response_class=HTMLResponse)
    def checked(request: Request, order: Word = "", step: Word = "", after: Word = "") -> Response:
        build = build_of(desk.view().state)
        text = order.replace("\r\n", "\n")
        if step:
            text = "\n".join(moved([line for line in text.split("\n") if line.strip()], step, after))
        return _order_page(desk, request, build, text, check_typed(build.engine, text))

    @app.post("/build/{operation}/regained", response_class=HTMLResponse)
    def regained(request: Request, operation: str, key: Word = "", condition: Word = "", by: Word = "") -> Response:
        problem = regain(desk.store, desk.clock, key=f"{operation} {key}", condition=condition, by=by)
        if problem:
            return desk.stopped(request, problem.text(), 422)
        return RedirectResponse(f"/build/{quote(operation)}", status_code=303)

    @app.get("/build/missing", response_class=HTMLResponse)
    def missing(request: Request) -> Response:
        return _missing_page(desk, request, "", 0, "1")

    @app.post("/build/missing", response_class=HTMLResponse)
    def hunted(request: Request, strip: Word = "", seed: Word = "1") -> Response:
        return _missing_page(desk, request, strip, REPLAYED, seed)


def _order_page(desk: Desk, request: Request, build: Build, text: str, checked: OrderChecked | None) -> Response:
    wrong = checked.problems if checked else ()
    steps = titles(build, [line for line in text.split("\n") if line in build.engine.operations])
    context = {
        "job": desk.view(),
        "text": text,
        "steps": steps,
        "count": len(build.engine.operations),
        "checked": checked,
        "problems": [each.text() for each in wrong],
        "laid_out": bool(build.order),
    }
    return desk.page(request, "order.html", context, 422 if wrong else 200)


def _missing_page(desk: Desk, request: Request, strip: str, orders: int, seed: str) -> Response:
    job = desk.view()
    engine, off = build_of(job.state).engine, strip_of(job.state).stands.off
    is_number = seed.isascii() and seed.isdigit() and len(seed) < 10
    recorded = put_back(engine, off)
    text = strip.replace("\r\n", "\n")
    found = hunt(engine, orders=orders, seed=int(seed) if is_number else 1, strip=text, recorded=recorded)
    problems = list(found.problems)
    if not is_number:
        problems.append(Problem("wrong_seed", "the seed", seed, "a whole number", "Type 1, or any other number."))
    context = {
        "job": job,
        "off": len(off),
        "recorded": len(recorded),
        "found": found,
        "parts": [(name, part.title) for name, part in engine.blocking.items()],
        "strip": strip,
        "seed": seed,
        "orders": REPLAYED,
        "problems": [each.text() for each in problems],
    }
    return desk.page(request, "missing_relations.html", context, 422 if problems else 200)
