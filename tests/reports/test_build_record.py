"""The record on paper holds every number that the job holds."""

import io
from pathlib import Path

import pypdf

import endfloat.examples
from endfloat.job.wire import from_body
from endfloat.quantities.shown_text import shown_estimate
from endfloat.reports.papers import make_paper
from endfloat.store.memory import MemoryStore
from endfloat.workshop.build import do_against_advice, lay_out_order
from endfloat.workshop.build_record import build_record
from endfloat.workshop.open_job import open_job
from endfloat.workshop.record import load
from endfloat.workshop.take_reading import take_reading
from endfloat.workshop.view import view
from endfloat.workshop.withdraw_reading import withdraw_reading

V8 = Path(endfloat.examples.__file__).parent / "wrenhallow-90-8"


def test_every_verdict_and_reading_is_found_again_in_one_font_and_the_same_bytes() -> None:
    store = MemoryStore()
    names = {"engine": "engine.yaml", "gauges": "gauges.yaml", "readings": "readings.csv"}
    files = {name: (V8 / file).read_bytes() for name, file in names.items()}
    assert open_job(store, lambda: "2026-05-03T10:00:00Z", by="as found", **files) == []
    seen = view(load(store)[0])
    values = build_record(seen, store.entries())
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


def test_the_record_says_who_took_back_a_reading_who_signed_against_advice_and_when() -> None:
    store = MemoryStore()
    names = {"engine": "engine.yaml", "gauges": "gauges.yaml", "readings": "readings.csv"}
    files = {name: (V8 / file).read_bytes() for name, file in names.items()}

    def clock() -> str:
        return "2026-05-03T10:00:00Z"

    assert open_job(store, clock, by="as found", **files) == []
    spot = ("bore_size", "7", "10 mm", "across")
    assert take_reading(store, clock, key="k", spot=spot, text="86.9 mm", gauge="B2", by="Ana") is None
    assert withdraw_reading(store, clock, key="k", reason="wrong bore", by="Bo") is None
    assert lay_out_order(store, clock, by="Ana") is None
    signed = {"operation": "left_stem_seals", "reason": "as on the last engine", "by": "Bo"}
    assert do_against_advice(store, clock, **signed) is None
    values = build_record(view(load(store)[0]), store.entries())
    assert values["withdrawn"] == [
        "Right 7, bore size, 10 mm across: 86.9 mm (B2, Ana, 2026-05-03): wrong bore, says Bo, 2026-05-03"
    ]
    assert any(
        line.startswith("AGAINST ADVICE: ") and "as on the last engine. Bo, 2026-05-03 10:00" in line
        for line in values["steps"]
    )
    pdf = make_paper("build-record", values)
    pages = pypdf.PdfReader(io.BytesIO(pdf)).pages
    text = " ".join(" ".join(page.extract_text().split()) for page in pages)
    assert "AGAINST ADVICE" in text
    assert "wrong bore, says Bo" in text
