"""Write docs/reference from the code: file format, schema, formulas, symbols, sources, commands, verdicts, events."""

import dataclasses
import inspect
import json
import sys
from collections import defaultdict
from pathlib import Path
from typing import Any, get_args

import typer
from typer.main import get_command

from endfloat.cards import CARDS, Card
from endfloat.cli.main import COMMANDS, Commands
from endfloat.engine.described import Described
from endfloat.engine.model import Engine
from endfloat.engine.schema import engine_schema
from endfloat.formulas.sources import SOURCES
from endfloat.inspection.verdicts import Verdict
from endfloat.job.events import EVENTS
from endfloat.quantities.units import UNITS

FOLDER = Path(__file__).parents[1] / "docs" / "reference"
MADE = "<!-- Made by `python3 dev references` from the code; change the code, not this page. -->\n\n"


def told(thing: Any) -> str:
    """A docstring as one text."""
    return inspect.getdoc(thing) or ""


def models(start: type[Described]) -> list[type[Described]]:
    """A model and all models in its fields, each once, in the order met."""
    found = [start]
    for model in found:
        for info in model.model_fields.values():
            found += [each for each in inside(info.annotation) if each not in found]
    return found


def inside(annotation: Any) -> list[type[Described]]:
    """The models in an annotation."""
    if isinstance(annotation, type) and issubclass(annotation, Described):
        return [annotation]
    return [model for each in get_args(annotation) for model in inside(each)]


def file_format() -> str:
    """The description's models as tables."""
    units = ", ".join(f"`{spelling}`" for spelling in UNITS if spelling)
    parts = [
        "# The file format\n\nAn engine description is one YAML document. Amounts are text with a unit, as typed:"
        f" `54.980 mm`. Accepted spellings of units: {units}. Text stays text; a blank is looked up later. Aliases,"
        " merge keys, double keys and second documents are refused. `endfloat proofread` reads a file and lists"
        " everything wrong with it; `engine.schema.json` beside this page serves editors.\n"
    ]
    for model in models(Engine):
        parts.append(
            f"\n## {model.__name__}\n\n{told(model)}\n\n| word | holds | when left out |\n| --- | --- | --- |\n"
        )
        for name, info in model.model_fields.items():
            left_out = "must be there" if info.is_required() else "may be left out"
            parts.append(f"| `{info.alias or name}` | {kind_words(info.annotation)} | {left_out} |\n")
    return MADE + "".join(parts)


def kind_words(annotation: Any) -> str:
    """An annotation in words."""
    if isinstance(annotation, type) and issubclass(annotation, Described):
        return annotation.__name__
    name = getattr(annotation, "__name__", str(annotation))
    arguments = [each for each in get_args(annotation) if each is not type(None)]
    if name == "Literal":
        return " or ".join(f"`{each}`" for each in arguments)
    if name == "list":
        return f"a list of {kind_words(arguments[0])}"
    if name == "dict":
        return f"a map of name to {kind_words(arguments[1])}"
    if name in ("Union", "UnionType", "Optional") or "|" in str(annotation):
        return " or ".join(dict.fromkeys(kind_words(each) for each in arguments))
    if arguments and hasattr(annotation, "__metadata__"):
        return kind_words(arguments[0])
    words = {"str": "text", "int": "a whole number", "bool": "true or false", "Typed": "an amount", "Kind": "a kind"}
    return words.get(name, name)


def formulas() -> dict[str, str]:
    """The cards, one page a subject, and a page that lists them."""
    subjects: dict[str, list[Card]] = defaultdict(list)
    for key, card in sorted(CARDS.items()):
        subjects[key.partition(".")[0]].append(card)
    listed = [
        f"\n## [{subject}]({subject}.md)\n\n" + "".join(f"- `{card.key}`: {card.summary}\n" for card in cards)
        for subject, cards in subjects.items()
    ]
    told = "# Formulas\n\nSI inside; `endfloat formula run` takes and prints workshop units.\n"
    pages = {
        f"formulas/{subject}.md": f"{MADE}# {subject}\n" + "".join(map(card_page, cards))
        for subject, cards in subjects.items()
    }
    return {"formulas/README.md": MADE + told + "".join(listed), **pages}


def card_page(card: Card) -> str:
    """One card in full."""
    sign = {symbol: f"${symbol.sign}$, " if symbol.sign else "" for symbol in (*card.arguments, *card.results)}
    details = (f"{card.details}\n\n" if card.details else "") + (f"$$ {card.math} $$\n\n" if card.math else "")
    parts = [f"\n## {card.key}\n\n{card.summary}\n\n{details}| symbol | what | unit |\n| --- | --- | --- |\n"]
    parts += [f"| `{each.name}` | {sign[each]}{each.text} | {each.unit} |\n" for each in card.arguments]
    parts += [f"| gives `{each.name}` | {sign[each]}{each.text} | {each.unit} |\n" for each in card.results]
    refused = ", ".join(f"`{each.name} {each.relation} {each.number:g}`" for each in card.bounds)
    parts += [f"\nRefused: {refused}.\n"] if refused else []
    parts += [f"\n{note}\n" for note in card.notes]
    return "".join([*parts, f"\nSource: {card.source}\n\n```\n{card.examples}\n```\n"])


def symbols() -> str:
    """Every argument name, what it means and where."""
    by_name: dict[str, dict[str, list[str]]] = defaultdict(lambda: defaultdict(list))
    for key, card in sorted(CARDS.items()):
        for symbol in card.arguments:
            by_name[symbol.name][f"{symbol.text} [{symbol.unit}]"].append(key)
    rows = [
        f"| `{name}` | {text} | {', '.join(keys)} |\n"
        for name, texts in sorted(by_name.items())
        for text, keys in texts.items()
    ]
    return MADE + "# Symbols\n\n| symbol | what | in |\n| --- | --- | --- |\n" + "".join(rows)


def sources() -> str:
    """Every source that a formula names, and where it is used."""
    used: dict[str, list[str]] = defaultdict(list)
    for key, card in sorted(CARDS.items()):
        for reference in card.references:
            used[reference.key].append(key)
    rows = [f"- **{key}** {title} Used in {', '.join(used[key])}.\n" for key, title in sorted(SOURCES.items())]
    start = "# Sources\n\nWhat the formulas rest on. Published check values stand in `tests/published`.\n\n"
    return MADE + start + "".join(rows)


def commands() -> str:
    """Every command with its help."""
    parts = ["# Commands\n\nExit 0 is fine, 1 problems with the data, 2 misuse, 3 a failure outside the program.\n"]
    group = get_command(typer.Typer(cls=Commands, callback=lambda: None))
    for name, (_, _, line) in COMMANDS.items():
        command = group.get_command(None, name)
        parts.append(f"\n## endfloat {name}\n\n{line}\n\n")
        for parameter in getattr(command, "params", []):
            words = " / ".join(f"`{each}`" for each in [*parameter.opts, *parameter.secondary_opts])
            parts.append(f"- {words}: {getattr(parameter, 'help', None) or ''}\n")
        for inner, each in getattr(command, "commands", {}).items():
            parts.append(f"- `{inner}`: {(each.help or '').splitlines()[0]}\n")
    return MADE + "".join(line.rstrip(" ") for line in parts)


def verdicts() -> str:
    """The verdicts in their order."""
    rows = [f"| `{each.code}` | {each.words} | {each.family} |\n" for each in Verdict]
    return MADE + f"# Verdicts\n\n{told(Verdict)}\n\n| code | words | family |\n| --- | --- | --- |\n" + "".join(rows)


def events() -> str:
    """The events of a record."""
    parts = ["# Events\n\nA record only grows. Each entry is one event, as canonical JSON, chained by SHA-256.\n"]
    for name, kind in EVENTS.items():
        fields = ", ".join(f"`{each.name}`" for each in dataclasses.fields(kind))
        parts.append(f"\n## {name}\n\n{told(kind)}\n\nHolds: {fields}.\n")
    return MADE + "".join(parts)


def written() -> dict[str, str]:
    """Every file of docs/reference by name."""
    return {
        "file-format.md": file_format(),
        "engine.schema.json": json.dumps(engine_schema(), indent=1, ensure_ascii=False, sort_keys=True) + "\n",
        **formulas(),
        "symbols.md": symbols(),
        "sources.md": sources(),
        "commands.md": commands(),
        "verdicts.md": verdicts(),
        "events.md": events(),
    }


def main() -> int:
    """Write them all."""
    FOLDER.mkdir(parents=True, exist_ok=True)
    (FOLDER / "formulas").mkdir(exist_ok=True)
    for name, text in written().items():
        (FOLDER / name).write_text(text, encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
