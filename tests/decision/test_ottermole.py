"""The oil engine of the ferry: a chain of knock-ons decided by data alone, and its twins with one input changed."""

import dataclasses
import math
from collections import Counter
from functools import cache

import pytest

from cast import FERRY, example, with_value
from endfloat.decision.plan import CHEAPEST_SHOWN, Priced, decide, objections, work_of
from endfloat.decision.prices import Prices
from endfloat.decision.why import Question, knock_ons, money_against_days, why, why_not_cheaper
from endfloat.engine.proofread import still_to_look_up
from endfloat.inspection.judge import judge, judge_found
from endfloat.inspection.measured import Evidence, measured
from endfloat.inspection.verdicts import Rule
from endfloat.inspection.words import label
from endfloat.solver.cp_sat import solve_rows

INCH = 0.0254
ENGINE, EVIDENCE, PRICES = example(FERRY)
RENEWED_ANYWAY = {"main_shells": "standard", "rod_nuts": "renew", "seals": "renew"}


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


def repriced(key: str, price: int) -> Prices:
    return dataclasses.replace(PRICES, items={**PRICES.items, key: dataclasses.replace(PRICES.items[key], price=price)})


def value(name: str, place: str, choice: dict[str, str] | None = None) -> float:
    """What a limit is held against, under a choice, in inches where it is a length."""
    [finding] = [
        each
        for each in judge_found(ENGINE, measured(ENGINE, EVIDENCE), choice or {}, Rule(), frozenset({name}))
        if each.place == place
    ]
    assert finding.estimate is not None
    return finding.estimate.value / float(finding.unit.factor)


def test_nineteen_places_are_out_one_is_too_close_to_call_and_three_limits_are_still_to_look_up() -> None:
    findings = judge(ENGINE, EVIDENCE)
    assert Counter(finding.verdict.family for finding in findings) == {
        "Holds": 95,
        "Out": 19,
        "Open": 11,
        "Unsettled": 1,
    }
    assert [label(ENGINE, f.on, f.place) for f in findings if f.verdict.family == "Out" and f.on != "lash"] == [
        "Front 2, liner wear",
        "Front 2, skirt clearance",
        "Rear 3, hot gap",
        "Front 2, small end clearance",
        "Tunnel bow",
        "Pin 1, pin wear",
        "Front 1, pin clearance",
        "Chain growth",
        "Pump late",
        "Rear flatness",
        "Front 2 exhaust valve, seat width",
        "Front 2 exhaust valve, valve run out",
        "Rear 3, hot grip",
        "Front 2, leak loss",
    ]
    assert still_to_look_up(ENGINE) == [
        "spring_free, new limit, page 57",
        "main_leak, service limit, page 61",
        "oil_pump_gap, service limit, page 62",
    ]


def test_the_engine_asks_for_more_than_thirty_things_and_for_formulas_the_other_two_do_not_use() -> None:
    used = {quantity.formula for quantity in ENGINE.quantities.values()}
    others = {
        quantity.formula
        for name in ("wrenhallow-90-8", "tolvenny-1185")
        for quantity in example(FERRY.parent / name)[0].quantities.values()
    }
    assert len(ENGINE.characteristics) + len(ENGINE.quantities) > 100
    assert len(used - others) >= 18


# Each sum below is worked by hand from the readings as typed, with no formula of the program.
def test_the_sums_by_hand_agree_with_what_is_judged() -> None:
    assert value("hot_gap", "3") == pytest.approx(0.0120 + math.pi * 4.0 * (11e-6 * 90 - 12e-6 * 140), abs=1e-7)
    assert value("hot_skirt", "1") == pytest.approx(0.0119 + 3.9923 * (11e-6 * 90 - 21e-6 * 120), abs=1e-7)
    assert value("hot_grip", "3") == pytest.approx(0.0014 + 1.6866 * (12e-6 * 280 - 21e-6 * 180), abs=1e-7)
    assert value("seat_width", "2 exhaust") == pytest.approx((1.488 - 1.350) / math.sqrt(2), abs=1e-6)
    rate = (91.3 - 43.3) / 0.4
    assert value("seat_load", "3 inlet") == pytest.approx(rate * (1.961 - 1.638), abs=1e-6)
    assert value("pump_late", "engine") == pytest.approx(math.degrees((9.097 / 9.0 - 1) * 3.0 / 1.8 * 2), abs=1e-6)
    assert value("leak_loss", "2") == pytest.approx(0.29, abs=1e-9)
    # Near the close mesh the backlash is twice the way apart times the tangent of the pressure angle.
    assert value("gear_backlash", "engine") == pytest.approx(2 * 0.0058 * math.tan(math.radians(20)), rel=0.01)


def test_the_compression_ratio_by_hand_agrees() -> None:
    bore, gasket, deck = 4.0035, 0.055, -0.0180
    space = 0.195 + math.pi / 4 * 4.12**2 * gasket + math.pi / 4 * bore**2 * deck + 2.70 + 0.03
    swept = math.pi / 4 * bore**2 * 4.375
    assert value("ratio", "3") == pytest.approx((swept + space) / space, rel=1e-6)


def test_the_cheapest_work_is_shown_and_its_price_is_the_sum_of_its_items() -> None:
    priced, _ = as_brought_in()
    assert priced.plan.status == CHEAPEST_SHOWN
    assert objections(priced.plan.findings) == []
    assert work(priced) == {
        "liner_2": "renew",
        "liner_2_shim": "shim_002",
        "rings": "file_3",
        "bushes": "bush_2",
        "tunnel": "line_bore",
        "cam_gear": "relieved",
        "pins": "grind_010",
        "rod_shells": "under_010",
        "rear_skim": "skim_008",
        "front_gasket": "thick",
        "rear_gasket": "thick",
        "front_seats": "recut_2",
        "rear_seats": "recut_deep",
        "valve_2_exhaust": "renew",
        "insert_3": "oversize",
        "rear_springs": "shim_015",
        "chain": "renew",
        "lash": "set",
    }
    by_hand = 118 + 3.5 + 4 + 19 + 210 + 74 + 96 + 46 + 58 + 38 + 31 + 24 + 14 + 24 + 21 + 33 + 2.5 + 28 + 15 + 49
    assert (priced.plan.cost, priced.plan.days) == (round(by_hand * 100), 9)


def test_the_line_bore_pulls_the_cam_gear_and_the_gasket_after_it() -> None:
    priced, question = as_brought_in()
    said = {item[0]: why(question, priced.plan, item) for item in work_of(ENGINE, priced.plan.choice)}
    assert said["tunnel"].startswith("Tunnel bow 0.0045")
    assert said["cam_gear"].startswith(
        "It goes with: skim the caps and bore the tunnel in line. Without it: Gear backlash"
    )
    assert "Front 1, bump gap 0.0331" in said["front_gasket"]
    assert [line for line in knock_ons(question, priced.plan) if "Gear backlash: from 0.0042 to 0.0039 in." in line]


def test_the_skim_of_one_head_runs_on_through_seats_to_springs() -> None:
    priced, question = as_brought_in()
    said = {item[0]: why(question, priced.plan, item) for item in work_of(ENGINE, priced.plan.choice)}
    assert said["rear_seats"].startswith(
        "It goes with: skim the rear head 0.008. Without it: Rear 3 inlet valve, valve recess"
    )
    assert said["rear_springs"].startswith("It goes with: cut both rear seats 0.008 deeper. Without it: Rear 3")
    assert "seat load" in said["rear_springs"]


def test_a_ring_whose_gap_holds_cold_is_filed_since_it_butts_hot() -> None:
    findings = {(f.on, f.place): f for f in judge(ENGINE, EVIDENCE)}
    assert findings["ring_gap", "3"].verdict.family == "Holds"
    assert findings["hot_gap", "3"].verdict.family == "Out"


def test_refacing_the_valve_is_cheaper_and_leaves_it_too_thin_an_edge() -> None:
    priced, question = as_brought_in()
    [refaced] = [line for line in why_not_cheaper(question, priced.plan) if line.startswith("Reface the exhaust valve")]
    assert "margin left 0.0419" in refaced


def test_who_cannot_wait_for_the_gear_takes_the_block_of_the_sister_ferry() -> None:
    slow, *_, quickest = money_against_days(as_brought_in()[1])
    assert (slow.cost, slow.days) == (90_800, 9)
    assert quickest.days < 9
    assert quickest.choice["tunnel"] == "other_block"
    assert (quickest.choice["cam_gear"], quickest.choice["front_gasket"]) == ("as_is", "thin")


# The twins: one input changed, another answer.
def test_a_straight_tunnel_leaves_gear_and_gaskets_as_they_are() -> None:
    priced, _ = planned(with_value(EVIDENCE, ("tunnel_bow", "engine", "-", "-"), "0.0010 in"))
    assert not {"tunnel", "cam_gear"} & set(work(priced))
    assert priced.plan.choice["front_gasket"] == "thin"


def test_a_dear_cam_gear_turns_the_answer_over_to_another_block() -> None:
    priced, _ = planned(prices=repriced("cam-gear", 40_000))
    assert (work(priced)["tunnel"], work(priced).get("cam_gear")) == ("other_block", None)
    assert priced.plan.choice["front_gasket"] == "thin"


def test_a_thicker_edge_lets_the_valve_be_refaced() -> None:
    priced, _ = planned(with_value(EVIDENCE, ("valve_margin", "2 exhaust", "-", "-"), "0.0640 in"))
    assert work(priced)["valve_2_exhaust"] == "reface"


def test_a_flat_rear_head_spares_skim_seats_and_spring_shims() -> None:
    middle = [
        ("rear_flatness", "engine", s, a) for s, a in (("1 in", "3.5 in"), ("3.5 in", "1 in"), ("3.5 in", "3.5 in"))
    ]
    middle += [("rear_flatness", "engine", s, a) for s, a in (("3.5 in", "6 in"), ("6 in", "3.5 in"))]
    evidence = EVIDENCE
    for spot in middle:
        evidence = with_value(evidence, spot, "0.0005 in")
    assert not {"rear_skim", "rear_seats", "rear_springs"} & set(work(planned(evidence)[0]))


def test_a_counterbore_less_worn_keeps_the_standard_insert() -> None:
    priced, _ = planned(with_value(EVIDENCE, ("counterbore", "3", "-", "-"), "1.6859 in"))
    assert work(priced)["insert_3"] == "standard"


@pytest.mark.parametrize(
    ("spot", "text", "decision"),
    [
        (("ring_gap", "3", "-", "-"), "0.0160 in", "rings"),
        (("chain_span", "engine", "-", "-"), "9.030 in", "chain"),
        (("bush_bore", "2", "-", "across"), "1.2508 in", "bushes"),
    ],
)
def test_a_place_that_holds_is_left_alone(spot: tuple[str, str, str, str], text: str, decision: str) -> None:
    evidence = with_value(EVIDENCE, spot, text)
    if decision == "bushes":
        evidence = with_value(evidence, ("bush_bore", "2", "-", "along"), "1.2508 in")
    assert decision in work(as_brought_in()[0])
    assert decision not in work(planned(evidence)[0])
