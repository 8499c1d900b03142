"""What a person should know around one step: what stays true, what goes together, what is in the engine meanwhile."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from endfloat.engine.model import Engine
from endfloat.engine.relations import Relation
from endfloat.engine.sentences import capital, the


def around(engine: Engine, done: Sequence[str], step: str) -> list[str]:
    """Sentences on one step, from the relations that name it; they say what the order alone does not show."""
    told = [*_sides(engine, step), *_together(engine, step), *_kept(engine, step)]
    return [*told, *_held(engine, step), *_tools(engine, step), *_parts(engine, step), *_clocks(engine, step)]


def aids_in(engine: Engine, done: Sequence[str]) -> list[str]:
    """What is in the engine now and must come out again, in words with its number."""
    return [
        f"{aid.aid}{f', {aid.count}' if aid.count > 1 else ''}"
        for aid in engine.relations.aid_in_aid_out
        if aid.in_by in done and aid.out_by not in done
    ]


def _title(engine: Engine, step: str) -> str:
    return f"“{engine.operations[step].title}”"


def _why(record: Relation) -> str:
    page = f" (page {record.page})" if record.page else ""
    return f": {record.why}{page}."


def _sides(engine: Engine, step: str) -> Iterable[str]:
    for record in engine.relations.sides_differ:
        mine = next((side for side, steps in record.sides.items() if step in steps), None)
        if mine is not None:
            others = " and ".join(side.upper() for side in record.sides if side != mine)
            yield f"{mine.upper()} is not {others}. They differ in {record.what}{_why(record)}"


def _together(engine: Engine, step: str) -> Iterable[str]:
    for move in engine.relations.as_one_move:
        if step in move.operations:
            others = " and ".join(_title(engine, each) for each in move.operations if each != step)
            yield f"As one move with {others}{_why(move)}"
    for run in engine.relations.unbroken:
        if step in run.sequence[:-1]:
            yield f"No pause from here to {_title(engine, run.sequence[-1])}{_why(run)}"
    for again in engine.relations.confirm_again_now:
        if step == again.check:
            yield f"Next comes {_title(engine, again.before)} and nothing between{_why(again)}"


def _kept(engine: Engine, step: str) -> Iterable[str]:
    for record in engine.relations.kept_true:
        if step == record.set_by:
            yield f"From here on it must stay so: {record.state}{_why(record)}"
        elif step in record.during:
            yield f"It must be so now: {record.state}{_why(record)}"
        elif step == record.ended_by:
            yield f"This ends it: {record.state}."
    for held in engine.relations.attitude:
        if step == held.since:
            yield f"From here the engine stays {held.attitude} until {_title(engine, held.until)}{_why(held)}"


def _held(engine: Engine, step: str) -> Iterable[str]:
    for record in engine.relations.slack_and_taut:
        if step == record.taken_up_by:
            end = _title(engine, record.by_hand_until or record.let_go_by)
            yield f"From here {the(record.held_by)} holds {the(record.what)} until {end}{_why(record)}"
        elif step in record.taut_for:
            yield f"Keep it taut: {record.what}, held by {record.held_by}{_why(record)}"
        elif step in record.slack_for:
            yield f"Slack here: {record.what}{_why(record)}"
        elif step == record.secured_by:
            yield f"From here {record.what} need not be held by hand."


def _tools(engine: Engine, step: str) -> Iterable[str]:
    for tool in engine.relations.special_tool:
        if step == tool.fitted_by:
            yield f"{capital(the(tool.tool))} stays on until {_title(engine, tool.off_by)}{_why(tool)}"
    for aid in engine.relations.aid_in_aid_out:
        if step in aid.nought_before:
            yield f"Out of the engine before this: {aid.aid}{_why(aid)}"


def _parts(engine: Engine, step: str) -> Iterable[str]:
    for record in engine.relations.single_use:
        if step == record.used_by:
            yield f"New, and for one use only: {record.part}{_why(record)}"
    for place in engine.relations.own_place:
        if step in place.fitted_by:
            yield f"Each in its own place: {place.part}, by {place.marks}{_why(place)}"
    for missed in engine.relations.easily_missed:
        if step == missed.fitted_by:
            yield f"Easily missed: {missed.count} {missed.what}{_why(missed)}"
    for chance in engine.relations.last_chance:
        if step == chance.do:
            yield f"Last chance before {chance.zone} is closed off{_why(chance)}"


def _clocks(engine: Engine, step: str) -> Iterable[str]:
    for clock in engine.relations.clocked:
        if step == clock.starts and clock.open_minutes and clock.close_with:
            end = _title(engine, clock.close_with)
            yield f"From here {clock.open_minutes} minutes to the end of {end}: {clock.what}{_why(clock)}"
        if step in clock.not_before and clock.cure_minutes:
            times = sorted({band.minutes for band in clock.bands} or {clock.cure_minutes})
            told = f"{times[0]} to {times[-1]} minutes, by temperature" if len(times) > 1 else f"{times[0]} minutes"
            yield f"Not before {told}: {clock.what}{_why(clock)}"
