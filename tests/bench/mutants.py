"""Mutation testing of one floor: each small change of the code must make a test fail.

    python -m tests.bench.mutants FLOOR [--sample 400] [--seed 1] [--session FILE] [--again [TESTS ...]] [--list]

The changes, and the file that keeps the session, are those of the library cosmic-ray (`pip install cosmic-ray coverage`);
`mutants_operators.py` says which changes are made. No file is changed: a forked process reads the changed text in place of
the file. It has numpy, pytest and all floors below already loaded, so that a mutant costs about a second, not four.

First the tests that run the changed line (found once with coverage), those in front that killed other mutants of the file;
then all tests of the floor, where the line is run at import or where tests share what was worked out once. A session that
was stopped goes on where it was. `--again` judges the survivors anew, by all tests or by the new files alone; `--list`
prints the last result.

Contents: `main`, `report`. The floors and the runs are in `mutants_runner.py`.
"""

from __future__ import annotations

import argparse
import random
import sys
import tempfile
from collections import Counter
from pathlib import Path

import cosmic_ray.plugins
from cosmic_ray.commands import init
from cosmic_ray.modules import find_modules
from cosmic_ray.work_db import WorkDB, use_db
from cosmic_ray.work_item import TestOutcome, WorkerOutcome, WorkItem, WorkResult

from tests.bench.mutants_operators import Chosen, passed_over
from tests.bench.mutants_runner import FLOORS, Runner


def main(arguments: list[str] | None = None) -> int:
    """Run the mutants of a floor; 1 if fewer than 90 % of them were killed."""
    parser = argparse.ArgumentParser(description="Mutation testing of one floor.")
    parser.add_argument("floor", choices=FLOORS)
    parser.add_argument("--sample", type=int, default=0, help="so many mutants, drawn by the seed; 0 is all")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--session", type=Path, help="file of the session")
    parser.add_argument("--again", nargs="*", metavar="TESTS", help="judge the survivors anew, by all tests or these files")
    parser.add_argument("--list", action="store_true", help="print the last result")
    said = parser.parse_args(arguments)
    path = said.session or Path(tempfile.gettempdir()) / f"rigset_mutants_{said.floor}.sqlite"
    fresh = not path.exists()
    with use_db(str(path)) as kept:
        if fresh:
            _begin(kept, said.floor)
        if not said.list:
            alive = [item for item, result in _judged(kept) if result.test_outcome == TestOutcome.SURVIVED]
            todo = _drawn(kept, said.sample, said.seed) if said.again is None else alive
            _run(kept, Runner(said.floor, path.with_suffix(".json"), tuple(said.again or ())), todo)
        return report(kept)


# --- the mutants ------------------------------------------------------------------------------------------------------
def _begin(kept: WorkDB, floor: str) -> None:
    """All mutants of a floor; those that no test can see are entered as skipped, with the reason."""
    cosmic_ray.plugins.OPERATOR_PROVIDERS.clear()
    cosmic_ray.plugins.OPERATOR_PROVIDERS["core"] = Chosen()
    init(sorted(find_modules([Path("solver") / floor])), kept, {})
    spans = {path: passed_over(path.read_text(encoding="utf-8")) for path in (Path("solver") / floor).glob("*.py")}
    for item in kept.work_items:
        change = item.mutations[0]
        for begin, end, why in spans[change.module_path]:
            if begin <= tuple(change.start_pos) and tuple(change.end_pos) <= end:
                kept.set_result(item.job_id, WorkResult(worker_outcome=WorkerOutcome.SKIPPED, output=why))


def _order(item: WorkItem) -> tuple[str, str, int]:
    change = item.mutations[0]
    return str(change.module_path), change.operator_name, change.occurrence


def _drawn(kept: WorkDB, size: int, seed: int) -> list[WorkItem]:
    """The mutants of the sample that have no result yet, in the order drawn: a run that is stopped leaves a fair sample, and
    a larger sample of the same seed holds every smaller one."""
    done = dict(kept.results)
    skipped = {job for job, result in done.items() if result.worker_outcome == WorkerOutcome.SKIPPED}
    items = sorted((item for item in kept.work_items if item.job_id not in skipped), key=_order)
    random.Random(seed).shuffle(items)
    return [item for item in items[: size or None] if item.job_id not in done]


def _judged(kept: WorkDB) -> list[tuple[WorkItem, WorkResult]]:
    found = [pair for pair in kept.completed_work_items if pair[1].worker_outcome != WorkerOutcome.SKIPPED]
    return sorted(found, key=lambda pair: _order(pair[0]))


# --- the runs ---------------------------------------------------------------------------------------------------------
def _run(kept: WorkDB, runner: Runner, todo: list[WorkItem]) -> None:
    for number, item in enumerate(todo, 1):
        result = runner.judge(item.mutations[0])
        kept.set_result(item.job_id, result)
        if result.test_outcome == TestOutcome.SURVIVED or number % 50 == 0:
            print(f"{number} of {len(todo)}: {_order(item)} {result.test_outcome}", flush=True)


# --- what came of it --------------------------------------------------------------------------------------------------
def report(kept: WorkDB) -> int:
    """Print the survivors and the share that was killed; 1 if it is under 90 %."""
    judged = [pair for pair in _judged(kept) if pair[1].worker_outcome == WorkerOutcome.NORMAL]
    every = kept.num_work_items - sum(r.worker_outcome == WorkerOutcome.SKIPPED for _, r in kept.results)
    alive = [pair for pair in judged if pair[1].test_outcome == TestOutcome.SURVIVED]
    for item, result in alive:
        change = item.mutations[0]
        place = f"{change.module_path}:{change.start_pos[0]} {change.definition_name or ''}"
        print(f"\n{place} {change.operator_name[5:]}; {result.output}\n{result.diff}")
    by_file = Counter(item.mutations[0].module_path.name for item, _ in judged)
    left = Counter(item.mutations[0].module_path.name for item, _ in alive)
    print("\n" + "\n".join(f"{name}: {by_file[name]} tried, {left[name]} left" for name in sorted(by_file)))
    share = 1.0 - len(alive) / max(len(judged), 1)
    print(f"{every} mutants, {len(judged)} tried, {len(judged) - len(alive)} killed: {share:.1%}")
    return 0 if share >= 0.9 else 1


if __name__ == "__main__":
    sys.exit(main())
