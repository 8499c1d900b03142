"""YAML text to plain data that stays text, with the line and column of every node.

Aliases, merge keys, duplicate keys, non-text keys and second documents are refused, so that a
file means one thing and cannot grow when read.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import yaml

from endfloat.problems import Problem

LARGEST_FILE = 1_000_000
Path = tuple[str | int, ...]


@dataclass(frozen=True, slots=True)
class Located:
    """Plain data (text, lists, dicts) and where each path of it stands, line and column from 1."""

    name: str
    data: Any
    marks: dict[Path, tuple[int, int]]
    lines: tuple[str, ...]

    def problem(self, code: str, path: Path, *, found: str, expected: str, remedy: str) -> Problem:
        """A problem at a path, or at the nearest path above it that stands in the file."""
        known = path
        while known and known not in self.marks:
            known = known[:-1]
        line, column = self.marks.get(known, (1, 1))
        words = ".".join(str(part) for part in path)
        return Problem(
            code,
            f"{self.name}:{line}:{column}: {words}".rstrip(": "),
            found,
            expected,
            remedy,
            self.lines[line - 1] if line <= len(self.lines) else "",
            column,
        )


def read_yaml(raw: bytes, *, name: str) -> Located | list[Problem]:
    """Read one YAML document; a syntax error is one problem, errors of meaning come together."""

    def refuse(code: str, place: str, found: str, expected: str, remedy: str) -> list[Problem]:
        return [Problem(code, place, found, expected, remedy)]

    if len(raw) > LARGEST_FILE:
        return refuse("too_large", name, f"{len(raw):,} bytes", f"at most {LARGEST_FILE:,}", "Is this the right file?")
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        return refuse(
            "not_utf8", f"{name}:{line}", f"byte {raw[error.start]:#04x}", "UTF-8 text", "Save the file as UTF-8."
        )
    try:
        documents = list(yaml.compose_all(text, Loader=yaml.CSafeLoader))
    except yaml.MarkedYAMLError as error:
        mark = error.problem_mark
        line, column = (mark.line + 1, mark.column + 1) if mark else (1, 1)
        lines = text.splitlines()
        remedy = "Mend this line first; the rest is read after it."
        if line <= len(lines) and "\t" in lines[line - 1]:
            remedy = "A tab stands here. Indent with spaces."
        return [
            Problem(
                "not_yaml",
                f"{name}:{line}:{column}",
                error.problem or "unreadable text",
                "a YAML document",
                remedy,
                lines[line - 1] if line <= len(lines) else "",
                column,
            )
        ]
    except yaml.YAMLError as error:
        return refuse("not_yaml", name, str(error).splitlines()[0], "a YAML document", "Save it as plain text.")
    if not documents or documents[0] is None:
        return refuse("empty", name, "an empty file", "an engine description", "Start one with `endfloat new`.")
    if len(documents) > 1:
        return refuse("two_documents", name, "a second document", "one", "Remove the line `---` and what follows it.")
    reader = _Reader(Located(name, None, {}, tuple(text.splitlines())))
    data = reader.plain(documents[0], ())
    if reader.problems:
        return reader.problems
    return Located(name, data, reader.at.marks, reader.at.lines)


class _Reader:
    """Walks the composed nodes once, keeping positions and collecting problems."""

    def __init__(self, at: Located) -> None:
        self.at = at
        self.problems: list[Problem] = []
        self.seen: set[int] = set()

    def plain(self, node: yaml.Node, path: Path) -> Any:
        self.at.marks.setdefault(path, (node.start_mark.line + 1, node.start_mark.column + 1))
        if id(node) in self.seen:
            self.refuse("alias", path, "an alias (*)", "plain text", "Write the value out here.")
            return None
        self.seen.add(id(node))
        if isinstance(node, yaml.ScalarNode):
            blank = node.value in ("", "~", "null") and not node.style
            return None if blank else node.value
        if isinstance(node, yaml.SequenceNode):
            return [self.plain(child, (*path, index)) for index, child in enumerate(node.value)]
        return self.mapping(node, path)

    def mapping(self, node: yaml.Node, path: Path) -> dict[str, Any]:
        result: dict[str, Any] = {}
        for key_node, value_node in node.value:
            if not isinstance(key_node, yaml.ScalarNode):
                self.refuse("key_not_text", path, "a list or map as a key", "a word", "Use a plain word as the key.")
                continue
            key = key_node.value
            here = (*path, key)
            self.at.marks[here] = (key_node.start_mark.line + 1, key_node.start_mark.column + 1)
            if key == "<<":
                self.refuse("merge_key", here, "a merge key (<<)", "plain keys", "Write the entries out here.")
            elif key in result:
                self.refuse("duplicate_key", here, f"`{key}` a second time", "each key once", "Keep one of the two.")
            else:
                result[key] = self.plain(value_node, here)
        return result

    def refuse(self, code: str, path: Path, found: str, expected: str, remedy: str) -> None:
        self.problems.append(self.at.problem(code, path, found=found, expected=expected, remedy=remedy))
