"""Where in the engine a step is, as the plain values that its drawing is made from."""

from __future__ import annotations

from endfloat.drawings.where import PlaceRow, WherePicture
from endfloat.engine.model import Engine
from endfloat.engine.operations import Operation
from endfloat.engine.views import EngineView


def where(engine: Engine, step: Operation) -> WherePicture | None:
    """The picture of a step; None where the description shows no view, or the step names neither bank nor place."""
    view = engine.views.get(step.attitude) or next(iter(engine.views.values()), None)
    if view is None or not (step.bank or step.shows):
        return None
    rows = [_row(engine, view, step, bank) for bank in view.rows or [""]]
    journals = [
        PlaceRow(tuple(engine.places[family].names), frozenset(shown), family, worked_on=True, journals=True)
        for family, shown in step.shows.items()
        if family != view.along
    ]
    middle = len(rows) // 2 if len(rows) > 1 else len(rows)
    lettered = {"left", "right"} & set(view.rows)
    note = "left and right as seen from the flywheel" if lettered else ""
    return WherePicture(view.seen, view.front == "left", (*rows[:middle], *journals, *rows[middle:]), note)


def _row(engine: Engine, view: EngineView, step: Operation, bank: str) -> PlaceRow:
    family = engine.places[view.along]
    names = tuple(family.bank[bank] if bank else family.names)
    # Heads one behind the other over one line of cylinders make no rows: the bank is where its cylinders are.
    pointed = step.shows.get(view.along) or ([] if bank else family.bank.get(step.bank, []))
    here = frozenset(pointed) & frozenset(names)
    worked_on = bool(here) or (bool(bank) and step.bank == bank)
    falling = list(family.bank).index(bank) > 0 if bank else None
    return PlaceRow(names, here, bank, worked_on=worked_on, falling=falling)
