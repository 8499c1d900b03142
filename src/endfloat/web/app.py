"""The application over one job: its pages, the strict policy, and what is said when something fails."""

from __future__ import annotations

from pathlib import Path

from fastapi import FastAPI, Request
from fastapi.responses import Response
from fastapi.staticfiles import StaticFiles
from fastapi.templating import Jinja2Templates

from endfloat.decision.rows import Solver
from endfloat.drawings.rule import share_line
from endfloat.errors import EndfloatError
from endfloat.inspection.words import label, limit_words, number, thing_words
from endfloat.web.desk import Desk
from endfloat.web.device import named
from endfloat.web.faults import add_fault_pages
from endfloat.web.font import serve_font
from endfloat.web.offline import serve_bench
from endfloat.web.pages.agree import add_agree_page
from endfloat.web.pages.board import add_board_page
from endfloat.web.pages.build import add_build_pages
from endfloat.web.pages.clocks import add_clock_pages
from endfloat.web.pages.decide import add_decide_page
from endfloat.web.pages.formulas import add_formula_pages
from endfloat.web.pages.gauges import add_gauges_page
from endfloat.web.pages.joint import add_joint_pages
from endfloat.web.pages.measure import add_measure_page
from endfloat.web.pages.number import add_number_page
from endfloat.web.pages.order import add_order_pages
from endfloat.web.pages.overview import add_overview_page
from endfloat.web.pages.parts import add_parts_pages
from endfloat.web.pages.pause import add_pause_pages
from endfloat.web.pages.prove import add_prove_pages
from endfloat.web.pages.prove_after import add_after_pages
from endfloat.web.pages.prove_run import add_run_pages
from endfloat.web.pages.sheets import add_sheets_page
from endfloat.web.pages.stage import add_stage_pages
from endfloat.web.pages.strip import add_strip_pages
from endfloat.web.pages.timing import add_timing_pages
from endfloat.web.pages.what_if import add_what_if_page
from endfloat.web.words import FAMILIES, chances, finding_mark, formula_drawn, spot_words
from endfloat.workshop.ports import Clock, Papers, Photos, Store

HERE = Path(__file__).parent
STATIC = HERE / "static"
POLICY = (
    "default-src 'none'; style-src 'self'; img-src 'self'; font-src 'self'; script-src 'self'; connect-src 'self';"
    " worker-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
ANOTHER_ENGINE = (
    "That page is of another engine; open in this browser is now {}. Nothing was written."
    " Open the engine that you mean, then enter it again."
)
PAGES = (
    add_overview_page,
    add_board_page,
    add_measure_page,
    add_gauges_page,
    add_number_page,
    add_formula_pages,
    add_decide_page,
    add_what_if_page,
    add_agree_page,
    add_sheets_page,
    add_parts_pages,
    add_joint_pages,
    add_strip_pages,
    add_clock_pages,
    add_pause_pages,
    add_order_pages,
    add_build_pages,
    add_timing_pages,
    add_prove_pages,
    add_run_pages,
    add_after_pages,
    add_stage_pages,
)


def make_app(store: Store, clock: Clock, solver: Solver, papers: Papers, photos: Photos | None = None) -> FastAPI:
    """The application over one job's store; without a place for photographs only reasons are taken."""
    app = FastAPI(title="endfloat", docs_url=None, redoc_url=None, openapi_url=None)
    app.mount("/static", StaticFiles(directory=STATIC), name="static")
    serve_font(app)
    serve_bench(app)
    templates = make_templates()
    desk = Desk(store, clock, solver, papers, templates, photos)

    @app.middleware("http")
    async def strict(request: Request, call_next):  # type: ignore[no-untyped-def]
        too_large = desk.too_large(request)
        if too_large:
            response = desk.stopped(request, too_large, status=413)
        elif request.method == "POST" and not desk.is_meant(await request.body(), request.headers):
            response = desk.stopped(request, ANOTHER_ENGINE.format(desk.view().name), status=409)
        else:
            response = await call_next(request)
        response.headers["Content-Security-Policy"] = POLICY
        return named(request, response)

    @app.exception_handler(EndfloatError)
    def failed(request: Request, error: EndfloatError) -> Response:
        return desk.stopped(request, str(error), status=503)

    add_fault_pages(app, desk.stopped)
    for add_page in PAGES:
        add_page(app, desk)
    return app


def make_templates() -> Jinja2Templates:
    """The templates with the words that all of them use."""
    templates = Jinja2Templates(directory=HERE / "templates")
    words = (chances, finding_mark, formula_drawn, label, limit_words, number, share_line, spot_words, thing_words)
    templates.env.globals.update({word.__name__: word for word in words}, families=FAMILIES)
    return templates
