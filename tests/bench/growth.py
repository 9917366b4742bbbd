"""How times grow with the catalog, from a thousand options to two hundred thousand.

Contents: `growth`, `exponent`. Each step runs in a process of its own:

    python -m tests.bench.growth write FOLDER OPTIONS SEED
    python -m tests.bench.growth first FOLDER
    python -m tests.bench.growth second FOLDER

which print their seconds as JSON. `first` opens a catalog of which no copy is kept, `second` the copy that it left, and
then lays out, compiles and solves.
"""

from __future__ import annotations

import gc
import json
import re
import sys
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from statistics import median
from typing import Any

import numpy as np

from docs.performance_page import Row
from tests.bench.timing import Desk, Settings, Spent, called, desk, figure

SIZES = {1_000: 3, 10_000: 3, 45_000: 3, 200_000: 1}
"""Options, and on how many seeds at most."""
LARGE = 45_000
"""Options from which on a catalog is called large."""
STEPS = ("first start: files read, copy kept", "second start: copy opened", "options and rules laid over it", "compiling",
         "least cost, proven", "ties")  # fmt: skip
_FIGURE = re.compile(r": -?[0-9][0-9.]* [^\s,}][^,}\n]*")


def growth(settings: Settings) -> tuple[list[Row], list[str]]:
    """Seconds of each step at each size, memory, and the exponents over the sizes."""
    sizes = {1_000: 1, 4_000: 1} if settings.quick else SIZES
    told, middle, notes = [], defaultdict(list), []
    for options, seeds in sizes.items():
        runs = [_run(options, seed) for seed in range(1, min(seeds, settings.seeds) + 1)]
        told += _rows(options, runs)
        for step in STEPS:
            middle[step].append((median(run["options"] for run in runs), median(run[step][0] for run in runs)))
        notes.append(f"{options:,} options asked for are {runs[0]['options']:,} in {runs[0]['items']:,} items with "
                     f"{runs[0]['figures']:,} figures (seed 1).")  # fmt: skip
    for step, points in middle.items():
        slope = exponent(points)
        told.append(Row(f"exponent, {step}", "", slope, slope, slope, 1, note=f"over {len(points)} sizes"))
    return told, notes


def exponent(points: Sequence[tuple[float, float]]) -> float:
    """Slope of log seconds over log options, by least squares."""
    sizes, seconds = np.log([size for size, _ in points]), np.log([max(spent, 1e-6) for _, spent in points])
    return float(np.polyfit(sizes, seconds, 1)[0])


def _run(options: int, seed: int) -> dict[str, Any]:
    """One catalog through all steps."""
    with desk() as place:
        home = str(place.folder / "large")
        found = _said(place, "write", home, str(options), str(seed))
        found |= _said(place, "first", home)
        return found | _said(place, "second", home)


def _said(place: Desk, *words: str) -> dict[str, Any]:
    spent = place.module("tests.bench.growth", *words)
    found: dict[str, Any] = json.loads(spent.said)
    return {**found, f"memory of {words[0]}": spent.memory}


def _rows(options: int, runs: list[dict[str, Any]]) -> list[Row]:
    name = f"{options:,} options"
    told = [_both(f"{name}: {step}", "s", [run[step] for run in runs]) for step in STEPS]
    each = [[1e6 * seconds / run["figures"] for seconds in run["files read"]] for run in runs]
    told.append(_both(f"{name}: reading, each figure", "us", each, "reading"))
    shares = [[second / first for second, first in zip(run[STEPS[1]], run[STEPS[0]], strict=True)] for run in runs]
    told.append(_both(f"{name}: second start against the first", "times", shares, "copy" if options >= LARGE else ""))
    memory = [max(run["memory of first"], run["memory of second"]) for run in runs]
    return [*told, figure(f"{name}: most memory of a process", "MB", memory)]


def _both(what: str, unit: str, pairs: list[list[float]], promise: str = "") -> Row:
    """The median by the clock, and beside it by the processor's seconds."""
    row = figure(what, unit, [clock for clock, _ in pairs], promise)
    return replace(row, cpu=median(processor for _, processor in pairs))


def _write(folder: Path, options: int, seed: int) -> dict[str, Any]:
    from tests.bench.large import write_large

    folder.mkdir()
    write_large(folder, options, seed)
    texts = [path.read_text("utf-8") for path in (folder / "catalog").glob("*.yaml")]
    return {"figures": sum(len(_FIGURE.findall(text)) for text in texts)}


def _pair(spent: Spent) -> list[float]:
    return [spent.wall, spent.cpu]


def _first(folder: Path) -> dict[str, Any]:
    from solver.catalog import kept

    own, files = kept.read_catalog, []

    def read(home: Path | str) -> Any:
        found: list[Any] = []
        files.append(called(lambda: found.append(own(home))))
        return found[0]

    kept.read_catalog = read
    spent = called(lambda: kept.kept_catalog(folder / "catalog"))
    return {"files read": _pair(files[0]), STEPS[0]: _pair(spent)}


def _second(folder: Path) -> dict[str, Any]:
    from solver.answers.ask import ask
    from solver.brief import read_brief
    from solver.catalog import kept

    found: dict[str, Any] = {}
    with_copy = called(lambda: found.update(catalog=kept.kept_catalog(folder / "catalog")))
    catalog = found["catalog"]
    brief = read_brief(folder / "brief.yaml", catalog)
    laid = called(lambda: found.update(asked=ask(catalog, brief)))
    asked = found["asked"]
    compiled = called(lambda: asked.program)
    solved = called(lambda: found.update(best=asked.cheapest()))
    if not found["best"].proven:
        raise RuntimeError("the least cost was not proven")
    tied = called(lambda: asked.settled(found["best"]))
    seconds = (with_copy, laid, compiled, solved, tied)
    steps = {step: _pair(spent) for step, spent in zip(STEPS[1:], seconds, strict=True)}
    return {**steps, "options": int(asked.program.offsets[-1]), "items": len(catalog.items)}


def main(words: list[str]) -> None:
    """One step, in this process; the collector is off, as in the command."""
    gc.disable()
    folder = Path(words[1])
    if words[0] == "write":
        found = _write(folder, int(words[2]), int(words[3]))
    else:
        found = {"first": _first, "second": _second}[words[0]](folder)
    sys.stdout.write(json.dumps(found))


if __name__ == "__main__":
    main(sys.argv[1:])
