"""The strip: what comes off next, and one removal as it is done at the bench."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated

from fastapi import FastAPI, File, Form, Request, UploadFile
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from endfloat.drawings.joint import joint_drawing, picture_from
from endfloat.job.strip_events import (
    AsFoundNoted,
    OrientationChosen,
    PartCleaned,
    PartCrackTested,
    PartRemoved,
    PhotoBound,
    PhotoLeftOut,
    PlaceLabelled,
    RemovalUndone,
    StripAnswerTakenBack,
    StripEvent,
)
from endfloat.problems import Problem
from endfloat.web.desk import Desk
from endfloat.web.strip_away import strip_away
from endfloat.web.strip_words import asked_row, gate_rows, rows_of, step_context, strip_link, void_rows
from endfloat.workshop.bind_photo import bind_photo, bound_photo
from endfloat.workshop.joint_picture import slackening_picture
from endfloat.workshop.record import load
from endfloat.workshop.strip import Strip, counted, record, strip_of
from endfloat.workshop.strip_record import place_labels
from endfloat.workshop.tightening import JointView, joint_view
from endfloat.workshop.view import View

Word = Annotated[str, Form()]
Words = Annotated[list[str], Form()]


def add_strip_pages(app: FastAPI, desk: Desk) -> None:
    """The routes of the strip."""
    _add_looking(app, desk)
    _add_answering(app, desk)
    _add_photos(app, desk)
    _add_taking_off(app, desk)
    _add_gates(app, desk)


def _last_name(strip: Strip) -> str:
    return strip.events[-1].by if strip.events else ""


def _page(
    desk: Desk,
    request: Request,
    name: str,
    *,
    problem: Problem | None = None,
    saved: str = "",
    typed: Mapping[str, object] | None = None,
) -> Response:
    job = desk.view()
    strip = strip_of(job.state)
    if name not in strip.engine.strip:
        return desk.stopped(request, f"The strip of this engine has no {name.replace('_', ' ')}.")
    context = {
        **step_context(strip, name),
        "job": job,
        "away": strip_away(strip, name),
        "slackening": _slackening(job, strip, name),
        "by": (typed or {}).get("by") or _last_name(strip),
        "typed": typed or {},
        "saved": saved,
        "keeps_photos": desk.photos is not None,
        "problem": problem.text() if problem else "",
    }
    return desk.page(request, "strip_step.html", context, 422 if problem else 200)


def _slackening(job: View, strip: Strip, name: str) -> str:
    """The joint of a removal with the order in which it is slackened; nothing where there is none to walk along."""
    slackens = strip.removal(name).slackens
    seen = joint_view(job.state, slackens.joint) if slackens else None
    if slackens is None or not slackens.order or not isinstance(seen, JointView) or len(slackens.order) < 2:
        return ""
    return joint_drawing(picture_from(slackening_picture(seen, slackens.order)))


def _answer(desk: Desk, request: Request, event: StripEvent, saved: str, **typed: object) -> Response:
    """Record it; then the removal with what was saved, or what is wrong with what was typed."""
    problem = record(desk.store, desk.clock, event)
    if problem:
        return _page(desk, request, event.removal, problem=problem, typed={"by": event.by, **typed})
    return RedirectResponse(f"{strip_link(event.removal)}?saved={saved}#content", status_code=303)


def _add_looking(app: FastAPI, desk: Desk) -> None:
    @app.get("/strip", response_class=HTMLResponse)
    def all_removals(request: Request) -> Response:
        job = desk.view()
        strip = strip_of(job.state)
        following = strip.next
        context = {
            "job": job,
            "strip": strip,
            "rows": rows_of(strip),
            "next": next((row for row in rows_of(strip) if row.link == strip_link(following)), None)
            if following
            else None,
            "void": void_rows(strip),
            "gates": gate_rows(strip),
            "too_late": [
                (strip_link(name), asked_row(strip, name, each))
                for name in strip.engine.strip
                if name not in strip.stands.off
                for each in strip.open_questions(name)
            ],
        }
        return desk.page(request, "strip.html", context)

    @app.get("/strip/labels.pdf")
    def labels(request: Request) -> Response:
        seen = desk.view()
        told = place_labels(seen.engine)
        if not told:
            return desk.stopped(request, "The description of this engine has no `strip:` yet, so there are no labels.")
        banks = list(dict.fromkeys(bank for family in seen.engine.places.values() for bank in family.bank))
        record = f"{desk.clock()[:10]} · record {desk.store.entries()[-1].fingerprint[:16]}"
        sides = "Left and right as seen from the flywheel." if {"left", "right"} & set(banks) else ""
        values = {"job": seen.name, "labels": told, "falling": banks[1:], "sides": sides, "record": record}
        return Response(desk.papers("place-labels", values), media_type="application/pdf")

    @app.get("/strip/{name}", response_class=HTMLResponse)
    def one_removal(request: Request, name: str, saved: str = "") -> Response:
        return _page(desk, request, name, saved=SAVED.get(saved, ""))


SAVED = {
    "noted": "Saved: noted.",
    "labelled": "Saved: the label is on.",
    "chosen": "Saved: how it sits.",
    "photo": "Saved: the photograph is kept and bound to this place.",
    "no-photo": "Saved: no photograph, with the reason.",
    "off": "Saved: it is off and counted.",
    "clean": "Saved: cleaned.",
    "tested": "Saved: tested.",
    "back": "Saved: taken back. The earlier answer stays on the record.",
    "undone": "Saved: it is on again.",
}


def _add_answering(app: FastAPI, desk: Desk) -> None:
    @app.post("/strip/{name}/note", response_class=HTMLResponse)
    def note(
        request: Request,
        name: str,
        key: Word = "",
        asked: Word = "",
        found: Word = "",
        reason: Word = "",
        by: Word = "",
    ) -> Response:
        event = AsFoundNoted(key, name, asked, found.strip(), reason.strip(), by, "")
        return _answer(desk, request, event, "noted", found=found, reason=reason)

    @app.post("/strip/{name}/label", response_class=HTMLResponse)
    def label(request: Request, name: str, key: Word = "", label: Words = [], by: Word = "") -> Response:  # noqa: B006
        return _answer(desk, request, PlaceLabelled(key, name, tuple(label), by, ""), "labelled")

    @app.post("/strip/{name}/orientation", response_class=HTMLResponse)
    def orientation(request: Request, name: str, key: Word = "", choice: Word = "", by: Word = "") -> Response:
        return _answer(desk, request, OrientationChosen(key, name, choice, by, ""), "chosen", choice=choice)

    @app.post("/strip/{name}/take-back", response_class=HTMLResponse)
    def take_back(
        request: Request, name: str, key: Word = "", answer: Word = "", reason: Word = "", by: Word = ""
    ) -> Response:
        event = StripAnswerTakenBack(key, name, answer, reason.strip(), by, "")
        return _answer(desk, request, event, "back", reason=reason)


def _add_photos(app: FastAPI, desk: Desk) -> None:
    @app.get("/strip/photo/{sha256}")
    def photo(request: Request, sha256: str) -> Response:
        events = load(desk.store)[0].strip
        event = next((each for each in events if isinstance(each, PhotoBound) and each.sha256 == sha256), None)
        content = bound_photo(desk.photos, event) if event else None
        if event is None or content is None:
            return desk.stopped(request, "This photograph is not where it was kept, or it is no longer the same.")
        return Response(content, media_type=event.media, headers={"X-Content-Type-Options": "nosniff"})

    @app.post("/strip/{name}/photo", response_class=HTMLResponse)
    def bind(
        request: Request,
        name: str,
        photo: Annotated[UploadFile | None, File()] = None,
        key: Word = "",
        by: Word = "",
        job: Word = "",
    ) -> Response:
        if job and job != desk.mark():
            return desk.stopped(request, "That page is of another engine. Nothing was written.", 409)
        content = photo.file.read() if photo else b""
        problem = bind_photo(desk.store, desk.clock, desk.photos, key=key, removal=name, content=content, by=by)
        if problem:
            return _page(desk, request, name, problem=problem, typed={"by": by})
        return RedirectResponse(f"{strip_link(name)}?saved=photo#content", status_code=303)

    @app.post("/strip/{name}/no-photo", response_class=HTMLResponse)
    def no_photo(request: Request, name: str, key: Word = "", reason: Word = "", by: Word = "") -> Response:
        event = PhotoLeftOut(key, name, reason.strip(), by, "")
        return _answer(desk, request, event, "no-photo", photo_reason=reason)


def _add_taking_off(app: FastAPI, desk: Desk) -> None:
    @app.post("/strip/{name}/off", response_class=HTMLResponse)
    def off(
        request: Request,
        name: str,
        key: Word = "",
        sort: Words = [],  # noqa: B006
        out: Words = [],  # noqa: B006
        account: Words = [],  # noqa: B006
        by: Word = "",
        helper: Word = "",
    ) -> Response:
        removal = strip_of(load(desk.store)[0]).engine.strip.get(name)
        if removal is None:
            return _page(desk, request, name)
        typed = dict(zip(sort, out, strict=False))
        told = {each: words.strip() for each, words in zip(sort, account, strict=False)}
        again: dict[str, object] = {"out": typed, "account": told, "helper": helper}
        counts = counted(removal, typed)
        if isinstance(counts, Problem):
            return _page(desk, request, name, problem=counts, typed={"by": by, **again})
        event = PartRemoved(key, name, counts, {k: v for k, v in told.items() if v}, by, "", helper.strip())
        return _answer(desk, request, event, "off", **again)

    @app.post("/strip/{name}/undo", response_class=HTMLResponse)
    def undo(request: Request, name: str, key: Word = "", reason: Word = "", by: Word = "") -> Response:
        return _answer(desk, request, RemovalUndone(key, name, reason.strip(), by, ""), "undone", reason=reason)


def _add_gates(app: FastAPI, desk: Desk) -> None:
    @app.post("/strip/{name}/clean", response_class=HTMLResponse)
    def clean(request: Request, name: str, key: Word = "", looked: Words = [], by: Word = "") -> Response:  # noqa: B006
        event = PartCleaned(key, name, tuple(looked), by, "")
        return _answer(desk, request, event, "clean", looked=looked)

    @app.post("/strip/{name}/crack-test", response_class=HTMLResponse)
    def crack_test(
        request: Request,
        name: str,
        key: Word = "",
        looked: Words = [],  # noqa: B006
        result: Word = "",
        crack: Word = "",
        by: Word = "",
    ) -> Response:
        typed = {"looked": looked, "result": result, "crack": crack}
        wrong = _result_unclear(result, crack)
        if wrong:
            problem = Problem(
                "no_result", "the crack test", wrong, "none found, or where one is", "Choose one of them."
            )
            return _page(desk, request, name, problem=problem, typed={"by": by, **typed})
        event = PartCrackTested(key, name, tuple(looked), crack.strip(), by, "")
        return _answer(desk, request, event, "tested", **typed)


def _result_unclear(result: str, crack: str) -> str:
    if result == "none":
        return "no crack, and where it is" if crack.strip() else ""
    if result == "cracked":
        return "" if crack.strip() else "a crack, and not where"
    return "nothing chosen"
