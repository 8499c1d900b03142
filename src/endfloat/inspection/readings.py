"""Readings as taken: a table with one row a reading, read strictly and never corrected silently."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from endfloat.engine.model import Characteristic, Engine
from endfloat.inspection.gauges import Gauge
from endfloat.problems import Problem
from endfloat.quantities.typed_text import Typed, read_typed

COLUMNS = ("characteristic", "place", "station", "axis", "value", "gauge")


@dataclass(frozen=True, slots=True)
class Reading:
    """One reading: where it was taken, what was typed, and with which gauge."""

    characteristic: str
    place: str
    station: str
    axis: str
    typed: Typed
    gauge: str

    @property
    def spot(self) -> tuple[str, str, str, str]:
        """What the reading is of; two readings of one spot are a repeat."""
        return (self.characteristic, self.place, self.station, self.axis)


def read_readings(
    raw: bytes, *, name: str, engine: Engine, register: Mapping[str, Gauge]
) -> tuple[Reading, ...] | list[Problem]:
    """Read a readings file; every problem at once, with its line."""
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        return [Problem("not_utf8", name, "bytes that are no text", "UTF-8 text", "Save the file as CSV in UTF-8.")]
    rows = list(csv.reader(io.StringIO(text)))
    if not rows or tuple(cell.strip() for cell in rows[0]) != COLUMNS:
        found = ",".join(rows[0]) if rows else "an empty file"
        remedy = "Print an empty table with `endfloat sheet`."
        return [Problem("wrong_columns", f"{name}:1", found, ",".join(COLUMNS), remedy)]
    problems: list[Problem] = []
    readings: list[Reading] = []
    first_lines: dict[tuple[object, ...], int] = {}
    for number, row in enumerate(rows[1:], start=2):
        if not any(cell.strip() for cell in row):
            continue
        answer = _row(row, f"{name}:{number}", engine, register)
        if isinstance(answer, list):
            problems += answer
            continue
        key = (*answer.spot, answer.typed, answer.gauge)
        if key in first_lines:
            problems.append(
                Problem(
                    "duplicate_row",
                    f"{name}:{number}",
                    f"the same row as line {first_lines[key]}",
                    "each reading once",
                    "Remove it; a true repeat goes in with the digits that it showed.",
                )
            )
            continue
        first_lines[key] = number
        readings.append(answer)
    return problems or tuple(readings)


def _row(row: Sequence[str], where: str, engine: Engine, register: Mapping[str, Gauge]) -> Reading | list[Problem]:
    if len(row) != len(COLUMNS):
        remedy = "Put a value with a comma in quotes."
        return [Problem("wrong_cells", where, f"{len(row)} cells", f"{len(COLUMNS)} cells", remedy)]
    name, place, station, axis, value, gauge = (cell.strip() for cell in row)
    characteristic = engine.characteristics.get(name)
    if characteristic is None:
        known = ", ".join(engine.characteristics)
        remedy = f"This table may belong to another engine than {engine.name}."
        return [Problem("unknown_characteristic", where, f"`{name}`", f"one of {known}", remedy)]
    problems = list(_spot(where, engine, characteristic, place, station, axis))
    if gauge not in register:
        known = ", ".join(register)
        problems.append(
            Problem("unknown_gauge", where, f"`{gauge}`", f"one of {known}", "Enter it in the gauge register.")
        )
    elif register[gauge].kind is not characteristic.kind:
        found = f"{gauge}, which measures {register[gauge].kind.value}"
        expected = f"a gauge for {characteristic.kind.value}"
        problems.append(Problem("wrong_gauge", where, found, expected, "Name the gauge that was used."))
    typed = read_typed(value, kind=characteristic.kind, place=where)
    if isinstance(typed, Problem):
        problems.append(typed)
    if problems:
        return problems
    assert isinstance(typed, Typed)
    return Reading(name, place, station, axis, typed, gauge)


def _spot(
    where: str, engine: Engine, characteristic: Characteristic, place: str, station: str, axis: str
) -> list[Problem]:
    checks = (
        ("unknown_place", place, engine.places[characteristic.at].names, "place"),
        ("unknown_station", station, characteristic.stations, "station"),
        ("unknown_axis", axis, characteristic.axes, "axis"),
    )
    return [
        Problem(code, where, f"`{found}`", f"a {sort}: {', '.join(known)}", f"Correct the {sort} in this line.")
        for code, found, known, sort in checks
        if found not in known
    ]
