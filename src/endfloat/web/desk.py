"""What every page is handed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from fastapi import Request
from fastapi.responses import Response
from fastapi.templating import Jinja2Templates

from endfloat.decision.rows import Solver
from endfloat.workshop.ports import Clock, Papers, Store
from endfloat.workshop.record import load
from endfloat.workshop.view import View, view


@dataclass(frozen=True, slots=True)
class Desk:
    """One job's store, the clock, the solver, the maker of papers, and the templates of the pages."""

    store: Store
    clock: Clock
    solver: Solver
    papers: Papers
    templates: Jinja2Templates

    def view(self) -> View:
        """The job as it stands now."""
        return view(load(self.store)[0])

    def page(self, request: Request, name: str, context: Mapping[str, object], status: int = 200) -> Response:
        """A template filled in."""
        return self.templates.TemplateResponse(request, name, dict(context), status_code=status)

    def stopped(self, request: Request, sentence: str, status: int = 404) -> Response:
        """A page that says what is wrong and leads back to the job."""
        return self.page(request, "stopped.html", {"sentence": sentence}, status)
