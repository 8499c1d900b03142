"""Missing relations are hunted from the side of the parts; what is found is asked, never mended."""

from random import Random

import pytest
from descriptions import descriptions, engine_of
from hypothesis import given, settings
from hypothesis import strategies as st
from slow_checker import broken

from cast import EXAMPLES, example
from endfloat.assembly.compiled import compile_order
from endfloat.assembly.counters import count_questions, counters
from endfloat.assembly.hunt import against_strip, claims, hunted, replayed, shut_in, unanswered
from endfloat.assembly.replay import random_orders
from endfloat.assembly.typed_order import read_strip
from endfloat.engine.circles import circle
from endfloat.engine.model import Engine
from endfloat.engine.precedences import precedences
from endfloat.engine.proofread import read_engine
from endfloat.engine.relations import Before

V8 = example(EXAMPLES / "wrenhallow-90-8")[0]
FLAT_FOUR = example(EXAMPLES / "tolvenny-1185")[0]


def without(engine: Engine, kind: str, index: int) -> Engine:
    records = getattr(engine.relations, kind)
    fewer = engine.relations.model_copy(update={kind: records[:index] + records[index + 1 :]})
    return engine.model_copy(update={"relations": fewer})


def boxed(**relations: list[dict]) -> Engine:
    """A pump goes in from above or from the side; a lid shuts the one, a plate the other; bolts hold the plate."""
    steps = {each: {"minutes": 1} for each in ("pump", "lid", "plate", "plate_bolts", "look")}
    parts = {
        "pump": {"title": "Pump", "fitted_by": "pump", "ways": {"from above": ["lid"], "from the side": ["plate"]},
                 "looked_at_by": "look", "hidden_by": ["lid"]},
        "lid": {"title": "Lid", "fitted_by": "lid", "rests_on": ["plate"]},
        "plate": {"title": "Plate", "fitted_by": "plate", "fasteners": 4, "tightened_by": "plate_bolts",
                  "wrench_meets": ["lid"]},
    }  # fmt: skip
    made = engine_of({"operations": steps, "relations": relations})
    return Engine.model_validate({**made.model_dump(by_alias=True), "blocking": parts})


def befores(*pairs: tuple[str, str]) -> list[dict]:
    return [{"first": first, "then": then} for first, then in pairs]


KEPT = [("plate", "lid"), ("plate_bolts", "lid"), ("look", "lid"), ("pump", "lid"), ("plate", "plate_bolts")]


def test_where_the_relations_keep_what_the_parts_say_nothing_is_asked() -> None:
    engine = boxed(before=befores(*KEPT))
    assert len(claims(engine)) == 3
    assert hunted(engine, Random(1).randrange, 20) == (20, [])
    assert [each.text() for each in counters(engine)] == ["Every fastener tightened: 4 of 4"]


@pytest.mark.parametrize(
    ("pair", "words"),
    [
        (("plate", "lid"), None),
        (("plate_bolts", "lid"), "Lid keeps the wrench off Plate, but nothing keeps “PLATE_BOLTS” before “LID”. Is a"),
        (("look", "lid"), "Lid hides Pump, but nothing keeps “LOOK” before “LID”"),
        (("pump", "lid"), "The relations allow “PUMP” when every way to Pump is shut by Lid, Plate. Can that be?"),
    ],
)
def test_a_relation_that_is_missing_is_asked_for_unless_others_say_it(pair: tuple[str, str], words: str | None) -> None:
    engine = boxed(before=befores(*(each for each in KEPT if each != pair)))
    _, asked = hunted(engine, Random(1).randrange, 50)
    assert [each.sentence[: len(words)] for each in asked] == [words] if words else asked == []


def test_relations_that_say_the_opposite_of_the_parts_are_asked_about() -> None:
    engine = boxed(before=befores(("lid", "plate_bolts")))
    asked = {each.sort: each.sentence for each in unanswered(engine)}
    assert "The relations put “LID” before “PLATE_BOLTS”, but Lid keeps the wrench off Plate" in asked["contradicted"]


def test_a_part_is_shut_in_only_when_each_of_its_ways_is() -> None:
    engine = boxed()
    assert shut_in(engine, ("plate", "pump", "lid", "plate_bolts", "look")) == []
    found = shut_in(engine, ("plate", "lid", "pump", "plate_bolts", "look"))
    assert [each.operations for each in found] == [("pump", "lid", "plate")]


def test_the_strip_turned_round_must_keep_what_the_build_wants_first() -> None:
    engine = boxed(before=befores(*KEPT))
    assert against_strip(engine, ["lid", "plate", "pump"]) == []
    asked = against_strip(engine, ["plate", "lid"])
    assert [each.operations for each in asked] == [("plate", "lid")]
    assert "came off before what “LID” fits, yet the build wants it in first" in asked[0].sentence


def test_a_typed_strip_order_takes_parts_and_steps_and_tells_each_slip_with_its_line() -> None:
    engine = boxed()
    assert read_strip(b"# strip\nlid\n\nplate_bolts\n", name="strip.txt", engine=engine) == ("lid", "plate_bolts")
    wrong = read_strip(b"lid\nlidd\nlid\n", name="strip.txt", engine=engine)
    assert [(each.code, each.place) for each in wrong if not isinstance(each, str)] == [
        ("unknown_operation", "strip.txt:2"),
        ("repeated_operation", "strip.txt:3"),
    ]


@settings(max_examples=60)
@given(description=descriptions(most=6), seed=st.integers(0, 9))
def test_every_order_drawn_at_random_keeps_every_relation(description: dict, seed: int) -> None:
    engine = engine_of(description)
    if not circle(engine):
        for order in random_orders(compile_order(engine), Random(seed).randrange, 5):
            assert broken(description, order) == set()


@pytest.mark.parametrize("engine", [V8, FLAT_FOUR], ids=["V8", "flat four"])
def test_the_demonstration_engines_leave_no_part_shut_in_and_tighten_every_fastener(engine: Engine) -> None:
    drawn, asked = hunted(engine, Random(1).randrange, 30)
    assert (drawn, asked) == (30, [])
    tightened = counters(engine)[0]
    assert tightened.what == "Every fastener tightened"
    assert tightened.found == tightened.of > 50


@pytest.mark.parametrize("engine", [V8, FLAT_FOUR], ids=["V8", "flat four"])
def test_of_the_links_that_the_parts_say_themselves_each_is_missed_when_it_is_taken_away(engine: Engine) -> None:
    said = {(each.first, each.then) for each in claims(engine)}
    taken = 0
    for index, link in enumerate(engine.relations.before):
        fewer = without(engine, "before", index)
        still = {(each.first, each.then) for each in precedences(fewer)}
        if (link.first, link.then) in said and (link.first, link.then) not in still:
            asked = {each.operations for each in unanswered(fewer)}
            taken += 1
            assert (link.first, link.then) in asked or circle(_turned_round(fewer, link.first, link.then))
    assert taken > 10


def _turned_round(engine: Engine, first: str, then: str) -> Engine:
    against = Before(first=then, then=first, why="the test turns it round")
    before = [*engine.relations.before, against]
    return engine.model_copy(update={"relations": engine.relations.model_copy(update={"before": before})})


def test_what_a_count_misses_becomes_a_question() -> None:
    joint = V8.operations["left_m8_counted"].model_copy(update={"pulls": None})
    engine = V8.model_copy(update={"operations": {**V8.operations, "left_m8_counted": joint}})
    counted = {each.what: each for each in counters(engine)}["Every fastener tightened"]
    assert counted.missing == ("Left head to block",)
    assert counted.of - counted.found == 13
    assert any(
        "Every fastener tightened, but not: Left head to block" in each.sentence for each in count_questions(engine)
    )


@pytest.mark.parametrize(
    ("old", "new", "code"),
    [
        ("blocking:\n  upper_shells: {title: Upper main shells, fitted_by: upper_shells",
         "blocking:\n  upper_shells: {title: Upper main shells, fitted_by: uper_shells", "unknown_operation"),
        ("ways: {from the crankcase: [crank]}", "ways: {from the crankcase: [crnk]}", "unknown_part"),
        ("looked_at_by: pick_up, hidden_by: [sump]", "hidden_by: [sump]", "blocked_without_step"),
    ],
)  # fmt: skip
def test_a_slip_in_what_the_parts_say_is_told_with_its_place(old: str, new: str, code: str) -> None:
    raw = (EXAMPLES / "wrenhallow-90-8" / "engine.yaml").read_text()
    assert old in raw
    read = read_engine(raw.replace(old, new, 1).encode(), name="engine.yaml")
    assert isinstance(read, list)
    assert [each.code for each in read] == [code]
    assert "blocking." in read[0].place


def test_a_question_is_asked_once_however_many_orders_show_it() -> None:
    drawn, asked = replayed(boxed(), Random(3).randrange, 40)
    assert drawn == 40
    assert len(asked) == 1
