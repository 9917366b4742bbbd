"""Time of processes and calls, taken in pairs, and what the machine is.

Contents: `Spent`, `run_process`, `Desk` (a folder and environment for processes), `called`, `rounds`, `ratio`, `figure`,
`machine`.

Ratios are taken within a round: everything that is compared runs in every round, forwards in one and backwards in the
next, so that a slow minute of the machine falls on all of them.
"""

from __future__ import annotations

import contextlib
import os
import platform
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from statistics import median

from docs.performance_page import Machine, Row

ROOT = Path(__file__).resolve().parents[2]
BRIEFS = tuple(sorted(path.stem for path in (ROOT / "catalog_demo" / "briefs").glob("*.yaml")))
"""The demo briefs by name."""
LIBRARIES = ("rigset", "numpy", "ortools", "pydantic", "pint", "PyYAML", "typer", "highspy", "PySCIPOpt", "cpmpy")
COMMAND_LINE = (sys.executable, "-c", "from solver.cli.main import run; run()")
"""What the script `rigset` runs."""


@dataclass(frozen=True)
class Spent:
    """Seconds by the clock and of the processor, the most memory [MB] (0 for a call), the exit code, what was printed."""

    wall: float
    cpu: float
    memory: float = 0.0
    code: int = 0
    said: str = ""


@dataclass(frozen=True)
class Settings:
    """What a run is asked for: seeds of generated catalogs, seconds for a general solver, rounds, quick or not."""

    seeds: int = 10
    limit: float = 60.0
    rounds: int = 11
    quick: bool = False

    def few(self, most: int) -> int:
        """Rounds of something slow."""
        return min(self.rounds, most)


def run_process(command: Sequence[str], environment: Mapping[str, str], codes: Sequence[int] = (0,)) -> Spent:
    """Run a process from the project's folder to its end; an error if it leaves with another code than one of these."""
    with tempfile.TemporaryFile("w+") as output, tempfile.TemporaryFile("w+") as errors:
        start = time.perf_counter()
        process = subprocess.Popen(command, cwd=ROOT, env=dict(environment), stdout=output, stderr=errors)
        _, status, usage = os.wait4(process.pid, 0)
        wall = time.perf_counter() - start
        process.returncode = code = os.waitstatus_to_exitcode(status)
        output.seek(0)
        errors.seek(0)
        said, complaint = output.read(), errors.read()
    if code not in codes:
        raise RuntimeError(f"{' '.join(command)[:200]} left with {code}: {complaint[-2000:]}")
    peak = usage.ru_maxrss * (1.0 if sys.platform == "darwin" else 1024.0) / 1e6
    return Spent(wall, usage.ru_utime + usage.ru_stime, peak, code, said)


@dataclass
class Desk:
    """A folder of its own, and an environment in which bytecode and copies of catalogs are kept in it."""

    folder: Path
    _warm: set[tuple[str, ...]] = field(default_factory=set)

    def environment(self, cache: str = "cache") -> dict[str, str]:
        """Bytecode as Python keeps it by default, copies of catalogs in this folder (`off`: none)."""
        dropped = ("PYTHONDONTWRITEBYTECODE", "PYTHONPROFILEIMPORTTIME", "PYTHONHASHSEED")
        kept = {name: value for name, value in os.environ.items() if name not in dropped}
        home = "off" if cache == "off" else str(self.folder / cache)
        return {**kept, "PYTHONPYCACHEPREFIX": str(self.folder / "bytecode"), "RIGSET_CACHE": home}

    def python(self, code: str) -> Spent:
        """`python -c CODE`, warmed."""
        return self._warmed((sys.executable, "-c", code))

    def rigset(self, *words: str, cache: str = "cache") -> Spent:
        """The command line as its script starts it, warmed; 0 and 1 are both answers."""
        return self._warmed((*COMMAND_LINE, *words), cache)

    def started(self, *words: str) -> Spent:
        """The command line, not warmed; 0 and 1 are both answers."""
        return run_process((*COMMAND_LINE, *words), self.environment(), (0, 1))

    def module(self, name: str, *words: str, cache: str = "cache", codes: Sequence[int] = (0,)) -> Spent:
        """`python -m NAME`, not warmed."""
        return run_process((sys.executable, "-m", name, *words), self.environment(cache), codes)

    def _warmed(self, command: tuple[str, ...], cache: str = "cache") -> Spent:
        environment = self.environment(cache)
        if (*command, cache) not in self._warm:
            run_process(command, environment, (0, 1))
            self._warm.add((*command, cache))
        return run_process(command, environment, (0, 1))


@contextlib.contextmanager
def desk() -> Iterator[Desk]:
    """A desk whose folder goes in the end."""
    with tempfile.TemporaryDirectory() as folder:
        yield Desk(Path(folder))


def brief_path(name: str) -> str:
    """The file of a demo brief, from the project's folder."""
    return f"catalog_demo/briefs/{name}.yaml"


def called(work: Callable[[], object]) -> Spent:
    """A call in this process, with all its threads."""
    start, before = time.perf_counter(), time.process_time()
    work()
    return Spent(time.perf_counter() - start, time.process_time() - before)


def rounds(jobs: Mapping[str, Callable[[], Spent]], count: int) -> dict[str, list[Spent]]:
    """Every job once a round, forwards and backwards in turn."""
    found: dict[str, list[Spent]] = {name: [] for name in jobs}
    for k in range(count):
        for name in list(jobs) if k % 2 == 0 else reversed(list(jobs)):
            found[name].append(jobs[name]())
    return found


def ratio(what: str, one: Sequence[Spent], other: Sequence[Spent], promise: str = "", note: str = "") -> Row:
    """One against the other, round by round."""
    walls = [a.wall / b.wall for a, b in zip(one, other, strict=True)]
    cpus = [a.cpu / b.cpu for a, b in zip(one, other, strict=True) if b.cpu > 0.0]
    seconds = median(spent.wall for spent in one)
    return Row(what, "times", median(walls), min(walls), max(walls), len(walls), promise,
               median(cpus) if cpus else None, seconds, note=note)  # fmt: skip


def figure(what: str, unit: str, values: Sequence[float], promise: str = "", note: str = "") -> Row:
    """The median of some values and their spread."""
    return Row(what, unit, median(values), min(values), max(values), len(values), promise, note=note)


def _processor() -> str:
    try:
        lines = Path("/proc/cpuinfo").read_text("utf-8").splitlines()
    except OSError:
        return platform.processor() or platform.machine()
    names = [line.split(":", 1)[1].strip() for line in lines if line.startswith("model name")]
    return names[0] if names else platform.machine()


def machine() -> Machine:
    """This machine, this Python and the libraries, now."""
    versions = {"Python": platform.python_version()}
    for name in LIBRARIES:
        with contextlib.suppress(PackageNotFoundError):
            versions[name] = version(name)
    memory = os.sysconf("SC_PAGE_SIZE") * os.sysconf("SC_PHYS_PAGES") / 2**30
    cores = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
    system = f"{platform.system()} {platform.release().split('-')[0]}"
    return Machine(f"{datetime.now(UTC):%Y-%m-%d}", _processor(), cores, memory, system, os.getloadavg()[0], versions)
