"""Readings on a hill, from the height alone."""

from typing import Any

from endfloat.formulas import compression_tests
from endfloat.quantities.typed_text import Typed, read_typed
from endfloat.quantities.units import UNITS

Inputs = dict[str, Any]

PSI = float(UNITS["psi"].factor)


def reading_aloft(given: Inputs, wanted: str) -> float:
    """What a sea-level reading becomes at a height in the standard atmosphere, in psi, or its loss in per cent."""
    reading, altitude = (read_typed(given[name], kind=None, place="") for name in ("reading", "altitude"))
    assert isinstance(reading, Typed)
    assert isinstance(altitude, Typed)
    there = compression_tests.compression_at_other_pressure(
        reading=reading.si,
        barometer=compression_tests.standard_pressure(altitude=0.0),
        reference=compression_tests.standard_pressure(altitude=altitude.si),
    )
    share = float(there) / reading.si
    return 100 * (1 - share) if wanted == "loss" else share * float(reading.si) / PSI
