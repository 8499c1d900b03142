"""Ten thousand random descriptions: how many get an order, how many are proved to have none, and is any of it wrong?

`python tools/random_builds.py [COUNT]`. Every order released is checked by the slow second checker of the tests; where
none is found for six operations or fewer, every order is tried.
"""

from __future__ import annotations

import sys
from collections import Counter
from itertools import permutations
from pathlib import Path
from random import Random

sys.path.insert(0, str(Path(__file__).parent.parent / "tests" / "assembly"))

from random_orders import Plain, engine_from
from slow_checker import broken

from endfloat.assembly.contradictions import contradiction
from endfloat.assembly.generate import BuildOrder, build_order
from endfloat.engine.circles import circle

TRIED = 6


def drawn_build(seed: int) -> Plain:
    """Four to eight operations with up to eight relations on steps drawn at random; many cannot be kept."""
    chance = Random(seed)
    names = list("abcdefgh")[: chance.randint(4, 8)]
    operations: Plain = {name: _step(chance, name) for name in names}
    relations: Plain = {}
    for _ in range(chance.randint(0, 8)):
        kind, record = _record(chance, chance.sample(names, len(names)))
        relations.setdefault(kind, []).append({**record, "why": "drawn"})
    description: Plain = {"operations": operations, "relations": relations}
    if chance.random() < 0.5:
        description["safe_states"] = _safe_states(chance, operations)
    return description


def _step(chance: Random, name: str) -> Plain:
    return {
        "title": name.upper(),
        "minutes": chance.randint(0, 20),
        "persons": chance.choice([1, 1, 2]),
        "tools": chance.choice([[], ["wrench"], ["driver"]]),
        "attitude": chance.choice(["", "", "up", "down"]),
        "closes": chance.choice([[], [], ["case"]]),
    }


def _record(chance: Random, names: list[str]) -> tuple[str, Plain]:
    a, b, c, d = names[:4]
    minutes = chance.randint(10, 60)
    extra = chance.choice([[], [d]])
    records: Plain = {
        "before": {"first": a, "then": b},
        "last_chance": {"do": a, "zone": "case"},
        "kept_true": {"state": "it holds", "set_by": a, "during": [c], "ended_by": b, "lost_by": extra},
        "unbroken": {"sequence": [a, b, *extra]},
        "second_person": {"operations": [a, b], "minutes": minutes},
        "special_tool": {"tool": "fixture", "fitted_by": a, "needed_for": [c], "off_by": b},
        "easily_missed": {"what": "bolts", "count": 2, "fitted_by": a, "counted_by": b, "hidden_by": [c]},
        "sides_differ": {"what": "pins", "sides": {"left": [a, b], "right": [c, d]}},
        "own_place": {"part": "caps", "marks": "numbers", "laid_out_by": a, "fitted_by": [c]},
        "single_use": {"part": "bolts", "new_by": a, "used_by": b, "undone_by": extra},
        "clocked": {"what": "bead", "starts": a, "close_with": b, "open_minutes": minutes},
        "attitude": {"attitude": "up", "since": a, "until": b},
        "as_one_move": {"operations": [a, b, *extra]},
        "slack_and_taut": {"what": "chain", "held_by": chance.choice(["hand", "tie"]), "taken_up_by": a, "let_go_by": b,
                           "taut_for": [c], "slack_for": extra},
        "confirm_again_now": {"check": a, "before": b},
        "aid_in_aid_out": {"aid": "lock", "in_by": a, "out_by": b, "needed_for": [c], "nought_before": extra},
    }  # fmt: skip
    # A build has more plain links than anything else.
    kind = chance.choice([*records, *["before"] * 12])
    drawn: Plain = records[kind]
    return kind, drawn


def _safe_states(chance: Random, operations: Plain) -> Plain:
    turns, locks, lies = chance.sample(sorted(operations), 3)
    operations[turns]["crank"] = {
        "turns": chance.choice(["the short way", "all round"]),
        "becomes": "near",
        "at": "safe",
    }
    operations[locks]["crank"] = {"needs": ["near"], "becomes": "blocked", "at": "safe", "shown_by": locks}
    operations[lies]["cams"] = {"left": {"becomes": "at rest"}}
    cams = chance.choice([["out"], ["out", "at rest"]])
    pairs = [
        {"crank": ["unknown", "near", "blocked"], "cams": {"left": cams}, "why": "no cam presses"},
        {"crank": ["blocked"], "at": ["safe"], "why": "no piston at the top"},
    ]
    start = {"crank": "unknown", "cams": {"left": "out", "right": "out"}}
    return {"why": "an open valve bends", "positions": {"safe": "safe"}, "start": start, "pairs": pairs}


def outcome(description: Plain) -> str:
    """What becomes of a description, and whether that is right."""
    engine = engine_from(description)
    found = None if circle(engine) else build_order(engine)
    if isinstance(found, BuildOrder):
        if broken(description, found.operations) or contradiction(engine):
            return "WRONG: an order released that breaks a relation"
        return "released, proved cheapest" if found.proved else "released, best found"
    if found is not None and not found.proved:
        return "none found within the cap"
    if len(description["operations"]) <= TRIED:
        for order in permutations(description["operations"]):
            if not broken(description, order):
                return "WRONG: an order exists and none was found"
    return "no order, with a chain of sentences" if contradiction(engine) else "no order, proved by trying"


def outcomes(count: int, *, first: int = 0) -> Counter[str]:
    """How often each outcome came, over seeds from `first`."""
    return Counter(outcome(drawn_build(seed)) for seed in range(first, first + count))


def main() -> None:
    """Print the shares."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 10_000
    found = outcomes(count)
    for words, number in found.most_common():
        print(f"{number:>6}  {number / count:6.1%}  {words}")
    released = sum(number for words, number in found.items() if words.startswith("released"))
    print(f"{released:>6}  {released / count:6.1%}  of {count} random descriptions released")


if __name__ == "__main__":
    main()
