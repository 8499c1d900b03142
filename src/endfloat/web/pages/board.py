"""The board: where does the engine stand?"""

from __future__ import annotations

from collections import Counter

from fastapi import FastAPI, Request
from fastapi.responses import HTMLResponse, Response
from markupsafe import Markup

from endfloat.drawings.laid_out_engine import laid_out_engine
from endfloat.inspection.words import label
from endfloat.web.bench_cloth import banks_of, bench_rows
from endfloat.web.desk import Desk
from endfloat.web.links import entry_link, number_link
from endfloat.web.words import FAMILIES
from endfloat.workshop.view import View

ALL = "All"


def add_board_page(app: FastAPI, desk: Desk) -> None:
    """The laid-out engine, and every verdict as a table."""

    @app.get("/board", response_class=HTMLResponse)
    def board(request: Request, show: str = "Out") -> Response:
        seen = desk.view()
        shown = show if show in FAMILIES else ALL
        rows = [
            (finding, label(seen.engine, finding.on, finding.place), number_link(finding), entry_link(seen, finding))
            for finding in seen.findings
        ]
        context = {
            "job": seen,
            "counts": Counter(finding.verdict.family for finding in seen.findings),
            "shown": shown,
            "choices": (*FAMILIES, ALL),
            "rows": rows,
            "listed": [row for row in rows if shown in (ALL, row[0].verdict.family)],
            "drawing": Markup(draw(seen)),
        }
        return desk.page(request, "board.html", context)


def draw(seen: View) -> str:
    """The laid-out engine of a job."""
    sides = {"left", "right"} <= set(banks_of(seen.engine))
    note = "Left and right as seen from the flywheel, looking to the front." if sides else ""
    return laid_out_engine(bench_rows(seen), name=f"{seen.name}, laid out", note=note)
