"""The build record: every verdict with its readings, limit and page, and the record's fingerprint."""

from __future__ import annotations

import json
from importlib.metadata import files
from pathlib import Path

import typst

from endfloat.inspection.words import label, number
from endfloat.quantities.shown_text import shown_number
from endfloat.workshop.view import View

FONT_PACKAGE = "fontpkg-atkinson-hyperlegible"
PAGE = """\
#let job = json(bytes(sys.inputs.job))
#set document(title: job.name + ", build record", date: none)
#set text(font: "Atkinson Hyperlegible", size: 9pt, number-width: "tabular", lang: "en")
#set page(paper: "a4", margin: 18mm, footer: context [
  #line(length: 100%, stroke: 0.7mm)
  #job.name · build record · page #counter(page).display() of #counter(page).final().first() #h(1fr) #job.fingerprint
])
= #job.name: build record
#job.note
#set par(leading: 0.5em)
#table(columns: (auto, auto, auto, auto, 1fr), stroke: none, inset: (x: 3pt, y: 3pt),
  table.header([*Place*], [*Value*], [*Limit*], [*Page*], [*Verdict*]),
  table.hline(),
  ..job.rows.map(row => row.map(cell => text(cell))).flatten())
== Readings as typed
#columns(2)[#for line in job.readings [#line \\ ]]
"""


def font_folder() -> str:
    """The folder of the one font, in its installed package."""
    found = next(file for file in files(FONT_PACKAGE) or [] if file.suffix == ".ttf")
    return str(Path(str(found.locate())).parent)


def build_record(seen: View, *, fingerprint: str) -> bytes:
    """The record as PDF; the same job gives the same bytes."""
    job = {
        "name": seen.name,
        "note": ("An invented engine. " if seen.engine.invented else "")
        + "± is twice the standard uncertainty. The service book outranks this paper.",
        "fingerprint": fingerprint[:16],
        "rows": [_row(seen, index) for index in range(len(seen.findings))],
        "readings": [
            f"{taken.characteristic.replace('_', ' ')} {taken.place}"
            f"{spot_words(taken.station, taken.axis)}: {taken.text} ({taken.gauge})"
            for taken in seen.state.standing
        ],
    }
    return typst.compile(
        PAGE.encode(),
        format="pdf",
        font_paths=typst.Fonts(include_system_fonts=False, font_paths=[font_folder()]),
        sys_inputs={"job": json.dumps(job, ensure_ascii=False)},
    )


def _row(seen: View, index: int) -> list[str]:
    finding = seen.findings[index]
    value = number(finding) or "not known"
    low, high = finding.bounds.low, finding.bounds.high
    limits = " to ".join(shown_number(bound, finding.unit) if bound is not None else "open" for bound in (low, high))
    words = f"{finding.verdict.words}. {finding.reason}".strip()
    return [label(seen.engine, finding.on, finding.place), value, limits, str(finding.page or ""), words]


def spot_words(station: str, axis: str) -> str:
    """Station and axis in words; nothing for a part that is measured at one spot."""
    words = " ".join(word for word in (station, axis) if word != "-")
    return f", {words}" if words else ""
