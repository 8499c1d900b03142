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
