"""A number opened up: where does this come from?"""

from __future__ import annotations

from dataclasses import dataclass

from fastapi import FastAPI, Request
from fastapi.responses import HTMLResponse, Response

from endfloat.cards import CARDS
from endfloat.engine.book_units import book_unit
from endfloat.inspection.evaluate import inputs_at
from endfloat.inspection.judge import Finding
from endfloat.inspection.words import label, number, place_words, thing_words
from endfloat.quantities.estimates import Estimate
from endfloat.quantities.shown_text import shown_estimate
from endfloat.web.desk import Desk
from endfloat.web.links import measure_link, measured_spots
from endfloat.web.words import spot_words
from endfloat.workshop.view import View


def add_number_page(app: FastAPI, desk: Desk) -> None:
    """The page of one finding."""

    @app.get("/number/{on}/{use}/{place}", response_class=HTMLResponse)
    def open_number(request: Request, on: str, use: str, place: str) -> Response:
        seen = desk.view()
        finding = next((f for f in seen.findings if f.key == (on, use, place)), None)
        if finding is None:
            return desk.stopped(request, f"This engine has no {use} limit on {thing_words(on)} at {place}.")
        context = {
            "job": seen,
            "label": label(seen.engine, on, place),
            "place": place_words(seen.engine, on, place),
            "finding": finding,
            "inputs": inputs_of(seen, finding),
            "missing": missing_spots(seen, finding),
            "card": CARDS.get(finding.formula),
            "value": number(finding).partition(" ± "),
        }
        return desk.page(request, "number.html", context)


@dataclass(frozen=True, slots=True)
class Input:
    """What goes into a number: the symbol of the formula, what is read there, its value, and where it comes from."""

    symbol: str
    words: str
    value: str
    readings: tuple[Measured, ...]
    given: str


@dataclass(frozen=True, slots=True)
class Measured:
    """A place behind an input: its words, where it is measured, and its readings as typed, with gauge and person."""

    words: str
    link: str
    taken: tuple[str, ...]


def inputs_of(seen: View, finding: Finding) -> list[Input]:
    """The inputs of a finding, with the readings behind each."""
    on, place = finding.on, finding.place
    sources = inputs_at(seen.engine, on, place) if on in seen.engine.quantities else {on: [(on, place)]}
    rows = []
    for argument, spots in sources.items():
        for source, at in spots:
            name = argument if len(spots) == 1 else at
            rows.append(
                Input(
                    argument if finding.formula else "",
                    label(seen.engine, source, at),
                    shown_input(seen, source, finding.inputs.get(name)),
                    tuple(measured(seen, *spot) for spot in measured_spots(seen, source, at)),
                    given_words(seen, source),
                )
            )
    return rows


def measured(seen: View, characteristic: str, place: str) -> Measured:
    """The readings of one place, as typed."""
    taken = seen.readings_at(characteristic, place)
    return Measured(
        label(seen.engine, characteristic, place),
        measure_link(characteristic, place),
        tuple(
            f"{t.text}, {spot_words(*spot)}, gauge {t.gauge}, {t.by}" for spot, column in taken.items() for t in column
        ),
    )


def given_words(seen: View, source: str) -> str:
    """Where a number that is not measured comes from."""
    described = seen.engine.characteristics.get(source)
    if described is None or described.given is None:
        return ""
    return f"given, page {described.page}" if described.page else "given by the description"


def missing_spots(seen: View, finding: Finding) -> list[tuple[str, str]]:
    """Words and link of each place that still lacks a reading for this finding."""
    taken = seen.taken_spots
    lacking = dict.fromkeys(spot[:2] for spot in seen.wanted_in_order if spot not in taken)
    behind = measured_spots(seen, finding.on, finding.place)
    return [(label(seen.engine, *spot), measure_link(*spot)) for spot in behind if spot in lacking]


def shown_input(seen: View, source: str, estimate: Estimate | None) -> str:
    """An input of a formula in the unit of the book."""
    return shown_estimate(estimate, book_unit(seen.engine, source)) if estimate else "not known"
