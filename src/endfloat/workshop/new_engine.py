"""A first description of a person's own engine, from what is asked in five minutes."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from endfloat.problems import Problem
from endfloat.quantities.typed_text import Typed, read_typed
from endfloat.quantities.units import Kind


@dataclass(frozen=True, slots=True)
class Asked:
    """One thing that is asked: its key, the words, what it must be, and whether it may stay blank."""

    key: str
    words: str
    sort: str
    blank: bool = False
    default: str = ""


QUESTIONS = (
    Asked("name", "What is the engine called?", "text"),
    Asked("layout", "Layout, in your words", "text", default="in-line"),
    Asked("cylinders", "How many cylinders?", "count"),
    Asked("banks", "Names of the banks, comma between (blank for one)", "text", blank=True),
    Asked("bore", "Bore when new", "length"),
    Asked("bore_limit", "Most wear of a bore", "length", blank=True),
    Asked("bore_page", "Page of the service book", "page", blank=True),
    Asked("mains", "How many main journals?", "count"),
    Asked("main", "Main journal when new", "length"),
    Asked("main_limit", "Most wear of a main journal", "length", blank=True),
    Asked("main_page", "Page of the service book", "page", blank=True),
    Asked("pins", "How many crankpins?", "count"),
    Asked("pin", "Crankpin when new", "length"),
    Asked("pin_limit", "Most wear of a crankpin", "length", blank=True),
    Asked("pin_page", "Page of the service book", "page", blank=True),
    Asked("micrometer", "Error allowed to your micrometer, plus or minus", "length", default="0.004 mm"),
    Asked("bore_gauge", "Error of your bore gauge over a small span", "length", default="0.002 mm"),
)
MOST = 32
_PARTS = ("bore", "main", "pin")
# Wear of a tenth of the size is no wear that any engine still runs with.
_WEAR_PARTS = 10


def new_engine(answers: Mapping[str, str]) -> tuple[str, str] | list[Problem]:
    """The texts of engine.yaml and gauges.yaml, or every problem with the answers at once.

    A limit that is left blank stays blank in the file and is counted in "still to look up".
    """
    given = {asked.key: (answers.get(asked.key, "").strip() or asked.default) for asked in QUESTIONS}
    problems = [problem for asked in QUESTIONS if (problem := _problem(asked, given[asked.key]))]
    for part in _PARTS:
        if given[f"{part}_limit"] and not given[f"{part}_page"]:
            problems.append(
                Problem(
                    "limit_without_page",
                    f"{part} limit",
                    f"`{given[f'{part}_limit']}` without a page",
                    "the page it stands on",
                    "Type the page of the service book, or leave both blank.",
                )
            )
    if not problems:
        problems += _sizes_typed_as_wear(given)
    banks = [bank.strip() for bank in given["banks"].split(",") if bank.strip()]
    if not problems and banks and int(given["cylinders"]) % len(banks):
        found = f"{given['cylinders']} cylinders on {len(banks)} banks"
        problems.append(
            Problem("banks_uneven", "banks", found, "as many cylinders on each", "Correct the two, or edit the file.")
        )
    if len(set(banks)) < len(banks):
        problems.append(Problem("bank_twice", "banks", f"`{given['banks']}`", "each bank by its own name", "Mend it."))
    if problems:
        return problems
    return _engine_text(given, banks), _gauges_text(given)


def _sizes_typed_as_wear(given: Mapping[str, str]) -> list[Problem]:
    """Books often print the largest bore or the smallest journal; taken for wear, nothing would ever be out."""
    words = {asked.key: asked.words for asked in QUESTIONS}
    found = [(f"{part}_limit", _typed(given[f"{part}_limit"]), _typed(given[part])) for part in _PARTS]
    return [
        Problem(
            "size_for_wear",
            words[key],
            f"`{given[key]}`, a size",
            "the wear alone, the difference from new",
            f"Take it from the size when new, {new.text}, and type what is left.",
        )
        for key, wear, new in found
        if wear and new and wear.exact_si * _WEAR_PARTS > new.exact_si
    ]


def _typed(text: str) -> Typed | None:
    read = read_typed(text, kind=Kind.LENGTH, place="", default_unit="mm")
    return read if isinstance(read, Typed) else None


def _problem(asked: Asked, answer: str) -> Problem | None:
    if not answer:
        if asked.blank:
            return None
        return Problem("empty", asked.words, "nothing", f"a {asked.sort}", "Type it.")
    if asked.sort == "length":
        read = read_typed(answer, kind=Kind.LENGTH, place=asked.words, default_unit="mm")
        if isinstance(read, Typed) and read.decimal <= 0:
            return Problem("not_positive", asked.words, f"`{answer}`", "more than nought", "Type it as it is printed.")
        return read if isinstance(read, Problem) else None
    if asked.sort in ("count", "page"):
        most = MOST if asked.sort == "count" else 99_999
        if not re.fullmatch(r"\d{1,5}", answer) or not 1 <= int(answer) <= most:
            return Problem("not_a_count", asked.words, f"`{answer}`", f"a whole number, 1 to {most}", "Type digits.")
    if asked.sort == "text" and re.search(r"[\n\r:#{}\[\]\"'&*!|>%@`]", answer):
        return Problem(
            "odd_sign", asked.words, f"`{answer}`", "letters, digits, spaces, commas", "Leave the signs out."
        )
    return None


def _length(text: str) -> str:
    read = read_typed(text, kind=Kind.LENGTH, place="", default_unit="mm")
    assert isinstance(read, Typed)
    return read.text


def _names(count: str) -> str:
    return ", ".join(str(number) for number in range(1, int(count) + 1))


def _limit(given: Mapping[str, str], part: str, on: str) -> str:
    high = _length(given[f"{part}_limit"]) if given[f"{part}_limit"] else "null"
    page = f", page: {given[f'{part}_page']}" if given[f"{part}_page"] else ""
    return f"  - {{on: {on}, use: service, high: {high}, method: difference{page}}}"


def _new_size(given: Mapping[str, str], part: str) -> str:
    page = f", page: {given[f'{part}_page']}" if given[f"{part}_page"] else ""
    return f"given: {_length(given[part])}{page}"


def _engine_text(given: Mapping[str, str], banks: list[str]) -> str:
    cylinders = int(given["cylinders"])
    bank = ""
    if banks:
        each = cylinders // len(banks)
        lists = [
            f"{name}: [{', '.join(str(n) for n in range(i * each + 1, (i + 1) * each + 1))}]"
            for i, name in enumerate(banks)
        ]
        bank = f", bank: {{{', '.join(lists)}}}"
    return f"""\
# {given["name"]}. Every number is from the service book, with its page; a blank is looked up later.
name: "{given["name"]}"
layout: "{given["layout"]}"

places:
  cylinder: {{names: [{_names(given["cylinders"])}]{bank}}}
  main: {{names: [{_names(given["mains"])}]}}
  pin: {{names: [{_names(given["pins"])}]}}
  engine: {{names: [engine]}}

characteristics:
  bore_size:
    of: block
    at: cylinder
    method: two-point size
    stations: [top, middle, bottom]
    axes: [across, along]
    reduce: largest
  bore_new: {{of: block, at: engine, method: two-point size, {_new_size(given, "bore")}}}
  main_journal:
    {{of: crank, at: main, method: two-point size, stations: [front, rear], axes: [vertical, level], reduce: smallest}}
  main_new: {{of: crank, at: engine, method: two-point size, {_new_size(given, "main")}}}
  pin_journal:
    {{of: crank, at: pin, method: two-point size, stations: [front, rear], axes: [vertical, level], reduce: smallest}}
  pin_new: {{of: crank, at: engine, method: two-point size, {_new_size(given, "pin")}}}

quantities:
  bore_wear: {{at: cylinder, formula: fits.wear_of_hole, with: {{size: bore_size, size_when_new: bore_new}}}}
  main_wear: {{at: main, formula: fits.wear_of_shaft, with: {{size: main_journal, size_when_new: main_new}}}}
  pin_wear: {{at: pin, formula: fits.wear_of_shaft, with: {{size: pin_journal, size_when_new: pin_new}}}}

limits:
{_limit(given, "bore", "bore_wear")}
{_limit(given, "main", "main_wear")}
{_limit(given, "pin", "pin_wear")}
"""


def _gauges_text(given: Mapping[str, str]) -> str:
    return f"""\
# Your gauges. "error" is a half-width: what the maker or the certificate allows. Correct it to yours.
M1:
  sort: micrometer
  resolution: 0.001 mm
  error: {_length(given["micrometer"])}
  repeat: 0.001 mm
  source: as typed when the engine was begun
B1:
  sort: bore gauge
  resolution: 0.001 mm
  error: {_length(given["bore_gauge"])}
  repeat: 0.002 mm
  set_with: M1
  source: as typed when the engine was begun
"""
