"""A joint as it stands, in the plain values that its drawing is made from, for page and paper alike."""

from __future__ import annotations

from collections.abc import Sequence

from endfloat.assembly.tightening import apart_left, easily_missed_done
from endfloat.workshop.tightening import JointView

MM = 1000.0


def joint_picture(seen: JointView, *, ring: bool) -> dict[str, object]:
    """Plain millimetres and words; `ring` shows the next bolt."""
    joint, progress = seen.joint, seen.progress
    upcoming = seen.upcoming
    apart = apart_left(joint, progress)
    # Where the order is still to look up there is no line to walk.
    walk = joint.order(upcoming[0] if upcoming else len(joint.passes)) or ()
    following = upcoming[1] if upcoming else apart[0] if apart else None
    return {
        "title": joint.title,
        "view": joint.drawing.view,
        "front": joint.drawing.front,
        "outline": [[x.si * MM, y.si * MM] for x, y in joint.drawing.outline],
        "bolts": [
            {
                "number": each.number,
                "x": each.x.si * MM,
                "y": each.y.si * MM,
                "angle": _turned(seen, each.number),
                "apart": each.apart is not None,
            }
            for each in joint.fasteners
        ],
        "walk": list(walk),
        "walked": walk.index(upcoming[1]) if upcoming and walk else len(walk),
        "upcoming": following if ring else None,
        "bank": joint.bank,
        "falling": seen.other_bank,
        "circles": [
            {"name": mark.name, "x": mark.x.si * MM, "y": mark.y.si * MM, "diameter": mark.diameter.si * MM}
            for mark in joint.drawing.landmarks
        ],
        "top_is_up": joint.drawing.top_is_up,
        "hidden": _hidden(seen),
    }


def slackening_picture(seen: JointView, order: Sequence[str]) -> dict[str, object]:
    """The joint as it is slackened: the walk line goes along that order, and no pull stands on any bolt."""
    told = joint_picture(seen, ring=False)
    bare = [{"number": each.number, "x": each.x.si * MM, "y": each.y.si * MM} for each in seen.joint.fasteners]
    return {**told, "bolts": bare, "walk": list(order), "walked": 0, "upcoming": order[0], "hidden": ""}


def _hidden(seen: JointView) -> str:
    finished, hidden = easily_missed_done(seen.joint, seen.progress)
    sorts = dict.fromkeys(_short_thread(seen.joint.bolts[each.bolt].thread) for each in seen.joint.easily_missed)
    return f"EASILY MISSED {' and '.join(sorts)}: {finished} of {hidden}" if hidden else ""


def _turned(seen: JointView, bolt: str) -> float | None:
    passes = seen.progress.passes_of(bolt)
    return seen.joint.angle_after(bolt, passes) if passes else None


def _short_thread(thread: str) -> str:
    """The size without its pitch: M8 for M8x1.25, 5/16 for 5/16-24 UNF; the box on the drawing is narrow."""
    return thread.split("x")[0].split("-")[0]
