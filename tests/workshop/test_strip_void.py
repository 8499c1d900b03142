"""What the strip makes void is bought once; the three examples come apart; their strip turned round keeps the build."""

import re
from dataclasses import replace

import pytest

from cast import EXAMPLES, FERRY, V8, example
from endfloat.assembly.hunt import against_strip
from endfloat.assembly.strip_hunt import not_kept, put_back
from endfloat.engine.model import Engine
from endfloat.engine.proofread import read_engine
from endfloat.job.events import PlanAgreed
from endfloat.store.memory import MemoryPhotos, MemoryStore
from endfloat.workshop.bind_photo import bind_photo
from endfloat.workshop.open_job import open_job
from endfloat.workshop.record import load, write
from endfloat.workshop.revise_description import revise_description
from endfloat.workshop.sheets import purchases
from endfloat.workshop.strip import strip_of
from endfloat.workshop.strip_record import strip_on_paper
from endfloat.workshop.view import View, view
from endfloat.workshop.void import told_beside, void_purchases, void_rows
from pictures import small_picture
from strip_hands import care_by_hand, strip_by_hand

FOLDERS = [V8, EXAMPLES / "tolvenny-1185", FERRY]


def clock() -> str:
    return "2026-05-03T10:00:00Z"


def opened(folder) -> MemoryStore:
    store = MemoryStore()
    files = {name: (folder / f"{name}.yaml").read_bytes() for name in ("engine", "gauges", "prices")}
    assert open_job(store, clock, by="Ana", readings=(folder / "readings.csv").read_bytes(), **files) == []
    return store


def seen(store: MemoryStore) -> View:
    return view(load(store)[0])


@pytest.mark.parametrize("folder", FOLDERS, ids=lambda folder: folder.name)
def test_an_example_comes_apart_whole_in_the_order_of_its_file_and_every_gate_is_passed(folder) -> None:
    store = opened(folder)
    strip = strip_of(load(store)[0])
    while strip.next is not None:
        strip_by_hand(store, clock, strip.next)
        strip = strip_of(load(store)[0])
    assert strip.stands.off == tuple(strip.engine.strip)
    for name, removal in strip.engine.strip.items():
        if removal.gates:
            care_by_hand(store, clock, name)
    assert strip_of(load(store)[0]).gates == []
    assert len(strip_on_paper(load(store)[0])) == len(load(store)[0].strip)


@pytest.mark.parametrize("folder", FOLDERS, ids=lambda folder: folder.name)
def test_the_strip_of_an_example_turned_round_contradicts_no_relation(folder) -> None:
    engine = example(folder)[0]
    assert [each.sentence for each in against_strip(engine, put_back(engine, engine.strip))] == []


def test_the_strip_turned_round_contradicts_when_the_flywheel_came_off_before_the_covers() -> None:
    engine = example()[0]
    asked = against_strip(engine, put_back(engine, ["flywheel", "left_cover"]))
    assert [each.operations for each in asked] == [("flywheel", "left_cover")]


TWIN = """\
name: Test twin
layout: twin
places: {cylinder: {names: [1]}}
characteristics: {}
operations:
  shaft_in: {title: Shaft in, minutes: 1}
  seal_in: {title: Seal in, minutes: 1}
  lid_on: {title: Lid on, minutes: 1}
relations: {before: [{first: shaft_in, then: lid_on, why: it closes}]}
strip:
  lid: {title: Lid off, parts: [lid], back: [lid_on]}
  seal: {title: Seal out, parts: [seal], after: [lid], back: [seal_in]}
  shaft: {title: Shaft out, parts: [shaft], after: [lid, seal], back: [shaft_in]}
"""


def test_what_waits_at_the_strip_and_for_nothing_at_the_build_is_asked() -> None:
    engine = read_engine(TWIN.encode(), name="engine.yaml")
    assert isinstance(engine, Engine)
    assert [each.operations for each in not_kept(engine)] == [("seal_in", "lid_on"), ("shaft_in", "seal_in")]
    assert put_back(engine, ["lid", "seal"]) == ("lid_on", "seal_in")


def test_pieces_are_bought_in_whole_purchases_and_both_banks_share_one() -> None:
    store = opened(V8)
    strip_by_hand(store, clock, "left_cover")
    [one] = void_purchases(seen(store), None)
    assert (one.item, one.times, one.use) == ("cover-gaskets", 1, "void since the strip: 1 × left cam cover gasket")
    strip_by_hand(store, clock, "right_cover")
    [pair] = void_purchases(seen(store), None)
    assert (pair.item, pair.times) == ("cover-gaskets", 1)
    listed = purchases(seen(store), None, [(pair.item, pair.times, pair.use)])
    assert [row["title"] for row in listed["rows"]] == ["pair of cam cover gaskets"]
    assert listed["total"] == "18 crowns"


def agreed_to(choice: dict[str, str]) -> PlanAgreed:
    return PlanAgreed(choice, 1, 1, 0, "by hand", "none", "0", "hash", "Ana")


def test_what_the_plan_buys_is_not_bought_again_for_the_strip() -> None:
    store = opened(V8)
    for name in ("left_cover", "right_cover", "manifold", "damper", "sump", "timing_cover", "left_tensioner"):
        strip_by_hand(store, clock, name)
    for name in ("left_sprockets", "left_cams", "left_buckets", "left_m8", "left_head"):
        strip_by_hand(store, clock, name)
    told = {row.part: row.bought for row in void_rows(seen(store), None)}
    assert told["left head gasket"] == "the plan decides which; none is agreed yet"
    choice = {"gasket": "thick", "head_bolts": "renew"}
    assert write(store, clock, lambda state: [agreed_to(choice)]) is None
    told = {row.part: row.bought for row in void_rows(seen(store), choice)}
    assert told["left head gasket"] == "the agreed plan buys: head gaskets 1.50"
    assert told["left head bolt"] == "the agreed plan buys: twenty new head bolts"
    bought = {each.item: each.use for each in void_purchases(seen(store), choice)}
    assert not {"gaskets-150", "head-bolts"} & set(bought), "the plan buys them"
    assert bought["damper-bolt"] == "void since the strip: 1 × damper bolt"
    assert bought["flywheel-bolts"] == "void once off: 8 × flywheel bolt", "agreed to, though it is still on"
    assert bought["seals"] == "void since the strip: 1 × front seal; void once off: 1 × pick-up O-ring, 1 × rear seal"


def test_the_price_of_what_is_void_is_the_same_before_during_and_after_the_strip() -> None:
    store = opened(V8)
    choice = {"gasket": "thick", "head_bolts": "renew"}
    told = [told_beside(seen(store), choice, 0, 0)]
    for name in strip_of(load(store)[0]).engine.strip:
        strip_by_hand(store, clock, name)
        if name == "damper":
            told.append(told_beside(seen(store), choice, 0, 0))
    told.append(told_beside(seen(store), choice, 0, 0))
    assert [each.price for each in told if each] == ["301 crowns"] * 3
    listed = purchases(seen(store), None, [(b.item, b.times, b.use) for b in void_purchases(seen(store), choice)])
    assert listed["total"] == "301 crowns"


def test_a_decision_that_buys_nothing_leaves_the_void_part_to_its_own_item_and_says_so() -> None:
    store = opened(V8)
    strip_by_hand(store, clock, "left_cover")
    job = seen(store)
    # The same engine with its gasket decided, and an item of its own in case the plan keeps the old one.
    [(void, _)] = strip_of(job.state).void
    decided = replace_void(store, void.part, "decided_by: bore_set, buy: cover-gaskets")
    kept = {each.item: each.use for each in void_purchases(decided, {"bore_set": "as_is"})}
    assert "void since the strip: 1 × left cam cover gasket" in kept["cover-gaskets"]
    assert void_purchases(decided, None) == []
    bare = replace_void(store, void.part, "decided_by: bore_set")
    assert "add it to your own list" in void_rows(bare, {"bore_set": "as_is"})[0].bought


def replace_void(store: MemoryStore, part: str, words: str) -> View:
    state = load(store)[0]
    assert state.opened is not None
    old = f"{{part: {part}, quantity: 1, why: hardened, buy: cover-gaskets, page: 59}}"
    assert old in state.opened.engine
    engine = state.opened.engine.replace(old, f"{{part: {part}, quantity: 1, {words}, page: 59}}")
    return view(replace(state, opened=replace(state.opened, engine=engine)))


def test_a_part_that_is_off_stays_in_the_description_and_one_that_is_on_may_go() -> None:
    store = opened(V8)
    strip_by_hand(store, clock, "left_cover")
    engine = (V8 / "engine.yaml").read_text()
    files = {"gauges": (V8 / "gauges.yaml").read_bytes(), "prices": (V8 / "prices.yaml").read_bytes(), "by": "Ana"}

    def without(name: str) -> bytes:
        left, found = re.subn(rf"(?m)(?<=\n)  {name}:\n    title:.*\n(?:    .*\n)*", "", engine)
        assert found == 1
        return (
            left.replace(f"[damper, sump, {name}, ", "[damper, sump, ")
            .replace(f"after: [{name}, ", "after: [")
            .encode()
        )

    [problem] = revise_description(store, clock, engine=without("left_cover"), **files)
    assert problem.code == "removal_lost"
    assert revise_description(store, clock, engine=without("crank"), **files) == []


def test_a_picture_that_the_rules_refuse_is_not_kept() -> None:
    store, kept = opened(V8), MemoryPhotos()
    picture = small_picture("PNG")

    def bound(key: str, removal: str, by: str) -> str:
        problem = bind_photo(store, clock, kept, key=key, removal=removal, content=picture, by=by)
        return problem.code if problem else ""

    assert bound("a", "no_such_part", "Ana") == "unknown_removal"
    assert bound("a", "manifold", " ") == "no_name"
    assert kept.names == []
    assert bound("a", "manifold", "Ana") == ""
    assert bound("a", "manifold", "Ana") == "", "the same sent twice is harmless"
    assert bound("b", "manifold", "Ana") == "answered"
    assert len(kept.names) == 1
