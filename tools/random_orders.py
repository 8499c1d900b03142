"""Random builds that can be done: chains of steps that merge, with relations drawn so that a hidden order keeps them.

Plain maps, as the second checker of the tests reads them; `random.Random` with a seed, so a figure can be told again.
"""

from __future__ import annotations

from random import Random
from typing import Any

from endfloat.engine.model import Engine

Plain = dict[str, Any]
TOOLS = ["wrench", "driver", "press", "gauge"]
ATTITUDES = ["up", "down", "left up"]


def merged_chains(seed: int, *, chains: int = 3, steps: int = 150, loose: float = 0.0) -> tuple[Plain, list[str]]:
    """A description of `chains` chains that merge into a last one, and the hidden order.

    `loose` is the share of steps that wait not for the step before them but for one further back.
    """
    chance = Random(seed)
    last = max(2, steps // 10)
    share, over = divmod(steps - last, chains)
    lengths = [share + (number < over) for number in range(chains)]
    names = [[f"{'abcdefgh'[number]}{at:03}" for at in range(length)] for number, length in enumerate(lengths)]
    final = [f"z{at:03}" for at in range(last)]
    hidden = _interleaved(chance, names) + final
    operations: Plain = {}
    for number, chain in enumerate([*names, final]):
        operations.update(_steps(chance, chain, assembly=f"chain_{number}" if number < chains else ""))
    links = [pair for chain in [*names, final] for pair in _along(chance, chain, loose)]
    links += [(step, final[0]) for chain in names for step in chain[-3:]]
    links += _across(chance, hidden[: steps - last])
    relations: Plain = {
        "before": [{"first": first, "then": then, "why": "drawn"} for first, then in sorted(set(links))]
    }
    assemblies = {f"chain_{number}": {"title": f"Chain {number}"} for number in range(chains)}
    return {"operations": operations, "relations": relations, "assemblies": assemblies}, hidden


def _along(chance: Random, chain: list[str], loose: float) -> list[tuple[str, str]]:
    links = []
    for at in range(1, len(chain)):
        back = chance.randint(2, 4) if chance.random() < loose else 1
        links.append((chain[max(0, at - back)], chain[at]))
    return links


def engine_from(description: Plain) -> Engine:
    """The description as an engine that has nothing to measure."""
    places = {"cylinder": {"names": ["1", "2"], "bank": {"left": ["1"], "right": ["2"]}}}
    nothing: Plain = {"name": "Drawn", "layout": "drawn", "places": places, "characteristics": {}}
    return Engine.model_validate({**nothing, **description})


def _interleaved(chance: Random, chains: list[list[str]]) -> list[str]:
    """The chains merged in stretches, as a person works: some steps here, then some there."""
    left = [list(chain) for chain in chains]
    merged: list[str] = []
    while any(left):
        chain = chance.choice([each for each in left if each])
        count = chance.randint(2, 8)
        merged += chain[:count]
        del chain[:count]
    return merged


def _steps(chance: Random, chain: list[str], *, assembly: str) -> Plain:
    """Steps whose tools and attitude stay for a while, as they do on an engine."""
    tool, attitude = chance.choice(TOOLS), chance.choice(ATTITUDES)
    made: Plain = {}
    for name in chain:
        tool = chance.choice(TOOLS) if chance.random() < 0.35 else tool
        attitude = chance.choice(ATTITUDES) if chance.random() < 0.15 else attitude
        made[name] = {
            "title": f"Step {name}",
            "minutes": chance.randint(1, 20),
            "tools": [tool] if chance.random() < 0.6 else [],
            "attitude": attitude if chance.random() < 0.5 else "",
            "persons": 2 if chance.random() < 0.06 else 1,
            "assembly": assembly,
        }
    return made


def _across(chance: Random, hidden: list[str]) -> list[tuple[str, str]]:
    """One link in ten leads from one chain to another."""
    found = []
    for _ in range(len(hidden) // 10):
        at, then = sorted(chance.sample(range(len(hidden)), 2))
        if hidden[at][0] != hidden[then][0]:
            found.append((hidden[at], hidden[then]))
    return found


def with_every_relation(seed: int, *, steps: int) -> tuple[Plain, list[str]]:
    """A build of three chains with records of every type on top, and listed pairs of crank and cams.

    Every record is drawn from where its steps stand in the hidden order, which keeps them all.
    """
    chance = Random(seed * 1000 + steps)
    description, hidden = merged_chains(seed, steps=steps)
    operations, relations = description["operations"], description["relations"]
    relations["before"] = [each for each in relations["before"] if chance.random() < 0.3]
    for step in operations.values():
        step |= {"tools": [], "attitude": "", "persons": 1}
    spans = _spans(chance, hidden)
    for number, (kind, span) in enumerate(zip(KINDS * len(spans), spans, strict=False)):
        drawn = _record(kind, span, operations, number)
        relations.setdefault(kind, []).append({**drawn, "why": f"drawn {number}"})
    description["safe_states"] = _safe_states(chance, hidden, operations)
    return description, hidden


KINDS = ["last_chance", "kept_true", "unbroken", "second_person", "special_tool", "easily_missed", "sides_differ",
         "own_place", "single_use", "clocked", "attitude", "as_one_move", "slack_and_taut", "confirm_again_now",
         "aid_in_aid_out"]  # fmt: skip


def _spans(chance: Random, hidden: list[str]) -> list[list[str]]:
    """Stretches of four to six steps of the hidden order, one after the other and begun again from its start."""
    spans: list[list[str]] = []
    at = chance.randrange(3)
    while len(spans) < max(len(KINDS), len(hidden) // 4):
        length = chance.randint(4, 6)
        if at + length > len(hidden):
            at = chance.randrange(3)
        spans.append(hidden[at : at + length])
        at += length
    return spans


def _record(kind: str, span: list[str], operations: Plain, number: int) -> Plain:
    """A record that the order of the span keeps."""
    a, b, c, d = span[:4]
    minutes = sum(operations[step]["minutes"] for step in span[:4])
    if kind == "last_chance":
        operations[c].setdefault("closes", []).append(f"space {number}")
    if kind == "attitude":
        operations[d]["attitude"] = "up" if operations[d]["attitude"] == "" else operations[d]["attitude"]
    if kind == "slack_and_taut":
        operations[b]["persons"] = 2
    records: Plain = {
        "last_chance": {"do": a, "zone": f"space {number}"},
        "kept_true": {"state": f"state {number} holds", "set_by": a, "during": [b, c], "ended_by": d},
        "unbroken": {"sequence": [b, c]},
        "second_person": {"operations": [a, c], "minutes": minutes},
        "special_tool": {"tool": f"fixture {number}", "fitted_by": a, "needed_for": [b], "off_by": d},
        "easily_missed": {"what": "bolts", "count": 2, "fitted_by": a, "counted_by": b, "hidden_by": [d]},
        "sides_differ": {"what": "pins", "sides": {"left": [a, b], "right": [c, d]}},
        "own_place": {"part": "caps", "marks": "numbers", "laid_out_by": a, "fitted_by": [c]},
        "single_use": {"part": "bolts", "new_by": a, "used_by": c, "undone_by": [b]},
        "clocked": {"what": "bead", "starts": a, "close_with": c, "open_minutes": minutes},
        "attitude": {"attitude": "down", "since": a, "until": c},
        "as_one_move": {"operations": [b, c]},
        "slack_and_taut": {"what": "chain", "held_by": "hook", "taken_up_by": a, "taut_for": [b], "let_go_by": d},
        "confirm_again_now": {"check": b, "before": c},
        "aid_in_aid_out": {"aid": "rag", "in_by": a, "out_by": c, "needed_for": [b], "nought_before": [d]},
    }
    drawn: Plain = records[kind]
    return drawn


def _safe_states(chance: Random, hidden: list[str], operations: Plain) -> Plain:
    """Set near, blocked by a lock, cams in, lock out: four steps of the hidden order do it in turn."""
    set_near, lock, cams_in, unlock = (hidden[at] for at in sorted(chance.sample(range(len(hidden)), 4)))
    operations[set_near]["crank"] = {"turns": "the short way", "becomes": "near", "at": "safe"}
    operations[lock]["crank"] = {"needs": ["near"], "becomes": "blocked", "at": "safe", "shown_by": lock}
    operations[cams_in]["cams"] = {"left": {"needs": ["out"], "becomes": "at rest"}}
    operations[unlock]["crank"] = {"needs": ["blocked"], "becomes": "exact", "at": "safe", "shown_by": lock}
    pairs = [
        {"crank": ["unknown", "near", "blocked"], "cams": {"left": ["out"]}, "why": "no cam presses"},
        {"crank": ["exact", "blocked"], "at": ["safe"], "why": "no piston at the top"},
    ]
    start = {"crank": "unknown", "cams": {"left": "out", "right": "out"}}
    positions = {"safe": "the safe position"}
    return {"why": "an open valve bends", "positions": positions, "start": start, "pairs": pairs}
