"""A large catalog: compiling and solving with proof against general solvers on the same rows, one thread each.

Contents: `Against`, `Solved`, `compare`, `COMPETITORS`, one function per solver; run as

    python -m tests.bench.large_against --options 45000 --seeds 10 --limit 300

Every solver gets the compiled rows and must prove the least price. Its time is that of the solve alone, without building
its model; ours is compiling and solving. Times are user CPU seconds of this process, so that a busy machine matters less.
A solver that the limit cut off counts with the time it had: the ratio is then a bound, and the table says so.
"""

from __future__ import annotations

import argparse
import resource
from collections.abc import Callable
from dataclasses import dataclass, replace
from statistics import median

import highspy
import numpy as np
from ortools.sat.python import cp_model_helper as engine

from solver.answers.ask import ask
from solver.program.matrix import Program
from solver.search.best import Question, cheapest
from tests.bench.large import large_catalog
from tests.highs import highs_of

_LOWEST = -(2**62)


def user_seconds() -> float:
    """CPU seconds that this process has used so far, outside the system."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_utime


@dataclass(frozen=True)
class Solved:
    """What a solver came to: seconds, whether it proved its answer, its best cost (None: none found)."""

    seconds: float
    proven: bool
    cost: int | None


@dataclass(frozen=True)
class Against:
    """One catalog: our seconds (compiling, solving), and every competitor by name."""

    options: int
    seed: int
    compiling: float
    ours: Solved
    others: dict[str, Solved]

    @property
    def best_other(self) -> str:
        """The quickest competitor: of those that proved, else of all."""
        proven = [name for name, found in self.others.items() if found.proven]
        return min(proven or list(self.others), key=lambda name: self.others[name].seconds)

    @property
    def ratio(self) -> float:
        """Our time, compiling included, over that of the quickest competitor."""
        return (self.compiling + self.ours.seconds) / max(1e-9, self.others[self.best_other].seconds)

    @property
    def is_bound(self) -> bool:
        """Whether no competitor proved its answer in time: the true ratio is smaller."""
        return not any(found.proven for found in self.others.values())


def by_highs(program: Program, by: str, limit: float) -> Solved:
    """HiGHS with its own settings, one thread, no gap allowed."""
    solver = highs_of(program, by, mip_abs_gap=0.99, time_limit=limit)
    start = user_seconds()
    solver.run()
    seconds = user_seconds() - start
    proven = solver.getModelStatus() in (highspy.HighsModelStatus.kOptimal, highspy.HighsModelStatus.kInfeasible)
    value = solver.getInfo().objective_function_value
    return Solved(seconds, proven, round(value) if np.isfinite(value) else None)


def by_scip(program: Program, by: str, limit: float) -> Solved:
    """SCIP with its own settings, one thread, no gap allowed."""
    from pyscipopt import Model, quicksum

    model = Model()
    model.hideOutput()
    model.setParams({"limits/time": limit, "limits/gap": 0.0, "limits/absgap": 0.99, "timing/clocktype": 1})
    x = [model.addVar(vtype="B", obj=float(cost)) for cost in program.costs[by].tolist()]
    for a, b in program.slices:
        model.addCons(quicksum(x[a:b]) == 1)
    for row, most in zip(program.rows, program.rhs.tolist(), strict=True):
        used = np.flatnonzero(row)
        if len(used):
            model.addCons(quicksum(float(row[j]) * x[j] for j in used.tolist()) <= float(most))
    start = user_seconds()
    model.optimize()
    seconds = user_seconds() - start
    cost = round(model.getObjVal()) if model.getNSols() else None
    return Solved(seconds, model.getStatus() in ("optimal", "infeasible"), cost)


def _by_cp_sat(program: Program, by: str, limit: float, presolve: bool) -> Solved:
    model = engine.CpModelProto()
    for _ in range(program.rows.shape[1]):
        model.variables.add().domain.extend([0, 1])
    for a, b in program.slices:
        model.constraints.add().exactly_one.literals.extend(range(a, b))
    for row, most in zip(program.rows, program.rhs.tolist(), strict=True):
        used = np.flatnonzero(row)
        linear = model.constraints.add().linear
        linear.vars.extend(used.tolist())
        linear.coeffs.extend(row[used].tolist())
        linear.domain.extend([_LOWEST, most])
    model.objective.vars.extend(range(program.rows.shape[1]))
    model.objective.coeffs.extend(program.costs[by].tolist())
    parameters = engine.SatParameters()
    parameters.num_workers = 1
    parameters.cp_model_presolve = presolve
    parameters.max_time_in_seconds = limit
    wrapper = engine.SolveWrapper()
    wrapper.set_parameters(parameters)
    start = user_seconds()
    response = wrapper.solve(model)
    seconds = user_seconds() - start
    names = engine.CpSolverStatus
    cost = round(response.objective_value) if response.status in (names.OPTIMAL, names.FEASIBLE) else None
    return Solved(seconds, response.status in (names.OPTIMAL, names.INFEASIBLE), cost)


def by_cp_sat(program: Program, by: str, limit: float) -> Solved:
    """CP-SAT with its own settings, one worker."""
    return _by_cp_sat(program, by, limit, presolve=True)


def by_cp_sat_without_presolve(program: Program, by: str, limit: float) -> Solved:
    """CP-SAT with its own settings but presolve, one worker."""
    return _by_cp_sat(program, by, limit, presolve=False)


COMPETITORS: dict[str, Callable[[Program, str, float], Solved]] = {
    "HiGHS": by_highs,
    "SCIP": by_scip,
    "CP-SAT": by_cp_sat,
    "CP-SAT, presolve off": by_cp_sat_without_presolve,
}


def compare(
    options: int, seed: int, limit: float = 300.0, names: tuple[str, ...] = tuple(COMPETITORS), enough: float = 0.0
) -> Against:
    """One generated catalog against these competitors, each cut off after so many seconds, or so many times ours if that is
    more.

    An AssertionError if a competitor proves another least price than ours.
    """
    catalog, brief = large_catalog(options, seed)
    asked = ask(catalog, brief, "price")
    start = user_seconds()
    program = asked.program
    compiling = user_seconds() - start
    start = user_seconds()
    found = cheapest(Question(program, "price"))
    ours = Solved(user_seconds() - start, found.proven, found.cost)
    program = replace(program, memo={}, cores={})
    limit = max(limit, enough * (compiling + ours.seconds))
    others = {name: COMPETITORS[name](program, "price", limit) for name in names}
    for name, other in others.items():
        if other.proven and ours.proven and other.cost != ours.cost:
            raise AssertionError(f"{name} found {other.cost}, we found {ours.cost}")
    return Against(options, seed, compiling, ours, others)


def _line(found: Against) -> str:
    others = ", ".join(
        f"{name} {other.seconds:.1f} s{'' if other.proven else ' (cut off)'}" for name, other in found.others.items()
    )
    sign = "<=" if found.is_bound else "="
    ours = f"compile {found.compiling:.2f} s + solve {found.ours.seconds:.2f} s{'' if found.ours.proven else ' (not proven)'}"
    return f"{found.options} options, seed {found.seed}: {ours}; {others}; ratio {sign} 1/{1 / found.ratio:.1f}"


def main() -> None:
    """Print the ratio of every seed, the median and the worst."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n", 1)[0] if __doc__ else "")
    parser.add_argument("--options", type=int, default=45_000)
    parser.add_argument("--seeds", type=int, default=10)
    parser.add_argument("--first", type=int, default=1, help="the first seed")
    parser.add_argument("--limit", type=float, default=300.0, help="seconds after which a competitor is cut off")
    parser.add_argument("--only", nargs="*", default=list(COMPETITORS), choices=list(COMPETITORS))
    given = parser.parse_args()
    ratios, bounds = [], 0
    for seed in range(given.first, given.first + given.seeds):
        found = compare(given.options, seed, given.limit, tuple(given.only))
        print(_line(found), flush=True)
        ratios.append(found.ratio)
        bounds += found.is_bound
    print(f"median 1/{1 / median(ratios):.1f}, worst 1/{1 / max(ratios):.1f}; {bounds} of {len(ratios)} are bounds")


if __name__ == "__main__":
    main()
