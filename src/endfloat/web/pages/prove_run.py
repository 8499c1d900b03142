"""The engine runs: what stops it, the log with one big field a gauge, and the largest button of all."""

from __future__ import annotations

from math import ceil
from typing import Annotated
from urllib.parse import quote

from fastapi import FastAPI, Form, Request
from fastapi.responses import HTMLResponse, Response

from endfloat.problems import Problem
from endfloat.web.desk import Desk
from endfloat.web.pages.prove import prove_page, see_other
from endfloat.workshop import prove
from endfloat.workshop.proving import Proved, answer_to, proved, shown, stop_sentence

Word = Annotated[str, Form()]


def add_run_pages(app: FastAPI, desk: Desk) -> None:
    """The routes of the running engine."""

    def run_page(
        request: Request, problem: Problem | None = None, typed: dict[str, str] | None = None, saved: str = ""
    ) -> Response:
        seen = proved(desk.view().state, desk.clock())
        more = run_shown(seen, saved)
        return prove_page(desk, request, "prove_run.html", more, problem=problem, typed=typed)

    @app.get("/prove/run", response_class=HTMLResponse)
    def running(request: Request, saved: str = "") -> Response:
        return run_page(request, saved=saved)

    @app.post("/prove/log", response_class=HTMLResponse)
    def logged(request: Request, gauge: Word = "", text: Word = "", key: Word = "", by: Word = "") -> Response:
        problem = prove.log_gauge(desk.store, desk.clock, key=key, gauge=gauge, text=text, by=by)
        if problem:
            return run_page(request, problem, {"by": by, "gauge": gauge, "text": text})
        return see_other(f"/prove/run?saved={quote(key)}")

    @app.post("/prove/stop", response_class=HTMLResponse)
    def stopped(request: Request, reason: Word = "", planned: Word = "", by: Word = "") -> Response:
        problem = prove.stop_engine(desk.store, desk.clock, reason=reason, planned=planned == "yes", by=by)
        return run_page(request, problem, {"by": by, "reason": reason}) if problem else see_other("/prove/run")


def run_shown(seen: Proved, saved: str) -> dict[str, object]:
    """What the page tells: why to stop, how long it runs, the rules, what was just saved, and the log."""
    proof, proving = seen.proof, seen.proving
    stop = [stop_sentence(proving, name, event) for name, event in proof.stops_said]
    stops, beyond = answer_to(seen, saved)
    log = [each for each in proof.logged if proof.start is None or each.at >= proof.start.at]
    last = next((each for each in proof.logged if each.key == saved), None)
    return {
        "stop": stop,
        "do": [proving.stop_now[name].do for name, _ in proof.stops_said if proving.stop_now[name].do],
        "beyond": beyond if not stops else [],
        "waiting": [proving.stop_now[name] for name in seen.waiting_for],
        "saved": f"{proving.gauges[last.gauge].title} {shown(proving, last)}" if last else "",
        "log": [(each, proving.gauges[each.gauge].title, shown(proving, each)) for each in reversed(log)],
        "latest": {each.gauge: shown(proving, each) for each in log},
        "running": time_words(seen.seconds_running),
        "look_in": sorted({ceil(r.after.si) for r in proving.stop_now.values() if r.after}),
    }


def time_words(seconds: int | None) -> str:
    """How long it runs: "3 min 20 s"."""
    if seconds is None:
        return ""
    minutes, rest = divmod(seconds, 60)
    hours, minutes = divmod(minutes, 60)
    if hours:
        return f"{hours} h {minutes} min"
    return f"{minutes} min {rest} s" if minutes else f"{rest} s"
