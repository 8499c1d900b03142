"""The papers of an agreed plan as plain values: machine shop, purchases, customer, numbers to look up."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from decimal import Decimal

from endfloat.decision.plan import Plan, work_of
from endfloat.decision.void import VoidTold, bought_by, renewal_of, times_words, void_told
from endfloat.engine.model import Effect, Engine, Option
from endfloat.engine.proofread import still_to_look_up
from endfloat.inspection.words import place_words
from endfloat.job.description import engine_of
from endfloat.job.events import WorkReturned
from endfloat.job.parts import expected_parts, parts_in
from endfloat.workshop.view import View

TEMPERATURE = "20 °C, part and gauge soaked"


def machine_shop_sheets(seen: View, plan: Plan) -> list[dict[str, object]]:
    """One sheet a part or set: finished sizes with tolerance, temperature, mate, datum, most to remove, "done"."""
    by_owner: dict[str, list[dict[str, object]]] = defaultdict(list)
    for name, key in work_of(seen.engine, plan.choice):
        decision = seen.engine.decisions[name]
        option = decision.options[key]
        if option.sort == "machine":
            by_owner[decision.owner].append(_shop_item(seen, option))
    return [
        {"part": owner, "job": seen.name, "temperature": TEMPERATURE, "items": items}
        for owner, items in by_owner.items()
    ]


def described(seen: View) -> Engine:
    """The engine as its description has it, with every decision still open."""
    assert seen.state.opened is not None
    return engine_of(seen.state.opened.engine)


def work_agreed(seen: View) -> dict[str, tuple[str, WorkReturned | None]]:
    """The work of the agreed plan by decision: its title, and the entry that says it is back."""
    agreed, engine = seen.state.agreed, described(seen)
    if agreed is None:
        return {}
    back = {
        event.decision: event
        for event in seen.state.bench
        if isinstance(event, WorkReturned) and event.decision in seen.state.returned
    }
    return {
        name: (engine.decisions[name].options[key].title, back.get(name))
        for name, key in work_of(engine, agreed.choice)
    }


def bought_agreed(seen: View) -> set[str]:
    """Decisions of the agreed plan whose work is only buying: counting their parts in answers for them."""
    agreed = seen.state.agreed
    bought = bought_by(described(seen), agreed.choice) if agreed else {}
    return {name for name, option in bought.items() if option.only_buys}


def _shop_item(seen: View, option: Option) -> dict[str, object]:
    words = option.shop
    return {
        "title": option.title,
        "first": words.first if words else "",
        "datum": words.datum if words else "",
        "mate": words.mate if words else "",
        "finish": words.finish if words else "",
        "most": _most(option),
        "sizes": [_size(seen, effect) for effect in option.sets if effect.within is not None],
    }


def _most(option: Option) -> str:
    """The most that may come off: what the option takes, with the tolerance of the finished size."""
    if option.removes is None:
        return "as little as the work needs"
    sizes = [effect.within for effect in option.sets if effect.within is not None and not effect.at_most]
    most = option.removes.decimal + max((each.decimal for each in sizes), default=Decimal(0))
    return f"{most} {option.removes.unit.shown}"


def _size(seen: View, effect: Effect) -> dict[str, object]:
    described = seen.engine.characteristics[effect.characteristic]
    places = seen.engine.places[described.at].names if effect.at == "all" else effect.at
    assert effect.within is not None
    finished, unit = effect.to.text.removesuffix(effect.to.unit.shown).strip(), effect.to.unit.shown
    if effect.at_most:
        finished = f"at most {effect.to.decimal + effect.within.decimal} {unit}"
    else:
        finished = f"{finished} ± {effect.within.text}"
    return {
        "what": effect.characteristic.replace("_", " "),
        "finished": finished,
        "places": [place_words(seen.engine, effect.characteristic, place) or "here" for place in places],
        "method": described.method,
    }


def purchases(seen: View, plan: Plan | None, void: Sequence[tuple[str, int, str]] = ()) -> dict[str, object]:
    """What to buy, with price and days, slowest first.

    `void` is what the strip used up and the plan does not buy: an item of the price list, how often, and what for.
    """
    assert seen.prices is not None
    wanted = [
        (item, 1, option.title)
        for name, key in (work_of(seen.engine, plan.choice) if plan else ())
        if (option := seen.engine.decisions[name].options[key]).buys
        for item in option.catalogue
    ]
    wanted += void
    lines = {item for item, _, _ in wanted}
    bought = [(seen.prices.items[item], times, use) for item, times, use in wanted]
    bought.sort(key=lambda each: (-each[0].days, each[0].title))
    rows = [
        {
            "title": times_words(times, item.title),
            "price": seen.prices.shown(times * item.price),
            "days": str(item.days),
            "note": item.note,
            "for": use,
        }
        for item, times, use in bought
    ]
    total = seen.prices.shown(sum(times * item.price for item, times, _ in bought))
    return {"job": seen.name, "rows": rows, "total": total, "besides": _besides(seen, lines)}


def _besides(seen: View, bought: set[str]) -> list[str]:
    """Parts that the build always waits for, that no line buys and that are not all in yet."""
    here = parts_in(seen.state.arrivals)
    return [
        f"{part.title}: {here.get(name, 0)} of {part.count} are in"
        for name, part in expected_parts(described(seen), None).items()
        if here.get(name, 0) < part.count and not bought.intersection(part.items)
    ]


def customer_page(seen: View) -> dict[str, object]:
    """What was agreed, why in one line, the price as it was known, how long it takes, as on the record."""
    agreed, prices = seen.state.agreed, seen.prices
    assert agreed is not None
    assert prices is not None
    engine = described(seen)
    rows = []
    for name, key in work_of(engine, agreed.choice):
        option = engine.decisions[name].options[key]
        reason = agreed.reasons.get(name, "")
        rows.append({"title": option.title, "why": reason, "price": prices.shown(prices.of(option))})
    return {
        "job": seen.name,
        "price": prices.ranged(agreed.cost, agreed.cost_at_worst),
        "days": str(agreed.days),
        "rows": rows,
        "open": list(agreed.still_open),
        "void": _on_paper(void_agreed(seen)),
    }


def void_agreed(seen: View) -> VoidTold | None:
    """What removal makes void, at the price that was agreed to; nothing where the agreement does not hold it."""
    agreed, prices = seen.state.agreed, seen.prices
    if agreed is None or prices is None or agreed.void_cost is None:
        return None
    bought = renewal_of(described(seen), prices, agreed.choice)
    return void_told(prices, bought, agreed.cost, agreed.cost_at_worst, agreed.void_cost)


def _on_paper(void: VoidTold | None) -> dict[str, str]:
    """The same for a paper; blank where there is nothing to tell."""
    if void is None:
        return {"price": "", "together": "", "what": "", "without_price": ""}
    what = "; ".join(title for title, _, _ in void.rows)
    return {"price": void.price, "together": void.together, "what": what, "without_price": void.without_price}


def numbers_to_look_up(seen: View) -> dict[str, object]:
    """What the service book must still be asked, in page order."""
    return {"job": seen.name, "rows": still_to_look_up(seen.engine)}
