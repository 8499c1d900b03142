"""The papers of an agreed plan as plain values: machine shop, purchases, customer, numbers to look up."""

from __future__ import annotations

from collections import defaultdict

from endfloat.decision.plan import Plan, work_of
from endfloat.engine.model import Effect, Engine, Option
from endfloat.engine.proofread import still_to_look_up
from endfloat.inspection.judge import Finding
from endfloat.inspection.words import label, number
from endfloat.job.description import engine_of
from endfloat.job.events import GaugeChecked, ReadingTaken, WorkReturned
from endfloat.quantities.shown_text import shown_in_full
from endfloat.quantities.units import Unit
from endfloat.workshop.joint_record import joints_on_paper
from endfloat.workshop.view import View, as_found

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
    back = {event.decision: event for event in seen.state.bench if isinstance(event, WorkReturned)}
    return {
        name: (engine.decisions[name].options[key].title, back.get(name))
        for name, key in work_of(engine, agreed.choice)
    }


def _shop_item(seen: View, option: Option) -> dict[str, object]:
    words = option.shop
    return {
        "title": option.title,
        "first": words.first if words else "",
        "datum": words.datum if words else "",
        "mate": words.mate if words else "",
        "finish": words.finish if words else "",
        "most": f"{option.removes.text}" if option.removes else "as little as the work needs",
        "sizes": [_size(seen, effect) for effect in option.sets if effect.within is not None],
    }


def _size(seen: View, effect: Effect) -> dict[str, str]:
    described = seen.engine.characteristics[effect.characteristic]
    places = seen.engine.places[described.at].names if effect.at == "all" else effect.at
    labels = [seen.engine.place_label(described.at, place) for place in places]
    tolerance = f" ± {effect.within.text}" if effect.within else ""
    return {
        "what": effect.characteristic.replace("_", " "),
        "finished": f"{effect.to.text.removesuffix(effect.to.unit.shown).strip()}{tolerance}",
        "places": ", ".join(labels),
        "method": described.method,
    }


def purchases(seen: View, plan: Plan) -> dict[str, object]:
    """What to buy, with price and days, slowest first."""
    assert seen.prices is not None
    bought = [
        (seen.prices.items[item], option.title)
        for name, key in work_of(seen.engine, plan.choice)
        if (option := seen.engine.decisions[name].options[key]).sort in ("replace", "fit")
        for item in option.catalogue
    ]
    bought.sort(key=lambda each: (-each[0].days, each[0].title))
    rows = [
        {
            "title": item.title,
            "price": seen.prices.shown(item.price),
            "days": str(item.days),
            "note": item.note,
            "for": use,
        }
        for item, use in bought
    ]
    total = seen.prices.shown(sum(item.price for item, _ in bought))
    return {"job": seen.name, "rows": rows, "total": total}


def customer_page(seen: View) -> dict[str, object]:
    """What was agreed, why in one line, the price as it was known, how long it takes, as on the record."""
    agreed, prices = seen.state.agreed, seen.prices
    assert agreed is not None
    assert prices is not None
    price = prices.shown(agreed.cost)
    if agreed.cost_at_worst is None:
        price += " or more"
    elif agreed.cost_at_worst != agreed.cost:
        price += f" to {prices.shown(agreed.cost_at_worst)}"
    engine = described(seen)
    rows = []
    for name, key in work_of(engine, agreed.choice):
        option = engine.decisions[name].options[key]
        reason = agreed.reasons.get(name, "")
        rows.append({"title": option.title, "why": reason, "price": prices.shown(prices.of(option))})
    return {"job": seen.name, "price": price, "days": str(agreed.days), "rows": rows, "open": list(agreed.still_open)}


def numbers_to_look_up(seen: View) -> dict[str, object]:
    """What the service book must still be asked, in page order."""
    return {"job": seen.name, "rows": still_to_look_up(seen.engine)}


def build_record(seen: View, fingerprint: str) -> dict[str, object]:
    """Every verdict with value, limit and page, as found and after the work; the plan agreed; the readings as typed."""
    before = as_found(seen)
    note = "± is twice the standard uncertainty. The service book outranks this paper."
    return {
        "name": seen.name,
        "note": f"An invented engine. {note}" if seen.engine.invented else note,
        "fingerprint": fingerprint[:16],
        "plan": _plan_on_paper(seen),
        "before": [_finding_row(seen, finding) for finding in before],
        "rows": [_finding_row(seen, finding) for finding in seen.findings],
        "joints": joints_on_paper(seen.state),
        "checks": [
            f"{event.gauge} on {event.set_to}: showed {event.shows}, {event.at[:10]}, {event.by}"
            for event in seen.state.bench
            if isinstance(event, GaugeChecked)
        ],
        "readings": [f"{_reading_words(taken)} ({taken.gauge}, {taken.by})" for taken in seen.current],
        "aside": [
            f"{_reading_words(taken)}. {seen.aside[key].words}"
            for key, taken in seen.state.taken.items()
            if key in seen.aside
        ],
        "withdrawn": [
            f"{_reading_words(taken)} withdrawn"
            for key, taken in seen.state.taken.items()
            if key in seen.state.withdrawn
        ],
    }


def _plan_on_paper(seen: View) -> list[str]:
    agreed = seen.state.agreed
    if agreed is None:
        return []
    price = seen.prices.shown(agreed.cost) if seen.prices else str(agreed.cost / 100)
    stale = " A reading changed since then." if seen.state.stale else ""
    return [
        f"Agreed by {agreed.by}: {price}, {agreed.days} days; {agreed.status}; {agreed.program}.{stale}",
        *(
            f"{title}: back, says {event.by}, {event.at[:10]}" if event else title
            for title, event in work_agreed(seen).values()
        ),
    ]


def _finding_row(seen: View, finding: Finding) -> list[str]:
    return [
        label(seen.engine, finding.on, finding.place),
        number(finding) or "not known",
        f"{_limits(finding.bounds.low, finding.unit)} to {_limits(finding.bounds.high, finding.unit)}",
        str(finding.page or ""),
        f"{finding.verdict.words}. {finding.reason}".strip(),
    ]


def _reading_words(taken: ReadingTaken) -> str:
    spot = " ".join(word for word in (taken.station, taken.axis) if word != "-")
    place = f"{taken.characteristic.replace('_', ' ')} {taken.place}"
    return f"{place}, {spot}: {taken.text}" if spot else f"{place}: {taken.text}"


def _limits(bound: float | None, unit: Unit) -> str:
    return "open" if bound is None else shown_in_full(bound, unit)
