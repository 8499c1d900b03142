"""Which gauge is offered first for a characteristic: the one that a person would reach for."""

from __future__ import annotations

from collections.abc import Mapping

from endfloat.engine.model import Engine
from endfloat.inspection.gauges import Gauge

BORE_GAUGE = "bore gauge"
HOLES = frozenset(
    {
        ("fits.wear_of_hole", "size"),
        ("fits.diametral_clearance", "hole"),
        ("fits.shell_clearance", "housing"),
    }
)
"""Formula and argument that take the size of a hole."""


def is_hole(engine: Engine, characteristic: str) -> bool:
    """Whether a characteristic is the size of a hole: a formula takes it for one, or a cut makes it larger."""
    bound = {
        (quantity.formula, argument)
        for quantity in engine.quantities.values()
        for argument, source in quantity.sources.items()
        if source == characteristic
    }
    cuts = (option.clean_up for decision in engine.decisions.values() for option in decision.options.values())
    return bool(bound & HOLES) or any(cut and (cut.of, cut.metal) == (characteristic, "inside") for cut in cuts)


def offered(engine: Engine, gauges: Mapping[str, Gauge], characteristic: str) -> list[str]:
    """The gauges of its kind: first those that its method names, then bore gauges for a hole and the others else."""
    described = engine.characteristics[characteristic]
    hole = is_hole(engine, characteristic)

    def order(name: str) -> tuple[bool, bool]:
        sort = gauges[name].sort
        return sort not in described.method, (sort == BORE_GAUGE) is not hole

    return sorted((name for name, gauge in gauges.items() if gauge.kind is described.kind), key=order)
