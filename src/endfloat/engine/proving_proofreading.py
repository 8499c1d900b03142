"""Does the proving of a description hold together: every gauge known, every stop of its kind, two people asked?"""

from __future__ import annotations

from collections.abc import Iterable

from endfloat.engine.model import Engine
from endfloat.engine.positions import Located, Path
from endfloat.engine.proving import LoggedGauge, Proving, ReadyItem, StopRule
from endfloat.engine.references import unknown, wrong_kind
from endfloat.problems import Problem
from endfloat.quantities.typed_text import Typed
from endfloat.quantities.units import UNITS, Kind

PROVING = "proving"


def proving_problems(located: Located, engine: Engine) -> Iterable[Problem]:
    """Every problem of proving, in the order of the file."""
    proving = engine.proving
    if proving is None:
        return
    yield from _priming(located, proving)
    yield from _ready(located, engine, proving)
    yield from _gauges(located, proving)
    yield from _stops(located, proving)
    yield from _run_in(located, engine, proving)
    yield from _compared(located, engine, proving)


def proving_blanks(engine: Engine) -> list[tuple[int | None, str]]:
    """Numbers of proving that are still to look up, each with its page."""
    proving = engine.proving or Proving()
    blanks: list[tuple[int | None, str]] = []
    for step in proving.priming.values():
        if step.shows is not None and not step.shows.words:
            blanks.append((step.shows.page, f"{step.title}, what its gauge must show"))
        if "amount" in step.model_fields_set and step.amount is None:
            blanks.append((step.page, f"{step.title}, how much goes in"))
    for gauge in proving.gauges.values():
        blanks += [(e.page, f"{gauge.title}, its limit") for e in gauge.limits if e.low is None and e.high is None]
    blanks += [(rule.page, f"{rule.say} The limit that stops the engine") for rule in stops_blank(proving).values()]
    blanks += [(e.page, f"run-in, {e.title}, how long") for e in proving.run_in.values() if e.lasts is None]
    return blanks


def stops_blank(proving: Proving) -> dict[str, StopRule]:
    """The stop rules whose amount is still to look up."""
    return {name: rule for name, rule in proving.stop_now.items() if rule.blank}


def _priming(located: Located, proving: Proving) -> Iterable[Problem]:
    for name, step in proving.priming.items():
        if step.shows is None:
            continue
        path: Path = (PROVING, "priming", name, "shows")
        shows = step.shows
        yield from _on_gauge(located, proving, path, shows.gauge, {"low": shows.low, "high": shows.high})
        yield from _paged(located, path, shows.page, shows.low, shows.high)


def _ready(located: Located, engine: Engine, proving: Proving) -> Iterable[Problem]:
    for name, item in proving.ready.items():
        yield from _ready_item(located, engine, (PROVING, "ready", name), item)
    here: Path = (PROVING, "ready")
    for role in ("first", "second"):
        if not any(item.asked_of(role) for item in proving.ready.values()):
            yield located.problem(
                "one_person_only",
                here,
                found=f"nothing for the {role} person",
                expected="a list for each of two people",
                remedy=f"Give an item `who: {role}`.",
            )
    seen = {item.sees for item in proving.ready.values()}
    for sight, there in (
        ("every step done", engine.operations),
        ("every joint closed", engine.joints),
        ("every priming step done", proving.priming),
    ):
        if there and sight not in seen:
            yield located.problem(
                "not_asked_for",
                here,
                found=f"no item that sees `{sight}`",
                expected="one: this engine has such",
                remedy=f"Add an item with `sees: {sight}`.",
            )


def _ready_item(located: Located, engine: Engine, here: Path, item: ReadyItem) -> Iterable[Problem]:
    if (item.who is None) == (item.sees is None):
        yield located.problem(
            "who_or_sees", here, found="both or neither of who and sees", expected="one of them", remedy="Keep one."
        )
    if item.until and item.sees != "every step done":
        yield located.problem(
            "until_of_nothing",
            (*here, "until"),
            found="`until` beside something else",
            expected="`sees: every step done`",
            remedy="Take `until` out, or change `sees`.",
        )
    elif item.until and item.until not in engine.operations:
        yield unknown(located, (*here, "until"), item.until, engine.operations, "operation")


def _gauges(located: Located, proving: Proving) -> Iterable[Problem]:
    speeds = [gauge for gauge in proving.gauges.values() if kind_of_gauge(gauge) is Kind.SPEED]
    for name, gauge in proving.gauges.items():
        here: Path = (PROVING, "gauges", name)
        if bool(gauge.unit) == bool(gauge.words):
            yield located.problem(
                "unit_or_words", here, found="both or neither of unit and words", expected="one", remedy="Keep one."
            )
            continue
        if gauge.unit and gauge.unit not in UNITS:
            found, remedy = f"`{gauge.unit}`", "Use a unit of the file format."
            yield located.problem(
                "unknown_unit", (*here, "unit"), found=found, expected="a unit such as bar or °C", remedy=remedy
            )
            continue
        for index, limit in enumerate(gauge.limits):
            path: Path = (*here, "limits", index)
            yield from _on_gauge(located, proving, path, name, {"low": limit.low, "high": limit.high})
            yield from _paged(located, path, limit.page, limit.low, limit.high)
            yield from _timed(located, path, limit.after)
            if limit.from_speed is None:
                continue
            yield from wrong_kind(located, (*path, "from_speed"), limit.from_speed, Kind.SPEED)
            if not speeds:
                yield located.problem(
                    "no_speed_gauge",
                    (*path, "from_speed"),
                    found="a limit from a speed, and no speed is logged",
                    expected="a gauge whose unit is a speed",
                    remedy="Add a gauge with `unit: rpm`.",
                )


def _stops(located: Located, proving: Proving) -> Iterable[Problem]:
    for name, rule in proving.stop_now.items():
        here: Path = (PROVING, "stop_now", name)
        amounts = {"below": rule.below, "above": rule.above}
        told = rule.model_fields_set & {"below", "above", "hears"}
        if len(told) != 1:
            yield located.problem(
                "one_condition",
                here,
                found=", ".join(sorted(told)) or "no condition",
                expected="exactly one of below, above, hears",
                remedy="Keep one; a second condition is a second rule.",
            )
        yield from _on_gauge(located, proving, here, rule.gauge, amounts)
        yield from _paged(located, here, rule.page, rule.below, rule.above)
        yield from _timed(located, here, rule.after)
        gauge = proving.gauges.get(rule.gauge)
        for index, word in enumerate(rule.hears):
            if gauge is not None and word not in gauge.words:
                yield unknown(located, (*here, "hears", index), word, gauge.words, "word")


def _run_in(located: Located, engine: Engine, proving: Proving) -> Iterable[Problem]:
    for name, stage in proving.run_in.items():
        path: Path = (PROVING, "run_in", name, "lasts")
        if stage.lasts is not None and stage.lasts.unit.kind not in (Kind.TIME, Kind.LENGTH):
            yield located.problem(
                "wrong_unit",
                path,
                found=f"`{stage.lasts.text}`",
                expected="a time or a distance",
                remedy="Type minutes, hours or a distance.",
            )
        elif stage.lasts is not None and stage.lasts.exact_si <= 0:
            yield located.problem(
                "not_above_nought", path, found=stage.lasts.text, expected="more than nought", remedy="Correct it."
            )
    for name, item in proving.recheck.items():
        here: Path = (PROVING, "recheck", name)
        if item.after not in proving.run_in:
            yield unknown(located, (*here, "after"), item.after, proving.run_in, "stage")
        if not item.joint:
            continue
        if item.joint not in engine.joints:
            yield unknown(located, (*here, "joint"), item.joint, engine.joints, "joint")
        elif engine.joints[item.joint].single_use:
            yield located.problem(
                "pulled_again",
                (*here, "joint"),
                found=f"`{item.joint}`, whose bolts are single use",
                expected="bolts that may be pulled again",
                remedy="Take `joint` out: such bolts are looked at and never pulled again.",
            )
        if item.amount is not None and item.amount.unit.kind not in (Kind.TORQUE, Kind.ANGLE):
            yield from wrong_kind(located, (*here, "amount"), item.amount, Kind.TORQUE)


def _compared(located: Located, engine: Engine, proving: Proving) -> Iterable[Problem]:
    for name, each in proving.compare.items():
        path: Path = (PROVING, "compare", name, "of")
        described = engine.characteristics.get(each.of)
        if described is None:
            yield unknown(located, path, each.of, engine.characteristics, "characteristic")
        elif described.given is not None:
            yield located.problem(
                "given_measured",
                path,
                found=f"`{each.of}`, which the description gives",
                expected="something that a gauge reads",
                remedy="Compare another characteristic.",
            )


def kind_of_gauge(gauge: LoggedGauge | None) -> Kind | None:
    """The kind of what a gauge of the log shows; None for words."""
    unit = UNITS.get(gauge.unit) if gauge is not None and gauge.unit else None
    return unit.kind if unit else None


def _on_gauge(
    located: Located, proving: Proving, here: Path, name: str, amounts: dict[str, Typed | None]
) -> Iterable[Problem]:
    gauge = proving.gauges.get(name)
    if gauge is None:
        yield unknown(located, (*here, "gauge"), name, proving.gauges, "gauge")
        return
    kind = kind_of_gauge(gauge)
    given = {word: amount for word, amount in amounts.items() if amount is not None}
    for word, amount in given.items():
        if kind is None and not gauge.unit:
            yield located.problem(
                "amount_of_words",
                (*here, word),
                found=f"`{amount.text}` on a gauge of words",
                expected="`hears`, with words of the gauge",
                remedy="Name the words instead.",
            )
        elif kind is not None:
            yield from wrong_kind(located, (*here, word), amount, kind)
    low, high = given.get("low"), given.get("high")
    if low and high and low.unit.kind is high.unit.kind and low.exact_si > high.exact_si:
        yield located.problem(
            "low_above_high",
            here,
            found=f"{low.text} to {high.text}",
            expected="low below high",
            remedy="Swap the two, or correct the slip.",
        )


def _paged(located: Located, here: Path, page: int | None, *amounts: Typed | None) -> Iterable[Problem]:
    if page is None and any(amount is not None for amount in amounts):
        yield located.problem(
            "limit_without_page",
            here,
            found="a limit with no page",
            expected="`page:` of the service book",
            remedy="Add the page, or leave the number blank.",
        )


def _timed(located: Located, here: Path, after: Typed | None) -> Iterable[Problem]:
    if after is not None:
        yield from wrong_kind(located, (*here, "after"), after, Kind.TIME)
