"""A formula's card: symbols, units, validity, source and example, read from its docstring, so that nothing is twice."""

from __future__ import annotations

import inspect
import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from endfloat.formulas import (
    balance,
    bearing_faces,
    bearing_heat,
    bearing_theory,
    bearings,
    blow_by,
    bolts,
    cam_timing,
    cams,
    chain_loop,
    chain_tensioner,
    clamp,
    clamped_parts,
    compression,
    compression_tests,
    crank,
    cranking,
    dead_centres,
    drive_wheels,
    firing,
    fits,
    flatness,
    followers,
    friction,
    gap_changes,
    gear_phase,
    growth,
    interference,
    leak_tests,
    link_counts,
    liquid_lock,
    lobe_shapes,
    lobes,
    nut_factors,
    oil,
    oil_at_work,
    oil_grades,
    oil_pressure,
    patterns,
    piston_rings,
    scatter,
    shaking,
    shells,
    shims,
    shrinking,
    sizes,
    skim_effects,
    skims,
    spring_wire,
    statistics,
    stiffness,
    stripping,
    thread_standards,
    threads,
    tightening,
    timing_drive,
    timing_gears,
    tolerances,
    torque_angle,
    two_wheels,
    unbalance,
    valve_gaps,
    valve_heights,
    valve_seats,
    valve_sides,
    valve_sink,
    valve_springs,
    volumes,
    wrenches,
    yield_loads,
    yielding,
)
from endfloat.formulas.sources import SOURCES
from endfloat.quantities.units import Kind

KIND_OF_UNIT = {
    "m": Kind.LENGTH,
    "m2": Kind.AREA,
    "m3": Kind.VOLUME,
    "rad": Kind.ANGLE,
    "N": Kind.FORCE,
    "N m": Kind.TORQUE,
    "Pa": Kind.PRESSURE,
    "kg": Kind.MASS,
    "K": Kind.TEMPERATURE,
    "s": Kind.TIME,
    "rad/s": Kind.SPEED,
    "m/s": Kind.VELOCITY,
    "m/s2": Kind.ACCELERATION,
    "N/m": Kind.STIFFNESS,
    "N m/rad": Kind.TORSION,
    "kg/m3": Kind.DENSITY,
    "Pa s": Kind.VISCOSITY,
    "m2/s": Kind.KINEMATIC_VISCOSITY,
    "1/K": Kind.EXPANSION,
    "J/(kg K)": Kind.HEAT_CAPACITY,
    "m3/s": Kind.FLOW,
    "kg/s": Kind.MASS_FLOW,
    "W": Kind.POWER,
    "kg m": Kind.UNBALANCE,
    "kg m2": Kind.INERTIA,
    "1": Kind.NUMBER,
}
WORD = "word"
"""The unit of an argument that is a word, such as the class of a thread."""
SECTIONS = ("Parameters", "Returns", "References", "Examples")
ROOMS = (
    balance,
    bearing_faces,
    bearing_heat,
    bearing_theory,
    bearings,
    blow_by,
    bolts,
    cam_timing,
    cams,
    chain_loop,
    chain_tensioner,
    clamp,
    clamped_parts,
    compression,
    compression_tests,
    crank,
    cranking,
    dead_centres,
    drive_wheels,
    firing,
    fits,
    flatness,
    followers,
    friction,
    gap_changes,
    gear_phase,
    growth,
    interference,
    leak_tests,
    link_counts,
    liquid_lock,
    lobe_shapes,
    lobes,
    nut_factors,
    oil,
    oil_at_work,
    oil_grades,
    oil_pressure,
    patterns,
    piston_rings,
    scatter,
    shaking,
    shells,
    shims,
    shrinking,
    sizes,
    skim_effects,
    skims,
    spring_wire,
    statistics,
    stiffness,
    stripping,
    thread_standards,
    threads,
    tightening,
    timing_drive,
    timing_gears,
    tolerances,
    torque_angle,
    two_wheels,
    unbalance,
    valve_gaps,
    valve_heights,
    valve_seats,
    valve_sides,
    valve_sink,
    valve_springs,
    volumes,
    wrenches,
    yield_loads,
    yielding,
)
LABELS = "(?:Valid for|Assumes|Differs from source|Accuracy|No published value): "
_NAMED = re.compile(r"^(?P<name>\w+) : (?P<type>.+)$")
_TOLD = re.compile(r"^(?P<text>.*?)(?:, :math:`(?P<sign>[^`]+)`)? \[(?P<unit>[^\]]+)\]$", re.DOTALL)
_HEADING = re.compile(r"^(?P<title>[A-Z]\w+)\n-{3,}$", re.MULTILINE)
_REFERENCE = re.compile(r"\.\. \[\d+\] (?P<key>[a-z0-9-]+)(?:, (?P<where>.*?))?\.?$", re.DOTALL)
_MATH = re.compile(r"^\.\. math::(?P<tex>.*?)(?=\n\n|\Z)", re.DOTALL | re.MULTILINE)
_BOUND = re.compile(r"``(?P<name>\w+) (?P<relation><=|<|>=|>) (?P<number>-?[\d.e+-]+)``")


@dataclass(frozen=True, slots=True)
class Symbol:
    """An argument or a result: its name, what it is, its SI unit, and the sign it has in the source."""

    name: str
    text: str
    unit: str
    sign: str = ""

    @property
    def kind(self) -> Kind:
        """The kind of quantity that the unit measures; a word has none (KeyError)."""
        return KIND_OF_UNIT[self.unit]


@dataclass(frozen=True, slots=True)
class Reference:
    """A source by its key, and where in it."""

    key: str
    where: str

    @property
    def words(self) -> str:
        title = SOURCES[self.key].rstrip(".")
        return f"{title}: {self.where}." if self.where else f"{title}."


@dataclass(frozen=True, slots=True)
class Bound:
    """An argument for which the formula refuses: `bore <= 0`."""

    name: str
    relation: str
    number: float


@dataclass(frozen=True, slots=True)
class Card:
    """What a formula says of itself: `details` stand between the summary and the sections, `math` is TeX."""

    key: str
    function: Callable[..., Any]
    summary: str
    details: str
    math: str
    arguments: tuple[Symbol, ...]
    results: tuple[Symbol, ...]
    bounds: tuple[Bound, ...]
    notes: tuple[str, ...]
    references: tuple[Reference, ...]
    examples: str

    @property
    def result(self) -> Symbol:
        """The one result, or the first of several."""
        return self.results[0]

    @property
    def source(self) -> str:
        """Where it comes from, as one text."""
        return " ".join(reference.words for reference in self.references)


def card(key: str, function: Callable[..., Any]) -> Card:
    """Read a docstring; ValueError names what is missing."""
    text = inspect.getdoc(function) or ""
    parts = _HEADING.split(text)
    sections = {title: body.strip("\n") for title, body in zip(parts[1::2], parts[2::2], strict=True)}
    for wanted in SECTIONS:
        if wanted not in sections:
            raise ValueError(f"{key}: the docstring has no section {wanted}")
    arguments = tuple(_symbols(key, sections["Parameters"]))
    if [symbol.name for symbol in arguments] != list(inspect.signature(function).parameters):
        raise ValueError(f"{key}: the docstring names other arguments than the signature")
    summary, _, told = parts[0].strip().partition("\n")
    math = _MATH.search(told)
    return Card(
        key=key,
        function=function,
        summary=summary,
        details=_MATH.sub("", told).strip(),
        math=" ".join(math["tex"].split()) if math else "",
        arguments=arguments,
        results=tuple(_symbols(key, sections["Returns"])),
        bounds=tuple(Bound(m[1], m[2], float(m[3])) for m in _BOUND.finditer(sections.get("Raises", ""))),
        notes=tuple(_notes(key, sections.get("Notes", ""))),
        references=tuple(_reference(key, block) for block in _blocks(sections["References"])),
        examples=sections["Examples"].strip(),
    )


def _blocks(body: str) -> list[str]:
    """The lines of a section, a line that is set in joined to the one before it."""
    return [" ".join(block.split()) for block in re.split(r"\n(?=\S)", body) if block.strip()]


def _notes(key: str, body: str) -> list[str]:
    """The labelled notes, each as one line; ValueError when one has no label."""
    notes = [" ".join(note.split()) for note in re.split(rf"\n(?={LABELS})", body.strip()) if note.strip()]
    if not all(re.match(LABELS, note) for note in notes):
        raise ValueError(f"{key}: a note begins with none of {LABELS}")
    return notes


def _symbols(key: str, body: str) -> list[Symbol]:
    found = []
    for block in re.split(r"\n(?=\S)", body.strip("\n")):
        head, _, told = block.partition("\n")
        named, text = _NAMED.match(head), _TOLD.match(" ".join(told.split()))
        if named is None or text is None or text["unit"] not in (*KIND_OF_UNIT, WORD):
            raise ValueError(f"{key}: `{head.strip()}` needs `name : type` and below it a text that ends in [unit]")
        found.append(Symbol(named["name"], text["text"], text["unit"], text["sign"] or ""))
    return found


def _reference(key: str, block: str) -> Reference:
    match = _REFERENCE.match(block)
    if match is None or match["key"] not in SOURCES:
        raise ValueError(f"{key}: `{block}` names no source of formulas/sources.py")
    return Reference(match["key"], match["where"] or "")


CARDS: dict[str, Card] = {
    f"{room.__name__.rpartition('.')[2]}.{name}": card(f"{room.__name__.rpartition('.')[2]}.{name}", function)
    for room in ROOMS
    for name, function in vars(room).items()
    if inspect.isfunction(function) and function.__module__ == room.__name__ and not name.startswith("_")
}
