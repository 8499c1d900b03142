"""The build record tells each joint: which bolts, what was pulled by whom with what, and what went wrong."""

import io
from pathlib import Path

import pypdf

import endfloat.examples
from endfloat.job.events import BoltCondemned, BoltPulled, BoltSetFitted, Event, JobOpened, JointClosed, PassCompleted
from endfloat.job.state import fold, refusal
from endfloat.reports.papers import make_paper
from endfloat.workshop.build_record import build_record
from endfloat.workshop.view import view

V8 = Path(endfloat.examples.__file__).parent / "wrenhallow-90-8"
AT = "2026-05-03T10:00:00+00:00"
DAMPER = "damper_bolt"


def told(events: list[Event]) -> str:
    texts = [(V8 / file).read_text() for file in ("engine.yaml", "gauges.yaml")]
    record: list[Event] = [JobOpened("Wrenhallow 90-8", *texts)]
    for event in events:
        assert refusal(fold(record), event) is None
        record.append(event)
    pdf = make_paper("build-record", build_record(view(fold(record)), []))
    return " ".join(" ".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(pdf)).pages).split())


def test_sets_passes_gauges_people_and_what_felt_wrong_are_found_again_on_paper() -> None:
    text = told(
        [
            BoltSetFitted("a", DAMPER, "D1", "damper bolt: thread oil, under the head dry", "Ana", AT),
            BoltPulled("b", DAMPER, "D1", 1, "1", "W1", "Ana", AT),
            PassCompleted(DAMPER, "D1", 1),
            BoltCondemned("c", DAMPER, "D1", 2, "1", "slipped", "Ana", AT),
            BoltSetFitted("d", DAMPER, "D2", "damper bolt: thread oil, under the head dry", "Ben", AT),
            BoltPulled("e", DAMPER, "D2", 1, "1", "W1", "Ben", AT),
            BoltPulled("f", DAMPER, "D2", 2, "1", "A1", "Ben", AT),
            JointClosed("g", DAMPER, "D2", "Ben", AT),
        ]
    )
    assert "Joints as tightened Damper to crankshaft nose" in text
    assert "Bolt set D1 in; damper bolt: thread oil, under the head dry. Ana" in text
    assert "Pass 1, 60 N·m, page 40: bolt 1. W1, Ana" in text
    assert "Bolt 1 slipped in pass 2; not counted. Ana" in text
    assert "Pass 2, 120 °, page 40: bolt 1. A1, Ben" in text
    assert "Closed with bolt set D2." in text


def test_a_joint_left_open_says_what_is_not_pulled_and_one_not_begun_is_silent() -> None:
    text = told([BoltSetFitted("a", DAMPER, "D1", "", "Ana", AT)])
    assert "Not closed: bolt 1 in pass 1; bolt 1 in pass 2 not done." in text
    assert "Left head to block" not in text
