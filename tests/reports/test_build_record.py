"""The record on paper holds every number that the job holds."""

import io
from pathlib import Path

import pypdf

import endfloat.examples
from endfloat.job.wire import from_body
from endfloat.quantities.shown_text import shown_estimate
from endfloat.reports.papers import make_paper
from endfloat.store.memory import MemoryStore
from endfloat.workshop.open_job import open_job
from endfloat.workshop.record import load
from endfloat.workshop.sheets import build_record
from endfloat.workshop.view import view

V8 = Path(endfloat.examples.__file__).parent / "wrenhallow-90-8"


def test_every_verdict_and_reading_is_found_again_in_one_font_and_the_same_bytes() -> None:
    store = MemoryStore()
    names = {"engine": "engine.yaml", "gauges": "gauges.yaml", "readings": "readings.csv"}
    files = {name: (V8 / file).read_bytes() for name, file in names.items()}
    assert open_job(store, lambda: "2026-05-03T10:00:00Z", by="as found", **files) == []
    seen = view(load(store)[0])
    values = build_record(seen, store.entries()[-1].fingerprint)
    pdf = make_paper("build-record", values)
    reader = pypdf.PdfReader(io.BytesIO(pdf))
    text = " ".join(" ".join(page.extract_text().split()) for page in reader.pages)
    for finding in seen.findings:
        assert finding.estimate is not None
        assert shown_estimate(finding.estimate, finding.unit) in text
    assert len(seen.state.standing) == len([from_body(entry.body) for entry in store.entries()]) - 1
    for taken in seen.state.standing:
        assert taken.text in text
    fonts = {
        str(font.get_object()["/BaseFont"]) for page in reader.pages for font in page["/Resources"]["/Font"].values()
    }
    assert fonts
    assert all("AtkinsonHyperlegible" in font for font in fonts)
    assert pdf == make_paper("build-record", values)
