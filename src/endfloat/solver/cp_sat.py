"""Rows answered by the CP-SAT solver of OR-Tools, exactly, on whole numbers."""

from __future__ import annotations

from importlib.metadata import version

from ortools.sat.python import cp_model

from endfloat.decision.rows import DAYS, Picked, Rows, Solution

SEED = 1
SECONDS_AN_OBJECTIVE = 20.0


def solve_rows(rows: Rows) -> Solution:
    """Minimise the objectives one after the other, each held while the next is minimised.

    One worker and a fixed seed, so that the same rows give the same plan.
    """
    model = cp_model.CpModel()
    taken: dict[Picked, cp_model.IntVar] = {}
    for name, keys in rows.decisions:
        for key in keys:
            taken[name, key] = model.new_bool_var(f"{name} {key}")
        model.add_exactly_one([taken[name, key] for key in keys])
    for row in rows.forbidden:
        model.add_bool_or([taken[item].negated() for item in row.together])
    longest = model.new_int_var(0, max(rows.days.values(), default=0), DAYS)
    for item, days in rows.days.items():
        model.add(longest >= days).only_enforce_if(taken[item])
    totals, bounds = {}, {}
    status, label = "optimal", f"CP-SAT {version('ortools')}, seed {SEED}"
    choice: dict[str, str] = {}
    for objective in rows.objective:
        weights = rows.weights.get(objective, {})
        total = (
            longest if objective == DAYS else sum(weight * taken[item] for item, weight in weights.items() if weight)
        )
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 1
        solver.parameters.random_seed = SEED
        solver.parameters.max_time_in_seconds = SECONDS_AN_OBJECTIVE
        model.minimize(total)
        outcome = solver.solve(model)
        if outcome not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return Solution("infeasible" if outcome == cp_model.INFEASIBLE else "unknown", {}, {}, {}, label)
        if outcome == cp_model.FEASIBLE:
            status = "feasible"
        choice = {name: key for (name, key), variable in taken.items() if solver.boolean_value(variable)}
        totals[objective] = round(solver.objective_value)
        bounds[objective] = round(solver.best_objective_bound)
        model.add(total <= totals[objective])
    return Solution(status, choice, totals, bounds, label)
