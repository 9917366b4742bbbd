"""Hostile input by the hundred thousand, as a section of the benchmark.

Contents: `hostile`.
"""

from __future__ import annotations

import re
from concurrent.futures import ThreadPoolExecutor
from functools import partial

from docs.performance_page import Row
from tests.bench.timing import Desk, Settings, Spent, desk

CASES = 100_000
SEEDS = (1, 2)
"""Each seed makes an equal part of the cases, in a process of its own; the two run side by side."""
_TOLD = re.compile(r"(?P<cases>[\d,]+) cases, (?P<failed>\d+) failed, \d+ s, at most \d+ MB")


def hostile(settings: Settings) -> tuple[list[Row], list[str]]:
    """How many cases failed, and the most memory of a process."""
    wanted = (500 if settings.quick else CASES) // len(SEEDS)
    with desk() as place, ThreadPoolExecutor(len(SEEDS)) as pool:
        runs = list(pool.map(partial(_cases, place, wanted), SEEDS))
    ends = [_TOLD.search(spent.said) for spent in runs]
    told = [end for end in ends if end is not None]
    if len(told) < len(runs):
        raise RuntimeError(f"the cases ended without their sum: {runs[0].said[-500:]}")
    failed, memory = sum(float(end["failed"]) for end in told), [spent.memory for spent in runs]
    cases = sum(int(end["cases"].replace(",", "")) for end in told)
    rows = [
        Row("cases that failed", "cases", failed, failed, failed, cases, "hostile", seconds=max(run.wall for run in runs)),
        Row("most memory of a process", "MB", max(memory), min(memory), max(memory), cases, "hostile-memory"),
    ]
    lines = [(seed, line) for seed, run in zip(SEEDS, runs, strict=True) for line in run.said.splitlines()[:-1]]
    return rows, [f"Seed {seed}: {line.strip()}" for seed, line in lines if line.strip()]


def _cases(place: Desk, wanted: int, seed: int) -> Spent:
    return place.module("tests.bench.fuzz_readers", "--cases", str(wanted), "--seed", str(seed), codes=(0, 1))
