"""The front of the bench: whose engine? It opens a job and hands every other page to that job's pages."""

from __future__ import annotations

from collections.abc import Callable
from http.cookies import SimpleCookie
from typing import Any
from urllib.parse import quote

from fastapi import FastAPI, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from fastapi.staticfiles import StaticFiles
from fastapi.templating import Jinja2Templates
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData, UploadFile
from starlette.types import ASGIApp

from endfloat.engine.proofread import still_to_look_up
from endfloat.errors import EndfloatError
from endfloat.problems import Problem
from endfloat.web.app import POLICY, STATIC, make_templates
from endfloat.web.faults import add_fault_pages
from endfloat.web.font import serve_font
from endfloat.web.offline import serve_bench
from endfloat.workshop.new_engine import QUESTIONS, new_engine
from endfloat.workshop.open_job import open_job, unreadable
from endfloat.workshop.ports import Clock, Jobs, Photos, Store
from endfloat.workshop.record import load
from endfloat.workshop.revise_description import revise_description
from endfloat.workshop.view import view

COOKIE = "job"
NO_ENGINE = (
    "No engine is open in this browser. Nothing was written. Open the engine that you mean, then enter it again."
)
DESCRIPTION = ("engine.yaml", "gauges.yaml", "prices.yaml")
OWN_PATHS = ("/engines", "/new", "/description", "/static", "/font", "/bench-worker.js", "/alive")


class Front:
    """The bench as an ASGI application: its own pages, and each job's pages by a cookie that names the job."""

    def __init__(
        self,
        jobs: Jobs,
        clock: Clock,
        make_pages: Callable[[Store, Photos], FastAPI],
        key_of: Callable[[str], str],
        demo: str,
    ) -> None:
        self._jobs = jobs
        self._make_pages = make_pages
        self._pages: dict[str, FastAPI] = {}
        self._templates = make_templates()
        self._own = make_own_pages(jobs, clock, key_of, demo, self._templates)

    async def __call__(self, scope: Any, receive: Any, send: Any) -> None:
        """Hand a request to the job it belongs to."""
        if scope["type"] != "http":
            await self._own(scope, receive, send)
            return
        path = scope["path"]
        if path.startswith(OWN_PATHS):
            await self._own(scope, receive, send)
            return
        await (await run_in_threadpool(self._pages_of, cookie(scope), scope["method"]))(scope, receive, send)

    def _pages_of(self, key: str, method: str) -> ASGIApp:
        """The pages of a job; where there is none, the way to the front."""
        try:
            if key not in self._jobs.names():
                return self._without_job(method)
            if key not in self._pages:
                self._pages[key] = self._make_pages(self._jobs.store(key), self._jobs.photos(key))
            return self._pages[key]
        except EndfloatError as error:
            return stopped(self._templates, str(error))

    def _without_job(self, method: str) -> Response:
        # What was entered must not vanish into a page that answers well: the bench script keeps it on a 409.
        if method == "POST":
            return HTMLResponse(self._templates.get_template("stopped.html").render(sentence=NO_ENGINE), 409)
        return RedirectResponse("/engines", status_code=303)


def stopped(templates: Jinja2Templates, sentence: str) -> Response:
    """A page that says what failed outside."""
    page = templates.get_template("stopped.html").render(sentence=sentence)
    return HTMLResponse(page, status_code=503, headers={"Content-Security-Policy": POLICY})


async def handed_in(form: FormData) -> dict[str, bytes]:
    """The files that a person hands in with a form; a field left empty is none."""
    chosen = {name: form.get(name) for name in DESCRIPTION}
    return {name: await file.read() for name, file in chosen.items() if isinstance(file, UploadFile) and file.filename}


def cookie(scope: Any) -> str:
    """The job that a browser has open; empty when none."""
    raw = next((value for name, value in scope["headers"] if name == b"cookie"), b"")
    morsel = SimpleCookie(raw.decode("latin-1")).get(COOKIE)
    return morsel.value if morsel else ""


def name_or_fault(jobs: Jobs, key: str) -> tuple[str, str]:
    """The name of a job's engine and no fault; or its folder, and why its record cannot be read."""
    try:
        return view(load(jobs.store(key))[0]).name, ""
    except EndfloatError as error:
        return jobs.where(key), str(error)


def make_own_pages(
    jobs: Jobs, clock: Clock, key_of: Callable[[str], str], demo: str, templates: Jinja2Templates
) -> FastAPI:
    """The pages that belong to no job."""
    app = FastAPI(title="endfloat", docs_url=None, redoc_url=None, openapi_url=None)
    app.mount("/static", StaticFiles(directory=STATIC), name="static")
    serve_font(app)
    serve_bench(app)

    @app.middleware("http")
    async def strict(request: Request, call_next):  # type: ignore[no-untyped-def]
        response = await call_next(request)
        response.headers["Content-Security-Policy"] = POLICY
        return response

    def told(request: Request, sentence: str, status: int) -> Response:
        return templates.TemplateResponse(request, "stopped.html", {"sentence": sentence}, status_code=status)

    add_fault_pages(app, told)

    @app.exception_handler(EndfloatError)
    def failed(request: Request, error: EndfloatError) -> Response:
        return stopped(templates, str(error))

    @app.get("/engines", response_class=HTMLResponse)
    def engines(request: Request) -> Response:
        others = [(key, *name_or_fault(jobs, key)) for key in jobs.names() if key != demo]
        return templates.TemplateResponse(request, "engines.html", {"demo": demo, "others": others})

    @app.get("/engines/{key}")
    def open_engine(key: str) -> Response:
        if key not in jobs.names():
            return RedirectResponse("/engines", status_code=303)
        response = RedirectResponse("/", status_code=303)
        response.set_cookie(COOKIE, quote(key), httponly=True, samesite="strict", max_age=10 * 365 * 86400)
        return response

    @app.get("/new", response_class=HTMLResponse)
    def ask(request: Request) -> Response:
        return new_page(request, {asked.key: asked.default for asked in QUESTIONS}, [], 200)

    @app.post("/new", response_class=HTMLResponse)
    async def made(request: Request) -> Response:
        answers = {key: str(value) for key, value in (await request.form()).items()}
        texts = new_engine(answers)
        if isinstance(texts, list):
            return new_page(request, answers, texts, 422)
        key = key_of(answers["name"])
        if key in jobs.names():
            taken = Problem("taken", "the name", f"`{answers['name']}`, which is there", "a new name", "Change it.")
            return new_page(request, answers, [taken], 422)
        engine, gauges = texts
        problems = unreadable(engine.encode(), gauges.encode())
        if not problems:
            problems = open_job(jobs.store(key), clock, engine=engine.encode(), gauges=gauges.encode(), by="")
        if problems:
            return new_page(request, answers, problems, 422)
        jobs.keep(key, "engine.yaml", engine)
        jobs.keep(key, "gauges.yaml", gauges)
        return RedirectResponse(f"/engines/{quote(key)}", status_code=303)

    def new_page(request: Request, answers: dict[str, str], problems: list[Problem], status: int) -> Response:
        context = {"questions": QUESTIONS, "answers": answers, "problems": problems}
        return templates.TemplateResponse(request, "new.html", context, status_code=status)

    @app.get("/description", response_class=HTMLResponse)
    def description(request: Request) -> Response:
        return description_page(request, [], 200)

    @app.get("/description/{name}")
    def taken_along(request: Request, name: str) -> Response:
        key = cookie(request.scope)
        content = jobs.read(key, name) if key in jobs.names() and name in DESCRIPTION else None
        if content is None:
            return RedirectResponse("/description", status_code=303)
        return Response(content, media_type="application/yaml", headers={"Content-Disposition": "attachment"})

    @app.post("/description", response_class=HTMLResponse)
    async def revised(request: Request) -> Response:
        key = cookie(request.scope)
        if key not in jobs.names():
            return RedirectResponse("/engines", status_code=303)
        async with request.form() as form:
            handed, by = await handed_in(form), str(form.get("by", ""))
        files = {name: handed[name] if name in handed else jobs.read(key, name) for name in DESCRIPTION}
        if files["engine.yaml"] is None or files["gauges.yaml"] is None:
            where = jobs.where(key)
            remedy = f"Put them into {where}, or hand them in here."
            missing = Problem("no_file", where, "no engine.yaml or gauges.yaml", "both", remedy)
            return description_page(request, [missing], 422)
        problems = revise_description(
            jobs.store(key),
            clock,
            engine=files["engine.yaml"],
            gauges=files["gauges.yaml"],
            prices=files["prices.yaml"] or b"",
            by=by,
        )
        if not problems:
            for name, content in handed.items():
                jobs.keep(key, name, content.decode("utf-8-sig"))
        return description_page(request, problems, 422 if problems else 200, read=not problems)

    def description_page(request: Request, problems: list[Problem], status: int, *, read: bool = False) -> Response:
        key = cookie(request.scope)
        if key not in jobs.names():
            return RedirectResponse("/engines", status_code=303)
        seen = view(load(jobs.store(key))[0])
        context = {
            "job": seen,
            "missing": still_to_look_up(seen.engine),
            "where": jobs.where(key),
            "files": {name: jobs.read(key, name) is not None for name in DESCRIPTION},
            "problems": problems,
            "read": read,
        }
        return templates.TemplateResponse(request, "description.html", context, status_code=status)

    return app
