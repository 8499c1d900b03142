"""Which parts lie in which row of the laid-out engine, and on which line each fit stands.

Read from the description alone: the families of places, their banks, and the part that each
characteristic is measured on. Nothing here knows what a head or a crank is.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from endfloat.drawings.laid_out_engine import Cell, Row, Worn
from endfloat.drawings.marks import has_mark
from endfloat.engine.model import Engine
from endfloat.engine.sentences import capital
from endfloat.inspection.judge import Finding
from endfloat.inspection.words import label, number, thing_words
from endfloat.web.links import measured_spots, number_link
from endfloat.web.words import sides
from endfloat.workshop.view import View


def banks_of(engine: Engine) -> list[str]:
    """The banks, in the order of the description; one nameless bank on an in-line engine."""
    return list(dict.fromkeys(bank for family in engine.places.values() for bank in family.bank)) or [""]


def bench_rows(seen: View) -> list[Row]:
    """First bank from the outside in, what belongs to no bank, the other banks outwards, then the whole engine."""
    families, banks = seen.engine.places, banks_of(seen.engine)
    by_bank = [[row for name in _of_bank(seen.engine, bank) for row in _family(seen, name, bank)] for bank in banks]
    middle = [name for name, family in families.items() if _is_middle(seen.engine, name) and len(family.names) > 1]
    rows = [*by_bank[0], *(row for name in middle for row in _family(seen, name, ""))]
    for other in by_bank[1:]:
        rows += reversed(other)
    drawn = {worn.link for row in rows for cell in row.cells for worn in cell.worn}
    rest = [worn for worn in map(lambda f: _worn(seen, f, ""), _marked(seen)) if worn.link not in drawn]
    return [*rows, Row("The whole engine", (Cell("", tuple(rest)),))] if rest else rows


def _marked(seen: View) -> list[Finding]:
    return [finding for finding in seen.findings if has_mark(finding.verdict.code)]


def _of_bank(engine: Engine, bank: str) -> list[str]:
    """Families whose places are the banks themselves, then families with places in the bank."""
    owners = [name for name, family in engine.places.items() if bank and bank in family.names]
    return owners + [name for name, family in engine.places.items() if bank in family.bank]


def _is_middle(engine: Engine, name: str) -> bool:
    family = engine.places[name]
    return not family.bank and not set(family.names) & set(banks_of(engine))


def _bank_parts(engine: Engine) -> set[str]:
    """Parts that there is one of to a bank."""
    owners = {name for bank in banks_of(engine) for name in engine.places if bank in engine.places[name].names}
    return {c.of for c in engine.characteristics.values() if c.at in owners}


def _parts_behind(seen: View, finding: Finding) -> set[str]:
    """The measured parts that a finding rests on."""
    return {seen.engine.characteristics[name].of for name, _ in measured_spots(seen, finding.on, finding.place)}


def _family(seen: View, family: str, bank: str) -> list[Row]:
    """The parts measured at the places of one family and bank, with the fits on the lines between them."""
    engine, places = seen.engine, seen.engine.places[family]
    names = places.bank.get(bank) or [name for name in places.names if not bank or name == bank]
    owned = _bank_parts(engine) if places.bank else set()
    measured = (c.of for c in engine.characteristics.values() if c.at == family and c.given is None)
    parts = [part for part in dict.fromkeys(measured) if part not in owned]
    here = [f for f in _marked(seen) if f.place in names and engine.family_of(f.on) == family]
    own: dict[str, list[Finding]] = {part: [] for part in parts}
    lines: dict[int, list[Finding]] = {}
    for finding in here:
        behind = _parts_behind(seen, finding)
        at = [n for n, part in enumerate(parts) if part in behind]
        if len(behind) == 1 and at:
            own[parts[at[0]]].append(finding)
        elif at:
            # Between two parts of this family; else towards the head, or towards the middle.
            line = max(at) if len(at) > 1 or behind & owned else at[0] + 1
            lines.setdefault(line, []).append(finding)
    rows = []
    for n in range(len(parts) + 1):
        if n in lines:
            rows.append(Row("", _cells(seen, family, names, lines[n], ""), between=True))
        if n < len(parts):
            rows.append(Row("", _cells(seen, family, names, own[parts[n]], parts[n])))
    return rows


def _cells(seen: View, family: str, names: Sequence[str], findings: Iterable[Finding], part: str) -> tuple[Cell, ...]:
    at: dict[str, list[Worn]] = {name: [] for name in names}
    for finding in findings:
        at[finding.place].append(_worn(seen, finding, family))
    return tuple(Cell(_tag(seen, family, name, part), tuple(at[name])) for name in names)


def _tag(seen: View, family: str, name: str, part: str) -> str:
    """ "Left 3, block" for a numbered place, "Left head" for one that is named; nothing on the line of a fit."""
    if not part:
        return ""
    place = seen.engine.place_label(family, name)
    if name.isdigit():
        words = f"{place}, {part}" if place != name else f"{family} {name}, {part}"
    else:
        words = f"{place} {part}"
    return capital(words)


def _worn(seen: View, finding: Finding, family: str) -> Worn:
    thing = thing_words(finding.on).removeprefix(f"{family} ")
    value = number(finding) or "no value"
    said = f"{label(seen.engine, finding.on, finding.place)}, {value}: {finding.verdict.words}"
    return Worn(finding.verdict.code, finding.verdict.family.lower(), sides(finding), thing, said, number_link(finding))
