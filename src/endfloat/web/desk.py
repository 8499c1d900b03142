"""What every page is handed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from fastapi import Request
from fastapi.responses import Response
from fastapi.templating import Jinja2Templates

from endfloat.decision.rows import Solver
from endfloat.web.stages import stages_of
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
        """A template filled in; a page of a job has its rule of stages and its title block too."""
        filled = dict(context)
        job = filled.get("job")
        if isinstance(job, View):
            fingerprint = self.store.entries()[-1].fingerprint
            now = self.clock()
            mine = {"stages": stages_of(job), "drawn": now, "date": now[:10], "fingerprint": fingerprint[:16]}
            filled = {**mine, **filled}
        return self.templates.TemplateResponse(request, name, filled, status_code=status)

    def stopped(self, request: Request, sentence: str, status: int = 404) -> Response:
        """A page that says what is wrong and leads back to the job."""
        return self.page(request, "stopped.html", {"sentence": sentence}, status)
