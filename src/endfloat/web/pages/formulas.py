"""The formulas: every card, and one formula run on typed numbers."""

from __future__ import annotations

from collections import defaultdict

from fastapi import FastAPI, Request
from fastapi.responses import HTMLResponse, Response

from endfloat.cards import CARDS, WORD, Card
from endfloat.web.desk import Desk
from endfloat.workshop.run_formula import BETWEEN, run_formula, shown_result, takes_list, unit_of


def add_formula_pages(app: FastAPI, desk: Desk) -> None:
    """All subjects on one page, and one page a formula, whose numbers stand in the address so that it can be kept."""

    @app.get("/formulas", response_class=HTMLResponse)
    def handbook(request: Request) -> Response:
        subjects: dict[str, list[Card]] = defaultdict(list)
        for key, card in CARDS.items():
            subjects[key.partition(".")[0]].append(card)
        return desk.page(request, "formulas.html", {"job": desk.view(), "subjects": subjects})

    @app.get("/formulas/{key}", response_class=HTMLResponse)
    def one(request: Request, key: str) -> Response:
        if key not in CARDS:
            return desk.stopped(request, f"There is no formula {key}.")
        card, typed = CARDS[key], dict(request.query_params)
        answer = run_formula(card, typed) if typed else None
        problems = [problem.text() for problem in answer] if isinstance(answer, list) else []
        lines = []
        if isinstance(answer, tuple):
            lines = [shown_result(symbol, values) for symbol, values in zip(card.results, answer, strict=True)]
        rows = [(symbol, hint(card, symbol.name), typed.get(symbol.name, "")) for symbol in card.arguments]
        context = {"job": desk.view(), "card": card, "rows": rows, "lines": lines, "problems": problems}
        return desk.page(request, "formula.html", context, 422 if problems else 200)


def hint(card: Card, name: str) -> str:
    """How an argument is typed: the unit of the workshop, or a word; a list has its numbers apart."""
    symbol = next(symbol for symbol in card.arguments if symbol.name == name)
    if symbol.unit == WORD:
        return "a word"
    unit = unit_of(symbol).shown
    words = f"with its unit, such as {unit}" if unit else "a plain number"
    return f"{words}; several with {BETWEEN} between" if takes_list(card, symbol) else words
