"""The reading sheet: every reading that an engine asks for, as an empty table or a paper for the clipboard."""

from __future__ import annotations

import csv
import io

from endfloat.engine.model import Engine
from endfloat.engine.spots import spot_words
from endfloat.inspection.readings import COLUMNS


def spots_to_measure(engine: Engine) -> list[tuple[str, str, str, str]]:
    """Characteristic, place, station and axis of every reading, in the order of the description."""
    return [
        (name, place, station, axis)
        for name, described in engine.characteristics.items()
        if described.given is None
        for place in engine.places[described.at].names
        for station in described.stations
        for axis in described.axes
    ]


def empty_table(engine: Engine) -> str:
    """A readings table with empty values and gauges."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    writer.writerows((*spot, "", "") for spot in spots_to_measure(engine))
    return out.getvalue()


def reading_sheet(engine: Engine) -> dict[str, object]:
    """The paper: one block a characteristic, one line a place, one box a reading."""
    blocks = []
    for name, described in engine.characteristics.items():
        if described.given is None:
            heads = [spot_words(station, axis) for station in described.stations for axis in described.axes]
            rows = [engine.place_label(described.at, place) for place in engine.places[described.at].names]
            title = f"{name.replace('_', ' ')} ({described.of}, {described.method})"
            blocks.append({"title": title, "heads": heads, "rows": rows})
    return {"job": engine.name, "blocks": blocks}
