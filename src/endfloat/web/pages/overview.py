"""The overview: what needs me now?"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from fastapi import FastAPI, Request
from fastapi.responses import HTMLResponse, Response
from markupsafe import Markup

from endfloat.inspection.judge import Finding
from endfloat.inspection.verdicts import Verdict
from endfloat.inspection.words import label, limit_words, number, place_words, thing_words
from endfloat.job.pauses import stopped
from endfloat.web.clock_lines import day_and_time, weekday
from endfloat.web.desk import Desk
from endfloat.web.links import entry_link, measure_link, number_link
from endfloat.web.strip_words import strip_needs
from endfloat.web.words import finding_mark
from endfloat.workshop.proving import proved
from endfloat.workshop.standing import standing
from endfloat.workshop.strip import strip_of
from endfloat.workshop.view import View

ORDER = ("Open", "Unsettled", "Out")


@dataclass(frozen=True, slots=True)
class Need:
    """One thing that waits for a person: its mark, what it is, where it opens, the verdict, and why."""

    mark: Markup
    family: str
    words: str
    link: str
    verdict: str
    value: str
    why: str
    do: str


def add_overview_page(app: FastAPI, desk: Desk) -> None:
    """The first page of a job."""

    @app.get("/", response_class=HTMLResponse)
    def overview(request: Request) -> Response:
        seen = desk.view()
        needs = needs_of(seen)
        counts = Counter(finding.verdict.family for finding in seen.findings)
        proving = proved(seen.state, desk.clock())
        prove = proving.next if proving.built or proving.proof.first else None
        first = needs[0] if needs else None
        context = {"job": seen, "counts": counts, "first": first, "needs": needs, "prove": prove}
        stop = stopped(seen.state.building)
        if stop is not None:
            at = standing(seen.state, stop.at, day_and_time).at
            context |= {"stopped_on": weekday(stop.at), "stopped_with": at}
        return desk.page(request, "overview.html", context)


def needs_of(seen: View) -> list[Need]:
    """What waits for a person: the strip, questions, then what is still to measure, too close to call, out."""
    odd = [finding for finding in seen.findings if finding.verdict is Verdict.ODD_READING]
    near = [finding for finding in seen.findings if finding.verdict.family == "Unsettled"]
    out = [finding for finding in seen.findings if finding.verdict.family == "Out"]
    once = {entry_link(seen, finding): finding for finding in reversed(odd)}
    return [
        *_at_the_strip(seen),
        *(_need(seen, finding, entry_link(seen, finding), "Look at the reading of") for finding in once.values()),
        *_still_to_measure(seen),
        *(_need(seen, finding, entry_link(seen, finding), "Measure again:") for finding in near),
        *(_need(seen, finding, number_link(finding), "See why this is out:") for finding in out),
    ]


def _at_the_strip(seen: View) -> list[Need]:
    """The next part to take off while nothing later is agreed or laid out, and the gates still open."""
    later = seen.state.agreed is not None or bool(seen.state.building)
    needs = strip_needs(strip_of(seen.state), later=later)
    return [Need(Markup(), "open", words, link, "", "", why, do) for words, link, why, do in needs]


def _need(seen: View, finding: Finding, link: str, do: str) -> Need:
    words = label(seen.engine, finding.on, finding.place)
    why = finding.reason or f"limit {limit_words(finding)}"
    return Need(
        finding_mark(finding),
        finding.verdict.family.lower(),
        words,
        link,
        finding.verdict.words,
        number(finding),
        why,
        do,
    )


def _still_to_measure(seen: View) -> list[Need]:
    """One line for each characteristic that lacks readings, leading to the first place that does."""
    missing: dict[str, list[tuple[str, str, str, str]]] = {}
    taken = seen.taken_spots
    for spot in seen.wanted_in_order:
        if spot not in taken:
            missing.setdefault(spot[0], []).append(spot)
    marks = {f.verdict: f for f in seen.findings}
    mark = next((marks[v] for v in (Verdict.READINGS_MISSING, Verdict.NOT_MEASURED) if v in marks), None)
    return [
        Need(
            finding_mark(mark) if mark else Markup(),
            "open",
            f"{thing_words(name)[0].upper()}{thing_words(name)[1:]}: {len(spots)} still to measure",
            measure_link(name, spots[0][1]),
            "",
            "",
            where_words(seen, name, [place for _, place, _, _ in spots]),
            "Go on measuring:",
        )
        for name, spots in missing.items()
    ]


def where_words(seen: View, name: str, places: list[str]) -> str:
    """The places still to measure; nothing where the engine has only one."""
    words = [word for word in dict.fromkeys(place_words(seen.engine, name, place) for place in places) if word]
    return f"at {', '.join(words)}" if words else ""
