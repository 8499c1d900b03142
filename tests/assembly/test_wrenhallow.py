"""The whole build of the V8: a known order, orders with one known slip each, and the cheapest order."""

import os
import subprocess
import sys
from pathlib import Path

import pytest
from slow_checker import broken

import endfloat.examples
from endfloat.assembly.check import check
from endfloat.assembly.contradictions import contradiction
from endfloat.assembly.cost import Cost, stays
from endfloat.assembly.generate import BuildOrder, build_order
from endfloat.assembly.now import frees, may_do, reopens
from endfloat.engine.model import Engine
from endfloat.engine.proofread import read_engine
from endfloat.engine.relations import RELATIONS

V8 = Path(endfloat.examples.__file__).parent / "wrenhallow-90-8" / "engine.yaml"
LINES = (Path(__file__).parent / "wrenhallow-order.txt").read_text().splitlines()
ORDER = tuple(line for line in LINES if not line.startswith("#"))


@pytest.fixture(scope="module")
def engine() -> Engine:
    read = read_engine(V8.read_bytes(), name="engine.yaml")
    assert isinstance(read, Engine)
    return read


def plain(engine: Engine) -> dict:
    """The description as plain maps for the second checker."""
    content = engine.model_dump()
    return {each: content[each] for each in ("operations", "relations", "safe_states")}


def moved(step: str, after: str) -> tuple[str, ...]:
    rest = [each for each in ORDER if each != step]
    place = rest.index(after) + 1
    return (*rest[:place], step, *rest[place:])


def test_the_build_has_a_hundred_operations_or_more_both_banks_and_every_type_of_relation(engine: Engine) -> None:
    assert len(engine.operations) >= 100
    assert all(getattr(engine.relations, name) for name in RELATIONS)
    by_bank = [[each for each in engine.operations.values() if each.bank == bank] for bank in ("left", "right")]
    assert len(by_bank[0]) == len(by_bank[1]) > 20
    assert not {each.title for each in by_bank[0]} & {each.title for each in by_bank[1]}


def test_the_known_order_keeps_every_relation_for_both_checkers(engine: Engine) -> None:
    assert check(engine, ORDER) == []
    assert broken(plain(engine), ORDER) == set()
    assert contradiction(engine) is None


@pytest.mark.parametrize(
    ("relation", "step", "after", "about"),
    [
        ("before", "piston_8", "pull_pin_4", ("piston_8", "pull_pin_4")),
        ("last_chance", "left_chain_fed", "left_rear_guide", ("left_chain_fed", "left_rear_guide")),
        ("kept_true", "dress_manifold", "upper_shells", ("wash_block", "dress_manifold", "piston_8")),
        ("unbroken", "bring_rod_bolts", "mains_pass_1", ("mains_pass_1", "bring_rod_bolts", "mains_pass_2")),
        ("unbroken", "clean_covers", "left_pass_1", ("left_pass_1", "clean_covers", "left_pass_2")),
        ("second_person", "clean_covers", "right_head_on",
         ("left_head_on", "left_pass_1", "right_head_on", "right_pass_1")),
        ("special_tool", "left_sprocket_bolts", "left_fixture_off", ("left_sprocket_bolts", "left_fixture_off")),
        ("easily_missed", "left_m8_counted", "cover_on", ("left_m8_counted", "cover_on")),
        ("easily_missed", "cover_hidden_counted", "damper", ("cover_hidden_counted", "damper")),
        ("sides_differ", "right_buckets", "left_m8_counted", ("right_buckets", "left_buckets")),
        ("own_place", "lay_out_main_caps", "main_cap_3", ("lay_out_main_caps", "main_cap_3")),
        ("single_use", "bring_main_bolts", "mains_pass_2", ("bring_main_bolts", "mains_pass_1")),
        ("single_use", "flywheel_bolts_new", "flywheel", ("flywheel_bolts_new", "flywheel")),
        ("clocked", "clean_covers", "rear_bead", ("rear_bead", "rear_carrier")),
        ("clocked", "clean_covers", "cover_bead", ("cover_bead", "cover_bolts")),
        ("attitude", "left_buckets", "left_m8", ("left_buckets", "left_m8_counted", "two_turns")),
        ("as_one_move", "bring_rod_bolts", "lay_crank", ("lay_crank", "thrust_halves", "bring_rod_bolts")),
        ("slack_and_taut", "left_rail", "left_rear_guide", ("left_chain_fed", "left_rail", "left_hook_off")),
        ("slack_and_taut", "left_hook_off", "left_fixture_on", ("left_sprockets", "left_hook_off")),
        ("confirm_again_now", "flywheel_bolts_new", "rags_out", ("rags_out", "flywheel_bolts_new", "manifold")),
        ("confirm_again_now", "clean_covers", "left_cams_checked",
         ("left_cams_checked", "clean_covers", "left_sprockets")),
        ("aid_in_aid_out", "crank_lock_out", "left_cam_caps", ("right_cam_caps", "crank_lock_out")),
        ("aid_in_aid_out", "left_pin_out", "two_turns", ("left_tensioner", "two_turns", "left_pin_out")),
        ("aid_in_aid_out", "right_pin_out", "two_turns", ("right_tensioner", "two_turns", "right_pin_out")),
    ],
)  # fmt: skip
def test_one_step_moved_breaks_exactly_one_relation(
    engine: Engine, relation: str, step: str, after: str, about: tuple[str, ...]
) -> None:
    order = moved(step, after)
    assert [(each.relation, each.operations) for each in check(engine, order)] == [(relation, about)]
    assert relation in broken(plain(engine), order)


def test_the_cheapest_order_is_proved_and_each_beginning_of_it_is_sound(engine: Engine) -> None:
    found = build_order(engine)
    assert isinstance(found, BuildOrder)
    assert found.proved
    assert found.cost == found.bound == Cost(helper_calls=3, turns=9, tool_changes=20)
    assert broken(plain(engine), found.operations) == set()
    assert all(check(engine, found.operations[:length]) == [] for length in range(0, len(found.operations), 7))


def test_each_call_of_the_helper_is_told_with_its_minutes_and_its_last_step(engine: Engine) -> None:
    found = build_order(engine)
    assert isinstance(found, BuildOrder)
    calls = stays(engine, found.operations)
    assert len(calls) == found.cost.helper_calls == 3
    both_heads = next(each for each in calls if found.operations[each.first].endswith("_head_on"))
    assert found.operations[both_heads.last].endswith("_pass_1")
    steps = found.operations[both_heads.first : both_heads.last + 1]
    assert both_heads.minutes == sum(engine.operations[step].minutes for step in steps) <= 120


def test_the_rear_guide_is_refused_until_the_chain_is_fed(engine: Engine) -> None:
    done = ORDER[: ORDER.index("left_chain_fed")]
    refused = may_do(engine, done, "left_rear_guide")
    assert {each.relation for each in refused} == {"last_chance"}
    assert any("Feed the left chain" in each.sentence for each in refused)
    assert "left_chain_fed" in frees(engine, done, "left_rear_guide")
    assert may_do(engine, (*done, "left_chain_fed", "left_front_guide"), "left_rear_guide") == []


def test_a_step_between_passes_is_refused(engine: Engine) -> None:
    done = ORDER[: ORDER.index("left_pass_2")]
    assert [each.relation for each in may_do(engine, done, "damper_bolt_new")] == ["unbroken"]
    assert may_do(engine, done, "left_pass_2") == []


def test_undoing_a_step_reopens_what_waited_for_it_and_nothing_else(engine: Engine) -> None:
    done = ORDER[: ORDER.index("left_m8_counted") + 1]
    fallen = reopens(engine, done, "left_pass_2")
    assert {"left_pass_1", "left_pass_3", "left_m8", "left_m8_counted"} <= set(fallen)
    assert not {each for each in fallen if each.startswith(("rings", "main", "piston"))}
    still = [each for each in done if each not in {*fallen, "left_pass_2"}]
    assert check(engine, still) == []


def test_five_processes_with_different_hash_seeds_give_one_order_and_one_set_of_sentences() -> None:
    program = (
        "import random, sys; sys.path.insert(0, sys.argv[1]); from descriptions import engine_of\n"
        "from endfloat.assembly.generate import build_order; from endfloat.assembly.check import check\n"
        "steps = {f's{n}': {'minutes': n, 'tools': [['x'], ['y'], []][n % 3]} for n in range(12)}\n"
        "links = [{'first': f's{n}', 'then': f's{n + 4}'} for n in range(8)]\n"
        "random.seed(int(sys.argv[2])); keys = list(steps); random.shuffle(keys); random.shuffle(links)\n"
        "engine = engine_of({'operations': {k: steps[k] for k in keys}, 'relations': {'before': links}})\n"
        "print(build_order(engine)); print(check(engine, sorted(steps, reverse=True)))\n"
    )
    running = [
        subprocess.Popen(
            [sys.executable, "-c", program, str(Path(__file__).parent), str(seed)],
            env={**os.environ, "PYTHONHASHSEED": str(seed)},
            stdout=subprocess.PIPE,
            text=True,
        )
        for seed in range(5)
    ]
    said = {each.communicate()[0] for each in running}
    assert len(said) == 1
    assert "BuildOrder" in said.pop()
