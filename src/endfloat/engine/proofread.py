"""Is the description one the program can judge by? All errors of meaning come together."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from typing import Any, get_args

from pydantic import ValidationError

from endfloat.engine.blocking_references import blocking_problems
from endfloat.engine.described import Described
from endfloat.engine.joint_proofreading import joint_blanks, joint_problems
from endfloat.engine.model import Engine
from endfloat.engine.order_references import order_references, view_problems
from endfloat.engine.part_references import part_problems
from endfloat.engine.positions import Located, read_yaml
from endfloat.engine.proving_proofreading import proving_blanks, proving_problems
from endfloat.engine.references import references
from endfloat.engine.safe_proofreading import safe_state_problems
from endfloat.engine.strip_references import strip_blanks, strip_problems
from endfloat.engine.timing_proofreading import timing_blanks, timing_problems
from endfloat.problems import Problem


def read_engine(raw: bytes, *, name: str) -> Engine | list[Problem]:
    """Read, then proofread: an Engine, or every problem at once."""
    located = read_yaml(raw, name=name)
    if isinstance(located, list):
        return located
    if not isinstance(located.data, dict):
        expected = "a map of sections such as name, places, limits"
        return [located.problem("not_a_map", (), found="no map", expected=expected, remedy="See the file format.")]
    try:
        engine = Engine.model_validate(located.data)
    except ValidationError as error:
        return [_in_users_words(located, each) for each in error.errors(include_url=False)]
    problems = [
        *references(located, engine),
        *safe_state_problems(located, engine),
        *blocking_problems(located, engine),
        *view_problems(located, engine),
        *order_references(located, engine),
        *joint_problems(located, engine),
        *part_problems(located, engine),
        *strip_problems(located, engine),
        *timing_problems(located, engine),
        *proving_problems(located, engine),
    ]
    return problems or engine


def still_to_look_up(engine: Engine) -> list[str]:
    """What the person has yet to find in the service book, in page order; unknown pages last."""
    blanks = [limit for limit in engine.limits if (limit.low is None and limit.high is None)]
    missing = [(limit.page, f"{limit.on}, {limit.use} limit") for limit in blanks]
    missing += [*joint_blanks(engine), *timing_blanks(engine), *strip_blanks(engine)]
    missing += proving_blanks(engine)
    ordered = sorted(missing, key=lambda each: (each[0] is None, each[0] or 0, each[1]))
    return [words + (f", page {page}" if page else "") for page, words in ordered]


def _in_users_words(located: Located, error: Any) -> Problem:
    path = tuple(error["loc"])
    # pydantic names the branch of a union after the field; the file has no such word.
    while path and path not in located.marks and error["type"] != "missing":
        path = path[:-1]
    kind = error["type"]
    word = str(error["loc"][-1])
    if kind == "extra_forbidden":
        known = _known_words(error["loc"][:-1])
        near = difflib.get_close_matches(word, known, n=1)
        remedy = f"Did you mean `{near[0]}`?" if near else "Remove it, or look the word up in the file format."
        expected = f"one of {', '.join(known)}" if known else "a word of the file format"
        return located.problem("unknown_word", path, found=f"`{word}`", expected=expected, remedy=remedy)
    if kind == "missing":
        return located.problem(
            "missing", path, found="nothing", expected=f"`{word}`", remedy=f"Add a line `{word}:` here."
        )
    if kind == "value_error" and "|" in error["msg"]:
        code, found, expected, remedy = error["msg"].removeprefix("Value error, ").split("|")
        return located.problem(code, path, found=found, expected=expected, remedy=remedy)
    message = error["msg"][0].lower() + error["msg"][1:]
    found = f"`{error['input']}`" if isinstance(error["input"], str | int) else "another sort of entry"
    return located.problem("wrong_value", path, found=found, expected=message, remedy="Change this entry.")


def _known_words(path: Iterable[str | int]) -> list[str]:
    here: type[Described] = Engine
    for part in path:
        info = here.model_fields.get(str(part)) or next(
            (each for each in here.model_fields.values() if each.alias == part), None
        )
        here = (info and _model_in(info.annotation)) or here
    return [info.alias or name for name, info in here.model_fields.items()]


def _model_in(annotation: Any) -> type[Described] | None:
    """The model that a field holds, inside whatever list, map or choice."""
    if isinstance(annotation, type) and issubclass(annotation, Described):
        return annotation
    return next((found for each in get_args(annotation) if (found := _model_in(each))), None)
