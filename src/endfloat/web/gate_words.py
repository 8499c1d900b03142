"""The gate before a turn in words: its conditions, what their clocks say, and what the step of the turns tells."""

from __future__ import annotations

from markupsafe import Markup, escape

from endfloat.engine.sentences import capital
from endfloat.job.timing_events import GateTicked
from endfloat.job.timing_gate import Shut, Wait
from endfloat.web.clock_lines import brief, nought_of, wall
from endfloat.workshop.timing_view import TimingView, timing_view
from endfloat.workshop.view import View


def gate_rows(seen: TimingView, now: str) -> list[dict[str, object]]:
    """Every condition of the gate, whether it is ticked or its clocks are over, and what they say."""
    closed = {each.name: each for each in seen.shut}
    return [
        {
            "name": name,
            "says": condition.says,
            "page": condition.page,
            "waits": [wait_words(each, now) for each in seen.gate.waits[name]],
            "warmth_open": any(map(asks_warmth, seen.gate.waits[name])),
            "ticked": ticked_words(seen.progress.ticks.get(name)),
            "open": name not in closed,
        }
        for name, condition in seen.timing.gate.items()
    ]


def asks_warmth(wait: Wait) -> bool:
    """Whether a wait runs by its longest time because nobody has said yet how warm it is."""
    return wait.timer is not None and not wait.is_over and wait.timer.asks_temperature


def warmth_open(seen: TimingView) -> bool:
    """Whether a temperature would shorten a wait of the gate."""
    return any(asks_warmth(each) for waits in seen.gate.waits.values() for each in waits)


def wait_words(wait: Wait, now: str) -> Markup:
    """One clock of a condition as the clocks tell it: "Settling of the tappets: 38 minutes more, not before 14:32"."""
    if wait.timer is None:
        return escape(f"{capital(wait.clock)}: not begun. It runs from the end of the step “{wait.begins}”")
    warmth = f", at {wait.timer.temperature}" if wait.timer.temperature else ""
    end = "" if wait.is_over else f", not before {wall(now)(wait.timer.end)}"
    nought, name = nought_of(wait.timer, now), capital(wait.clock)
    counted = Markup('<span data-end="{}" data-sort="not before" data-name="{}">{}</span>')
    return counted.format(nought, name, brief(wait.timer)) + f"{end}{warmth}"


def ticked_words(tick: GateTicked | None) -> str:
    """Who ticked it and when; nothing where nobody did."""
    return f"ticked by {tick.by}, {tick.at[11:16]}" if tick else ""


def shut_words(seen: TimingView, now: str) -> Markup:
    """What keeps the gate shut, as the button says it: "Shut: tappets, 38 minutes"; a browser counts them on."""
    told = Markup("; ").join(_shut(each, now) for each in seen.shut)
    return Markup("<span>Shut: {}</span>").format(told) if seen.shut else told


def _shut(each: Shut, now: str) -> Markup:
    if each.timer is None:
        return escape(each.words)
    return Markup('{}, <span data-left="{}">{}</span>').format(each.short, nought_of(each.timer, now), each.left)


def gate_of_step(job: View, operation: str, now: str) -> dict[str, object]:
    """What keeps the gate shut, for the page of the step that makes the turns; nothing for any other."""
    timing = job.engine.timing
    seen = timing_view(job, now) if timing and timing.turn_at == operation else None
    return {"gate_shut": shut_words(seen, now) if seen else "", "gate_warmth": warmth_open(seen) if seen else False}
