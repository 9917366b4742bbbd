"""Hostile input by the hundred thousand: every reader, from a seed, with what it came to.

    python -m tests.bench.fuzz_readers [--cases 100000] [--seed 1]

Prints a line for each reader: cases, how they ended, seconds, and the slowest by the processor's time. A case that ends in
anything but an answer or a clear sentence is printed with the seed that makes it again, and the command ends with 1. Not part
of the tests that must pass.

Contents: `SHARES`, `main`.
"""

from __future__ import annotations

import argparse
import random
import resource
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

from tests.hostile.cases import Bench

SHARES = {"quantity": 0.45, "yaml": 0.25, "catalog": 0.15, "brief": 0.10, "rig": 0.048, "compiled": 0.002}
"""Part of all cases that each reader gets; the slow ones get fewer."""


def main(arguments: list[str] | None = None) -> int:
    """Run the cases; 1 if any of them failed."""
    parser = argparse.ArgumentParser(description="Hostile input by the hundred thousand.")
    parser.add_argument("--cases", type=int, default=100_000)
    parser.add_argument("--seed", type=int, default=1)
    said = parser.parse_args(arguments)
    failed = 0
    begun = time.perf_counter()
    with tempfile.TemporaryDirectory() as folder:
        bench = Bench(Path(folder))
        for name, share in SHARES.items():
            failed += _reader(bench, name, round(said.cases * share), said.seed)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"{said.cases:,} cases, {failed} failed, {time.perf_counter() - begun:.0f} s, at most {peak:.0f} MB")
    return 1 if failed else 0


def _reader(bench: Bench, name: str, cases: int, seed: int) -> int:
    ends: Counter[str] = Counter()
    begun = time.perf_counter()
    slowest, failed = 0.0, 0
    for number in range(cases):
        start = time.process_time()
        try:
            ends[getattr(bench, name)(random.Random(f"{seed} {name} {number}"))] += 1
        except Exception as error:  # the very thing that is looked for: any kind of it is a finding
            failed += 1
            ends["FAILED"] += 1
            if failed <= 10:
                print(f"  {name}, case {number}, seed {seed}: {type(error).__name__}: {str(error)[:300]}")
        slowest = max(slowest, time.process_time() - start)
    told = ", ".join(f"{end} {count:,}" for end, count in sorted(ends.items()))
    spent = time.perf_counter() - begun
    print(f"{name:9} {cases:7,} cases: {told}; {spent:.1f} s, slowest {1e3 * slowest:.0f} ms", flush=True)
    return failed


if __name__ == "__main__":
    sys.exit(main())
