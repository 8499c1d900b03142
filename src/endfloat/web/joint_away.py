"""What the page of a joint carries for the device that has it and whose workshop computer does not answer."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import takewhile

from endfloat.assembly.tightening import amount_of, apart_left, left_in_pass
from endfloat.drawings.joint import JointPicture, gone_on, picture_from
from endfloat.problems import Problem
from endfloat.web.joint_questions import blanks_now, page_told
from endfloat.web.joint_words import Asked, amount_words, when
from endfloat.workshop.joint_picture import joint_picture
from endfloat.workshop.pull_bolt import Already
from endfloat.workshop.tightening import JointView

PASS_ENDS = "The pass is done on this device; what comes next opens when the workshop computer answers."
AMOUNT_ENDS = "What is left in this pass has another amount; it opens when the workshop computer answers."


@dataclass(frozen=True, slots=True)
class Rest:
    """The pulls from the one in hand on that need nothing but the same wrench as it is set, and what is said after."""

    rows: tuple[dict[str, str], ...]
    end: str


def rest_of(seen: JointView, asked: Asked) -> Rest:
    """The rest of a pass (or of the fasteners on their own) as long as the amount stays the same."""
    joint, number = seen.joint, asked.pass_number
    left = left_in_pass(joint, seen.progress, number) if number else apart_left(joint, seen.progress)
    same = list(
        takewhile(
            lambda bolt: (
                amount_words(amount_of(joint, number, bolt)) == asked.amount and not blanks_now(joint, number, bolt)
            ),
            left,
        )
    )
    drawn = picture_from(joint_picture(seen, ring=True))
    rows = tuple(
        {**_row(seen, asked, bolt, len(left) - before), **_drawn(drawn, before, bolt)}
        for before, bolt in enumerate(same)
    )
    return Rest(rows, PASS_ENDS if len(same) == len(left) else AMOUNT_ENDS)


def _drawn(picture: JointPicture, before: int, bolt: str) -> dict[str, str]:
    ring, words = gone_on(picture, before, bolt)
    return {"ring": ring, "words": words}


def _row(seen: JointView, asked: Asked, bolt: str, left: int) -> dict[str, str]:
    number = asked.pass_number
    fastener = seen.joint.fastener(bolt)
    where = f"Where: {fastener.easily_missed if fastener else ''}."
    of = "in this pass" if number else "of the fasteners on their own"
    return {
        "bolt": bolt,
        "key": seen.key(f"{number}/{bolt}"),
        "note": asked.note if number else where,
        "left": f"{left} left {of} · {page_told(seen, number, bolt)}",
    }


def pulled_elsewhere(already: Already, device: str) -> Problem | None:
    """What a device is told whose pull waited until another device had pulled the same bolt; None for its own."""
    earlier = already.pulled
    if not device or not earlier.device or earlier.device == device:
        return None
    found = f"it pulled by {earlier.by} on another device, {when(earlier.at)}"
    remedy = "Do not pull it again. If it was pulled twice on the engine, say so under `Felt wrong`."
    return Problem("pulled_elsewhere", f"Bolt {earlier.bolt}", found, "one pull in a pass", remedy)
