"""The strip: what is asked before a part comes off, what counts, what falls, and what an open gate holds."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from endfloat.job.description import engine_of
from endfloat.job.events import BuildOrderLaidOut, Event, JobOpened, ReadingTaken, StepConfirmed, StepDoneAgainstAdvice
from endfloat.job.state import State, after, fold, refusal
from endfloat.job.strip import frees, next_off, stripped
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
)
from endfloat.job.wire import from_body, to_body

TWIN = """\
name: Test twin
layout: twin
places: {cylinder: {names: [1, 2]}}
characteristics:
  float: {of: crank, at: cylinder, method: dial gauge}
operations:
  head_on: {title: Head on, minutes: 5}
  cover_on: {title: Cover on, minutes: 5}
relations: {before: [{first: head_on, then: cover_on, why: the cover rests on it}]}
strip:
  cover:
    title: Cover off
    parts: [cover]
    fasteners: [{sort: M6x20, where: rim, count: 4}, {sort: M6x45, count: 1, easily_missed: under the pipe}]
    void: [{part: cover gasket}]
    back: [cover_on]
  head:
    title: Head off
    parts: [{part: head, label: HEAD}]
    after: [cover]
    as_found: [{of: float, at: [1]}, {asks: How loud was it?}]
    orientation:
      asks: Where does the tab point?
      view: seen from above
      choices: [{words: front, points: front}, {words: rear, points: rear}]
    photograph: the fire face
    gates: {clean: {how: wash, looks: [plugs out], holds: [head_on]}, crack_test: {how: dye, holds: [head_on]}}
    back: [head_on]
  sump: {title: Sump off, parts: [sump]}
  crank: {title: Crank out, parts: [crank], after: [head, sump]}
"""
OPENED = JobOpened("demo", TWIN, "")
AT = "2026-05-03T10:00:00+00:00"
ALL_OUT = {"M6x20, rim": 4, "M6x45": 1}
COVER_LABELLED = PlaceLabelled("l1", "cover", ("cover",), "Ana", AT)
COVER_OFF = PartRemoved("o1", "cover", ALL_OUT, {}, "Ana", AT)
FLOAT = ReadingTaken("r", "float", "1", "-", "-", "0.1 mm", "D1", "Ana")
ASKED = [
    AsFoundNoted("n", "head", "How loud was it?", "a knock at idle", "", "Ana", AT),
    PlaceLabelled("l2", "head", ("HEAD",), "Ana", AT),
    OrientationChosen("c", "head", "rear", "Ana", AT),
    PhotoLeftOut("p", "head", "no light", "Ana", AT),
]
HEAD_OFF = PartRemoved("o2", "head", {}, {}, "Ana", AT)
CLEANED = PartCleaned("g1", "head", ("plugs out",), "Ana", AT)
SOUND = PartCrackTested("g2", "head", (), "", "Ana", AT)
STORY: list[Event] = [OPENED, COVER_LABELLED, COVER_OFF, FLOAT, *ASKED, HEAD_OFF]


def code(state: State, event: Event) -> str:
    problem = refusal(state, event)
    return problem.code if problem else ""


def test_a_head_comes_off_once_everything_asked_is_answered_and_each_missing_answer_refuses_it() -> None:
    state = fold(STORY)
    assert stripped(engine_of(TWIN), state.strip).off == ("cover", "head")
    missing = {
        "COVER_OFF": (COVER_OFF, "still_on"),
        "FLOAT": (FLOAT, "as_found_open"),
        "note": (ASKED[0], "as_found_open"),
        "label": (ASKED[1], "no_label"),
        "picture": (ASKED[2], "no_orientation"),
        "photograph": (ASKED[3], "no_photo"),
    }
    for event, expected in missing.values():
        assert code(fold(each for each in STORY[:-1] if each is not event), HEAD_OFF) == expected


def test_every_event_of_the_story_is_allowed_in_its_turn() -> None:
    state = State()
    for event in [*STORY, CLEANED, SOUND]:
        assert refusal(state, event) is None, event
        state = after(state, event)


@pytest.mark.parametrize(
    ("out", "account", "expected"),
    [
        (ALL_OUT, {}, ""),
        ({"M6x20, rim": 4}, {}, "not_counted"),
        ({**ALL_OUT, "M8": 1}, {}, "not_counted"),
        ({**ALL_OUT, "M6x45": 0}, {}, "count_differs"),
        ({**ALL_OUT, "M6x45": 0}, {"M6x45": "  "}, "count_differs"),
        ({**ALL_OUT, "M6x45": 0}, {"M6x20, rim": "the wrong one is accounted for"}, "count_differs"),
        ({**ALL_OUT, "M6x45": 0}, {"M6x45": "broken off in the block"}, ""),
        ({**ALL_OUT, "M6x20, rim": 5}, {}, "count_differs"),
        ({**ALL_OUT, "M6x20, rim": -1}, {"M6x20, rim": "?"}, "wrong_count"),
    ],
)
def test_the_count_out_is_as_expected_or_accounted_for(
    out: dict[str, int], account: dict[str, str], expected: str
) -> None:
    event = replace(COVER_OFF, out=out, account=account)
    assert code(fold([OPENED, COVER_LABELLED]), event) == expected


def test_a_refused_removal_says_what_is_on_and_what_frees_it() -> None:
    state = fold([OPENED, PlaceLabelled("l", "crank", ("crank",), "Ana", AT)])
    problem = refusal(state, PartRemoved("o", "crank", {}, {}, "Ana", AT))
    assert problem is not None
    assert problem.found == "still on: Head off; Sump off"
    assert problem.remedy == "Do first: Cover off; Sump off."
    engine = engine_of(TWIN)
    assert frees(engine, (), "crank") == ["cover", "sump"]
    assert [next_off(engine, off) for off in ((), ("cover",), ("cover", "head", "sump", "crank"))] == [
        "cover",
        "head",
        None,
    ]


def test_a_place_left_unmeasured_or_a_reason_answers_what_a_gauge_would_read() -> None:
    rest = [each for each in STORY if each not in (FLOAT, HEAD_OFF)]
    assert code(fold(rest), HEAD_OFF) == "as_found_open"
    reason = AsFoundNoted("n2", "head", "float at 1", "", "the nose is broken off", "Ana", AT)
    assert code(fold([*rest, reason]), HEAD_OFF) == ""


@pytest.mark.parametrize(
    ("event", "expected"),
    [
        (replace(ASKED[0], key="n2"), "answered"),
        (AsFoundNoted("n2", "head", "How loud was it?", "", "", "Ana", AT), "answered"),
        (AsFoundNoted("n2", "head", "What is it worth?", "a lot", "", "Ana", AT), "not_asked"),
        (AsFoundNoted("n2", "head", "float at 1", "", "", "Ana", AT), "found_or_reason"),
        (AsFoundNoted("n2", "head", "float at 1", "0.1", "no time", "Ana", AT), "found_or_reason"),
        (AsFoundNoted("n2", "head", "float at 1", "0.1", "", "Ana", AT), "too_late"),
        (PlaceLabelled("l3", "head", ("COVER",), "Ana", AT), "other_label"),
        (PlaceLabelled("l3", "lid", ("lid",), "Ana", AT), "unknown_removal"),
        (PlaceLabelled("l3", "sump", ("sump",), "  ", AT), "no_name"),
        (PlaceLabelled("l2", "sump", ("sump",), "Ana", AT), "key_used"),
        (OrientationChosen("c2", "head", "up", "Ana", AT), "unknown_choice"),
        (OrientationChosen("c2", "cover", "front", "Ana", AT), "unknown_choice"),
        (PhotoBound("p2", "head", "0" * 64, "image/gif", 9, "Ana", AT), "not_a_photo"),
        (PhotoBound("p2", "head", "0" * 64, "image/png", 12_000_001, "Ana", AT), "photo_too_large"),
        (PhotoBound("p2", "head", "0" * 64, "image/png", 9, "Ana", AT), ""),
        (PhotoLeftOut("p2", "sump", " ", "Ana", AT), "no_reason"),
        (replace(HEAD_OFF, key="o3"), "already_off"),
        (PartCleaned("g", "cover", (), "Ana", AT), "no_gate"),
        (PartCleaned("g", "head", (), "Ana", AT), "not_looked"),
        (SOUND, "not_clean"),
        (StripAnswerTakenBack("b", "head", "nothing", "slip", "Ana", AT), "no_answer"),
        (StripAnswerTakenBack("b", "head", "c", " ", "Ana", AT), "no_reason"),
        (RemovalUndone("u", "sump", "slip", "Ana", AT), "not_off"),
        (RemovalUndone("u", "head", "", "Ana", AT), "no_reason"),
    ],
)
def test_what_the_strip_refuses_says_so_by_its_code(event: Event, expected: str) -> None:
    assert code(fold(STORY), event) == expected


def test_an_answer_taken_back_no_longer_counts_and_may_be_given_again() -> None:
    state = after(fold(STORY), StripAnswerTakenBack("b", "head", "n", "mixed up with the sister engine", "Ana", AT))
    engine = engine_of(TWIN)
    assert stripped(engine, state.strip).of("head").noted == {}
    assert code(state, AsFoundNoted("n2", "head", "How loud was it?", "quiet", "", "Ana", AT)) == ""


def test_undoing_a_removal_takes_with_it_what_waited_for_it_and_leaves_the_answers() -> None:
    more = [PlaceLabelled("l4", "sump", ("sump",), "Ana", AT), PartRemoved("o4", "sump", {}, {}, "Ana", AT)]
    state = fold([*STORY, *more, RemovalUndone("u", "cover", "it was the other one", "Ana", AT)])
    stands = stripped(engine_of(TWIN), state.strip)
    assert stands.off == ("sump",)
    assert stands.of("head").off is None
    assert stands.of("head").label is not None


def test_a_part_that_was_on_again_is_cleaned_and_tested_anew() -> None:
    undone = RemovalUndone("u", "head", "it went on for a trial", "Ana", AT)
    state = fold([*STORY, CLEANED, SOUND, undone, replace(HEAD_OFF, key="o3")])
    assert stripped(engine_of(TWIN), state.strip).of("head").gates == {}
    assert code(state, replace(SOUND, key="g3")) == "not_clean"


def test_an_open_gate_holds_the_step_that_needs_the_part_and_a_crack_cannot_be_signed_away() -> None:
    order = BuildOrderLaidOut(("head_on", "cover_on"), 0, 0, 0, True, "Ana")
    done = StepConfirmed("head_on", "Ana", AT)
    signed = StepDoneAgainstAdvice("head_on", "no time", "Ana", AT)
    opened: list[Event] = [*STORY, order]
    assert code(fold([OPENED, order]), done) == "", "an engine that was stripped before the job is not held"
    assert code(fold(opened), done) == "gate_open"
    assert code(fold([*opened, CLEANED]), done) == "gate_open"
    assert code(fold([*opened, CLEANED, SOUND]), done) == ""
    cracked = replace(SOUND, crack="between the seats of cylinder 1")
    assert code(fold([*opened, CLEANED, cracked]), done) == "gate_open"
    assert code(fold([*opened, CLEANED, cracked]), signed) == "gate_open"
    assert code(fold([*opened]), signed) == ""


KEYS = st.integers(0, 40).map(str)
NAMES = st.sampled_from(["cover", "head", "sump", "crank", "lid"])
BY, NOW = st.sampled_from(["Ana", "Ana", " "]), st.just(AT)
ASKED_WORDS = st.sampled_from(["How loud was it?", "float at 1"])
LABELS = st.sampled_from([("cover",), ("HEAD",), ("sump",), ("crank",)])
EVENTS = st.one_of(
    st.builds(AsFoundNoted, KEYS, NAMES, ASKED_WORDS, st.sampled_from(["", "x"]), st.sampled_from(["", "y"]), BY, NOW),
    st.builds(PlaceLabelled, KEYS, NAMES, LABELS, BY, NOW),
    st.builds(OrientationChosen, KEYS, NAMES, st.sampled_from(["front", "rear", ""]), BY, NOW),
    st.builds(PhotoLeftOut, KEYS, NAMES, st.sampled_from(["dark", ""]), BY, NOW),
    st.builds(PhotoBound, KEYS, NAMES, st.just("0" * 64), st.just("image/png"), st.just(9), BY, NOW),
    st.builds(PartRemoved, KEYS, NAMES, st.sampled_from([{}, ALL_OUT]), st.just({}), BY, NOW),
    st.builds(PartCleaned, KEYS, NAMES, st.sampled_from([(), ("plugs out",)]), BY, NOW),
    st.builds(PartCrackTested, KEYS, NAMES, st.just(()), st.sampled_from(["", "here"]), BY, NOW),
    st.builds(StripAnswerTakenBack, KEYS, NAMES, KEYS, st.just("slip"), BY, NOW),
    st.builds(RemovalUndone, KEYS, NAMES, st.just("slip"), BY, NOW),
)


@given(st.lists(EVENTS, max_size=40))
def test_whatever_is_sent_nothing_is_off_before_what_it_waits_for_and_replay_equals_the_live_state(
    wanted: list[Event],
) -> None:
    engine, state = engine_of(TWIN), fold([OPENED])
    record: list[Event] = [OPENED]
    for event in wanted:
        if refusal(state, event) is None:
            state, record = after(state, event), [*record, event]
        stands = stripped(engine, state.strip)
        for name in stands.off:
            assert all(each in stands.off for each in engine.strip[name].after)
        assert len(set(stands.off)) == len(stands.off)
    assert fold(from_body(to_body(event)) for event in record) == state
