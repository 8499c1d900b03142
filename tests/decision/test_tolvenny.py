"""The invented flat four: another engine by data alone, judged and decided in another way than the V8."""

import dataclasses
from collections import Counter
from functools import cache

import pytest

from cast import EXAMPLES, example, with_value
from endfloat.decision.plan import CHEAPEST_SHOWN, Priced, decide, objections, work_of
from endfloat.decision.prices import Prices
from endfloat.decision.why import Question, money_against_days, variants, why, why_not_cheaper
from endfloat.engine.proofread import still_to_look_up
from endfloat.inspection.judge import judge, judge_found
from endfloat.inspection.measured import Evidence, measured
from endfloat.inspection.verdicts import Rule
from endfloat.inspection.words import label
from endfloat.solver.cp_sat import solve_rows

TOLVENNY = EXAMPLES / "tolvenny-1185"
ENGINE, EVIDENCE, PRICES = example(TOLVENNY)
RENEWED_ANYWAY = {"rod_shells": "standard", "rod_bolts": "renew", "one_belt": "renew", "two_belt": "renew"}
RENEWED_ANYWAY |= {"seals": "renew"}


def planned(evidence: Evidence = EVIDENCE, prices: Prices = PRICES) -> tuple[Priced, Question]:
    found = measured(ENGINE, evidence)
    priced = decide(ENGINE, found, prices, solve_rows)
    return priced, Question(ENGINE, found, prices, priced.rows, solve_rows, Rule())


@cache
def as_brought_in() -> tuple[Priced, Question]:
    return planned()


def work(priced: Priced) -> dict[str, str]:
    """The work of a plan, without what is renewed whenever the engine is apart."""
    items = dict(work_of(ENGINE, priced.plan.choice))
    return {name: key for name, key in items.items() if name not in RENEWED_ANYWAY}


def changed(*spots_and_values: tuple[tuple[str, str, str, str], str]) -> Evidence:
    evidence = EVIDENCE
    for spot, text in spots_and_values:
        evidence = with_value(evidence, spot, text)
    return evidence


def repriced(key: str, price: int) -> Prices:
    return dataclasses.replace(PRICES, items={**PRICES.items, key: dataclasses.replace(PRICES.items[key], price=price)})


def test_nine_places_are_out_three_too_close_to_call_and_one_limit_is_still_to_look_up() -> None:
    findings = judge(ENGINE, EVIDENCE)
    assert Counter(finding.verdict.family for finding in findings) == {"Holds": 64, "Out": 9, "Unsettled": 3, "Open": 1}
    assert [label(ENGINE, f.on, f.place) for f in findings if f.verdict.family == "Out"] == [
        "Side one 3, bore wear",
        "Side one 3, piston clearance",
        "Side two 2, ring gap",
        "Main 2, main wear",
        "Main 2, main clearance",
        "End float",
        "Side two head, face flatness",
        "Side one 1, seat run out",
        "Side one 7, through bolt length",
    ]
    assert [label(ENGINE, f.on, f.place) for f in findings if f.verdict.family == "Unsettled"] == [
        "Side two 4, bore wear",
        "Main 1, main clearance",
        "Main 3, main clearance",
    ]
    assert still_to_look_up(ENGINE) == ["oil_pump_gap, service limit, page 44"]


def test_single_parts_are_replaced_and_nothing_is_ground_or_bored() -> None:
    priced, _ = as_brought_in()
    assert priced.plan.status == CHEAPEST_SHOWN
    assert objections(priced.plan.findings) == []
    assert work(priced) == {
        "barrel_3": "new_barrel",
        "rings": "renew",
        "crank": "exchange_pool",
        "main_1_shells": "yellow",
        "main_2_shells": "red",
        "main_3_shells": "green",
        "two_skim": "skim_015",
        "one_gasket": "standard",
        "two_gasket": "thick",
        "exhaust_seats": "recut_1",
        "through_bolts": "renew_7",
    }
    assert {name: priced.plan.choice[name] for name in RENEWED_ANYWAY} == RENEWED_ANYWAY
    assert (priced.plan.cost, priced.plan.days) == (89_300, 16)


def test_each_work_item_says_which_finding_forces_it() -> None:
    priced, question = as_brought_in()
    said = {item[0]: why(question, priced.plan, item) for item in work_of(ENGINE, priced.plan.choice)}
    assert said["barrel_3"].startswith("Side one 3, bore wear 0.096")
    assert said["rings"].startswith("Side two 2, ring gap 0.85")
    assert said["crank"].startswith("Main 2, main wear 0.045")
    assert said["exhaust_seats"].startswith("Side one 1, seat run out 0.112")
    assert said["through_bolts"].startswith("Side one 7, through bolt length 160.840")
    assert said["two_gasket"].startswith("It goes with: skim the head of side two 0.15.")
    assert "Ratio spread" in said["two_gasket"]


def test_one_barrel_alone_is_not_bored_since_its_piston_would_be_too_heavy_beside_the_others() -> None:
    priced, question = as_brought_in()
    cheaper = list(why_not_cheaper(question, priced.plan))
    [bored] = [line for line in cheaper if line.startswith("Bore barrel 3 to 78.25")]
    assert "Piston mass spread 7.9" in bored
    assert "page 33" in bored


def test_the_crank_on_the_shelf_takes_other_colours_of_shell() -> None:
    priced, question = as_brought_in()
    other = dict(variants(question, priced.plan))["crank", "exchange_pool"].choice
    assert [other[f"main_{n}_shells"] for n in (1, 2, 3)] == ["green", "yellow", "blue"]


def test_who_cannot_wait_pays_for_the_shelf_crank_and_who_is_in_a_hurry_skims_both_heads() -> None:
    _, question = as_brought_in()
    slow, within_nine_days, quickest = money_against_days(question)
    assert [(plan.cost, plan.days) for plan in (slow, within_nine_days, quickest)] == [
        (89_300, 16),
        (112_600, 8),
        (117_700, 3),
    ]
    assert (within_nine_days.choice["crank"], within_nine_days.choice["two_gasket"]) == ("exchange_shelf", "thick")
    assert (quickest.choice["one_skim"], quickest.choice["two_gasket"]) == ("skim_015", "standard")


# Each answer has a twin with one input changed and another answer.
def test_a_sound_second_main_keeps_the_crank_and_leaves_the_end_float_to_thicker_washers() -> None:
    sound = ["53.990 mm", "53.989 mm", "53.989 mm", "53.990 mm"]
    spots = [("main_journal", "2", s, a) for s in ("front", "rear") for a in ("upright", "level")]
    priced, _ = planned(changed(*zip(spots, sound, strict=True)))
    assert (work(priced).get("crank"), work(priced)["thrust_washers"]) == (None, "over_005")
    assert [work(priced)[f"main_{n}_shells"] for n in (1, 2, 3)] == ["green", "yellow", "blue"]


def worn_barrels(*numbers: str) -> Evidence:
    return changed(*[(("bore_size", n, "8 mm", "across"), f"78.09{n} mm") for n in numbers])


def test_two_worn_barrels_are_renewed_singly() -> None:
    priced, _ = planned(worn_barrels("1"))
    assert [priced.plan.choice[f"barrel_{n}"] for n in (1, 2, 3, 4)] == ["new_barrel", "as_is", "new_barrel", "as_is"]
    assert work(priced)["rings"] == "renew"


def test_three_worn_barrels_make_it_cheaper_to_bore_all_four_whose_pistons_bring_their_rings() -> None:
    priced, _ = planned(worn_barrels("1", "4"))
    assert [priced.plan.choice[f"barrel_{n}"] for n in (1, 2, 3, 4)] == ["oversize_025"] * 4
    assert "rings" not in work(priced)


def test_a_dear_thick_gasket_makes_both_sides_be_skimmed() -> None:
    priced, _ = planned(prices=repriced("gasket-125-two", 12_000))
    assert (work(priced)["one_skim"], work(priced)["two_skim"]) == ("skim_015", "skim_015")
    assert (work(priced)["one_gasket"], work(priced)["two_gasket"]) == ("standard", "standard")


@pytest.mark.parametrize(
    ("spot", "text", "decision"),
    [
        (("ring_gap", "2", "-", "-"), "0.60 mm", "rings"),
        (("through_bolt_length", "7", "-", "-"), "160.30 mm", "through_bolts"),
        (("seat_run_out", "1", "-", "exhaust"), "0.030 mm", "exhaust_seats"),
        (("bore_size", "3", "8 mm", "across"), "78.060 mm", "barrel_3"),
    ],
)
def test_a_place_that_holds_is_left_alone(spot: tuple[str, str, str, str], text: str, decision: str) -> None:
    evidence = changed((spot, text))
    if decision == "barrel_3":
        evidence = with_value(with_value(evidence, ("bore_size", "3", "8 mm", "along"), "78.055 mm"), spot, text)
        evidence = with_value(evidence, ("bore_size", "3", "35 mm", "across"), "78.050 mm")
    assert decision in work(as_brought_in()[0])
    assert decision not in work(planned(evidence)[0])


def test_a_second_long_through_bolt_renews_all_ten() -> None:
    priced, _ = planned(changed((("through_bolt_length", "4", "-", "-"), "160.90 mm")))
    assert work(priced)["through_bolts"] == "renew_all"


def test_a_flat_second_head_keeps_both_faces_and_both_gaskets_alike() -> None:
    readings = [
        dataclasses.replace(each, typed=next(r for r in EVIDENCE.readings if r.spot == one).typed)
        if (each.characteristic, each.place) == ("face_flatness", "side two")
        and (one := ("face_flatness", "side one", each.station, each.axis))
        else each
        for each in EVIDENCE.readings
    ]
    priced, _ = planned(dataclasses.replace(EVIDENCE, readings=tuple(readings)))
    assert not {"one_skim", "two_skim"} & set(work(priced))
    assert (work(priced)["one_gasket"], work(priced)["two_gasket"]) == ("standard", "standard")


def test_washers_on_top_of_an_exchange_crank_would_take_the_end_float_away() -> None:
    priced, question = as_brought_in()
    both = {**priced.plan.choice, "thrust_washers": "over_005"}
    out = objections(judge_found(ENGINE, question.found, both, Rule()))
    assert [(finding.on, round(finding.estimate.value * 1000, 2)) for finding in out if finding.estimate] == [
        ("end_float", 0.04)
    ]
