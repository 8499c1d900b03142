"""Is the description one the program can judge by? All errors of meaning come together."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from typing import Any

from pydantic import ValidationError

from endfloat.cards import CARDS
from endfloat.engine.model import Characteristic, Described, Engine, Family, Limit, Quantity
from endfloat.engine.positions import Located, read_yaml
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
    problems = [*_references(located, engine), *_limits(located, engine)]
    return problems or engine


def still_to_look_up(engine: Engine) -> list[str]:
    """What the person has yet to find in the service book, in page order; unknown pages last."""
    blanks = [limit for limit in engine.limits if (limit.low is None and limit.high is None)]
    ordered = sorted(blanks, key=lambda limit: (limit.page is None, limit.page or 0, limit.on))
    return [f"{limit.on}, {limit.use} limit" + (f", page {limit.page}" if limit.page else "") for limit in ordered]


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
    by_section: dict[str, type[Described]] = {
        "places": Family,
        "characteristics": Characteristic,
        "quantities": Quantity,
        "limits": Limit,
    }
    parts = tuple(path)
    section: type[Described] | None = by_section.get(str(parts[0])) if parts else Engine
    if section is None:
        return []
    return [info.alias or name for name, info in section.model_fields.items()]


def _unknown(located: Located, path: tuple[str | int, ...], word: str, known: Iterable[str], sort: str) -> Problem:
    choices = sorted(known)
    near = difflib.get_close_matches(word, choices, n=1)
    remedy = f"Did you mean `{near[0]}`?" if near else f"Describe the {sort} first, or correct the name."
    return located.problem(f"unknown_{sort}", path, found=f"`{word}`", expected=f"a {sort} of this file", remedy=remedy)


def _references(located: Located, engine: Engine) -> Iterable[Problem]:
    for name, characteristic in engine.characteristics.items():
        if characteristic.at not in engine.places:
            yield _unknown(located, ("characteristics", name, "at"), characteristic.at, engine.places, "place")
    for name, quantity in engine.quantities.items():
        here = ("quantities", name)
        if quantity.at not in engine.places:
            yield _unknown(located, (*here, "at"), quantity.at, engine.places, "place")
        if quantity.formula not in CARDS:
            yield _unknown(located, (*here, "formula"), quantity.formula, CARDS, "formula")
            continue
        wanted = [symbol.name for symbol in CARDS[quantity.formula].arguments]
        if sorted(wanted) != sorted(quantity.arguments):
            yield located.problem(
                "wrong_arguments",
                (*here, "with"),
                found=", ".join(quantity.arguments),
                expected=f"exactly {', '.join(wanted)}",
                remedy=f"Bind each argument of {quantity.formula} once.",
            )
        for argument, source in quantity.arguments.items():
            if source not in engine.characteristics:
                yield _unknown(located, (*here, "with", argument), source, engine.characteristics, "characteristic")


def _limits(located: Located, engine: Engine) -> Iterable[Problem]:
    known = {**engine.characteristics, **engine.quantities}
    for index, limit in enumerate(engine.limits):
        here: tuple[str | int, ...] = ("limits", index)
        if limit.on not in known:
            yield _unknown(located, (*here, "on"), limit.on, known, "characteristic")
        if (limit.low or limit.high) and limit.page is None:
            yield located.problem(
                "limit_without_page",
                here,
                found=f"a limit on {limit.on} without a page",
                expected="the page of the service book it stands on",
                remedy="Add `page:` so that the next person can find it.",
            )
        if limit.low and limit.high and limit.low.exact_si > limit.high.exact_si:
            yield located.problem(
                "low_above_high",
                (*here, "low"),
                found=f"{limit.low.text} above {limit.high.text}",
                expected="low at or below high",
                remedy="Swap the two, or correct the slip.",
            )
