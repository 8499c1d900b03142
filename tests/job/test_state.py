"""The fold and the rules: what stands, and what may happen now."""

from hypothesis import given
from hypothesis import strategies as st

from endfloat.job.clock_events import ClockEnded, ClockStarted
from endfloat.job.events import (
    BoltCondemned,
    BoltPulled,
    BoltSetFitted,
    Event,
    GaugeChecked,
    JobOpened,
    JointClosed,
    JointTakenBack,
    OddReadingKept,
    PassCompleted,
    PlaceLeftUnmeasured,
    PlanAgreed,
    PlanWithdrawn,
    ReadingTaken,
    ReadingWithdrawn,
    WorkNotBack,
    WorkReturned,
)
from endfloat.job.joints import joints_of, progress_of
from endfloat.job.order_events import ConditionRegained
from endfloat.job.pause_events import ConditionLost, WorkStopped, WorkTakenUp
from endfloat.job.proving_events import EngineStopped, FirstFired, GaugeLogged, ProvingWithdrawn, ReadyTicked
from endfloat.job.state import State, after, fold, refusal
from endfloat.job.strip_events import PartRemoved, PlaceLabelled, RemovalUndone
from endfloat.job.timing_events import GateTicked, TurnMade
from endfloat.job.wire import from_body, to_body

COVER = """\
name: Test twin
layout: twin
places: {cylinder: {names: [1, 2]}}
characteristics: {}
strip: {lid: {title: Lid off, parts: [lid]}}
joints:
  cover:
    title: Cover to case
    closes: the case
    page: 12
    drawing: {view: seen from above, front: left, outline: [[0 mm, 0 mm], [90 mm, 0 mm], [90 mm, 40 mm]]}
    bolts: {long: {thread: M8x1.25, length: 60 mm, class: 8.8, single_use: true}}
    fasteners:
      - {number: 1, bolt: long, x: 10 mm, y: 10 mm}
      - {number: 2, bolt: long, x: 40 mm, y: 10 mm}
    sequence: [2, 1]
    passes: [{amount: 20 N·m, page: 12}]
    felt_wrong:
      slipped: {slacken: this one, renew: none, start_again_at: 1, page: 13}
"""
OPENED = JobOpened("demo", COVER, "")
AT = "2026-05-03T10:00:00+00:00"
KEYS = st.sampled_from(["a", "b", "c"])
EVENTS = st.one_of(
    st.just(OPENED),
    st.builds(ReadingTaken, KEYS, *[st.text(max_size=5)] * 7),
    st.builds(ReadingWithdrawn, KEYS, st.text(max_size=3), st.just("Ana")),
    st.builds(OddReadingKept, KEYS, st.just("Ana")),
    st.builds(PlaceLeftUnmeasured, KEYS, *[st.text(max_size=1)] * 2, st.just("not_measured"), st.just("Ana")),
    st.builds(
        PlanAgreed, st.dictionaries(KEYS, KEYS), *[st.integers(0, 9)] * 3, *[st.text(max_size=3)] * 4, st.just("Ana")
    ),
    st.builds(PlanWithdrawn, st.sampled_from(["Ana", " "])),
    st.builds(WorkReturned, KEYS, KEYS, KEYS, st.sampled_from(["Ana", " "]), st.just("2026-05-03")),
    st.builds(WorkNotBack, KEYS, KEYS, st.text(max_size=2), st.just("Ana"), st.just("2026-05-03")),
    st.builds(ConditionRegained, KEYS, KEYS, st.sampled_from(["Ana", " "]), st.just("2026-05-03")),
    st.builds(ConditionLost, KEYS, KEYS, st.sampled_from(["Ana", " "]), st.just("2026-05-03")),
    st.builds(ClockStarted, KEYS, KEYS, st.text(max_size=4), st.sampled_from(["Ana", " "]), st.just("2026-05-03")),
    st.builds(ClockEnded, KEYS, KEYS, st.text(max_size=4), st.sampled_from(["Ana", " "]), st.just("2026-05-03")),
    st.builds(
        WorkStopped,
        KEYS,
        st.text(max_size=4),
        *[st.lists(st.text(max_size=3), max_size=2).map(tuple)] * 4,
        st.sampled_from(["Ana", " "]),
        st.just("2026-05-03"),
    ),
    st.builds(
        WorkTakenUp,
        KEYS,
        *[st.lists(KEYS, max_size=2).map(tuple)] * 3,
        st.sampled_from(["Ana", " "]),
        st.just("2026-05-03"),
    ),
    st.builds(ReadyTicked, KEYS, st.sampled_from(["first", "second"]), st.just("Ana"), st.just("2026-05-03")),
    st.builds(FirstFired, st.just("Ana"), st.just("Bo"), st.just("2026-05-03")),
    st.builds(GaugeLogged, KEYS, KEYS, st.text(max_size=3), st.just("Ana"), st.just("2026-05-03")),
    st.builds(EngineStopped, st.text(max_size=2), st.booleans(), st.just("Ana"), st.just("2026-05-03")),
    st.builds(ProvingWithdrawn, KEYS, st.text(max_size=2), st.just("Ana"), st.just("2026-05-03")),
    st.builds(GaugeChecked, KEYS, KEYS, *[st.text(max_size=3)] * 2, st.just("Ana"), st.just("2026-05-03")),
    st.builds(PlaceLabelled, KEYS, st.sampled_from(["lid", "nut"]), st.just(("lid",)), st.just("Ana"), st.just("2026")),
    st.builds(PartRemoved, KEYS, st.just("lid"), st.just({}), st.just({}), st.just("Ana"), st.just("2026")),
    st.builds(RemovalUndone, KEYS, st.just("lid"), st.text(max_size=2), st.just("Ana"), st.just("2026")),
    # The other events of the timing: tests/job/test_timing.py, on an engine that has one.
    st.builds(GateTicked, KEYS, KEYS, st.just("Ana"), st.just("2026-05-03T10:00:00")),
    st.builds(TurnMade, KEYS, st.just(2), st.just("Ana"), st.just("2026-05-03T10:00:00")),
)
JOINTS = st.sampled_from(["cover", "cover", "cover", "lid"])
SETS = st.sampled_from(["H1", "H1", "H2", ""])
BOLTS = st.sampled_from(["2", "1", "9"])
ANA, NOW = st.sampled_from(["Ana", "Ana", " "]), st.just(AT)
WIDE_KEYS = st.integers(0, 30).map(str)
JOINT_EVENTS = st.one_of(
    st.builds(BoltSetFitted, WIDE_KEYS, JOINTS, SETS, st.just("long: thread oil"), ANA, NOW),
    st.builds(BoltPulled, WIDE_KEYS, JOINTS, SETS, st.sampled_from([1, 1, 2]), BOLTS, st.just("W1"), ANA, NOW),
    st.builds(PassCompleted, JOINTS, SETS, st.integers(0, 2)),
    st.builds(BoltCondemned, WIDE_KEYS, JOINTS, SETS, st.just(1), BOLTS, st.just("slipped"), ANA, NOW),
    st.builds(JointTakenBack, WIDE_KEYS, JOINTS, SETS, st.just(""), ANA, NOW),
    st.builds(JointClosed, WIDE_KEYS, JOINTS, SETS, ANA, NOW),
)


@given(st.lists(EVENTS | JOINT_EVENTS, max_size=20).map(lambda rest: [OPENED, *rest]))
def test_only_allowed_events_count_and_replay_equals_the_live_state(wanted: list[Event]) -> None:
    state, record = State(), []
    for event in wanted:
        if refusal(state, event) is None:
            state, record = after(state, event), [*record, event]
    assert fold(from_body(to_body(event)) for event in record) == state
    assert state.withdrawn <= set(state.taken)
    assert record[0] == OPENED


def test_a_withdrawal_needs_a_reason_and_a_standing_reading() -> None:
    reading = ReadingTaken("a", "bore_size", "3", "10 mm", "across", "86.05 mm", "B2", "Ana")
    state = fold([OPENED, reading])
    silent = refusal(state, ReadingWithdrawn("a", " ", "Ana"))
    assert silent is not None
    assert silent.code == "no_reason"
    gone = after(state, ReadingWithdrawn("a", "thimble", "Ana"))
    assert gone.standing == ()
    again = refusal(gone, ReadingWithdrawn("a", "thimble", "Ana"))
    assert again is not None
    assert again.code == "no_reading"


AGREED = PlanAgreed({"bore_set": "as_is"}, 100, 2, 0, "shown to be cheapest", "solver", "0", "hash", "Ana")


def test_a_reading_after_the_agreement_makes_the_plan_stale_and_it_may_be_agreed_again() -> None:
    reading = ReadingTaken("a", "bore_size", "3", "10 mm", "across", "86.05 mm", "B2", "Ana")
    state = fold([OPENED, AGREED])
    assert not state.stale
    twice = refusal(state, AGREED)
    assert twice is not None
    assert twice.code == "already_agreed"
    moved = after(state, reading)
    assert moved.stale
    assert refusal(moved, AGREED) is None
    assert fold([OPENED, AGREED, PlanWithdrawn("Ana")]).agreed is None


@given(st.lists(JOINT_EVENTS, max_size=40))
def test_a_joint_on_the_record_is_closed_only_when_its_bolts_were_pulled_in_order(wanted: list[Event]) -> None:
    state = fold([OPENED])
    cover = joints_of(COVER)["cover"]
    for event in wanted:
        if refusal(state, event) is not None:
            continue
        state = after(state, event)
        progress = progress_of(cover, "cover", state.tightening)
        if isinstance(event, JointClosed | PassCompleted):
            assert progress.pulled == ((1, "2"), (1, "1"))
        assert not progress.closed or progress.pulled == ((1, "2"), (1, "1"))


def test_a_joint_goes_from_bolts_in_to_closed_and_each_early_step_is_refused() -> None:
    pull = [BoltPulled(f"p{bolt}", "cover", "H1", 1, bolt, "W1", "Ana", AT) for bolt in ("2", "1")]
    story: list[Event] = [
        BoltSetFitted("f", "cover", "H1", "", "Ana", AT),
        *pull,
        PassCompleted("cover", "H1", 1),
        JointClosed("c", "cover", "H1", "Ana", AT),
    ]
    state = fold([OPENED])
    for index, event in enumerate(story):
        if index < len(story) - 2:
            early = [refusal(state, later) for later in story[index + 1 :]]
            assert all(early), "a later step was allowed too soon"
        assert refusal(state, event) is None
        state = after(state, event)
    assert progress_of(joints_of(COVER)["cover"], "cover", state.tightening).closed


def test_a_revised_description_that_asks_for_one_more_pass_opens_a_closed_joint() -> None:
    pulls = [BoltPulled(f"p{bolt}", "cover", "H1", 1, bolt, "W1", "Ana", AT) for bolt in ("2", "1")]
    closed = [BoltSetFitted("f", "cover", "H1", "", "Ana", AT), *pulls, JointClosed("c", "cover", "H1", "Ana", AT)]
    revised = COVER.replace("{amount: 20 N·m, page: 12}", "{amount: 20 N·m, page: 12}, {amount: 90 °, page: 12}")
    before = progress_of(joints_of(COVER)["cover"], "cover", fold([OPENED, *closed]).tightening)
    after_it = progress_of(joints_of(revised)["cover"], "cover", fold([OPENED, *closed]).tightening)
    assert (before.closed, after_it.closed) == (True, False)


def test_a_pull_under_another_set_a_used_key_or_no_name_is_refused() -> None:
    state = fold([OPENED, BoltSetFitted("f", "cover", "H1", "", "Ana", AT)])
    for event, code in (
        (BoltPulled("p", "cover", "H2", 1, "2", "W1", "Ana", AT), "other_bolt_set"),
        (BoltPulled("f", "cover", "H1", 1, "2", "W1", "Ana", AT), "key_used"),
        (BoltPulled("p", "cover", "H1", 1, "2", "W1", " ", AT), "no_name"),
        (BoltPulled("p", "lid", "H1", 1, "2", "W1", "Ana", AT), "unknown_joint"),
    ):
        problem = refusal(state, event)
        assert problem is not None
        assert problem.code == code


def test_a_single_use_set_pulled_in_this_job_never_goes_in_again() -> None:
    pulled = BoltPulled("p", "cover", "H1", 1, "2", "W1", "Ana", AT)
    fitted = BoltSetFitted("f", "cover", "H1", "", "Ana", AT)
    again = BoltSetFitted("g", "cover", "H1", "", "Ana", AT)
    assert refusal(fold([OPENED, fitted]), again) is None
    problem = refusal(fold([OPENED, fitted, pulled]), again)
    assert problem is not None
    assert problem.code == "set_pulled_before"


def test_a_reading_taken_later_re_opens_a_place_left_unmeasured_and_the_answer_stays_in_the_record() -> None:
    answer = PlaceLeftUnmeasured("a", "bore_size", "3", "cannot_be_reached", "Ana")
    other = PlaceLeftUnmeasured("b", "bore_size", "4", "does_not_apply", "Ana")
    left = fold([OPENED, answer, other])
    assert left.left == {("bore_size", "3"): answer, ("bore_size", "4"): other}
    measured = after(left, ReadingTaken("c", "bore_size", "3", "10 mm", "across", "86.05 mm", "B2", "Ana"))
    assert measured.left == {("bore_size", "4"): other}
    assert measured.answered["a"] == answer


def test_a_key_serves_one_entry_only_whatever_its_sort() -> None:
    state = fold([OPENED, PlaceLeftUnmeasured("a", "bore_size", "3", "not_measured", "Ana")])
    again = refusal(state, ReadingTaken("a", "bore_size", "3", "10 mm", "across", "86.05 mm", "B2", "Ana"))
    assert again is not None
    assert again.code == "key_used"
