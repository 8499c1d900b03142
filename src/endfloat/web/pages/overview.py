"""The overview: what needs me now?"""

from __future__ import annotations

from collections import Counter
from urllib.parse import quote

from fastapi import FastAPI, Request
from fastapi.responses import HTMLResponse, Response

from endfloat.inspection.judge import Finding
from endfloat.inspection.words import label
from endfloat.web.desk import Desk
from endfloat.web.pages.number import measured_spots
from endfloat.web.words import FAMILIES
from endfloat.workshop.view import View


def add_overview_page(app: FastAPI, desk: Desk) -> None:
    """The first page of a job."""

    @app.get("/", response_class=HTMLResponse)
    def overview(request: Request) -> Response:
        seen = desk.view()
        counts = Counter(finding.verdict.family for finding in seen.findings)
        ordered = sorted(seen.findings, key=lambda finding: FAMILIES.index(finding.verdict.family))
        rows = [
            (finding, label(seen.engine, finding.on, finding.place), entry_link(seen, finding)) for finding in ordered
        ]
        return desk.page(request, "overview.html", {"job": seen, "counts": counts, "rows": rows})


def entry_link(seen: View, finding: Finding) -> str:
    """Where the first readings behind a finding are taken; the job when the service book gives them all."""
    name, place = next(iter(measured_spots(seen, finding.on, finding.place)), ("", ""))
    return f"/measure/{quote(name)}/{quote(place)}" if name else "/"
