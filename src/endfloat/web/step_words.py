"""What a step's page tells beside its title: where it is, what goes with it, what to fetch, what it asks for."""

from __future__ import annotations

from endfloat.assembly.around import aids_in, around
from endfloat.drawings.where import where_drawing
from endfloat.engine.asks import HIDDEN_ANSWERS, asks_of
from endfloat.engine.model import Engine
from endfloat.web.where import where
from endfloat.workshop.build import Build

AHEAD = 3


def step_words(build: Build, operation: str) -> dict[str, object]:
    """The context of one step for its page."""
    engine = build.engine
    picture = where(engine, build.step(operation))
    return {
        "where": where_drawing(picture) if picture else "",
        "around": around(engine, build.done, operation),
        "aids": aids_in(engine, build.done),
        "asks": asks_of(engine, operation),
        "hidden_answers": HIDDEN_ANSWERS,
        "ahead": fetch(build, operation),
    }


def fetch(build: Build, operation: str) -> list[dict[str, object]]:
    """The next three steps with what has to be at hand: tools, new parts, compounds, people."""
    after = [each for each in build.order if each not in build.done and each != operation][:AHEAD]
    return [{"id": each, "title": build.step(each).title, "bring": bring(build.engine, each)} for each in after]


def bring(engine: Engine, name: str) -> list[str]:
    """What one step needs at hand, in words."""
    step, relations = engine.operations[name], engine.relations
    new = [record.part for record in relations.single_use if name == record.used_by]
    aids = [aid.aid for aid in relations.aid_in_aid_out if name == aid.in_by]
    fitted = [tool.tool for tool in relations.special_tool if name == tool.fitted_by]
    people = [f"{step.persons} people"] if step.persons > 1 else []
    compounds = [each.what for each in step.compounds]
    return list(dict.fromkeys([*step.tools, *fitted, *aids, *(f"new {part}" for part in new), *compounds, *people]))
