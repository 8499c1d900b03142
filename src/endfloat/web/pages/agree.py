"""Agreeing to a plan, and withdrawing the agreement."""

from __future__ import annotations

from typing import Annotated

from fastapi import FastAPI, Form, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from endfloat.decision.plan import Plan
from endfloat.problems import Problem
from endfloat.web.desk import Desk
from endfloat.workshop.plan_work import agree, open_findings, tried, withdraw, work_out, work_titles
from endfloat.workshop.view import View
from endfloat.workshop.void import days_with_void, told_beside


def add_agree_page(app: FastAPI, desk: Desk) -> None:
    """One question: agree to this plan?"""

    @app.get("/agree", response_class=HTMLResponse)
    def ask(request: Request) -> Response:
        return question(request, dict(request.query_params))

    @app.post("/agree", response_class=HTMLResponse)
    async def agreed(request: Request) -> Response:
        form = {key: str(value) for key, value in (await request.form()).items()}
        by, evidence, _ = (form.pop(key, "") for key in ("by", "evidence", "job"))
        problem = agree(desk.store, desk.clock, desk.solver, choice=form, evidence=evidence, by=by)
        if problem:
            return question(request, form, problem=problem.text(), by=by)
        return RedirectResponse("/sheets", status_code=303)

    @app.post("/withdraw", response_class=HTMLResponse)
    def withdrawn(request: Request, by: Annotated[str, Form()] = "") -> Response:
        problem = withdraw(desk.store, desk.clock, by=by)
        if problem:
            return desk.stopped(request, problem.text(), 422)
        return RedirectResponse("/decide", status_code=303)

    def question(request: Request, choice: dict[str, str], *, problem: str = "", by: str = "") -> Response:
        seen = desk.view()
        plan = tried(seen, choice)
        if isinstance(plan, Problem):
            return desk.stopped(request, plan.text())
        high = at_worst(seen, plan, desk)
        context = {
            "job": seen,
            "plan": plan,
            "price": seen.prices.ranged(plan.cost, high) if seen.prices else "",
            "void": told_beside(seen, plan.choice, plan.cost, high),
            "days": days_with_void(seen, plan.choice, plan.days),
            "titles": work_titles(seen, plan.choice),
            "open": open_findings(plan),
            "evidence": seen.evidence_hash,
            "problem": problem,
            "by": by,
        }
        return desk.page(request, "agree.html", context, 422 if problem else 200)


def at_worst(seen: View, plan: Plan, desk: Desk) -> int | None:
    """The upper end of the price: that of the plan worked out, the sum itself for any other choice."""
    planned = work_out(seen, desk.solver)
    if isinstance(planned, Problem) or planned.plan.choice != plan.choice:
        return plan.cost
    worst = planned.priced.at_worst
    return worst.cost if worst else None
