"""In which unit does the service book speak of a thing? Pages, papers and questions follow it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from endfloat.engine.model import Engine
from endfloat.engine.references import kind_of
from endfloat.quantities.shown_text import WORKSHOP_UNIT
from endfloat.quantities.typed_text import Typed
from endfloat.quantities.units import Kind, Unit


def book_unit(engine: Engine, name: str) -> Unit:
    """The unit of the limit on it, or of what is given for it; else the book's usual one for such a thing."""
    own = [*_limits_on(engine, name), *_given_for(engine, name)]
    if own:
        return own[0].unit
    kind = _measures(engine, name)
    usual = Counter(amount.unit for amount in _all_amounts(engine) if amount.unit.kind is kind)
    return usual.most_common(1)[0][0] if usual else WORKSHOP_UNIT[kind]


def _measures(engine: Engine, name: str) -> Kind:
    quantity = engine.quantities.get(name)
    # A spread has the kind of its values.
    if quantity is not None and quantity.over is not None:
        return _measures(engine, next(iter(quantity.sources.values())))
    return kind_of(engine, name) or Kind.NUMBER


def _limits_on(engine: Engine, name: str) -> Iterator[Typed]:
    for limit in engine.limits:
        if limit.on == name:
            yield from (amount for amount in (limit.high, limit.low) if amount is not None)


def _given_for(engine: Engine, name: str) -> Iterator[Typed]:
    given = engine.characteristics[name].given if name in engine.characteristics else None
    if given is not None:
        yield given


def _all_amounts(engine: Engine) -> Iterator[Typed]:
    for limit in engine.limits:
        yield from (amount for amount in (limit.high, limit.low) if amount is not None)
    for name in engine.characteristics:
        yield from _given_for(engine, name)
