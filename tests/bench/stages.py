"""What `pick` spends its time on, stage by stage, by calling what the command calls.

Contents: `stages`, `STAGES`.
"""

from __future__ import annotations

import gc
import time
from collections import defaultdict
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from docs.performance_page import Row
from tests.bench.timing import BRIEFS, ROOT, Desk, Settings, brief_path, desk, figure, rounds

CATALOG = ROOT / "catalog_demo" / "catalog"
IMPORTS = (
    "from solver.cli import main, options, pick_command; import solver.answers.pick, solver.catalog, solver.brief, "
    "solver.search.best, solver.search.savings, solver.report.layout, solver.report.pick_text"
)
STAGES = (
    "imports", "reading the catalog's files", "opening its kept copy", "reading the brief", "options and rules laid over it",
    "compiling", "least cost", "of it, reduction", "of it, engine", "ties", "re-check", "what each rule saves",
    "one minimal conflict", "printing", "whole answer and printing",
)  # fmt: skip
"""Stages in the order of the tables; the last is the command's own way through all from options on."""


def stages(settings: Settings) -> tuple[list[Row], list[str]]:
    """Milliseconds of each stage, for each demo brief."""
    with desk() as place:
        told = [_imports(place, settings), *_reading(place, settings)]
    for name in BRIEFS[:1] if settings.quick else BRIEFS:
        spent: dict[str, list[float]] = defaultdict(list)
        for k in range(settings.few(7) + 1):
            ledger = _staged(name)
            if k:  # the first call of anything loads and prepares
                for stage, seconds in ledger.items():
                    spent[stage].append(1e3 * seconds)
        told += [figure(f"{name}: {stage}", "ms", spent[stage]) for stage in STAGES if stage in spent]
    return told, []


def _imports(place: Desk, settings: Settings) -> Row:
    found = rounds({"bare": lambda: place.python("pass"), "all": lambda: place.python(IMPORTS)}, settings.rounds)
    spent = [1e3 * (a.wall - b.wall) for a, b in zip(found["all"], found["bare"], strict=True)]
    return figure("all briefs: imports", "ms", spent, note="with numpy and the engine's library")


def _reading(place: Desk, settings: Settings) -> list[Row]:
    """Reading the demo catalog with and without its copy."""
    import os

    from solver.catalog import kept_catalog, read_catalog

    before = os.environ.get("RIGSET_CACHE")
    os.environ["RIGSET_CACHE"] = str(place.folder / "cache")
    try:
        told = []
        for stage, work in (("reading the catalog's files", read_catalog), ("opening its kept copy", kept_catalog)):
            work(CATALOG)
            spent = [1e3 * _timed(lambda work=work: work(CATALOG))[1] for _ in range(settings.few(7))]  # type: ignore[misc]
            told.append(figure(f"all briefs: {stage}", "ms", spent))
        return told
    finally:
        os.environ.pop("RIGSET_CACHE")
        if before is not None:
            os.environ["RIGSET_CACHE"] = before


def _timed(work: Callable[[], Any]) -> tuple[Any, float]:
    start = time.perf_counter()
    found = work()
    return found, time.perf_counter() - start


@contextmanager
def clocked(room: Any, names: dict[str, str], ledger: dict[str, float]) -> Iterator[None]:
    """Within this, calls of the named functions of a module add their seconds to the ledger."""
    own = {name: getattr(room, name) for name in names}

    def timed(name: str) -> Callable[..., Any]:
        def work(*given: Any, **named: Any) -> Any:
            start = time.perf_counter()
            try:
                return own[name](*given, **named)
            finally:
                ledger[names[name]] = ledger.get(names[name], 0.0) + time.perf_counter() - start

        return work

    for name in names:
        setattr(room, name, timed(name))
    try:
        yield
    finally:
        for name, function in own.items():
            setattr(room, name, function)


def _staged(name: str) -> dict[str, float]:
    """Seconds of each stage of one pick; the collector is off, as in the command."""
    from solver.answers.ask import ask
    from solver.answers.clashes import conflict
    from solver.answers.pick import pick
    from solver.answers.reasons import binding_rules
    from solver.brief import read_brief
    from solver.catalog import read_catalog
    from solver.report.pick_text import pick_text
    from solver.search import best

    catalog, ledger = read_catalog(CATALOG), {}
    path = ROOT / Path(brief_path(name))
    gc.disable()
    try:
        brief, ledger["reading the brief"] = _timed(lambda: read_brief(path, catalog))
        asked, ledger["options and rules laid over it"] = _timed(lambda: ask(catalog, brief))
        _, ledger["compiling"] = _timed(lambda: asked.program)
        parts: dict[str, float] = {}
        inner = {"core_of": "of it, reduction", "reduce_program": "of it, reduction", "solve_rows": "of it, engine"}
        with clocked(best, inner, parts):
            found, ledger["least cost"] = _timed(asked.cheapest)
        ledger |= parts
        if found.columns is None:
            _, ledger["one minimal conflict"] = _timed(lambda: conflict(asked))
        else:
            settled, ledger["ties"] = _timed(lambda: best.settled(asked.question(), found))
            _, ledger["re-check"] = _timed(lambda: asked.recheck(settled.columns))
            _, ledger["what each rule saves"] = _timed(lambda: binding_rules(asked, found.columns))
        picked, answer = _timed(lambda: pick(catalog, brief))
        _, printing = _timed(lambda: pick_text(picked, 100))
        ledger["printing"] = printing
        ledger["whole answer and printing"] = answer + printing
    finally:
        gc.enable()
        gc.collect()
    return ledger
