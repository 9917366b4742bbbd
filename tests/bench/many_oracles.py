"""Laws of the answer by the hundred: small random catalogs and briefs, through files, against other ways of answering.

    python -m tests.bench.many_oracles [--cases 500] [--from 0] [--most 1000] [--law NAME ...]

Prints, every fifty cases and at the end, for each law how many cases it held on, how many it had nothing to say
about, how many comparisons that were, and the processor's seconds; each case that broke one with its seed. Ends with 1 if
any did. Not part of the tests that must pass; `tests/laws/test_files_small.py` runs the same laws on the first forty seeds.

Contents: `main`.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
import traceback
from collections import Counter
from pathlib import Path

from tests.laws.file_laws import LAWS
from tests.laws.law_case import LawCase

HELD, SILENT, BROKEN, COMPARED, SECONDS = "held", "silent", "broken", "compared", "seconds"


def main(arguments: list[str] | None = None) -> int:
    """Run the cases; 1 if any of them broke a law."""
    parser = argparse.ArgumentParser(description="Laws of the answer by the hundred.")
    parser.add_argument("--cases", type=int, default=500)
    parser.add_argument("--from", type=int, default=0, dest="start", help="first seed")
    parser.add_argument("--law", action="append", choices=list(LAWS), help="this law only; may be repeated")
    parser.add_argument("--most", type=int, default=1000, help="rules, and items, tried in one law of one case")
    said = parser.parse_args(arguments)
    names = said.law or list(LAWS)
    counts: dict[str, Counter[str]] = {name: Counter() for name in names}
    kinds: Counter[str] = Counter()
    for seed in range(said.start, said.start + said.cases):
        with tempfile.TemporaryDirectory() as folder:
            _case(LawCase(seed, Path(folder), said.most), counts, kinds)
        if (seed - said.start + 1) % 50 == 0 or seed == said.start + said.cases - 1:
            _table(seed - said.start + 1, counts, kinds)
    return 1 if any(own[BROKEN] for own in counts.values()) else 0


def _table(cases: int, counts: dict[str, Counter[str]], kinds: Counter[str]) -> None:
    """What the cases so far came to."""
    print(f"{cases} cases: " + ", ".join(f"{count} {kind}" for kind, count in sorted(kinds.items())))
    print(f"{'law':26} {HELD:>6} {SILENT:>6} {BROKEN:>6} {COMPARED:>9} {SECONDS:>8}")
    for name, own in counts.items():
        spent = own[SECONDS] / 1e3
        print(f"{name:26} {own[HELD]:6} {own[SILENT]:6} {own[BROKEN]:6} {own[COMPARED]:9,} {spent:8.1f}", flush=True)


def _case(case: LawCase, counts: dict[str, Counter[str]], kinds: Counter[str]) -> None:
    """One case under every law asked for."""
    kinds[f"with status {case.picked.status}"] += 1
    kinds["tried whole" if case.judge is not None else "not small"] += 1
    for name, own in counts.items():
        start = time.process_time()
        try:
            compared = LAWS[name](case)
            own[HELD if compared else SILENT] += 1
            own[COMPARED] += compared
        except Exception as error:  # the very thing that is looked for: any kind of it is a finding
            own[BROKEN] += 1
            where = traceback.extract_tb(error.__traceback__)[-1]
            place = f"{Path(where.filename).name}:{where.lineno}"
            print(f"  {name}, seed {case.seed}: {place}: {type(error).__name__}: {str(error)[:400]}", flush=True)
        own[SECONDS] += round(1e3 * (time.process_time() - start))


if __name__ == "__main__":
    sys.exit(main())
