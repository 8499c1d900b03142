"""What every page is handed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from urllib.parse import parse_qs

from fastapi import Request
from fastapi.responses import Response
from fastapi.templating import Jinja2Templates
from markupsafe import Markup

from endfloat.decision.rows import Solver
from endfloat.job.pauses import stopped
from endfloat.job.strip_rules import LARGEST_PHOTO
from endfloat.web.clock_lines import clock_lines
from endfloat.web.stages import stages_of
from endfloat.workshop.ports import Clock, Papers, Photos, Store
from endfloat.workshop.record import load
from endfloat.workshop.view import View, view

# A photograph and the fields beside it.
LARGEST_FORM = LARGEST_PHOTO + 1_000_000


@dataclass(frozen=True, slots=True)
class Desk:
    """One job's store, the clock, the solver, the maker of papers, the templates of the pages, and its photographs."""

    store: Store
    clock: Clock
    solver: Solver
    papers: Papers
    templates: Jinja2Templates
    photos: Photos | None = None

    def view(self) -> View:
        """The job as it stands now."""
        return view(load(self.store)[0])

    def mark(self) -> str:
        """What tells this job from every other in a form: a browser has one job open for all its tabs."""
        return self.store.entries()[0].fingerprint[:16]

    def is_meant(self, form: bytes, headers: Mapping[str, str]) -> bool:
        """Whether a form that was sent is of this job; one that names no job is.

        A form with a file in it is asked by its own page.
        """
        if headers.get("content-type", "").startswith("multipart/"):
            return True
        named = parse_qs(form.decode("latin-1")).get("job")
        return named is None or named == [self.mark()]

    def too_large(self, request: Request) -> str:
        """Why what is sent is not read at all; nothing when it may be."""
        if request.method != "POST":
            return ""
        length = request.headers.get("content-length", "")
        if not length.isdigit():
            return "What was sent does not say how long it is. Nothing was written."
        if int(length) <= LARGEST_FORM:
            return ""
        return f"What was sent is too large: at most {LARGEST_FORM // 1_000_000} MB. Nothing was written."

    def page(self, request: Request, name: str, context: Mapping[str, object], status: int = 200) -> Response:
        """A template filled in; a page of a job has its rule of stages and its title block too."""
        filled = dict(context)
        job = filled.get("job")
        if isinstance(job, View):
            fingerprint, mark = self.store.entries()[-1].fingerprint, self.mark()
            now = self.clock()
            mine: dict[str, object] = {
                "stages": stages_of(job, now),
                "drawn": now,
                "date": now[:10],
                "fingerprint": fingerprint[:16],
            }
            field = Markup('<input type="hidden" name="job" value="{}">').format(mark)
            mine["clock_lines"], mine["work_stopped"] = clock_lines(job, now), stopped(job.state.building)
            filled = {**mine, "job_mark": mark, "this_job": field, **filled}
        return self.templates.TemplateResponse(request, name, filled, status_code=status)

    def stopped(self, request: Request, sentence: str, status: int = 404) -> Response:
        """A page that says what is wrong and leads back to the job."""
        return self.page(request, "stopped.html", {"sentence": sentence}, status)
