"""Each type of relation is checked on its own, says its own sentence, and is missed when its check is gone."""

import pytest
from descriptions import engine_of
from slow_checker import broken

from endfloat.assembly import check as checking
from endfloat.assembly.check import CHECKS, check
from endfloat.assembly.contradictions import contradiction
from endfloat.assembly.generate import BuildOrder, NoOrder, build_order
from endfloat.engine.relations import RELATIONS

STEPS = {
    "a": {"minutes": 10},
    "b": {"minutes": 10, "attitude": "down", "persons": 2},
    "c": {"minutes": 10, "persons": 2},
    "d": {"minutes": 10, "closes": ["case"]},
}
# Type, record, an order that keeps it, an order that breaks it, and words of the sentence.
CASES = [
    ("before", {"first": "a", "then": "b"}, "abcd", "bacd", "“A” comes before “B”"),
    ("last_chance", {"do": "c", "zone": "case"}, "abcd", "abdc", "“D” closes off case, the last chance for “C”"),
    ("kept_true", {"state": "it is locked", "set_by": "a", "during": ["c"], "ended_by": "d"}, "abcd", "abdc",
     "ends it that it is locked"),
    ("kept_true", {"state": "it is locked", "set_by": "a", "during": ["c"], "lost_by": ["b"],
                   "regain": "lock it again"},
     "bacd", "abcd", "Once lost: lock it again."),
    ("unbroken", {"sequence": ["a", "b", "c"]}, "abcd", "abdc", "“D” interrupts the unbroken sequence"),
    ("unbroken", {"sequence": ["a", "b"]}, "abcd", "bacd", "follows at once"),
    ("second_person", {"operations": ["b", "c"], "minutes": 25}, "abcd", "abdc", "kept for 30"),
    ("special_tool", {"tool": "fixture", "fitted_by": "a", "needed_for": ["b"], "off_by": "c"}, "abcd", "acbd",
     "needs the fixture, which “C” takes away"),
    ("easily_missed", {"what": "M8 bolts", "count": 3, "fitted_by": "a", "counted_by": "b", "hidden_by": ["d"]}, "abcd",
     "acdb", "M8 bolts, 3 of them, are easily missed"),
    ("sides_differ", {"what": "pins", "sides": {"left": ["a", "b"], "right": ["c", "d"]}}, "cdab", "acbd",
     "begins on the right side while the left side is not finished (pins)"),
    ("own_place", {"part": "caps", "marks": "numbers", "laid_out_by": "a", "fitted_by": ["b"]}, "abcd", "bacd",
     "each to its own place by numbers"),
    ("single_use", {"part": "bolts", "new_by": "a", "used_by": "c", "undone_by": ["b"]}, "abcd", "acbd",
     "single use and spent by “C”"),
    ("clocked", {"what": "bead", "starts": "a", "close_with": "b", "open_minutes": 15}, "abcd", "acbd",
     "ends after 20"),
    ("clocked", {"what": "bead", "starts": "a", "cure_minutes": 15, "not_before": ["d"]}, "abcd", "abdc",
     "begins after 10"),
    ("attitude", {"attitude": "up", "since": "a", "until": "c"}, "bacd", "abcd", "“B” needs the engine down"),
    ("as_one_move", {"operations": ["a", "c"]}, "bcad", "abcd", "“B” comes between"),
    ("slack_and_taut", {"what": "chain", "held_by": "hook", "taken_up_by": "a", "let_go_by": "d", "taut_for": ["c"],
                        "slack_for": ["b"]}, "bacd", "abcd", "“B” needs the chain slack"),
    ("confirm_again_now", {"check": "a", "before": "b"}, "abcd", "acbd", "no longer counts once “C” has come"),
    ("aid_in_aid_out", {"aid": "lock", "in_by": "a", "out_by": "c", "nought_before": ["b"]}, "bacd", "abcd",
     "must find no lock left in"),
]  # fmt: skip


def described(name: str, record: dict) -> dict:
    return {"operations": STEPS, "relations": {name: [record]}}


@pytest.mark.parametrize(("name", "record", "kept", "broken_by", "words"), CASES)
def test_one_order_keeps_the_relation_and_one_breaks_it_with_its_own_sentence(
    name: str, record: dict, kept: str, broken_by: str, words: str
) -> None:
    engine = engine_of(described(name, record))
    assert check(engine, tuple(kept)) == []
    found = check(engine, tuple(broken_by))
    assert [violation.relation for violation in found] == [name]
    assert words in found[0].sentence
    assert "the test says so" in found[0].sentence
    assert broken(described(name, record), tuple(kept)) == set()
    assert broken(described(name, record), tuple(broken_by)) == {name}


@pytest.mark.parametrize("name", RELATIONS)
def test_without_the_check_of_one_type_an_order_that_breaks_it_would_pass(
    name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    _, record, _, broken_by, _ = next(case for case in CASES if case[0] == name)
    monkeypatch.delitem(checking.CHECKS, name)
    assert check(engine_of(described(name, record)), tuple(broken_by)) == []


def test_every_type_of_the_closed_list_has_its_own_check() -> None:
    assert tuple(CHECKS) == RELATIONS
    assert len({id(each) for each in CHECKS.values()}) == len(RELATIONS) == 16


def test_two_uses_of_one_tool_do_not_overlap() -> None:
    uses = [
        {"tool": "fixture", "fitted_by": "a", "needed_for": ["b"], "off_by": "c"},
        {"tool": "fixture", "fitted_by": "d", "needed_for": ["e"], "off_by": "f"},
    ]
    engine = engine_of({"operations": {each: {"minutes": 1} for each in "abcdef"}, "relations": {"special_tool": uses}})
    assert check(engine, tuple("abcdef")) == check(engine, tuple("defabc")) == []
    assert [violation.operations for violation in check(engine, tuple("abdecf"))] == [("a", "d", "c")]


def test_what_follows_from_a_broken_link_is_not_told_beside_it() -> None:
    links = [{"first": a, "then": b} for a, b in ("ab", "bc", "ac")]
    engine = engine_of({"operations": STEPS, "relations": {"before": links}})
    assert [violation.operations for violation in check(engine, tuple("cbad"))] == [("b", "c"), ("a", "b")]
    assert [violation.operations for violation in check(engine, tuple("bcad"))] == [("a", "b")]


HELD = {
    "what": "chain",
    "taken_up_by": "a",
    "let_go_by": "e",
    "taut_for": ["b"],
    "why": "a dropped chain lies in the case",
}


def held(**changed: object) -> dict:
    steps = {each: {"minutes": 5, "persons": 2 if each in "ab" else 1} for each in "abcde"}
    return {"operations": steps, "relations": {"slack_and_taut": [{**HELD, **changed}]}}


def test_nothing_is_left_held_by_hand_when_the_helper_goes() -> None:
    found = check(engine_of(held(held_by="hand")), tuple("abcde"))
    assert [(each.relation, each.operations) for each in found] == [("slack_and_taut", ("a", "b", "e"))]
    assert "The chain is held by hand, and the helper goes after “B” while it is still to be made fast by “E”" in str(
        found
    )
    assert broken(held(held_by="hand"), tuple("abcde")) == {"slack_and_taut"}
    assert build_order(engine_of(held(held_by="hand"))) == NoOrder(proved=True)
    proof = contradiction(engine_of(held(held_by="hand")))
    assert proof is not None
    assert len(proof.sentences) == 2
    assert proof.sentences[-1].startswith("The chain is held by hand, and the helper of “A” is gone by “E”")


@pytest.mark.parametrize("kind", ["hook", "tie"])
def test_a_hook_or_a_tie_holds_it_when_the_helper_goes(kind: str) -> None:
    assert check(engine_of(held(held_by=kind)), tuple("abcde")) == []


def test_what_is_taken_up_by_hand_may_be_made_fast_while_the_helper_is_there() -> None:
    description = held(held_by="hand", secured_by="c")
    description["operations"]["c"]["persons"] = 2
    engine = engine_of(description)
    assert check(engine, tuple("abcde")) == []
    assert broken(description, tuple("abcde")) == set()
    assert [each.operations for each in check(engine, tuple("abdce"))] == [("a", "b", "c")]
    found = build_order(engine)
    assert isinstance(found, BuildOrder)
    assert broken(description, found.operations) == set()
