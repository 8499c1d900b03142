"""A second checker, slow on purpose: each rule is the sentence of the file format, word for word, on plain data.

It shares no code with the program and reads descriptions as plain maps. Orders are whole: every step once.
"""

from itertools import permutations


def broken(description: dict, order: tuple[str, ...]) -> set[str]:
    """The types of relation that a whole order breaks."""
    return {name for name, _ in broken_records(description, order)}


def broken_records(description: dict, order: tuple[str, ...]) -> list[tuple[str, int]]:
    """Each broken record by type and place in its list."""
    found = [
        (name, index)
        for name, records in description["relations"].items()
        for index, record in enumerate(records)
        if RULES[name](description["operations"], list(order), record, records)
        or (name == "slack_and_taut" and left_in_hand(description, list(order), record))
    ]
    unsafe = description.get("safe_states") and leaves_the_pairs(description, order)
    return found + [("safe_states", 0)] * bool(unsafe)


def helper_is_there(description, order, place):
    """Whether the step at a place has two persons, or stands between the first and the last step of a visit."""
    for visit in description["relations"].get("second_person", []):
        places = [order.index(step) for step in visit["operations"]]
        if min(places) <= place <= max(places):
            return True
    return description["operations"][order[place]].get("persons", 1) > 1


def left_in_hand(description, order, r):
    if r["held_by"] != "hand":
        return False
    end = order.index(r.get("secured_by") or r["let_go_by"])
    for place in range(len(order) - 1):
        goes = helper_is_there(description, order, place) and not helper_is_there(description, order, place + 1)
        if goes and order.index(r["taken_up_by"]) <= place < end:
            return True
    return False


def leaves_the_pairs(description, order):
    """Walk the order with a crank and cams in hand; true at the first step that may not be done."""
    listed = description["safe_states"]["pairs"]
    crank = description["safe_states"]["start"]["crank"]
    at = description["safe_states"]["start"].get("at", "")
    cams = dict(description["safe_states"]["start"]["cams"])

    def is_listed(crank, at, cams):
        for pair in listed:
            crank_fits = crank in pair["crank"]
            place_fits = not pair.get("at") or at in pair["at"]
            cams_fit = all(cams[bank] in allowed for bank, allowed in pair.get("cams", {}).items())
            if crank_fits and place_fits and cams_fit:
                return True
        return False

    for number, step in enumerate(order):
        work = description["operations"][step].get("crank") or {}
        lobes = description["operations"][step].get("cams") or {}
        if work.get("needs") and crank not in work["needs"]:
            return True
        if work.get("needs_at") and at not in work["needs_at"]:
            return True
        for bank, lobe in lobes.items():
            if lobe.get("needs") and cams[bank] not in lobe["needs"]:
                return True
        turned = bool(work.get("turns"))
        if turned and crank == "blocked":
            return True
        if work.get("turns") == "all round" and not is_listed("unknown", "", cams):
            return True
        if work.get("shown_by") and step != work["shown_by"] and work["shown_by"] not in order[:number]:
            return True
        if work.get("becomes"):
            crank = work["becomes"]
        elif turned:
            crank = "unknown"
        if crank == "unknown":
            at = ""
        elif work.get("at"):
            at = work["at"]
        elif turned:
            at = ""
        for bank, lobe in lobes.items():
            cams[bank] = lobe.get("becomes") or cams[bank]
        if not is_listed(crank, at, cams):
            return True
    return False


def earlier(order, first, then):
    return order.index(first) < order.index(then)


def before(_, order, r, __):
    return not earlier(order, r["first"], r["then"])


def last_chance(operations, order, r, _):
    closers = [each for each in order if r["zone"] in operations[each].get("closes", []) and each != r["do"]]
    return any(not earlier(order, r["do"], closer) for closer in closers)


def kept_true(_, order, r, __):
    for step in r["during"]:
        if not earlier(order, r["set_by"], step):
            return True
        if r.get("ended_by") and not earlier(order, step, r["ended_by"]):
            return True
        for lost in r.get("lost_by", []):
            if earlier(order, r["set_by"], lost) and earlier(order, lost, step):
                return True
    return bool(r.get("ended_by")) and not earlier(order, r["set_by"], r["ended_by"])


def unbroken(_, order, r, __):
    start = order.index(r["sequence"][0])
    return order[start : start + len(r["sequence"])] != r["sequence"]


def minutes(operations, steps):
    return sum(operations[step]["minutes"] for step in steps)


def second_person(operations, order, r, _):
    places = sorted(order.index(step) for step in r["operations"])
    return minutes(operations, order[places[0] : places[-1] + 1]) > r["minutes"]


def special_tool(_, order, r, uses):
    for step in r["needed_for"]:
        if not (order.index(r["fitted_by"]) < order.index(step) < order.index(r["off_by"])):
            return True
    if not earlier(order, r["fitted_by"], r["off_by"]):
        return True
    for other in uses:
        if other is not r and other["tool"] == r["tool"]:
            fitted = [step for step in order[: order.index(r["fitted_by"])] if step == other["fitted_by"]]
            off = [step for step in order[: order.index(r["fitted_by"])] if step == other["off_by"]]
            if fitted and not off:
                return True
    return False


def easily_missed(_, order, r, __):
    if not earlier(order, r["fitted_by"], r["counted_by"]):
        return True
    return any(not earlier(order, r["counted_by"], hidden) for hidden in r["hidden_by"])


def sides_differ(_, order, r, __):
    for side, steps in r["sides"].items():
        for other, theirs in r["sides"].items():
            for step in steps:
                done = [each for each in order[: order.index(step)] if each in theirs]
                if side != other and done and len(done) < len(theirs):
                    return True
    return False


def own_place(_, order, r, __):
    return any(not earlier(order, r["laid_out_by"], step) for step in r["fitted_by"])


def single_use(_, order, r, __):
    if not earlier(order, r["new_by"], r["used_by"]):
        return True
    return any(not earlier(order, step, r["used_by"]) for step in r.get("undone_by", []))


def clocked(operations, order, r, _):
    if r.get("open_minutes"):
        if not earlier(order, r["starts"], r["close_with"]):
            return True
        work = order[order.index(r["starts"]) + 1 : order.index(r["close_with"]) + 1]
        if minutes(operations, work) > r["open_minutes"]:
            return True
    if r.get("cure_minutes"):
        cures_from = r.get("close_with") or r["starts"]
        for step in r["not_before"]:
            if not earlier(order, cures_from, step):
                return True
            work = order[order.index(cures_from) + 1 : order.index(step)]
            if minutes(operations, work) < r["cure_minutes"]:
                return True
    return False


def attitude(operations, order, r, _):
    if not earlier(order, r["since"], r["until"]):
        return True
    inside = order[order.index(r["since"]) + 1 : order.index(r["until"])]
    return any(operations[step].get("attitude", "") not in ("", r["attitude"]) for step in inside)


def as_one_move(_, order, r, __):
    return not any(" ".join(each) in " ".join(order) for each in permutations(r["operations"]))


def slack_and_taut(_, order, r, __):
    held = order[order.index(r["taken_up_by"]) + 1 : order.index(r["let_go_by"])]
    if r.get("secured_by") and r["secured_by"] not in held:
        return True
    if not earlier(order, r["taken_up_by"], r["let_go_by"]):
        return True
    return any(step not in held for step in r["taut_for"]) or any(step in held for step in r.get("slack_for", []))


def confirm_again_now(_, order, r, __):
    place = order.index(r["before"])
    return place == 0 or order[place - 1] != r["check"]


def aid_in_aid_out(_, order, r, __):
    if not earlier(order, r["in_by"], r["out_by"]):
        return True
    inside = order[order.index(r["in_by"]) + 1 : order.index(r["out_by"])]
    return any(step not in inside for step in r.get("needed_for", [])) or any(
        step in inside for step in r.get("nought_before", [])
    )


RULES = {
    rule.__name__: rule
    for rule in (
        before, last_chance, kept_true, unbroken, second_person, special_tool, easily_missed, sides_differ, own_place,
        single_use, clocked, attitude, as_one_move, slack_and_taut, confirm_again_now, aid_in_aid_out,
    )
}  # fmt: skip


def cost(description: dict, order: tuple[str, ...]) -> tuple[int, int, int]:
    """Calls for a helper, turns, tool changes, counted by walking the order once."""
    operations = description["operations"]
    visits = [r["operations"] for r in description["relations"].get("second_person", [])]
    calls = turns = changes = 0
    helper, attitude_now, tools_now = False, None, None
    for place, step in enumerate(order):
        begun_and_not_over = any(
            set(order[: place + 1]) & set(visit) and set(order[place:]) & set(visit) for visit in visits
        )
        there = operations[step].get("persons", 1) > 1 or begun_and_not_over
        calls += there and not helper
        helper = there
        wanted = operations[step].get("attitude")
        if wanted:
            turns += attitude_now not in (None, wanted)
            attitude_now = wanted
        tools = operations[step].get("tools")
        if tools:
            changes += tools_now not in (None, set(tools))
            tools_now = set(tools)
    return calls, turns, changes
