"""A number opened up: where does this come from?"""

from __future__ import annotations

from fastapi import FastAPI, Request
from fastapi.responses import HTMLResponse, Response

from endfloat.engine.references import kind_of
from endfloat.inspection.evaluate import inputs_at, spots_of
from endfloat.inspection.words import label
from endfloat.quantities.estimates import Estimate
from endfloat.quantities.shown_text import WORKSHOP_UNIT, shown_estimate
from endfloat.web.desk import Desk
from endfloat.workshop.view import View


def add_number_page(app: FastAPI, desk: Desk) -> None:
    """The page of one finding."""

    @app.get("/number/{on}/{use}/{place}", response_class=HTMLResponse)
    def open_number(request: Request, on: str, use: str, place: str) -> Response:
        seen = desk.view()
        finding = next((f for f in seen.findings if f.key == (on, use, place)), None)
        if finding is None:
            sentence = f"This engine has no {use} limit on {on.replace('_', ' ')} at {place}."
            return desk.stopped(request, sentence)
        sources = inputs_at(seen.engine, on, place) if on in seen.engine.quantities else {on: [(on, place)]}
        context = {
            "job": seen,
            "label": label(seen.engine, on, place),
            "finding": finding,
            "inputs": [
                (
                    argument if len(spots) == 1 else at,
                    shown_input(seen, source, finding.inputs.get(argument if len(spots) == 1 else at)),
                    measured_spots(seen, source, at),
                )
                for argument, spots in sources.items()
                for source, at in spots
            ],
        }
        return desk.page(request, "number.html", context)


def measured_spots(seen: View, on: str, place: str) -> list[tuple[str, str]]:
    """The characteristics and places behind a value that a gauge is put to."""
    spots = spots_of(seen.engine, on, place)
    return [spot for spot in spots if seen.engine.characteristics[spot[0]].given is None]


def shown_input(seen: View, source: str, estimate: Estimate | None) -> str:
    """An input of a formula in its workshop unit."""
    kind = kind_of(seen.engine, source)
    return shown_estimate(estimate, WORKSHOP_UNIT[kind]) if estimate and kind else "not known"
