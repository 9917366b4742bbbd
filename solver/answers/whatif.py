"""whatif: the pick for every combination of changed requirements, and where the answer switches.

Contents: `whatif`, `finished`, `WhatIf`, `settled_piece` (what an executor runs), `CHUNK`.

Cells are settled in pieces of neighbours (`whatif_grid.py`), each piece a call of one function with the packed study and
the numbers of its cells. So any `concurrent.futures.Executor` can work on them: this process's own pool of
processes, or a cluster's. What a cell says depends on nothing but the study: not on the pieces, nor on who works, nor on
what was found before. The cells come back in the order of their numbers.
"""

from __future__ import annotations

import itertools
import os
import signal
import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import FIRST_COMPLETED, Executor, Future, wait
from contextlib import contextmanager, suppress
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path
from threading import Thread
from typing import get_args

from solver.answers.ask import Asked, ask
from solver.answers.facts import Line
from solver.answers.whatif_facts import Binding, Cell, Study, from_plain, to_plain
from solver.answers.whatif_grid import settle
from solver.answers.whatif_store import Journal, packed, unpacked
from solver.answers.whatif_summary import Switch, swaps, switches
from solver.answers.whatif_values import Axis, axis_from, axis_of
from solver.brief.models import Assumption, Brief
from solver.brief.requirements import find
from solver.catalog import Catalog
from solver.errors import EntryError
from solver.rules.cautions import CAUTIONS, Caution

CHUNK = 25
"""Cells settled together: enough for neighbours to share work, few enough to spread over the cores and to lose little."""

_AHEAD, _AHEAD_OF_ONE = 64, 2
"""Pieces that wait or run at a time: in an executor that was handed in, and in each process of our own."""
MOST_WITH_SAVINGS = 101
"""Cells, the brief's own among them, for which savings are worked out unasked."""

Vary = Sequence[str] | Mapping[str, Sequence[float]]


@dataclass(frozen=True)
class WhatIf:
    """The cells of a what-if and what they show."""

    title: str
    by: str
    axes: tuple[Axis, ...]
    one_at_a_time: bool
    binding: Binding
    """What was worked out of the rules that bind."""
    base: Cell
    """The brief as it is."""
    cells: tuple[Cell, ...]
    switches: tuple[Switch, ...]
    """Where the rig changes between two neighbouring values of one requirement."""
    rigs: Mapping[tuple[int, ...], tuple[Line, ...]]
    """Every rig that occurs, by its options."""
    cautions: tuple[Caution, ...]
    assumptions: tuple[Assumption, ...]
    waived: tuple[str, ...]


def whatif(
    catalog: Catalog,
    brief: Brief,
    vary: Vary,
    by: str | None = None,
    one_at_a_time: bool = False,
    binding: Binding | None = None,
    jobs: int | None = None,
    executor: Executor | None = None,
    out: Path | None = None,
    resume: bool = False,
    force: bool = False,
    progress: Callable[[int, int], None] | None = None,
) -> WhatIf:
    """The pick of every cell.

    Parameters
    ----------
    catalog, brief
        As for `pick`.
    vary : sequence of str, or mapping of path to values in SI
        What is varied: `duty.hose_reach=100ft:300ft:50ft`, or `{"duty.hose_reach": (30.48, 45.72)}`.
    by : {"price", "weight", "yearly-cost"}, optional
        What to make least; the brief's own `by` if not given.
    one_at_a_time : bool
        Each requirement alone around the brief as it is, instead of every combination.
    binding : {"none", "rules", "savings"}, optional
        What to say of the rules that bind in a cell: nothing, which they are, or also what each saves; most of the time goes
        into that. By default the savings up to 100 cells, the rules beyond.
    jobs : int, optional
        Processes; one for each core if not given. 1 works in this process.
    executor : concurrent.futures.Executor, optional
        Who works instead: `whatif(catalog, brief, vary, executor=client.get_executor())`. It is not shut down.
    out : Path, optional
        Cells are kept in `out` + `.part` while the work goes on. The output itself is left to the caller, who then calls
        `finished(out)`.
    resume, force : bool
        Go on with the journal of a stopped run; begin anew in spite of it.
    progress : callable, optional
        Called with the cells settled and all cells.

    Raises
    ------
    EntryError
        Something varied that is no requirement, a value that is none of its kind, or a journal of another study.
    """
    axes = _axes(vary, brief)
    study = Study(catalog, brief, by or brief.by, axes, one_at_a_time)
    study = replace(study, binding=_binding(binding, len(study.cells)))
    asked = ask(catalog, brief, study.by)
    journal = Journal(out, study) if out is not None else None
    done = journal.open(resume, force) if journal is not None else {}
    try:
        for cells in _worked(study, asked, done, jobs, executor):
            if journal is not None:
                journal.add(cells)
            done.update((cell.number, cell) for cell in cells)
            if progress is not None:
                progress(len(done), len(study.cells))
    finally:
        if journal is not None:
            journal.close()
    return _answer(study, asked, [done[number] for number in range(len(study.cells))])


def finished(out: Path) -> None:
    """The output is written whole: its journal goes."""
    with suppress(OSError):
        out.with_name(f"{out.name}.part").unlink(missing_ok=True)


def _binding(said: Binding | None, cells: int) -> Binding:
    """What is said of binding rules; by default their savings, but not in a large study, where that is most of the time."""
    if said is None:
        return "savings" if cells <= MOST_WITH_SAVINGS else "rules"
    if said not in get_args(Binding):
        raise EntryError(f'binding "{said}"', f"one of {', '.join(get_args(Binding))}", "savings")
    return said


def _axes(vary: Vary, brief: Brief) -> tuple[Axis, ...]:
    if isinstance(vary, Mapping):
        axes = tuple(axis_from(path, *find(path, brief), values) for path, values in vary.items())
    else:
        axes = tuple(axis_of(text, brief) for text in vary)
    if not axes:
        raise EntryError("nothing to vary", "at least one requirement", "--vary duty.hose_reach=100ft:300ft:50ft")
    seen: dict[tuple[str, str], str] = {}
    for axis in axes:
        for duty in axis.duties or ("",):
            first = seen.setdefault((axis.requirement.id, duty), axis.path)
            if first is not axis.path or sum(axis.path == other.path for other in axes) > 1:
                raise EntryError(f'"{axis.path}", varied twice', "each requirement once", "all its values in one --vary")
    return axes


def _worked(
    study: Study, asked: Asked, done: Mapping[int, Cell], jobs: int | None, executor: Executor | None
) -> Iterator[tuple[Cell, ...]]:
    """The cells that are not settled yet, piece by piece as they come."""
    left = [number for number in range(len(study.cells)) if number not in done]
    pieces = [tuple(left[k : k + CHUNK]) for k in range(0, len(left), CHUNK)]
    workers = min(len(pieces), jobs if jobs is not None else os.cpu_count() or 1)
    if executor is None and workers <= 1:
        for piece in pieces:
            yield settle(study, asked, piece)
        return
    data = packed(study)
    with _pools(workers) if executor is None else _given(executor) as pools:
        yield from _spread(pools, data, pieces)


def _spread(pools: Sequence[Executor], data: bytes, pieces: Sequence[tuple[int, ...]]) -> Iterator[tuple[Cell, ...]]:
    """Every piece through executors, a few at a time so that a large study does not lie about in queues.

    Each executor gets a run of neighbouring pieces, since what one settles helps the next; one that is through with its own
    takes the further half of the longest run that is left.
    """
    ahead = _AHEAD if len(pools) == 1 else _AHEAD_OF_ONE
    ends = [k * len(pieces) // len(pools) for k in range(len(pools) + 1)]
    runs = [list(pieces[a:b]) for a, b in itertools.pairwise(ends)]
    running: dict[Future[list[dict[str, object]]], int] = {}
    try:
        while True:
            for k, pool in enumerate(pools):
                while (own := sum(place == k for place in running.values())) < ahead and _more(runs, k, own == 0):
                    with _deaf():
                        running[pool.submit(settled_piece, data, runs[k].pop(0))] = k
            if not running:
                return
            for future in wait(running, return_when=FIRST_COMPLETED).done:
                del running[future]
                yield tuple(from_plain(cell) for cell in future.result())
    finally:
        for future in running:
            future.cancel()


def _more(runs: list[list[tuple[int, ...]]], k: int, idle: bool) -> bool:
    """Whether run k has a piece, taken from the longest run where nothing else is left to do."""
    if not runs[k] and idle:
        longest = max(runs, key=len)
        half = len(longest) // 2
        runs[k], longest[half:] = longest[half:], []
    return bool(runs[k])


@contextmanager
def _deaf() -> Iterator[None]:
    """Ctrl-C waits meanwhile: a process that begins here never hears it, not even before `_in_worker` can see to that."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def settled_piece(data: bytes, numbers: tuple[int, ...]) -> list[dict[str, object]]:
    """Cells of a packed study as plain data: the one function that an executor runs."""
    study, asked = _opened(data)
    return [to_plain(cell) for cell in settle(study, asked, numbers)]


@lru_cache(maxsize=2)
def _opened(data: bytes) -> tuple[Study, Asked]:
    """The study of a worker, unpacked and compiled once."""
    study = unpacked(data)
    return study, ask(study.catalog, study.brief, study.by)


@contextmanager
def _given(executor: Executor) -> Iterator[tuple[Executor]]:
    yield (executor,)


@contextmanager
def _pools(workers: int) -> Iterator[list[Executor]]:
    """Processes of our own, each with a queue of its own. They start afresh rather than as copies, and end when this process
    does."""
    import multiprocessing
    from concurrent.futures import ProcessPoolExecutor

    pools: list[Executor] = [ProcessPoolExecutor(1, multiprocessing.get_context("spawn"), _in_worker) for _ in range(workers)]
    try:
        yield pools
    finally:
        for pool in pools:
            pool.shutdown(wait=True, cancel_futures=True)


def _in_worker() -> None:
    """A worker leaves stopping by hand to its parent, and ends when the parent is gone."""
    import multiprocessing

    signal.signal(signal.SIGINT, signal.SIG_IGN)
    parent = multiprocessing.parent_process()

    def watch() -> None:
        if parent is not None:
            parent.join()
            os._exit(1)

    Thread(target=watch, daemon=True).start()
    sys.stdout.flush()


def _answer(study: Study, asked: Asked, cells: list[Cell]) -> WhatIf:
    rigs = {
        options: asked.lines(dict(zip(asked.offsets, options, strict=True)))
        for options in dict.fromkeys(cell.options for cell in cells if cell.options)
    }
    base = cells[0]
    told = [
        cell if cell is base or not cell.options or not base.options
        else replace(cell, changed=swaps(rigs[base.options], rigs[cell.options]))
        for cell in cells
    ]  # fmt: skip
    ids = {caution for cell in cells for caution in cell.cautions}
    return WhatIf(
        title=study.brief.title,
        by=study.by,
        axes=study.axes,
        one_at_a_time=study.one_at_a_time,
        binding=study.binding,
        base=base,
        cells=tuple(told[1:]),
        switches=switches(study, told, rigs, asked),
        rigs=rigs,
        cautions=tuple(Caution(record.id, record.text) for record in CAUTIONS if record.id in ids),
        assumptions=study.brief.assumed(),
        waived=tuple(study.brief.waived),
    )
