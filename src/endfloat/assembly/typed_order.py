"""An order as a person wrote it: one operation id a line; blank lines and lines that begin with # say nothing."""

from __future__ import annotations

import difflib

from endfloat.engine.model import Engine
from endfloat.problems import Problem

SHOWN = 5


def read_order(raw: bytes, *, name: str, engine: Engine) -> tuple[str, ...] | list[Problem]:
    """Every operation once, or each unknown and repeated one with its line, and what is missing."""
    lines, problems = _lines(raw, name=name, known=set(engine.operations), sort="operation")
    missing = sorted(set(engine.operations) - set(lines))
    if missing and not any(each.code == "not_utf8" for each in problems):
        told = ", ".join(f"`{each}`" for each in missing[:SHOWN])
        more = f" and {len(missing) - SHOWN} more" if len(missing) > SHOWN else ""
        expected = f"each of the {len(engine.operations)} operations once"
        problems.append(Problem("missing_operation", name, f"no {told}{more}", expected, "Add a line for each."))
    return problems or lines


def read_strip(raw: bytes, *, name: str, engine: Engine) -> tuple[str, ...] | list[Problem]:
    """The order in which parts came off: a part of `blocking`, or the operation that fits it, one a line."""
    lines, problems = _lines(raw, name=name, known={*engine.operations, *engine.blocking}, sort="operation or part")
    return problems or lines


def _lines(raw: bytes, *, name: str, known: set[str], sort: str) -> tuple[tuple[str, ...], list[Problem]]:
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        place = f"{name}:{raw[: error.start].count(bytes([10])) + 1}"
        found = f"byte {raw[error.start]:#04x}"
        return (), [Problem("not_utf8", place, found, "UTF-8 text", "Save the file as UTF-8.")]
    lines: dict[str, int] = {}
    problems: list[Problem] = []
    for number, line in enumerate(text.splitlines(), start=1):
        word = line.strip()
        if not word or word.startswith("#"):
            continue
        place = f"{name}:{number}"
        if word not in known:
            near = difflib.get_close_matches(word, sorted(known), n=1)
            remedy = f"Did you mean `{near[0]}`?" if near else f"Write one {sort} id a line."
            problems.append(
                Problem("unknown_operation", place, f"`{word}`", f"an {sort} of the engine", remedy, line, 1)
            )
        elif word in lines:
            expected = f"each {sort} once; it stands in line {lines[word]}"
            problems.append(Problem("repeated_operation", place, f"`{word}` again", expected, "Keep one.", line, 1))
        else:
            lines[word] = number
    return tuple(lines), problems
