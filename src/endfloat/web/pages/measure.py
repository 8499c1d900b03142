"""The measure page: what does the gauge say here?"""

from __future__ import annotations

import secrets
from typing import Annotated
from urllib.parse import quote

from fastapi import FastAPI, Form, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from endfloat.inspection.evaluate import sources_of
from endfloat.inspection.judge import Finding
from endfloat.inspection.words import label
from endfloat.web.desk import Desk
from endfloat.web.words import spot_words
from endfloat.workshop.take_reading import take_reading
from endfloat.workshop.view import View


def add_measure_page(app: FastAPI, desk: Desk) -> None:
    """Entry of the readings of one place."""

    @app.get("/measure/{characteristic}/{place}", response_class=HTMLResponse)
    def measure(request: Request, characteristic: str, place: str, saved: str = "") -> Response:
        return entry_page(desk, request, characteristic, place, saved=saved)

    @app.post("/measure/{characteristic}/{place}", response_class=HTMLResponse)
    def save(
        request: Request,
        characteristic: str,
        place: str,
        spot: Annotated[str, Form()] = "",
        key: Annotated[str, Form()] = "",
        text: Annotated[str, Form()] = "",
        gauge: Annotated[str, Form()] = "",
        by: Annotated[str, Form()] = "",
    ) -> Response:
        station, _, axis = spot.partition("|")
        whole = (characteristic, place, station, axis)
        problem = take_reading(desk.store, desk.clock, key=key, spot=whole, text=text, gauge=gauge, by=by)
        if problem:
            typed = {"text": text, "gauge": gauge, "by": by, "spot": spot}
            return entry_page(desk, request, characteristic, place, problem=problem.text(), typed=typed)
        words = quote(f"Saved: {text.strip()}, {spot_words(station, axis)}.")
        return RedirectResponse(f"/measure/{quote(characteristic)}/{quote(place)}?saved={words}", status_code=303)


def entry_page(
    desk: Desk,
    request: Request,
    characteristic: str,
    place: str,
    *,
    saved: str = "",
    problem: str = "",
    typed: dict[str, str] | None = None,
) -> Response:
    """The form for the next spot, with what was taken so far."""
    seen = desk.view()
    described = seen.engine.characteristics.get(characteristic)
    if described is None or place not in seen.engine.places[described.at].names:
        return desk.stopped(request, f"This engine has no {characteristic.replace('_', ' ')} at {place}.")
    spots = seen.readings_at(characteristic, place)
    grid = [(s, a, spots.get((s, a), [])) for s in described.stations for a in described.axes]
    here = next((f"{s}|{a}" for s, a, taken in grid if not taken), f"{grid[0][0]}|{grid[0][1]}")
    last = seen.state.standing[-1] if seen.state.standing else None
    used = next((t for t in reversed(seen.state.standing) if t.characteristic == characteristic), None)
    fields = {
        "text": "",
        "gauge": used.gauge if used else "",
        "by": last.by if last and not last.key.startswith("file-") else "",
        "spot": here,
    }
    context = {
        "job": seen,
        "label": label(seen.engine, characteristic, place),
        "grid": grid,
        "key": secrets.token_hex(16),
        "typed": typed or fields,
        "problem": problem,
        "saved": saved,
        "findings": [f for f in seen.findings if f.place == place and reads(seen, f, characteristic)],
    }
    return desk.page(request, "measure.html", context, 422 if problem else 200)


def reads(seen: View, finding: Finding, characteristic: str) -> bool:
    """Does this finding rest on the characteristic?"""
    quantity = seen.engine.quantities.get(finding.on)
    return finding.on == characteristic if quantity is None else characteristic in sources_of(seen.engine, finding.on)
