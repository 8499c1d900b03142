"""endfloat formula: the formulas by key, one formula's card, and one formula run on typed numbers."""

from __future__ import annotations

import difflib
import json
import math
from collections.abc import Container, Iterable
from typing import TYPE_CHECKING, Annotated, Any

import typer

from endfloat.cli.files import stop_with
from endfloat.problems import Problem

if TYPE_CHECKING:
    from endfloat.cards import Card, Symbol

formula = typer.Typer(no_args_is_help=True, help="List the formulas, show one, or run one on typed numbers.")

AsJson = Annotated[bool, typer.Option("--json", help="Print JSON.")]
Name = Annotated[str, typer.Argument(help="The formula's key, such as fits.diametral_clearance.")]
Results = tuple[tuple[float, ...], ...]
"""For each result of a card its numbers in SI."""
BETWEEN = ";"
"""Stands between the numbers of a list; a comma may be a decimal mark."""


@formula.command("list")
def list_formulas(as_json: AsJson = False) -> None:
    """List every formula with what it gives."""
    from endfloat.cards import CARDS

    if as_json:
        rows = [{"key": key, "gives": card.result.text, "summary": card.summary} for key, card in CARDS.items()]
        typer.echo(json.dumps(rows, ensure_ascii=False, indent=1))
        return
    for key, card in CARDS.items():
        typer.echo(f"{key:<28} {card.summary}")


@formula.command("show")
def show_formula(name: Name, as_json: AsJson = False) -> None:
    """Show one formula: its arguments with units, its result, source and example."""
    card = card_named(name, as_json=as_json)
    if as_json:
        typer.echo(json.dumps(card_as_json(card), ensure_ascii=False, indent=1))
        return
    typer.echo(f"{card.key}\n{card.summary}")
    if card.details:
        typer.echo(f"\n{card.details}")
    typer.echo("\nNeeds")
    for symbol in card.arguments:
        typer.echo(f"  {needed(card, symbol)}")
    typer.echo("\nGives")
    for symbol in card.results:
        typer.echo(f"  {symbol.text}, in {unit_of(symbol).shown or 'a plain number'}")
    if card.bounds:
        refused = (f"{each.name} {each.relation} {each.number:g}" for each in card.bounds)
        typer.echo(f"\nRefuses, in SI\n  {', '.join(refused)}")
    if card.notes:
        typer.echo("\nNotes\n  " + "\n  ".join(card.notes))
    typer.echo(f"\nSource\n  {card.source}\n\nExample\n{card.examples}")


@formula.command("run")
def run_formula(
    name: Name,
    arguments: Annotated[
        list[str] | None, typer.Argument(help='As key=value with units, such as bore="86 mm"; lists with ; between.')
    ] = None,
    as_json: AsJson = False,
) -> None:
    """Run one formula on typed numbers and print the result in the unit of the workshop."""
    card = card_named(name, as_json=as_json)
    typed = typed_arguments(card, arguments or [])
    problems = [value for value in typed.values() if isinstance(value, Problem)] + list(missing(card, typed))
    result = problems or outcome(card, typed)
    if isinstance(result, list):
        if not as_json:
            typer.echo("\n  ".join([f"{card.key} needs:", *(needed(card, each) for each in card.arguments)]), err=True)
        stop_with(result, as_json=as_json)
    if as_json:
        row = {"formula": card.key, **results_as_json(card, result), "summary": card.summary, "source": card.source}
        typer.echo(json.dumps(row, ensure_ascii=False, indent=1))
        return
    for symbol, values in zip(card.results, result, strict=True):
        typer.echo(shown_result(symbol, values))
    typer.echo(f"{card.summary}\nSource: {card.source}")


def shown_result(symbol: Symbol, values: tuple[float, ...]) -> str:
    """A result as a line of text, in the unit of the workshop."""
    from endfloat.quantities.shown_text import shown_number

    unit = unit_of(symbol)
    numbers = f" {BETWEEN} ".join(shown_number(value, unit) for value in values)
    return f"{symbol.text[0].upper()}{symbol.text[1:]}: {numbers} {unit.shown}".rstrip()


def results_as_json(card: Card, result: Results) -> dict[str, object]:
    """The result and its unit, or `results` with both for each of several."""
    from endfloat.quantities.shown_text import in_unit

    rows: dict[str, dict[str, object]] = {}
    for symbol, values in zip(card.results, result, strict=True):
        shown = [round(in_unit(value, unit_of(symbol)), 9) for value in values]
        rows[symbol.name] = {"result": shown if len(shown) > 1 else shown[0], "unit": unit_of(symbol).shown}
    return {"results": rows} if len(rows) > 1 else next(iter(rows.values()))


def card_named(name: str, *, as_json: bool) -> Card:
    """The card of a key; an unknown key is exit 1 with the nearest known one."""
    from endfloat.cards import CARDS

    if name in CARDS:
        return CARDS[name]
    near = difflib.get_close_matches(name, CARDS, n=1, cutoff=0.5)
    remedy = f"Did you mean {near[0]}?" if near else "`endfloat formula list` shows all keys."
    stop_with([Problem("unknown_formula", "formula", f"`{name}`", "the key of a formula", remedy)], as_json=as_json)


def unit_of(symbol: Symbol) -> Any:
    """The unit in which the workshop speaks of this kind."""
    from endfloat.quantities.shown_text import WORKSHOP_UNIT

    return WORKSHOP_UNIT[symbol.kind]


def takes_list(card: Card, symbol: Symbol) -> bool:
    """Whether an argument is a list by its nature, as the readings of a spread are."""
    return bool(card.function.__annotations__[symbol.name] == "Array")


def needed(card: Card, symbol: Symbol) -> str:
    """One argument with an example of how it is typed."""
    return f"{typed_as(card, symbol)}  {symbol.text}"


def typed_as(card: Card, symbol: Symbol) -> str:
    """How an argument is typed, with the unit of the workshop."""
    if symbol.unit == "word":
        return f'{symbol.name}="..."'
    number = f"1 {unit_of(symbol).shown}".strip()
    return f'{symbol.name}="{number}{BETWEEN} {number}"' if takes_list(card, symbol) else f'{symbol.name}="{number}"'


def card_as_json(card: Card) -> dict[str, object]:
    """A card as data; units are those of the workshop."""
    arguments = [
        {
            "name": symbol.name,
            "text": symbol.text,
            "kind": "word" if symbol.unit == "word" else symbol.kind.value,
            "unit": "" if symbol.unit == "word" else unit_of(symbol).shown,
        }
        for symbol in card.arguments
    ]
    results = [
        {"name": symbol.name, "text": symbol.text, "kind": symbol.kind.value, "unit": unit_of(symbol).shown}
        for symbol in card.results
    ]
    words = {"key": card.key, "summary": card.summary, "details": card.details, "notes": card.notes}
    return {**words, "arguments": arguments, "results": results, "source": card.source, "examples": card.examples}


def typed_arguments(card: Card, words: Iterable[str]) -> dict[str, Any]:
    """Argument to number or list in SI, or to the Problem with what was typed."""
    known = {symbol.name: symbol for symbol in card.arguments}
    read: dict[str, Any] = {}
    for word in words:
        key, equals, text = word.partition("=")
        if not equals:
            read[word] = Problem(
                "no_key", card.key, f"`{word}`", "key=value", f"Type one of {', '.join(known)} before it."
            )
        elif key not in known:
            near = difflib.get_close_matches(key, known, n=1)
            remedy = f"Did you mean {near[0]}?" if near else "Leave it out."
            read[key] = Problem("unknown_argument", card.key, f"`{key}`", f"one of {', '.join(known)}", remedy)
        elif key in read:
            read[key] = Problem("twice", card.key, f"`{key}` twice", "each argument once", "Keep one of them.")
        else:
            read[key] = typed_value(card, known[key], text)
    return read


def typed_value(card: Card, symbol: Symbol, text: str) -> Any:
    """One number, or a list where the formula takes one, in SI."""
    import numpy as np

    from endfloat.quantities.typed_text import read_typed

    place = f"{card.key}, {symbol.name}"
    if symbol.unit == "word":
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


def missing(card: Card, given: Container[str]) -> Iterable[Problem]:
    """Every argument that was not typed."""
    for symbol in card.arguments:
        if symbol.name not in given:
            expected = f"{symbol.text}, one {'word' if symbol.unit == 'word' else symbol.kind.value}"
            yield Problem("missing_argument", card.key, f"no {symbol.name}", expected, f"Add {typed_as(card, symbol)}.")


def outcome(card: Card, values: dict[str, Any]) -> Results | list[Problem]:
    """The results in SI, each a tuple of numbers, or why there is none."""
    import numpy as np

    from endfloat.errors import OutOfRange

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
