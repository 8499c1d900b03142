"""A what-if: what would change? The plan itself is untouched until it is taken."""

from __future__ import annotations

from urllib.parse import urlencode

from fastapi import FastAPI, Request
from fastapi.responses import HTMLResponse, Response

from endfloat.decision.plan import Plan, missing_needs
from endfloat.decision.prices import Prices
from endfloat.inspection.words import label, number, sentence
from endfloat.problems import Problem
from endfloat.web.desk import Desk
from endfloat.workshop.plan_work import tried, work_out
from endfloat.workshop.view import View
from endfloat.workshop.void import days_with_void, told_beside

SHOWN = 8


def add_what_if_page(app: FastAPI, desk: Desk) -> None:
    """The plan beside one changed by hand."""

    @app.get("/what-if", response_class=HTMLResponse)
    def what_if(request: Request) -> Response:
        seen = desk.view()
        planned = work_out(seen, desk.solver)
        if isinstance(planned, Problem):
            return desk.stopped(request, planned.text())
        other = tried(seen, {**planned.plan.choice, **dict(request.query_params)})
        if isinstance(other, Problem):
            return desk.stopped(request, other.text())
        missing = missing_needs(seen.engine, other.choice)
        context = {
            "job": seen,
            "plan": planned.plan,
            "other": other,
            "rows": comparison(seen, planned.question.prices, planned.plan, other),
            "out": [sentence(seen.engine, finding) for finding in other.out] + missing,
            "agree": "/agree?" + urlencode(other.choice),
        }
        return desk.page(request, "what_if.html", context)


def comparison(seen: View, prices: Prices, plan: Plan, other: Plan) -> list[tuple[str, str, str]]:
    """Rows of the comparison: money, days, what is out, and the values that move most against their limits."""
    rows = [
        ("Cost", prices.shown(plan.cost) if plan.found else "no plan", prices.shown(other.cost)),
        *_void_row(seen, prices, plan, other),
        ("Days", _days(seen, plan), _days(seen, other)),
        ("Out", str(len(plan.out)), str(len(other.out))),
    ]
    before = {finding.key: finding for finding in plan.findings}
    moved = [
        (finding, was)
        for finding in other.findings
        if (was := before.get(finding.key)) and finding.estimate and was.estimate
        if abs(finding.estimate.value - was.estimate.value) > 1e-9
    ]
    moved.sort(key=lambda pair: (pair[0].margin or 0) / abs(pair[0].bounds.high or pair[0].bounds.low or 1))
    return rows + [
        (label(seen.engine, finding.on, finding.place), number(was), number(finding)) for finding, was in moved[:SHOWN]
    ]


def _days(seen: View, plan: Plan) -> str:
    return str(days_with_void(seen, plan.choice, plan.days))


def _void_row(seen: View, prices: Prices, plan: Plan, other: Plan) -> list[tuple[str, str, str]]:
    """What removal makes void beside either plan, where there is any."""
    told = [told_beside(seen, each.choice, each.cost, each.cost) for each in (plan, other)]
    was, now = (each.price if each else "" for each in told)
    return [("Void parts", was or prices.shown(0), now or prices.shown(0))] if was or now else []
