"""Readings that look like a slip: a question for the person, never a silent correction."""

from __future__ import annotations

import statistics
from collections.abc import Sequence
from decimal import Decimal

from endfloat.inspection.readings import Reading
from endfloat.quantities.shown_text import shown_number

# One turn of the thimble is the classic misreading: 0.5 mm (ISO 3611), or a fortieth of an inch (practice).
THIMBLE_TURN = 0.0005
INCH_THIMBLE_TURN = 0.0254 / 40
INCHES = ("in", "thou")
THIMBLE_SLACK = 0.00008
# A tenth of its size away, and by more than wear or gaps vary.
FAR = 0.1
FAR_AT_LEAST = 0.001


def odd_reason(reading: Reading, siblings: Sequence[Reading]) -> str | None:
    """Why this reading deserves a second look beside its siblings, as a question; None when it does not.

    The siblings are readings of the same characteristic elsewhere. The slips looked for are common
    practice, no source: a decimal slip, inches for millimetres, one turn of the thimble, two digits swapped.
    """
    if len(siblings) < 3:
        return None
    middle = statistics.median(sibling.typed.si for sibling in siblings)
    value = reading.typed.si
    unit = reading.typed.unit
    near = f"Its neighbours are near {shown_number(middle, unit)} {unit.shown}.".replace(" .", ".")
    typed = f"You typed {reading.typed.text}."
    for factor in (Decimal(10), Decimal("0.1"), Decimal(100), Decimal("0.01")):
        if middle and abs(value * float(factor) / middle - 1) < 0.02:
            return f"{typed} {near} Is the decimal mark in the right place?"
    in_inches = unit.shown in INCHES
    if middle and abs((value / 25.4 if in_inches else value * 25.4) / middle - 1) < 0.02:
        return f"{typed} {near} Is it in {'millimetres' if in_inches else 'inches'}?"
    apart = value - middle
    turn, words = (INCH_THIMBLE_TURN, "0.025 in") if in_inches else (THIMBLE_TURN, "0.500")
    if abs(abs(apart) - turn) < THIMBLE_SLACK:
        more = "more" if apart > 0 else "less"
        return f"{typed} {words} {more} than its neighbours. One turn of the thimble is {words}. Read it again?"
    if middle and abs(value / middle - 1) > FAR and abs(apart) > FAR_AT_LEAST:
        return f"{typed} {near} Which is it?"
    return None
