"""The eight stages of a job: what each holds today."""

from __future__ import annotations

from urllib.parse import quote

from fastapi import FastAPI, Request
from fastapi.responses import HTMLResponse, Response

from endfloat.inspection.words import label
from endfloat.web.desk import Desk
from endfloat.web.stages import INSPECT, stages_of
from endfloat.workshop.view import View


def add_stage_pages(app: FastAPI, desk: Desk) -> None:
    """One page a stage."""

    @app.get("/stage/{key}", response_class=HTMLResponse)
    def one_stage(request: Request, key: str) -> Response:
        seen = desk.view()
        stage = next((stage for stage in stages_of(seen, desk.clock()) if stage.words.key == key), None)
        if stage is None:
            return desk.stopped(request, f"A job has no stage {key}.")
        places = places_to_measure(seen) if key == INSPECT else []
        return desk.page(request, "stage.html", {"job": seen, "stage": stage, "stage_key": key, "places": places})


def places_to_measure(seen: View) -> list[tuple[str, str, int, int]]:
    """Words, link, spots taken and spots wanted of every place, in the order of the description."""
    taken = seen.taken_spots
    rows = []
    for name, described in seen.engine.characteristics.items():
        if described.given is not None:
            continue
        spots = [(station, axis) for station in described.stations for axis in described.axes]
        for place in seen.engine.places[described.at].names:
            done = sum((name, place, *spot) in taken for spot in spots)
            rows.append((label(seen.engine, name, place), f"/measure/{quote(name)}/{quote(place)}", done, len(spots)))
    return rows
