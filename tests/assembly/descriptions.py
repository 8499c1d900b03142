"""Small random descriptions as plain maps, and plain maps as an Engine."""

from hypothesis import strategies as st

from endfloat.engine.model import Engine
from endfloat.engine.relations import RELATIONS


def engine_of(description: dict) -> Engine:
    """An engine with nothing but operations and relations."""
    content = {
        "name": "Test twin",
        "layout": "twin",
        "places": {"cylinder": {"names": ["1", "2"]}},
        "characteristics": {},
    }
    relations = {
        name: [{**record, "why": "the test says so"} for record in records]
        for name, records in description["relations"].items()
    }
    operations = {name: {"title": name.upper(), **each} for name, each in description["operations"].items()}
    safe = description.get("safe_states")
    return Engine.model_validate(
        {
            **content,
            "operations": operations,
            "relations": relations,
            "assemblies": description.get("assemblies", {}),
            "safe_states": safe and {"why": "the test says so", **safe},
        }
    )


def operations(count: int) -> st.SearchStrategy[dict]:
    step = st.fixed_dictionaries(
        {
            "minutes": st.integers(0, 20),
            "persons": st.sampled_from([1, 1, 2]),
            "tools": st.sampled_from([[], ["wrench"], ["driver"]]),
            "attitude": st.sampled_from(["", "", "up", "down"]),
            "closes": st.sampled_from([[], [], ["case"]]),
            "bank": st.sampled_from(["left", "right"]),
        }
    )
    names = list("abcdefghi")[:count]
    return st.tuples(*[step] * count).map(lambda steps: dict(zip(names, steps, strict=True)))


@st.composite
def relation(draw: st.DrawFn, names: list[str]) -> tuple[str, dict]:
    """One record of any type, on distinct operations."""
    kind = draw(st.sampled_from(RELATIONS))
    a, b, c, d, *_ = draw(st.permutations(names))
    some = [[c], [c, d]][draw(st.integers(0, 1))]
    extra = [[], [d]][draw(st.integers(0, 1))] if len(some) == 1 else []
    minutes = draw(st.integers(1, 50))
    records = {
        "before": {"first": a, "then": b},
        "last_chance": {"do": a, "zone": "case"},
        "kept_true": {"state": "it holds", "set_by": a, "during": [c], "ended_by": draw(st.sampled_from([None, b])),
                      "lost_by": extra},
        "unbroken": {"sequence": [a, b, *extra]},
        "second_person": {"operations": [a, b], "minutes": minutes},
        "special_tool": {"tool": "fixture", "fitted_by": a, "needed_for": some, "off_by": b},
        "easily_missed": {"what": "bolts", "count": 3, "fitted_by": a, "counted_by": b, "hidden_by": some},
        "sides_differ": {"what": "pins", "sides": {"left": [a, b], "right": [c, d]}},
        "own_place": {"part": "caps", "marks": "numbers", "laid_out_by": a, "fitted_by": some},
        "single_use": {"part": "bolts", "new_by": a, "used_by": b, "undone_by": extra},
        "clocked": draw(st.sampled_from([
            {"what": "bead", "starts": a, "close_with": b, "open_minutes": minutes},
            {"what": "bead", "starts": a, "cure_minutes": minutes, "not_before": some},
            {"what": "bead", "starts": a, "close_with": b, "open_minutes": minutes, "cure_minutes": minutes,
             "not_before": [c]},
        ])),
        "attitude": {"attitude": "up", "since": a, "until": b},
        "as_one_move": {"operations": [a, b, *extra]},
        "slack_and_taut": {"what": "chain", "held_by": draw(st.sampled_from(["hand", "hand", "tie"])), "taken_up_by": a,
                           "let_go_by": b, "taut_for": [c],
                           **draw(st.sampled_from([{"slack_for": extra}, {"secured_by": d}]))},
        "confirm_again_now": {"check": a, "before": b},
        "aid_in_aid_out": {"aid": "lock", "in_by": a, "out_by": b, "needed_for": [c], "nought_before": extra},
    }  # fmt: skip
    return kind, records[kind]


CRANK = ["unknown", "near", "exact", "blocked"]
CAMS = ["out", "at rest", "timed"]


def some_of(words: list[str]) -> st.SearchStrategy[list[str]]:
    return st.lists(st.sampled_from(words), unique=True, min_size=1)


@st.composite
def with_safe_states(draw: st.DrawFn, made: dict) -> dict | None:
    """Pairs that allow the start, and two or three steps that move crank or cams; or no pairs at all."""
    if draw(st.booleans()):
        return None
    for name in draw(st.lists(st.sampled_from(list(made)), unique=True, min_size=2, max_size=3)):
        becomes = draw(st.sampled_from([None, "near", "exact", "blocked"]))
        crank = {
            "needs": draw(st.one_of(st.just([]), some_of(CRANK))),
            "turns": draw(st.sampled_from(["", "the short way", "all round"])),
            "becomes": becomes,
            "at": draw(st.sampled_from(["top", "safe"])) if becomes else "",
            "shown_by": draw(st.sampled_from(list(made))) if becomes == "exact" else "",
        }
        cams = {"needs": draw(st.one_of(st.just([]), some_of(CAMS))), "becomes": draw(st.sampled_from([None, *CAMS]))}
        wanted = draw(st.sampled_from(["crank", "cams", "both"]))
        made[name] |= {"crank": crank} if wanted != "cams" else {}
        made[name] |= {"cams": {draw(st.sampled_from(["left", "right"])): cams}} if wanted != "crank" else {}
    pairs = [
        {"crank": draw(some_of(CRANK)), "at": draw(st.sampled_from([[], ["top"], ["safe"]])),
         "cams": {"left": draw(some_of(CAMS))}, "why": "the test says so"}
        for _ in range(draw(st.integers(1, 3)))
    ]  # fmt: skip
    pairs.append({"crank": ["unknown"], "cams": {"left": ["out"], "right": ["out"]}, "why": "the test says so"})
    start = {"crank": "unknown", "cams": {"left": "out", "right": "out"}}
    return {"positions": {"top": "the top", "safe": "safe"}, "start": start, "pairs": pairs}


@st.composite
def descriptions(draw: st.DrawFn, *, steps: int = 5, most: int = 5) -> dict:
    """A description of `steps` operations and up to `most` relations, with or without listed pairs."""
    made = draw(operations(steps))
    relations: dict[str, list[dict]] = {}
    for kind, record in draw(st.lists(relation(list(made)), max_size=most)):
        relations.setdefault(kind, []).append(record)
    safe = draw(with_safe_states(made))
    return {"operations": made, "relations": relations, "safe_states": safe}
