"""Run a formula on typed numbers: what is wrong with them, or the results in the units of the workshop."""

from __future__ import annotations

import difflib
import math
from collections.abc import Container, Iterable, Mapping
from typing import Any

import numpy as np

from endfloat.cards import WORD, Card, Symbol
from endfloat.errors import OutOfRange
from endfloat.problems import Problem
from endfloat.quantities.shown_text import WORKSHOP_UNIT, in_unit, shown_to_figures
from endfloat.quantities.typed_text import read_typed
from endfloat.quantities.units import Unit

Results = tuple[tuple[float, ...], ...]
"""For each result of a card its numbers in SI."""
BETWEEN = ";"
"""Stands between the numbers of a list; a comma may be a decimal mark."""


def run_formula(card: Card, typed: Mapping[str, str]) -> Results | list[Problem]:
    """The results of a card on typed text by argument, or everything that is wrong with it."""
    read = {name: _value(card, name, text) for name, text in typed.items()}
    problems = [value for value in read.values() if isinstance(value, Problem)] + list(_missing(card, typed))
    return problems or _outcome(card, read)


def unit_of(symbol: Symbol) -> Unit:
    """The unit in which the workshop speaks of this kind."""
    return WORKSHOP_UNIT[symbol.kind]


def takes_list(card: Card, symbol: Symbol) -> bool:
    """Whether an argument is a list by its nature, as the readings of a spread are."""
    return bool(card.function.__annotations__[symbol.name] == "Array")


def typed_as(card: Card, symbol: Symbol) -> str:
    """How an argument is typed, with the unit of the workshop."""
    if symbol.unit == WORD:
        return f'{symbol.name}="..."'
    number = f"1 {unit_of(symbol).shown}".strip()
    return f'{symbol.name}="{number}{BETWEEN} {number}"' if takes_list(card, symbol) else f'{symbol.name}="{number}"'


def shown_result(symbol: Symbol, values: tuple[float, ...]) -> str:
    """A result as a line of text, in the unit of the workshop."""
    unit = unit_of(symbol)
    numbers = f" {BETWEEN} ".join(shown_to_figures(value, unit) for value in values)
    return f"{symbol.text[0].upper()}{symbol.text[1:]}: {numbers} {unit.shown}".rstrip()


def results_as_json(card: Card, result: Results) -> dict[str, object]:
    """The result and its unit, or `results` with both for each of several."""
    rows: dict[str, dict[str, object]] = {}
    for symbol, values in zip(card.results, result, strict=True):
        shown = [round(in_unit(value, unit_of(symbol)), 9) for value in values]
        rows[symbol.name] = {"result": shown if len(shown) > 1 else shown[0], "unit": unit_of(symbol).shown}
    return {"results": rows} if len(rows) > 1 else next(iter(rows.values()))


def _value(card: Card, name: str, text: str) -> Any:
    """One number in SI, a list where the formula takes one, a word, or the Problem with what was typed."""
    known = {symbol.name: symbol for symbol in card.arguments}
    if name not in known:
        near = difflib.get_close_matches(name, known, n=1)
        remedy = f"Did you mean {near[0]}?" if near else "Leave it out."
        return Problem("unknown_argument", card.key, f"`{name}`", f"one of {', '.join(known)}", remedy)
    symbol, place = known[name], f"{card.key}, {name}"
    if symbol.unit == WORD:
        return text.strip()
    many = takes_list(card, symbol)
    if not many and BETWEEN in text:
        return Problem("two_numbers", place, f"`{text}`", "one number", "It holds a list. Type one number.")
    read = [read_typed(part, kind=symbol.kind, place=place) for part in text.split(BETWEEN)]
    problem = next((each for each in read if isinstance(each, Problem)), None)
    if problem is not None:
        return problem
    numbers = [each.si for each in read if not isinstance(each, Problem)]
    return np.array(numbers) if many else numbers[0]


def _missing(card: Card, given: Container[str]) -> Iterable[Problem]:
    """Every argument that was not typed."""
    for symbol in card.arguments:
        if symbol.name not in given:
            expected = f"{symbol.text}, one {WORD if symbol.unit == WORD else symbol.kind.value}"
            yield Problem("missing_argument", card.key, f"no {symbol.name}", expected, f"Add {typed_as(card, symbol)}.")


def _outcome(card: Card, values: dict[str, Any]) -> Results | list[Problem]:
    """The results in SI, each a tuple of numbers, or why there is none."""
    try:
        with np.errstate(all="ignore"):
            given = card.function(**values)
    except OutOfRange as error:
        unit = "" if error.unit in ("1", "word") else f" {error.unit}"
        bad = f"{error.name} is {error.value}{unit}"
        return [Problem("out_of_range", card.key, bad, f"{error.expected}{unit}", "Change it.")]
    except (ZeroDivisionError, ValueError):
        given = math.nan
    several = [getattr(given, each.name, math.nan) for each in card.results] if len(card.results) > 1 else [given]
    found = tuple(tuple(float(value) for value in np.atleast_1d(each).ravel()) for each in several)
    if all(each and all(math.isfinite(value) for value in each) for each in found):
        return found
    expected = "numbers for which the formula gives one, and lists of one length"
    return [Problem("no_result", card.key, "no finite number", expected, "Look at what was typed.")]
