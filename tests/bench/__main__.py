"""The benchmark: one command, a section for each kind of figure, and the page that shows them.

    python -m tests.bench                            every section, printed
    python -m tests.bench --write                    ... and docs/performance.json and docs/performance.md written
    python -m tests.bench --only starts growth       these sections; with --write the others stay as they are
    python -m tests.bench --quick                    the smallest settings: whether it runs; no promise is judged

Not part of the tests that must pass. A section is written as soon as it ends, so that a run may be stopped.

Contents: `RUNS`, `main`.
"""

from __future__ import annotations

import argparse
import os
import sys
import time
from collections.abc import Callable
from dataclasses import replace

from docs.performance_page import PAGE, SECTIONS, Row, Section, performance_page, read_results, section_lines, write_results
from solver.errors import RigsetError
from tests.bench.against import against, large
from tests.bench.answers import answers, insists
from tests.bench.cells import cells
from tests.bench.growth import growth
from tests.bench.hostile import hostile
from tests.bench.stages import stages
from tests.bench.starts import starts
from tests.bench.timing import Settings, machine

RUNS: dict[str, Callable[[Settings], tuple[list[Row], list[str]]]] = {
    "starts": starts, "stages": stages, "answers": answers, "insist": insists, "whatif": cells, "growth": growth,
    "against": against, "large": large, "hostile": hostile,
}  # fmt: skip
"""Each section of the page, and what measures it."""


def _settings(said: argparse.Namespace) -> Settings:
    if said.quick:
        return Settings(seeds=1, limit=min(said.limit, 5.0), rounds=1, quick=True)
    return Settings(said.seeds, said.limit, said.rounds)


def _told(settings: Settings) -> dict[str, str]:
    told = {"seeds": f"{settings.seeds} at most", "limit of a general solver": f"{settings.limit:g} s",
            "rounds": f"{settings.rounds} at most"}  # fmt: skip
    return told | ({"quick": "yes, so these figures prove nothing"} if settings.quick else {})


def _section(name: str, settings: Settings) -> Section:
    here, start = machine(), time.perf_counter()
    rows, notes = RUNS[name](settings)
    if settings.quick:
        rows = [replace(row, promise="") for row in rows]
    return Section(tuple(rows), tuple(notes), _told(settings), round((time.perf_counter() - start) / 60.0, 2), here)


def main(arguments: list[str] | None = None) -> int:
    """Run the sections; 1 if a promise is not met by one of them, or one could not be measured."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench", description="Measures what the program takes.")
    parser.add_argument("--only", nargs="+", choices=tuple(SECTIONS), default=tuple(SECTIONS), metavar="SECTION",
                        help=f"only these: {', '.join(SECTIONS)}")  # fmt: skip
    parser.add_argument("--write", action="store_true", help="write docs/performance.json and docs/performance.md")
    parser.add_argument("--quick", action="store_true", help="the smallest settings: whether it runs")
    parser.add_argument("--seeds", type=int, default=10, help="seeds of generated catalogs at most (10)")
    parser.add_argument("--limit", type=float, default=60.0, help="seconds that a general solver gets (60)")
    parser.add_argument("--rounds", type=int, default=11, help="rounds of a pair at most (11)")
    said = parser.parse_args(arguments)
    if min(said.seeds, said.rounds) < 1 or said.limit <= 0.0:
        parser.error("--seeds, --rounds and --limit are at least one")
    settings = _settings(said)
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")  # as the command line does
    broken = False
    for name in [name for name in SECTIONS if name in said.only]:
        sys.stderr.write(f"{name} ...\n")
        try:
            section = _section(name, settings)
        except (RuntimeError, RigsetError) as error:  # the other sections go on
            sys.stderr.write(f"{name} was not measured: {error}\n")
            broken = True
            continue
        broken |= any(row.met is False for row in section.rows)
        sys.stdout.write("\n".join(section_lines(name, section)) + "\n")
        sys.stdout.flush()
        if said.write:
            write_results({**read_results(), name: section})
            PAGE.write_text(performance_page(), "utf-8")
    return 1 if broken else 0


if __name__ == "__main__":
    sys.exit(main())
