"""The decision: do you agree with this work?"""

from __future__ import annotations

from urllib.parse import urlencode

from fastapi import FastAPI, Request
from fastapi.responses import HTMLResponse, Response

from endfloat.decision.plan import work_of
from endfloat.decision.why import knock_ons, no_plan, variants, why, why_not_cheaper
from endfloat.inspection.verdicts import Verdict
from endfloat.inspection.way_out import with_ways_out
from endfloat.inspection.words import label
from endfloat.problems import Problem
from endfloat.web.desk import Desk
from endfloat.workshop.plan_work import Planned, work_out
from endfloat.workshop.view import View
from endfloat.workshop.void import days_with_void, told_beside


def add_decide_page(app: FastAPI, desk: Desk) -> None:
    """The plan with its reasons."""

    @app.get("/decide", response_class=HTMLResponse)
    def decide(request: Request) -> Response:
        seen = desk.view()
        planned = work_out(seen, desk.solver)
        if isinstance(planned, Problem):
            return desk.stopped(request, planned.text())
        if not planned.plan.found:
            context = {"job": seen, "reasons": no_plan(planned.question)}
            return desk.page(request, "no_plan.html", context)
        return desk.page(request, "decide.html", plan_context(seen, planned))


def plan_context(seen: View, planned: Planned) -> dict[str, object]:
    """What the decision page shows."""
    plan, question = planned.plan, planned.question
    prices, worst = question.prices, planned.priced.at_worst
    items = [
        {
            "title": seen.engine.decisions[name].options[key].title,
            "price": prices.shown(prices.of(seen.engine.decisions[name].options[key])),
            "why": why(question, plan, (name, key)),
        }
        for name, key in work_of(seen.engine, plan.choice)
    ]
    return {
        "job": seen,
        "price": prices.ranged(plan.cost, worst.cost if worst else None),
        "void": told_beside(seen, plan.choice, plan.cost, worst.cost if worst else None),
        "days": days_with_void(seen, plan.choice, plan.days),
        "plan": plan,
        "items": items,
        "knock_ons": knock_ons(question, plan),
        "cheaper": list(why_not_cheaper(question, plan)),
        "others": other_plans(seen, planned),
        "open": [
            (label(seen.engine, finding.on, finding.place), finding)
            for finding in with_ways_out(seen.engine, seen.evidence, plan.findings)
            if finding.verdict is not Verdict.GOOD
        ],
        "agree": "/agree?" + urlencode(plan.choice),
        "change": "/what-if?" + urlencode(plan.choice),
    }


def other_plans(seen: View, planned: Planned) -> list[dict[str, str]]:
    """Other ways, each once, with what is done in place of what and the difference."""
    told: list[dict[str, str]] = []
    before = set(work_of(seen.engine, planned.plan.choice))
    seen_choices: list[dict[str, str]] = []
    for _, other in variants(planned.question, planned.plan):
        if other.choice in seen_choices:
            continue
        seen_choices.append(other.choice)
        options = [
            seen.engine.decisions[d].options[o].title
            for d, o in work_of(seen.engine, other.choice)
            if (d, o) not in before
        ]
        prices = planned.question.prices
        told.append(
            {
                "words": " and ".join(options) or "less work",
                "price": prices.shown(other.cost),
                "days": str(other.days),
                "change": "/what-if?" + urlencode(other.choice),
            }
        )
    return told
