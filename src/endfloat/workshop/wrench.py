"""The wrench in hand: its range, its due date, and what it is set to when an adapter sits between it and the bolt."""

from __future__ import annotations

from dataclasses import dataclass

from endfloat.errors import OutOfRange
from endfloat.formulas.wrenches import setting
from endfloat.inspection.gauges import Gauge
from endfloat.problems import Problem
from endfloat.quantities.shown_text import in_unit
from endfloat.quantities.typed_text import Typed, read_typed
from endfloat.quantities.units import Kind


@dataclass(frozen=True, slots=True)
class Adapter:
    """An adapter beside the line of the wrench, as typed: wrench from drive to hand, adapter, and its angle to it."""

    length: str = ""
    offset: str = ""
    askew: str = ""

    @property
    def on(self) -> bool:
        """Whether anything was typed of one."""
        return any(each.strip() for each in (self.length, self.offset, self.askew))

    @property
    def words(self) -> str:
        return f"wrench {self.length}, adapter {self.offset} at {self.askew}"


NO_ADAPTER = Adapter()


def as_read(adapter: Adapter, title: str) -> Adapter | Problem:
    """The adapter with its units written out; a Problem for the first of its numbers that cannot be read."""
    read: list[str] = []
    for text, kind, unit, words in (
        (adapter.length, Kind.LENGTH, "mm", "wrench from drive to hand"),
        (adapter.offset, Kind.LENGTH, "mm", "length of the adapter"),
        (adapter.askew, Kind.ANGLE, "°", "angle of the adapter (0 in line)"),
    ):
        told = read_typed(text, kind=kind, place=f"{title}, {words}", default_unit=unit)
        if isinstance(told, Problem):
            return told
        read.append(told.text)
    return Adapter(*read)


def set_through(amount: Typed, adapter: Adapter, title: str) -> tuple[Adapter, Typed] | Problem:
    """The adapter as read and what the gauge is then set to; without an adapter, or for an angle, the amount itself."""
    if not adapter.on or amount.unit.kind is not Kind.TORQUE:
        return NO_ADAPTER, amount
    read = as_read(adapter, title)
    if isinstance(read, Problem):
        return read
    length, offset, askew = (_si(each) for each in (read.length, read.offset, read.askew))
    try:
        wanted = float(setting(torque=amount.si, length=length, offset=offset, angle=askew))
    except OutOfRange as error:
        return Problem("adapter_unfit", title, read.words, "an adapter that ends before the hand", f"{error}")
    text = f"{in_unit(wanted, amount.unit):.1f} {amount.unit.shown}"
    told = read_typed(text, kind=amount.unit.kind, place=title)
    return told if isinstance(told, Problem) else (read, told)


def out_of_range(name: str, gauge: Gauge, wanted: Typed, title: str) -> Problem | None:
    """A gauge that does not reach what it is set to is refused: outside its range its error is not known."""
    low, high = gauge.least, gauge.most
    if (low is None or low.exact_si <= wanted.exact_si) and (high is None or wanted.exact_si <= high.exact_si):
        return None
    expected = f"a gauge that reaches it; {name} measures {range_words(gauge)}"
    return Problem("out_of_range", title, f"{wanted.text} on {name}", expected, "Take another wrench.")


def range_words(gauge: Gauge) -> str:
    """The range of a gauge in words; nothing where the register has none."""
    low, high = gauge.least, gauge.most
    if low and high:
        return f"{low.decimal} to {high.text}" if low.unit == high.unit else f"{low.text} to {high.text}"
    return f"from {low.text}" if low else f"up to {high.text}" if high else ""


def past_due(gauge: Gauge, now: str) -> bool:
    """Whether its due date lies before the day of a time in ISO 8601."""
    return gauge.due is not None and now[:10] > gauge.due.isoformat()


def gauge_words(name: str, register: dict[str, Gauge]) -> str:
    """A gauge with its range and its due date, as far as the register has them."""
    gauge = register.get(name)
    told = [name]
    if gauge is not None and range_words(gauge):
        told.append(range_words(gauge))
    if gauge is not None and gauge.due:
        told.append(f"due {gauge.due.isoformat()}")
    return ", ".join(told)


def _si(text: str) -> float:
    read = read_typed(text, kind=None, place="")
    assert isinstance(read, Typed), "read before"
    return read.si
