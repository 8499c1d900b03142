"""The edges of the trade as data: each is violated once, and the right sentence is told and no other."""

import tomllib
from pathlib import Path

import pytest
from slow_checker import broken

from endfloat.assembly.check import check
from endfloat.assembly.generate import BuildOrder, build_order
from endfloat.engine.model import Engine
from endfloat.engine.relations import Relations

EDGES = tomllib.loads((Path(__file__).parent / "edges.toml").read_text())["edge"]


def names(edge: dict, number: int) -> list[str]:
    return [f"e{number:02}_{at}" for at in range(len(edge["steps"]))]


def record(edge: dict, number: int) -> dict:
    """The relation with ids in place of step numbers."""
    ids, kind = names(edge, number), Relations.model_fields[edge["relation"]].annotation.__args__[0]

    def named(value: int | list[int]) -> str | list[str]:
        return ids[value] if isinstance(value, int) else [ids[each] for each in value]

    fields = {field: named(value) if field in kind.names else value for field, value in edge["record"].items()}
    return {**fields, "why": edge["why"]}


def described(*numbers: int) -> dict:
    """The description that holds these edges and nothing else."""
    steps: dict[str, dict] = {}
    relations: dict[str, list[dict]] = {}
    for number in numbers:
        edge = EDGES[number]
        for name, step in zip(names(edge, number), edge["steps"], strict=True):
            steps[name] = {"minutes": 5, **step}
        relations.setdefault(edge["relation"], []).append(record(edge, number))
    return {"operations": steps, "relations": relations}


def engine_of(description: dict) -> Engine:
    nothing = {"name": "Edges", "layout": "any", "places": {"cylinder": {"names": ["1"]}}, "characteristics": {}}
    return Engine.model_validate({**nothing, **description})


def ordered(number: int, which: str) -> tuple[str, ...]:
    ids = names(EDGES[number], number)
    return tuple(ids[each] for each in EDGES[number][which])


@pytest.mark.parametrize("number", range(len(EDGES)), ids=[each["steps"][0]["title"] for each in EDGES])
def test_each_edge_kept_is_silent_and_violated_once_says_its_own_sentence(number: int) -> None:
    description = described(number)
    engine = engine_of(description)
    assert check(engine, ordered(number, "right")) == []
    assert broken(description, ordered(number, "right")) == set()
    found = check(engine, ordered(number, "wrong"))
    assert [(each.relation, each.sentence) for each in found] == [(EDGES[number]["relation"], EDGES[number]["says"])]
    assert EDGES[number]["why"] in found[0].sentence
    assert broken(description, ordered(number, "wrong")) == {EDGES[number]["relation"]}


def test_all_edges_together_are_ordered_and_each_violated_alone_is_the_only_violation() -> None:
    everything = range(len(EDGES))
    description = described(*everything)
    engine = engine_of(description)
    found = build_order(engine)
    assert len(EDGES) == 34
    assert isinstance(found, BuildOrder)
    assert found.proved
    assert broken(description, found.operations) == set()
    for number in everything:
        which = {each: "wrong" if each == number else "right" for each in everything}
        order = [step for each in everything for step in ordered(each, which[each])]
        violations = check(engine, order)
        assert [each.relation for each in violations] == [EDGES[number]["relation"]]
        assert EDGES[number]["why"] in violations[0].sentence
