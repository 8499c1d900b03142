"""The pages over one job: what needs me now, and what the gauge says here."""

from __future__ import annotations

import secrets
from collections import Counter
from pathlib import Path
from typing import Annotated
from urllib.parse import quote

from fastapi import FastAPI, Form, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from fastapi.staticfiles import StaticFiles
from fastapi.templating import Jinja2Templates

from endfloat.engine.references import kind_of
from endfloat.errors import EndfloatError
from endfloat.inspection.evaluate import inputs_at, sources_of, spots_of
from endfloat.inspection.judge import Finding
from endfloat.inspection.words import label, limit_words, number
from endfloat.quantities.estimates import Estimate
from endfloat.quantities.shown_text import WORKSHOP_UNIT, shown_estimate
from endfloat.workshop.ports import Clock, Store
from endfloat.workshop.record import load
from endfloat.workshop.take_reading import take_reading
from endfloat.workshop.view import View, view

HERE = Path(__file__).parent
FAMILIES = ("Out", "Unsettled", "Open", "Holds")
POLICY = "default-src 'none'; style-src 'self'; img-src 'self'; form-action 'self'; base-uri 'none'"


def make_app(store: Store, clock: Clock) -> FastAPI:
    """The application over one job's store."""
    app = FastAPI(title="endfloat", docs_url=None, redoc_url=None, openapi_url=None)
    app.mount("/static", StaticFiles(directory=HERE / "static"), name="static")
    templates = Jinja2Templates(directory=HERE / "templates")
    templates.env.globals.update(
        chances=chances, spot_words=spot_words, number=number, limit_words=limit_words, families=FAMILIES
    )

    @app.middleware("http")
    async def strict(request: Request, call_next):  # type: ignore[no-untyped-def]
        response = await call_next(request)
        response.headers["Content-Security-Policy"] = POLICY
        return response

    @app.exception_handler(EndfloatError)
    def failed(request: Request, error: EndfloatError) -> Response:
        return templates.TemplateResponse(request, "failed.html", {"sentence": str(error)}, status_code=503)

    @app.get("/", response_class=HTMLResponse)
    def overview(request: Request) -> Response:
        seen = view(load(store)[0])
        counts = Counter(finding.verdict.family for finding in seen.findings)
        ordered = sorted(seen.findings, key=lambda finding: FAMILIES.index(finding.verdict.family))
        rows = [
            (finding, label(seen.engine, finding.on, finding.place), entry_link(seen, finding)) for finding in ordered
        ]
        return templates.TemplateResponse(request, "overview.html", {"job": seen, "counts": counts, "rows": rows})

    @app.get("/number/{on}/{use}/{place}", response_class=HTMLResponse)
    def open_number(request: Request, on: str, use: str, place: str) -> Response:
        seen = view(load(store)[0])
        finding = next((f for f in seen.findings if (f.on, f.use, f.place) == (on, use, place)), None)
        if finding is None:
            sentence = f"This engine has no {use} limit on {on.replace('_', ' ')} at {place}."
            return templates.TemplateResponse(request, "failed.html", {"sentence": sentence}, status_code=404)
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
        return templates.TemplateResponse(request, "number.html", context)

    @app.get("/measure/{characteristic}/{place}", response_class=HTMLResponse)
    def measure(request: Request, characteristic: str, place: str, saved: str = "") -> Response:
        return entry_page(request, characteristic, place, saved=saved)

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
        problem = take_reading(store, clock, key=key, spot=whole, text=text, gauge=gauge, by=by)
        if problem:
            typed = {"text": text, "gauge": gauge, "by": by, "spot": spot}
            return entry_page(request, characteristic, place, problem=problem.text(), typed=typed)
        words = quote(f"Saved: {text.strip()}, {spot_words(station, axis)}.")
        return RedirectResponse(f"/measure/{quote(characteristic)}/{quote(place)}?saved={words}", status_code=303)

    def entry_page(
        request: Request,
        characteristic: str,
        place: str,
        *,
        saved: str = "",
        problem: str = "",
        typed: dict[str, str] | None = None,
    ) -> Response:
        seen = view(load(store)[0])
        described = seen.engine.characteristics.get(characteristic)
        if described is None or place not in seen.engine.places[described.at].names:
            sentence = f"This engine has no {characteristic.replace('_', ' ')} at {place}."
            return templates.TemplateResponse(request, "failed.html", {"sentence": sentence}, status_code=404)
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
        return templates.TemplateResponse(request, "measure.html", context, status_code=422 if problem else 200)

    return app


def reads(seen: View, finding: Finding, characteristic: str) -> bool:
    """Does this finding rest on the characteristic?"""
    quantity = seen.engine.quantities.get(finding.on)
    return finding.on == characteristic if quantity is None else characteristic in sources_of(seen.engine, finding.on)


def entry_link(seen: View, finding: Finding) -> str:
    """Where the first readings behind a finding are taken; the job when the service book gives them all."""
    name, place = next(iter(measured_spots(seen, finding.on, finding.place)), ("", ""))
    return f"/measure/{quote(name)}/{quote(place)}" if name else "/"


def measured_spots(seen: View, on: str, place: str) -> list[tuple[str, str]]:
    """The characteristics and places behind a value that a gauge is put to."""
    spots = spots_of(seen.engine, on, place)
    return [spot for spot in spots if seen.engine.characteristics[spot[0]].given is None]


def shown_input(seen: View, source: str, estimate: Estimate | None) -> str:
    """An input of a formula in its workshop unit."""
    kind = kind_of(seen.engine, source)
    return shown_estimate(estimate, WORKSHOP_UNIT[kind]) if estimate and kind else "not known"


def chances(probability: float) -> str:
    """A probability in words; never quite none or all."""
    whole = round(probability * 100)
    if whole < 1:
        return "Fewer than 1 chance in 100"
    return "More than 99 chances in 100" if whole > 99 else f"About {whole} chances in 100"


def spot_words(station: str, axis: str) -> str:
    """Station and axis in words, for a part that is measured at one spot too."""
    return " ".join(word for word in (station, axis) if word != "-") or "at its one spot"
