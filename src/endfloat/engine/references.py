"""Does every name in a description point at something, and does every argument have the right kind?"""

from __future__ import annotations

import difflib
from collections.abc import Iterable

from endfloat.cards import CARDS, WORD
from endfloat.engine.model import Engine, Limit, Option
from endfloat.engine.positions import Located, Path
from endfloat.problems import Problem
from endfloat.quantities.typed_text import Typed
from endfloat.quantities.units import Kind


def unknown(located: Located, path: Path, word: str, known: Iterable[str], sort: str) -> Problem:
    """A name that nothing bears, with the nearest that something does."""
    choices = sorted(known)
    near = difflib.get_close_matches(word, choices, n=1)
    article = "an" if sort[0] in "aeiou" else "a"
    remedy = f"Did you mean `{near[0]}`?" if near else f"Describe the {sort} first, or correct the name."
    return located.problem(
        f"unknown_{sort}", path, found=f"`{word}`", expected=f"{article} {sort} of this file", remedy=remedy
    )


OF_NUMBERS = [
    key for key, card in CARDS.items() if len(card.results) == 1 and WORD not in {each.unit for each in card.arguments}
]
"""Formulas that a quantity may use: numbers in, one number out."""


def kind_of(engine: Engine, name: str) -> Kind | None:
    """The kind of a characteristic, or of a quantity by its formula's card."""
    if name in engine.characteristics:
        return engine.characteristics[name].kind
    formula = engine.quantities[name].formula if name in engine.quantities else ""
    return CARDS[formula].result.kind if formula in OF_NUMBERS else None


def references(located: Located, engine: Engine) -> Iterable[Problem]:
    """Every problem of names, kinds and bounds, in the order of the file."""
    yield from _characteristics(located, engine)
    yield from _quantities(located, engine)
    yield from _limits(located, engine)
    yield from _decisions(located, engine)


def wrong_kind(located: Located, path: Path, amount: Typed, kind: Kind) -> Iterable[Problem]:
    """A problem when the amount does not measure what it should."""
    if amount.unit.kind is kind:
        return
    if amount.unit.kind is Kind.NUMBER:
        code, remedy = "missing_unit", "Type the unit after the number."
    else:
        code = "wrong_unit"
        remedy = f"{amount.unit.shown} measures {amount.unit.kind.value}, not {kind.value}."
    yield located.problem(code, path, found=f"`{amount.text}`", expected=f"a {kind.value} with its unit", remedy=remedy)


def _characteristics(located: Located, engine: Engine) -> Iterable[Problem]:
    for name, characteristic in engine.characteristics.items():
        here: Path = ("characteristics", name)
        if characteristic.at not in engine.places:
            yield unknown(located, (*here, "at"), characteristic.at, engine.places, "place")
        if characteristic.given is not None:
            yield from wrong_kind(located, (*here, "given"), characteristic.given, characteristic.kind)


def _quantities(located: Located, engine: Engine) -> Iterable[Problem]:
    known = [*engine.characteristics]
    for name, quantity in engine.quantities.items():
        here: Path = ("quantities", name)
        family = quantity.at or quantity.over
        if (quantity.at is None) == (quantity.over is None):
            yield located.problem(
                "at_or_over", here, found="both or neither of at and over", expected="one of them", remedy="Keep one."
            )
        if family is not None and family not in engine.places:
            yield unknown(located, (*here, "at" if quantity.at else "over"), family, engine.places, "place")
            family = None
        if quantity.formula not in OF_NUMBERS:
            yield unknown(located, (*here, "formula"), quantity.formula, OF_NUMBERS, "formula")
        else:
            yield from _arguments(located, engine, here, name, known, family)
        known.append(name)


def _arguments(
    located: Located, engine: Engine, here: Path, name: str, known: list[str], family: str | None
) -> Iterable[Problem]:
    quantity = engine.quantities[name]
    card = CARDS[quantity.formula]
    wanted = [symbol.name for symbol in card.arguments]
    if sorted(wanted) != sorted(quantity.arguments):
        yield located.problem(
            "wrong_arguments",
            (*here, "with"),
            found=", ".join(quantity.arguments),
            expected=f"exactly {', '.join(wanted)}",
            remedy=f"Bind each argument of {quantity.formula} once.",
        )
        return
    for symbol in card.arguments:
        bound = quantity.arguments[symbol.name]
        source = bound if isinstance(bound, str) else bound.of
        path = (*here, "with", symbol.name)
        if source not in known:
            yield unknown(located, path, source, known, "characteristic")
            continue
        kind = kind_of(engine, source)
        # A spread takes values of any kind: its result has the kind of its values.
        if quantity.over is None and kind not in (None, symbol.kind):
            expected = f"a {symbol.kind.value} ({symbol.text})"
            found = f"`{source}`, a {kind.value if kind else ''}"
            yield located.problem(
                "wrong_kind", path, found=found, expected=expected, remedy="Bind another characteristic."
            )
        other = engine.family_of(source)
        if not isinstance(bound, str):
            if other in engine.places and bound.at not in engine.places[other].names:
                yield unknown(located, (*path, "at"), bound.at, engine.places[other].names, "place")
            continue
        if (
            family
            and other in engine.places
            and any(engine.place_seen_from(family, place, other) is None for place in engine.places[family].names)
        ):
            yield located.problem(
                "place_unclear",
                path,
                found=f"`{source}` at {other}",
                expected=f"a place for each {family}: the same, its bank, or a single one",
                remedy="Measure it at the same places, or name the banks alike.",
            )


def _limits(located: Located, engine: Engine) -> Iterable[Problem]:
    known = {**engine.characteristics, **engine.quantities}
    for index, limit in enumerate(engine.limits):
        here: Path = ("limits", index)
        if limit.on not in known:
            yield unknown(located, (*here, "on"), limit.on, known, "characteristic")
            continue
        kind = kind_of(engine, limit.on)
        quantity = engine.quantities.get(limit.on)
        if quantity is not None and quantity.over is not None:
            kind = kind_of(engine, next(iter(quantity.sources.values()), ""))
        for side, amount in (("low", limit.low), ("high", limit.high)):
            if amount is not None and kind is not None:
                yield from wrong_kind(located, (*here, side), amount, kind)
        yield from _bounds(located, here, limit)


def _bounds(located: Located, here: Path, limit: Limit) -> Iterable[Problem]:
    if (limit.low is not None or limit.high is not None) and limit.page is None:
        yield located.problem(
            "limit_without_page",
            here,
            found=f"a limit on {limit.on} without a page",
            expected="the page of the service book it stands on",
            remedy="Add `page:` so that the next person can find it.",
        )
    if limit.low is not None and limit.high is not None and limit.low.exact_si > limit.high.exact_si:
        yield located.problem(
            "low_above_high",
            (*here, "low"),
            found=f"{limit.low.text} above {limit.high.text}",
            expected="low at or below high",
            remedy="Swap the two, or correct the slip.",
        )


def _decisions(located: Located, engine: Engine) -> Iterable[Problem]:
    parts = {characteristic.of for characteristic in engine.characteristics.values()}
    for name, decision in engine.decisions.items():
        for key, option in decision.options.items():
            here: Path = ("decisions", name, "options", key)
            yield from _effects(located, engine, here, option)
            for index, part in enumerate(option.renews):
                if part not in parts:
                    yield unknown(located, (*here, "renews", index), part, parts, "part")
            for index, need in enumerate(option.needs):
                path = (*here, "needs", index)
                if need.decision not in engine.decisions:
                    yield unknown(located, (*path, "decision"), need.decision, engine.decisions, "decision")
                elif need.option not in engine.decisions[need.decision].options:
                    options = engine.decisions[need.decision].options
                    yield unknown(located, (*path, "option"), need.option, options, "option")


def _effects(located: Located, engine: Engine, here: Path, option: Option) -> Iterable[Problem]:
    marked: list[tuple[Path, str, list[str] | str, Typed | None]] = [
        ((*here, "sets", index), effect.characteristic, effect.at, effect.to)
        for index, effect in enumerate(option.sets)
    ]
    marked += [
        ((*here, "moves", index), move.characteristic, move.at, move.by) for index, move in enumerate(option.moves)
    ]
    if option.clean_up is not None:
        marked.append(((*here, "clean_up"), option.clean_up.of, option.clean_up.at, option.clean_up.stock))
    for path, characteristic, at, amount in marked:
        if characteristic not in engine.characteristics:
            yield unknown(located, path, characteristic, engine.characteristics, "characteristic")
            continue
        described = engine.characteristics[characteristic]
        if amount is not None:
            yield from wrong_kind(located, path, amount, described.kind)
        names = engine.places[described.at].names if described.at in engine.places else []
        for place in at if isinstance(at, list) else []:
            if place not in names:
                yield unknown(located, path, place, names, "place")
    cut = option.clean_up
    if cut is not None and cut.metal == "face" and option.removes is None:
        yield located.problem(
            "clean_up_without_cut",
            (*here, "clean_up"),
            found="a face to clean up and no `removes`",
            expected="how much metal the skim takes",
            remedy="Add `removes:` to this option.",
        )
    if cut is not None and cut.metal != "face" and cut.of not in [effect.characteristic for effect in option.sets]:
        yield located.problem(
            "clean_up_without_size",
            (*here, "clean_up"),
            found=f"a clean-up of {cut.of}, which this option does not set",
            expected="the finished size among `sets`",
            remedy="Add the finished size.",
        )
