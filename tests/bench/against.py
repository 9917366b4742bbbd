"""Against general solvers on the same rows: the demo briefs, and generated catalogs up to 45,000 options.

Contents: `against`, `large`, `by_cpmpy`. Each comparison runs in a process of its own, whose numerical libraries keep to
one thread:

    python -m tests.bench.against demo BRIEF ROUNDS LIMIT
    python -m tests.bench.against large OPTIONS SEED LIMIT

The solvers, and what counts of their time, are those of `large_against.py`.
"""

from __future__ import annotations

import gc
import json
import sys
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import asdict
from pathlib import Path
from statistics import median
from typing import Any

from docs.performance_page import Row
from tests.bench.timing import BRIEFS, ROOT, Desk, Settings, brief_path, desk, run_process

SIZES = {1_000: 1, 45_000: 10}
"""Options, and on how many seeds at most."""
PROMISED = 45_000
ENOUGH = 12.0
"""A solver is cut off by the clock once it takes so many times as long as ours did."""
_LEAST = 2.0
"""Seconds that each solver gets in any case."""
_ONE_THREAD = ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS")


def against(settings: Settings) -> tuple[list[Row], list[str]]:
    """Every demo brief against every solver: median and spread over the rounds."""
    told, notes = [], []
    with desk() as place:
        for name in BRIEFS[:1] if settings.quick else BRIEFS:
            data = _said(place, "demo", name, str(settings.few(2)), str(settings.limit))
            notes += [note for note in data["notes"] if note not in notes]
            told.append(_seconds(f"{name}: ours", data["ours"]))
            others = data["others"].items()
            told += [_against(f"{name}: ours against {solver}", data["ours"], each) for solver, each in others]
    return told, notes


def _said(place: Desk, *words: str) -> dict[str, Any]:
    environment = place.environment() | dict.fromkeys(_ONE_THREAD, "1")
    command = (sys.executable, "-m", "tests.bench.against", *words)
    found: dict[str, Any] = json.loads(run_process(command, environment).said.splitlines()[-1])
    return found


def _seconds(what: str, spent: list[float]) -> Row:
    return Row(what, "s", median(spent), min(spent), max(spent), len(spent))


def _against(what: str, ours: list[float], others: list[dict[str, Any]], promise: str = "") -> Row:
    """Ours over another's, pair by pair; a solver that was cut off makes a bound."""
    ratios = [one / max(1e-9, other["seconds"]) for one, other in zip(ours, others, strict=True)]
    cut = sum(not other["proven"] for other in others)
    note = f"it takes {median(other['seconds'] for other in others):.3g} s"
    note += f"; cut off in {cut} of {len(others)}" if cut else ""
    differs = sum(other["differs"] for other in others)
    note += f"; its answer differs in {differs}" if differs else ""
    return Row(what, "times", median(ratios), min(ratios), max(ratios), len(ratios), promise, bound=cut > 0, note=note)


def large(settings: Settings) -> tuple[list[Row], list[str]]:
    """Generated catalogs, a seed each; at 45,000 options the promise. Two comparisons run side by side on two cores."""
    sizes = {1_000: 1, 4_000: 1} if settings.quick else SIZES
    told = []
    with desk() as place, ThreadPoolExecutor(2) as pool:
        for options, seeds in sizes.items():
            jobs = [("large", str(options), str(k + 1), str(settings.limit)) for k in range(min(seeds, settings.seeds))]
            runs = list(pool.map(lambda words: _said(place, *words), jobs))
            told += _large_rows(f"{options:,} options", runs, options == PROMISED)
    note = (
        "Seconds are those of the processor in the program's own code; two comparisons run side by side where there are two "
        f"cores. A solver is cut off after {ENOUGH:g} times what ours took, but not before {_LEAST:g} s."
    )
    return told, [note]


def _large_rows(name: str, runs: list[dict[str, Any]], promised: bool) -> list[Row]:
    ours = [run["compiling"] + run["ours"]["seconds"] for run in runs]
    told = [_seconds(f"{name}: ours, compile and solve", ours),
            _seconds(f"{name}: of it, compiling", [run["compiling"] for run in runs])]  # fmt: skip
    told += [
        _against(f"{name}: ours against {solver}", ours, [{**run["others"][solver], "differs": False} for run in runs])
        for solver in runs[0]["others"]
    ]
    ratios, cut = [run["ratio"] for run in runs], sum(run["is_bound"] for run in runs)
    best = {solver: sum(run["best"] == solver for run in runs if not run["is_bound"]) for solver in runs[0]["others"]}
    note = "all were cut off" + (f" in {cut} of {len(runs)}" if cut < len(runs) else "") if cut else ""
    quickest = ", ".join(f"{solver} {count}" for solver, count in best.items() if count)
    note += ("; " if note and quickest else "") + (f"quickest: {quickest}" if quickest else "")
    middle, worst = ("large", "large-worst") if promised else ("", "")
    seconds = median(ours)
    told.append(Row(f"{name}: ours against the best, median", "times", median(ratios), min(ratios), max(ratios), len(runs),
                    middle, seconds=seconds, bound=cut > 0, note=note))  # fmt: skip
    slowest = max(range(len(runs)), key=lambda k: ratios[k])
    told.append(Row(f"{name}: ours against the best, worst seed", "times", max(ratios), min(ratios), max(ratios), len(runs),
                    worst, seconds=ours[slowest], bound=runs[slowest]["is_bound"]))  # fmt: skip
    return told


def by_cpmpy(program: Any, by: str, limit: float) -> Any:
    """CPMpy with CP-SAT behind it, one worker; what counts is the solve, as for the others."""
    import cpmpy
    import numpy as np

    from tests.bench.large_against import Solved, user_seconds

    x = cpmpy.boolvar(shape=program.rows.shape[1])
    model = cpmpy.Model()
    for a, b in program.slices:
        model += cpmpy.sum(x[a:b]) == 1
    for row, most in zip(program.rows, program.rhs.tolist(), strict=True):
        used = np.flatnonzero(row)
        if len(used):
            model += cpmpy.sum(row[used] * x[used]) <= most
    model.minimize(cpmpy.sum(program.costs[by] * x))
    solver = cpmpy.SolverLookup.get("ortools", model)
    start = user_seconds()
    found = solver.solve(time_limit=limit, num_workers=1)
    seconds = user_seconds() - start
    ended = solver.status().exitstatus.name
    return Solved(seconds, ended in ("OPTIMAL", "UNSATISFIABLE"), int(solver.objective_value()) if found else None)


def _solvers(notes: list[str]) -> dict[str, Callable[[Any, str, float], Any]]:
    """The general solvers that are installed."""
    from importlib.util import find_spec

    from tests.bench.large_against import COMPETITORS

    modules = {"HiGHS": "highspy", "SCIP": "pyscipopt", "CPMpy": "cpmpy"}
    every = {**COMPETITORS, "CPMpy": by_cpmpy}
    for name, module in modules.items():
        if find_spec(module) is None:
            del every[name]
            notes.append(f"{name} was not installed, and is not compared.")
    return every


def _demo(name: str, count: int, limit: float) -> dict[str, Any]:
    """One demo brief: our seconds, and those of every solver, round by round; the first round warms up."""
    from solver.answers.ask import ask
    from solver.brief import read_brief
    from solver.catalog import read_catalog
    from tests.bench.large_against import user_seconds

    catalog = read_catalog(ROOT / "catalog_demo" / "catalog")
    brief = read_brief(ROOT / Path(brief_path(name)), catalog)
    notes: list[str] = []
    solvers = _solvers(notes)
    ours: list[float] = []
    others: dict[str, list[dict[str, Any]]] = {solver: [] for solver in solvers}
    for k in range(count + 1):
        asked = ask(catalog, brief)
        start = user_seconds()
        found = asked.cheapest()
        spent = user_seconds() - start
        if not found.proven:
            raise RuntimeError(f"{name}: ours is not proven")
        if not k:
            continue
        ours.append(spent)
        for solver, solve in solvers.items():
            other = solve(asked.program, asked.by, limit)
            others[solver].append({**asdict(other), "differs": other.proven and other.cost != found.cost})
    return {"ours": ours, "others": others, "notes": notes}


def _large(options: int, seed: int, limit: float) -> dict[str, Any]:
    """One generated catalog; a solver is cut off when it has shown enough."""
    from tests.bench.large_against import COMPETITORS, compare

    notes: list[str] = []
    names = tuple(name for name in _solvers(notes) if name in COMPETITORS)
    enough = ENOUGH if limit > _LEAST else 0.0  # a shorter limit only shows whether everything runs
    found = compare(options, seed, min(limit, _LEAST), names, enough)
    if not found.ours.proven:
        raise RuntimeError(f"{options} options, seed {seed}: ours is not proven")
    return {**asdict(found), "ratio": found.ratio, "is_bound": found.is_bound, "best": found.best_other, "notes": notes}


def main(words: list[str]) -> None:
    """One comparison, in this process, as JSON on the last line."""
    gc.disable()
    if words[0] == "demo":
        found = _demo(words[1], int(words[2]), float(words[3]))
    else:
        found = _large(int(words[1]), int(words[2]), float(words[3]))
    sys.stdout.write(f"\n{json.dumps(found)}\n")


if __name__ == "__main__":
    main(sys.argv[1:])
