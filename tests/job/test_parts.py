"""Parts come in counted and looked at, wrong ones go back, and the steps that fit them wait."""

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from cast import EXAMPLES, V8, example
from endfloat.engine.proofread import read_engine
from endfloat.job.events import Event, JobOpened
from endfloat.job.part_events import PartArrived, PartSentBack
from endfloat.job.parts import expected_parts, part_holds, parts_in
from endfloat.job.state import State, after, fold, refusal
from endfloat.job.strip_events import PartRemoved, RemovalUndone

ENGINE, _, PRICES = example(V8)
TEXT = (V8 / "engine.yaml").read_text()
NOW = "2026-05-03T10:00:00+00:00"
OPENED = JobOpened("demo", TEXT, "")
LOOKS = tuple(ENGINE.parts["main_bolts"].looks)


def came(key: str, count: str, *, looked: tuple[str, ...] = LOOKS) -> PartArrived:
    return PartArrived(key, "main_bolts", count, "Ana", NOW, looked)


def codes(*events: Event) -> list[str]:
    """What each event in turn is refused with; nothing where it is taken."""
    state, told = fold([OPENED]), []
    for event in events:
        wrong = refusal(state, event)
        told.append(wrong.code if wrong else "")
        state = state if wrong else after(state, event)
    return told


def test_ten_bolts_may_come_in_two_parcels_and_not_eleven() -> None:
    assert codes(came("a", "6"), came("b", "5"), came("c", "4")) == ["", "too_many", ""]


def test_what_was_not_looked_at_or_not_counted_is_not_in() -> None:
    assert codes(came("a", "10", looked=())) == ["not_looked"]
    assert [codes(came("a", count))[0] for count in ("", "ten", "0", "-3", "2.5")] == ["no_count"] * 5


def test_more_go_back_than_came_in_only_on_paper() -> None:
    back = PartSentBack("b", "main_bolts", "7", "two bent", "Ana", NOW)
    assert codes(came("a", "6"), back) == ["", "not_here"]
    assert codes(PartSentBack("b", "main_bolts", "1", " ", "Ana", NOW)) == ["no_reason"]


def test_a_step_waits_until_the_last_bolt_is_in_and_again_when_one_goes_back() -> None:
    def waits(*events: PartArrived | PartSentBack) -> list[str]:
        return [each.sentence for each in part_holds(expected_parts(ENGINE, None), events, "bring_main_bolts")]

    back = PartSentBack("b", "main_bolts", "1", "bent", "Ana", NOW)
    assert waits(came("a", "9")) == ["ten main bolts: 9 of 10 are in."]
    assert waits(came("a", "9"), came("c", "1")) == []
    assert waits(came("a", "9"), came("c", "1"), back) == ["ten main bolts: 9 of 10 are in."]


def test_pistons_are_expected_once_a_plan_buys_them_and_never_for_a_plan_that_does_not() -> None:
    assert "pistons" not in expected_parts(ENGINE, None)
    buying = next(
        {decision: key}
        for decision, each in ENGINE.decisions.items()
        for key, option in each.options.items()
        if "pistons-025" in option.catalogue
    )
    assert "pistons" in expected_parts(ENGINE, buying)
    assert "main_bolts" in expected_parts(ENGINE, buying)
    gone = {"no_such_decision": "renew", "pistons": "no_such_option"}
    assert "pistons" not in expected_parts(ENGINE, gone), (
        "a description that changed since still tells what is expected"
    )


def test_what_came_off_void_is_expected_and_held_against_the_old_one() -> None:
    assert not {"cover-gaskets", "flywheel-bolts"} & set(expected_parts(ENGINE, None, PRICES))
    off = expected_parts(ENGINE, None, PRICES, ["left_cover", "flywheel", "main_caps"])
    assert (off["cover-gaskets"].title, off["cover-gaskets"].count) == ("pair of cam cover gaskets", 2)
    assert off["flywheel-bolts"].looks == ["held against the old: 8 × flywheel bolt"]
    assert "main-bolts" not in off, "the description says how they are counted and looked at: asked once"
    assert "main_bolts" in off


def test_an_agreed_plan_expects_all_that_the_strip_makes_void_and_nothing_twice() -> None:
    choice = {"gasket": "standard", "head_bolts": "renew"}
    whole = expected_parts(ENGINE, choice, PRICES)
    assert whole == expected_parts(ENGINE, choice, PRICES, list(ENGINE.strip))
    assert {"seals", "stem-seals", "damper-bolt", "head_gaskets", "head_bolts", "rod_bolts"} <= set(whole)
    assert not {"gaskets-120", "head-bolts", "rod-bolts"} & set(whole)
    assert len(whole["seals"].looks) == 3
    assert (whole["stem-seals"].count, whole["seals"].count) == (32, 3)


def test_what_is_void_and_named_nowhere_is_expected_under_its_own_name() -> None:
    step = ENGINE.strip["manifold"]
    bare = step.model_copy(update={"void": [step.void[0].model_copy(update={"buy": ""})]})
    engine = ENGINE.model_copy(update={"strip": {**ENGINE.strip, "manifold": bare}})
    part = expected_parts(engine, None, PRICES, ["manifold"])["manifold.1"]
    assert (part.title, part.count) == ("manifold gasket", 2)


def test_a_kit_that_the_plan_buys_for_void_parts_is_looked_at_piece_by_piece() -> None:
    four, _, prices = example(EXAMPLES / "tolvenny-1185")
    kit = expected_parts(four, {"seals": "renew"}, prices)["seal-kit"]
    assert kit.count == 1
    assert "held against the old: 2 × crank seal" in kit.looks
    assert "seal-kit" not in expected_parts(four, None, prices, ["seals"]), "the plan decides which"


def test_a_part_of_the_strip_is_refused_beyond_its_count_and_taken_once_it_is_off() -> None:
    looks = ("held against the old: 8 × flywheel bolt",)
    bolts = PartArrived("a", "flywheel-bolts", "8", "Ana", NOW, looks)
    opened = JobOpened("demo", TEXT, "", prices=(V8 / "prices.yaml").read_text())
    still_on = fold([opened])
    removed = fold([PartRemoved("off", "flywheel", {}, {}, "Ana", NOW)], still_on)
    assert [getattr(refusal(each, bolts), "code", "") for each in (still_on, removed)] == ["unknown_part", ""]
    arrived = after(removed, bolts)
    assert refusal(arrived, replace(bolts, key="b", count="1")).code == "too_many"
    undone = after(arrived, RemovalUndone("un", "flywheel", "it is on", "Ana", NOW))
    back = PartSentBack("c", "flywheel-bolts", "8", "not needed", "Ana", NOW)
    assert refusal(undone, back) is None, "what is here may go back though nothing expects it any more"
    assert refusal(after(undone, back), replace(back, key="d")).code == "unknown_part"


COUNTS = st.sampled_from(["1", "3", "10", "0", "x"])
EVENTS = st.one_of(
    st.builds(came, st.integers(0, 9).map(str), COUNTS),
    st.builds(
        PartSentBack,
        st.integers(0, 9).map(str),
        st.just("main_bolts"),
        COUNTS,
        st.just("bent"),
        st.just("Ana"),
        st.just(NOW),
    ),
)


@given(st.lists(EVENTS, max_size=15))
def test_never_fewer_than_none_and_never_more_than_were_bought(events: list[Event]) -> None:
    state: State = fold([OPENED])
    for event in events:
        if refusal(state, event) is None:
            state = after(state, event)
        assert 0 <= parts_in(state.arrivals).get("main_bolts", 0) <= ENGINE.parts["main_bolts"].count


def test_a_part_that_names_an_unknown_step_item_or_reading_is_told_with_its_line() -> None:
    text = TEXT
    for before, after_ in (
        ("fitted_by: [bring_rod_bolts]", "fitted_by: [bring_rod_bolt]"),
        ("items: [pistons-025, pistons-050]", "items: [pistons-025, piston-050]"),
        ("measures: [piston_size]", "measures: [piston_sise]"),
    ):
        assert text.count(before) == 1
        text = text.replace(before, after_)
    found = read_engine(text.encode(), name="engine.yaml")
    assert isinstance(found, list)
    assert {each.code for each in found} == {"unknown_operation", "unknown_item", "unknown_characteristic"}
    assert all("Did you mean" in each.remedy for each in found)
