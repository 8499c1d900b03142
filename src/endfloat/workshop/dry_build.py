"""What is tried dry before it is built: every fit that the agreed work changed, and what changed it."""

from __future__ import annotations

from dataclasses import dataclass

from endfloat.decision.plan import work_of
from endfloat.engine.model import Effect, Engine, Move, Option
from endfloat.inspection.evaluate import spots_of
from endfloat.inspection.judge import Finding
from endfloat.inspection.verdicts import Verdict
from endfloat.workshop.sheets import described
from endfloat.workshop.view import View


@dataclass(frozen=True, slots=True)
class Trial:
    """One fit to try dry: how it is judged now, the work that changed it, what of that is still out, and its step."""

    finding: Finding
    causes: tuple[str, ...]
    still_out: tuple[str, ...]
    step: str | None

    @property
    def good(self) -> bool:
        """Tried with what was altered in the house, and within its limits."""
        return not self.still_out and self.finding.verdict is Verdict.GOOD


def altered(engine: Engine, option: Option) -> frozenset[tuple[str, str]]:
    """Every characteristic and place that an option sets, moves or renews, measured or given by the book."""
    renewed = [name for name, each in engine.characteristics.items() if each.of in option.renews]
    spots = {(name, place) for name in renewed for place in engine.places_of(name)}
    effects: list[Effect | Move] = [*option.sets, *option.moves]
    for effect in effects:
        places = engine.places_of(effect.characteristic) if effect.at == "all" else effect.at
        spots |= {(effect.characteristic, place) for place in places}
    return frozenset(spots)


def trials(seen: View) -> list[Trial]:
    """Every limit on something that the agreed work changed, in the order of the description; none before a plan."""
    agreed, engine = seen.state.agreed, described(seen)
    if agreed is None:
        return []
    work = work_of(engine, agreed.choice)
    changes = {name: altered(engine, engine.decisions[name].options[key]) for name, key in work}
    titles = {name: engine.decisions[name].options[key].title for name, key in work}
    found = []
    for finding in seen.findings:
        rests_on = set(spots_of(engine, finding.on, finding.place))
        causes = [name for name, spots in changes.items() if rests_on & spots]
        if causes:
            out = tuple(titles[name] for name in causes if name not in seen.state.returned)
            step = measured_by(engine, finding.on, finding.place)
            found.append(Trial(finding, tuple(titles[name] for name in causes), out, step))
    return found


def measured_by(engine: Engine, on: str, place: str) -> str | None:
    """The step of the build that reads it, where there is one."""
    for name, step in engine.operations.items():
        if any(each.of == on and (not each.at or place in each.at) for each in step.measures):
            return name
    return None
