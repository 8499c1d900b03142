"""The same rows answered by HiGHS: a second prover that shares no code with the first."""

import highspy

from endfloat.decision.rows import DAYS, Rows, Solution


def solve_rows(rows: Rows) -> Solution:
    """Minimise the objectives one after the other as mixed-integer programmes."""
    held: list[tuple[str, int]] = []
    choice: dict[str, str] = {}
    for objective in rows.objective:
        model = highspy.Highs()
        model.silent()
        taken = {(name, key): model.addBinary() for name, keys in rows.decisions for key in keys}
        for name, keys in rows.decisions:
            model.addConstr(sum(taken[name, key] for key in keys) == 1)
        for row in rows.forbidden:
            if not row.together:
                return Solution("infeasible", {}, {}, {}, "HiGHS")
            model.addConstr(sum(taken[item] for item in row.together) <= len(row.together) - 1)
        longest = model.addVariable(lb=0, ub=10_000)
        for item, days in rows.days.items():
            model.addConstr(longest >= days * taken[item])

        def total(name: str, longest=longest, taken=taken):  # type: ignore[no-untyped-def]
            if name == DAYS:
                return longest + 0
            return sum(weight * taken[item] for item, weight in rows.weights[name].items()) + 0 * longest

        for name, most in held:
            model.addConstr(total(name) <= most)
        model.minimize(total(objective))
        if model.getModelStatus() == highspy.HighsModelStatus.kInfeasible:
            return Solution("infeasible", {}, {}, {}, "HiGHS")
        held.append((objective, round(model.getObjectiveValue())))
        choice = {name: key for (name, key), variable in taken.items() if model.val(variable) > 0.5}
    return Solution("optimal", choice, dict(held), dict(held), "HiGHS")
