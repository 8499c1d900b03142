"""The papers of the plan that was agreed."""

from __future__ import annotations

import secrets
from collections.abc import Callable
from typing import Annotated

from fastapi import FastAPI, Form, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from endfloat.decision.plan import Plan
from endfloat.problems import Problem
from endfloat.web.desk import Desk
from endfloat.workshop import sheets
from endfloat.workshop.booklet import KIND, booklet
from endfloat.workshop.build import build_of
from endfloat.workshop.build_record import build_record
from endfloat.workshop.plan_work import tried
from endfloat.workshop.take_work_back import not_back_after_all, take_work_back
from endfloat.workshop.view import View
from endfloat.workshop.void import void_purchases, void_rows

PAPERS = {
    "machine-shop-sheet": "Machine-shop sheet",
    "purchases": "Purchases",
    "customer-page": "For the customer",
    "numbers-to-look-up": "Numbers to look up",
    "build-record": "Build record",
    KIND: "Build booklet: the steps to follow on paper",
}
# Those that no plan brings about.
ON_THEIR_OWN = ("build-record", KIND)


def add_sheets_page(app: FastAPI, desk: Desk) -> None:
    """The list of papers, the machine-shop sheet as a page, and each paper as PDF."""

    @app.get("/sheets", response_class=HTMLResponse)
    def papers(request: Request) -> Response:
        return listed(request)

    def listed(request: Request, problem: Problem | None = None) -> Response:
        seen = desk.view()
        plan = agreed_plan(seen)
        work, bought = sheets.work_agreed(seen), sheets.bought_agreed(seen)
        context = {
            "job": seen,
            "agreed": seen.state.agreed,
            "papers": papers_of(seen, plan),
            "void": void_rows(seen, agreed_choice(seen)),
            "price": seen.prices.shown(plan.cost) if plan and seen.prices else "",
            "void_price": sheets.void_agreed(seen),
            "out": [(name, *words) for name, words in work.items() if name not in bought],
            "bought": [words for name, words in work.items() if name in bought],
            "key": secrets.token_hex(16),
            "problem": problem.text() if problem else "",
        }
        return desk.page(request, "sheets.html", context, 422 if problem else 200)

    @app.post("/sheets/back", response_class=HTMLResponse)
    def back(
        request: Request,
        decision: Annotated[str, Form()] = "",
        key: Annotated[str, Form()] = "",
        by: Annotated[str, Form()] = "",
    ) -> Response:
        problem = take_work_back(desk.store, desk.clock, key=key, decision=decision, by=by)
        if problem:
            return listed(request, problem)
        return RedirectResponse("/sheets", status_code=303)

    @app.get("/sheets/machine-shop-sheet", response_class=HTMLResponse)
    def machine_shop_sheet(request: Request) -> Response:
        seen = desk.view()
        plan = agreed_plan(seen)
        if plan is None:
            return desk.stopped(request, "No plan is agreed yet, so there is no machine-shop sheet.")
        return desk.page(
            request, "machine_shop_sheet.html", {"job": seen, "sheets": sheets.machine_shop_sheets(seen, plan)}
        )

    @app.get("/sheets/{kind}.pdf")
    def pdf(request: Request, kind: str) -> Response:
        seen = desk.view()
        values = values_of(desk, seen, kind)
        if values is None:
            return desk.stopped(
                request, "There is no such paper yet. Agree to a plan first, or lay out the build order."
            )
        return Response(desk.papers(kind, values), media_type="application/pdf")

    @app.post("/sheets/not-back", response_class=HTMLResponse)
    def not_back(
        request: Request,
        decision: Annotated[str, Form()] = "",
        key: Annotated[str, Form()] = "",
        reason: Annotated[str, Form()] = "",
        by: Annotated[str, Form()] = "",
    ) -> Response:
        problem = not_back_after_all(desk.store, desk.clock, key=key, decision=decision, reason=reason, by=by)
        if problem:
            return listed(request, problem)
        return RedirectResponse("/sheets", status_code=303)


def papers_of(seen: View, plan: Plan | None) -> dict[str, str]:
    """The papers that can be printed now."""
    alone = without_plan(seen)
    return {kind: words for kind, words in PAPERS.items() if kind in alone or (plan and kind not in ON_THEIR_OWN)}


def agreed_plan(seen: View) -> Plan | None:
    """The plan that was agreed, judged as things stand now."""
    if seen.state.agreed is None:
        return None
    plan = tried(seen, seen.state.agreed.choice)
    return None if isinstance(plan, Problem) else plan


def agreed_choice(seen: View) -> dict[str, str] | None:
    """What the agreed plan chose; None while none is agreed."""
    return seen.state.agreed.choice if seen.state.agreed else None


def without_plan(seen: View) -> list[str]:
    """The papers that need no plan: purchases where the strip made parts void, the booklet once there is an order."""
    bought = ["purchases"] if void_purchases(seen, None) else []
    return [*bought, "build-record", *([KIND] if build_of(seen.state).order else [])]


def values_of(desk: Desk, seen: View, kind: str) -> dict[str, object] | None:
    """The plain values of a paper; None when there is nothing to print. Each bears the day and the record's mark."""
    entries = desk.store.entries()
    if kind == "build-record":
        return build_record(seen, entries)
    if kind == KIND:
        values = booklet(seen, entries)
        return None if isinstance(values, Problem) else values
    plan = agreed_plan(seen)
    name = f"{seen.name} (invented)" if seen.engine.invented else seen.name
    shared = {"job": name, "record": f"{desk.clock()[:10]} · record {entries[-1].fingerprint[:16]}"}
    if kind == "purchases" and (plan or kind in without_plan(seen)):
        bought = [(each.item, each.times, each.use) for each in void_purchases(seen, agreed_choice(seen))]
        return {**sheets.purchases(seen, plan, bought), **shared}
    if plan is None:
        return None
    papers: dict[str, Callable[[], dict[str, object]]] = {
        "machine-shop-sheet": lambda: {"sheets": sheets.machine_shop_sheets(seen, plan)},
        "numbers-to-look-up": lambda: sheets.numbers_to_look_up(seen),
        "customer-page": lambda: sheets.customer_page(seen),
    }
    if kind not in papers:
        return None
    return {**papers[kind](), **shared}
