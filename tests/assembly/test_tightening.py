"""One joint as it is tightened: every rule comes from its description, and nothing closes at one bolt short."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from endfloat.assembly.pull_rules import objection
from endfloat.assembly.tightening import (
    APART,
    Close,
    Condemn,
    Deed,
    Fit,
    GoBack,
    Progress,
    Pull,
    done,
    easily_missed_done,
    next_pull,
    pause,
)
from endfloat.engine.joints import Joint
from endfloat.problems import Problem

BOLT = {"thread": "M8x1.25", "length": "40 mm", "class": "8.8"}
NEVER: frozenset[str] = frozenset()


def joint(**changes: object) -> Joint:
    """Three bolts in the order 2, 1, 3, two passes, one fastener apart behind a cover."""
    whole: dict[str, object] = {
        "title": "Cover",
        "closes": "the case",
        "page": "7",
        "drawing": {
            "view": "seen from above",
            "front": "left",
            "outline": [["0 mm", "0 mm"], ["9 mm", "0 mm"], ["9 mm", "9 mm"]],
        },
        "bolts": {"long": {**BOLT, "single_use": "true"}},
        "fasteners": fasteners(apart="long"),
        "sequence": ["2", "1", "3"],
        "passes": [{"amount": "20 N·m", "page": "7"}, {"amount": "90 °", "page": "7"}],
        "interrupted": {"inside_pass": way(slacken="all", renew="set", longest="20 min")},
        "felt_wrong": {
            "slipped": way(slacken="this one", renew="none"),
            "no_rise": way(slacken="this one", renew="this one"),
            "stopped_short": way(slacken="all", renew="none", start_again_at="2"),
        },
        **changes,
    }
    return Joint.model_validate(whole)


def fasteners(apart: str) -> list[dict[str, object]]:
    """Three of the sequence, and number 4 of the given sort on its own."""
    hidden = {"easily_missed": "behind the cover", "apart": {"amount": "10 N·m", "after_pass": "2", "page": "8"}}
    return [
        *({"number": number, "bolt": "long", "x": f"{number} mm", "y": "1 mm"} for number in "123"),
        {"number": "4", "bolt": apart, "x": "4 mm", "y": "1 mm", **hidden},
    ]


def way(**words: str) -> dict[str, str]:
    return {"start_again_at": "1", "page": "9", **words}


def at(minute: int) -> str:
    return f"2026-05-03T{10 + minute // 60:02}:{minute % 60:02}:00+00:00"


def run(described: Joint, *deeds: Deed, spent: frozenset[str] = NEVER) -> Progress:
    progress = Progress()
    for deed in deeds:
        refused = objection(described, progress, deed, pulled_before=spent)
        assert refused is None, refused.text()
        progress = done(described, progress, deed)
    return progress


def refused(described: Joint, progress: Progress, deed: Deed, spent: frozenset[str] = NEVER) -> Problem:
    problem = objection(described, progress, deed, pulled_before=spent)
    assert problem is not None, "it was allowed"
    return problem


def pulls(*bolts: str, number: int = 1, minute: int = 0) -> list[Deed]:
    return [Pull(number, bolt, at(minute)) for bolt in bolts]


IN = Fit("H1", at(0))
WHOLE = [*pulls("2", "1", "3"), *pulls("2", "1", "3", number=2), Pull(APART, "4", at(0))]


def test_the_next_bolt_follows_the_sequence_pass_by_pass() -> None:
    asked = [next_pull(joint(), run(joint(), IN, *WHOLE[:count])) for count in range(7)]
    assert asked == [(1, "2"), (1, "1"), (1, "3"), (2, "2"), (2, "1"), (2, "3"), None]


def test_a_bolt_out_of_sequence_is_refused_with_the_one_that_is_next() -> None:
    problem = refused(joint(), run(joint(), IN), Pull(1, "3", at(0)))
    assert problem.code == "out_of_sequence"
    assert "Pull bolt 2 first (page 7)" in problem.text()


def test_an_early_pass_is_refused_with_the_bolts_that_are_missing() -> None:
    problem = refused(joint(), run(joint(), IN, *pulls("2")), Pull(2, "2", at(0)))
    assert problem.code == "pass_too_early"
    assert "Bolts 1 and 3 are not yet pulled in pass 1." in problem.text()


def test_a_bolt_is_not_pulled_twice_in_a_pass() -> None:
    assert refused(joint(), run(joint(), IN, *pulls("2")), Pull(1, "2", at(1))).code == "pulled_already"


def test_the_joint_stays_open_at_one_short_and_says_which_and_where_it_hides() -> None:
    short = run(joint(), IN, *WHOLE[:-1])
    problem = refused(joint(), short, Close(at(0)))
    assert problem.code == "not_all_pulled"
    assert "bolt 4 behind the cover" in problem.text()
    assert easily_missed_done(joint(), short) == (0, 1)
    whole = run(joint(), IN, *WHOLE, Close(at(0)))
    assert whole.closed
    assert easily_missed_done(joint(), whole) == (1, 1)


def test_a_fastener_apart_waits_for_the_pass_that_its_description_names() -> None:
    early = refused(joint(), run(joint(), IN, *WHOLE[:5]), Pull(APART, "4", at(0)))
    assert "Bolt 3 is not yet pulled in pass 2" in early.text()


def test_a_single_use_set_that_was_pulled_is_refused_and_a_reusable_one_is_not() -> None:
    spent = frozenset({"H3"})
    problem = refused(joint(), Progress(), Fit("H3", at(0)), spent)
    assert problem.code == "set_pulled_before"
    assert "bolt set H3, which was already pulled. It is single use" in problem.text()
    assert "Enter a new set" in problem.text()
    again = joint(bolts={"long": {**BOLT, "single_use": "false"}})
    assert objection(again, Progress(), Fit("H3", at(0)), pulled_before=spent) is None


def test_a_pause_inside_a_pass_may_last_as_long_as_the_description_allows_and_no_longer() -> None:
    begun = run(joint(), IN, *pulls("2"))
    assert pause(joint(), begun, at(20)) is None
    problem = refused(joint(), begun, Pull(1, "1", at(25)))
    assert problem.code == "stopped_too_long"
    assert "stopped 25 minutes ago inside pass 1" in problem.text()
    assert "slacken all, renew the whole set, start again at pass 1 (page 9)" in problem.text()
    assert refused(joint(), begun, GoBack(at(25))).code == "new_set_needed"
    assert next_pull(joint(), done(joint(), begun, Fit("H2", at(26)))) == (1, "2")


def test_a_pause_between_passes_has_its_own_rule_or_none() -> None:
    between = run(joint(), IN, *pulls("2", "1", "3"))
    assert pause(joint(), between, at(500)) is None
    strict = joint(interrupted={"between_passes": way(slacken="none", renew="none", longest="1 h")})
    stopped = pause(strict, between, at(181))
    assert stopped is not None
    assert stopped[1] == "stopped 3 hours ago between pass 1 and pass 2"
    assert next_pull(strict, done(strict, between, GoBack(at(181)))) == (2, "2")


def test_a_pull_that_felt_wrong_stops_the_joint_until_the_way_back_is_done() -> None:
    wrong = run(joint(), IN, *pulls("2", "1"), Condemn(1, "3", "no_rise", at(0)))
    problem = refused(joint(), wrong, Pull(1, "3", at(0)))
    assert problem.code == "rule_first"
    assert "slacken this bolt, renew this bolt" in problem.text()
    assert refused(joint(), wrong, GoBack(at(0))).code == "no_new_bolt"
    assert refused(joint(), wrong, GoBack(at(0), "H1"), frozenset({"H1"})).code == "set_pulled_before"
    assert next_pull(joint(), done(joint(), wrong, GoBack(at(0), "N1"))) == (1, "3")


@pytest.mark.parametrize(
    ("feel", "new_bolt", "following"),
    [("slipped", "", (1, "1")), ("no_rise", "N1", (1, "1")), ("stopped_short", "", (2, "2"))],
)
def test_only_what_was_slackened_starts_again(feel: str, new_bolt: str, following: tuple[int, str]) -> None:
    wrong = run(joint(), IN, *WHOLE[:4], Condemn(2, "1", feel, at(0)), GoBack(at(0), new_bolt))  # type: ignore[arg-type]
    assert next_pull(joint(), wrong) == following


def test_a_sort_of_bolt_may_have_its_own_way_back_that_leaves_the_others_tight() -> None:
    short = {**BOLT, "single_use": "false", "felt_wrong": {"slipped": way(slacken="this one", renew="none")}}
    sorts = {"long": {**BOLT, "single_use": "true"}, "short": short}
    mixed = joint(bolts=sorts, fasteners=fasteners(apart="short"), felt_wrong={})
    wrong = run(mixed, IN, *WHOLE[:-1], Condemn(APART, "4", "slipped", at(0)))
    problem = refused(mixed, wrong, Pull(APART, "4", at(0)))
    assert "slacken this bolt, renew nothing, pull it again from the start" in problem.text()
    again = run(mixed, IN, *WHOLE[:-1], Condemn(APART, "4", "slipped", at(0)), GoBack(at(0)), WHOLE[-1], Close(at(0)))
    assert again.closed


def test_without_a_rule_only_a_new_set_leads_on() -> None:
    bare = joint(felt_wrong={})
    wrong = run(bare, IN, Condemn(1, "2", "slipped", at(0)))
    assert refused(bare, wrong, GoBack(at(0))).code == "no_way_back"
    assert next_pull(bare, done(bare, wrong, Fit("H2", at(0)))) == (1, "2")


def test_a_blank_amount_cannot_be_pulled() -> None:
    blank = joint(passes=[{"page": "7"}])
    assert refused(blank, run(blank, IN), Pull(1, "2", at(0))).code == "amount_missing"


def test_nothing_is_pulled_before_the_bolts_have_a_name() -> None:
    assert refused(joint(), Progress(), Pull(1, "2", at(0))).code == "no_bolt_set"
    assert refused(joint(), Progress(), Fit("  ", at(0))).code == "no_set_name"


BOLTS = st.sampled_from(["1", "2", "3", "4", "9"])
PASSES = st.integers(-1, 3)
MINUTES = st.integers(0, 40).map(at)
FEELS = st.sampled_from(["no_rise", "stopped_short", "slipped"])
DEEDS = st.one_of(
    st.builds(Fit, st.sampled_from(["H1", "H2", ""]), MINUTES),
    st.builds(Pull, PASSES, BOLTS, MINUTES),
    st.builds(Condemn, PASSES, BOLTS, FEELS, MINUTES),
    st.builds(GoBack, MINUTES, st.sampled_from(["", "N1"])),
    st.builds(Close, MINUTES),
    st.just("the right one"),
)


@given(st.lists(DEEDS, max_size=60))
def test_whatever_is_tried_a_joint_closes_only_when_every_pass_was_pulled_in_sequence(wanted: list[object]) -> None:
    described, progress = joint(), Progress()
    for wish in wanted:
        upcoming = next_pull(described, progress)
        deed = wish if wish != "the right one" else Pull(*(upcoming or (APART, "4")), at(0))
        assert isinstance(deed, Deed)
        if objection(described, progress, deed, pulled_before=NEVER) is not None:
            continue
        progress = done(described, progress, deed)
        for number in (1, 2):
            order = [bolt for each, bolt in progress.pulled if each == number]
            assert len(order) == len(set(order)), "a bolt was pulled twice in a pass"
        if progress.closed:
            assert sorted(progress.pulled) == sorted(
                [(number, bolt) for number in (1, 2) for bolt in ("1", "2", "3")] + [(APART, "4")]
            )


@given(st.lists(BOLTS, min_size=7, max_size=7), st.integers(0, 6))
def test_without_a_way_back_the_only_whole_order_is_that_of_the_book(order: list[str], swap: int) -> None:
    described, progress = joint(), done(joint(), Progress(), IN)
    right = [deed for deed in WHOLE if isinstance(deed, Pull)]
    tried = [*right[:swap], *(Pull(right[swap].pass_number, bolt, at(0)) for bolt in order), *right[swap:]]
    accepted = []
    for deed in tried:
        if objection(described, progress, deed, pulled_before=NEVER) is None:
            progress = done(described, progress, deed)
            accepted.append((deed.pass_number, deed.bolt))
    assert accepted == [(deed.pass_number, deed.bolt) for deed in right]
