"""endfloat formula: the formulas by key, one formula's card, and one formula run on typed numbers."""

from __future__ import annotations

import difflib
import json
from collections.abc import Iterable
from typing import TYPE_CHECKING, Annotated

import typer

from endfloat.cli.files import stop_with
from endfloat.problems import Problem

if TYPE_CHECKING:
    from endfloat.cards import Card, Symbol

formula = typer.Typer(no_args_is_help=True, help="List the formulas, show one, or run one on typed numbers.")

AsJson = Annotated[bool, typer.Option("--json", help="Print JSON.")]
Name = Annotated[str, typer.Argument(help="The formula's key, such as fits.diametral_clearance.")]


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
    from endfloat.workshop.run_formula import unit_of

    card = card_named(name, as_json=as_json)
    if as_json:
        typer.echo(json.dumps(card_as_json(card), ensure_ascii=False, indent=1))
        return
    typer.echo(f"{card.key}\n{card.summary}")
    if card.details:
        typer.echo(f"\n{card.details}")
    if card.math:
        typer.echo(f"\n  {card.math}")
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
def run_one(
    name: Name,
    arguments: Annotated[
        list[str] | None, typer.Argument(help='As key=value with units, such as bore="86 mm"; lists with ; between.')
    ] = None,
    as_json: AsJson = False,
) -> None:
    """Run one formula on typed numbers and print the result in the unit of the workshop."""
    from endfloat.workshop.run_formula import results_as_json, run_formula, shown_result

    card = card_named(name, as_json=as_json)
    typed = typed_arguments(card, arguments or [])
    result = typed if isinstance(typed, list) else run_formula(card, typed)
    if isinstance(result, list):
        if not as_json:
            typer.echo("\n  ".join([f"{card.key} needs:", *(needed(card, each) for each in card.arguments)]), err=True)
        stop_with(result, as_json=as_json)
    if as_json:
        words = {"summary": card.summary, "math": card.math, "notes": card.notes, "source": card.source}
        row = {"formula": card.key, **results_as_json(card, result), **words}
        typer.echo(json.dumps(row, ensure_ascii=False, indent=1))
        return
    for symbol, values in zip(card.results, result, strict=True):
        typer.echo(shown_result(symbol, values))
    typer.echo(
        "\n".join([card.summary, *([f"  {card.math}"] if card.math else []), *card.notes, f"Source: {card.source}"])
    )


def card_named(name: str, *, as_json: bool) -> Card:
    """The card of a key; an unknown key is exit 1 with the nearest known one."""
    from endfloat.cards import CARDS

    if name in CARDS:
        return CARDS[name]
    near = difflib.get_close_matches(name, CARDS, n=1, cutoff=0.5)
    remedy = f"Did you mean {near[0]}?" if near else "`endfloat formula list` shows all keys."
    stop_with([Problem("unknown_formula", "formula", f"`{name}`", "the key of a formula", remedy)], as_json=as_json)


def needed(card: Card, symbol: Symbol) -> str:
    """One argument with an example of how it is typed."""
    from endfloat.workshop.run_formula import typed_as

    return f"{typed_as(card, symbol)}  {symbol.text}"


def typed_arguments(card: Card, words: Iterable[str]) -> dict[str, str] | list[Problem]:
    """Argument to the text after its =, or what is wrong with the words themselves."""
    typed: dict[str, str] = {}
    problems = []
    for word in words:
        key, equals, text = word.partition("=")
        if not equals:
            known = ", ".join(symbol.name for symbol in card.arguments)
            problems.append(Problem("no_key", card.key, f"`{word}`", "key=value", f"Type one of {known} before it."))
        elif key in typed:
            problems.append(Problem("twice", card.key, f"`{key}` twice", "each argument once", "Keep one of them."))
        typed[key] = text
    return problems or typed


def card_as_json(card: Card) -> dict[str, object]:
    """A card as data; units are those of the workshop."""
    from endfloat.workshop.run_formula import unit_of

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
    words = {"key": card.key, "summary": card.summary, "details": card.details, "math": card.math, "notes": card.notes}
    return {**words, "arguments": arguments, "results": results, "source": card.source, "examples": card.examples}
