"""The runs of mutation testing: each changed text is tried in a forked process that has everything else loaded.

Contents: `Floor`, `FLOORS` (which tests judge which floor); `Runner` (which tests run which line, found once with coverage,
and the trial of one change). The command is `mutants.py`.
"""

from __future__ import annotations

import contextlib
import gc
import importlib
import io
import json
import os
import pkgutil
import resource
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from importlib.machinery import SourceFileLoader
from pathlib import Path
from typing import Any

import pytest
from cosmic_ray.mutating import mutate_code
from cosmic_ray.work_item import MutationSpec, TestOutcome, WorkerOutcome, WorkResult

from tests.bench.mutants_operators import Chosen

LIMIT = 120
"""A test run of a mutant that takes more processor time [s] is ended, and the mutant counts as killed."""
FEW = 25
"""So many of the tests that run a changed line are tried before the others are loaded."""
TIMED = "not costs_next_to_nothing"
"""Tests that measure time are left out: a busy machine must not kill a mutant."""
UNUSED = ("cacheprovider", "xdist", "unraisableexception", "threadexception", "faulthandler")
"""Plugins of pytest that would take longer than most tests."""
LIBRARIES = ("numpy", "hypothesis", "pydantic", "yaml", "pint", "typer.testing", "ortools.sat.python.cp_model_helper")


@dataclass(frozen=True)
class Floor:
    """A floor: its tests, libraries and lower floors that are loaded before forking, whether survivors meet every test."""

    tests: tuple[str, ...]
    below: tuple[str, ...] = ()
    libraries: tuple[str, ...] = ()
    all_tests: bool = True
    most: float = 600.0
    """Seconds of tests that a mutant gets, the quickest first; one that outlives them counts as alive."""


BRIEF = ("errors", "quantities", "files", "yaml_events", "formulas", "catalog", "brief")
ROOT = Path(__file__).resolve().parents[2]
QUICK_ANSWERS = (
    *(f"tests/answers/{path.name}" for path in sorted((ROOT / "tests/answers").glob("test_small_*.py"))
      if path.stem != "test_small_truths"),
    *(f"tests/answers/test_{name}.py" for name in ("rig_file", "whatif_values", "steps_rows")),
    "tests/hostile/test_certificate.py",
)  # fmt: skip
"""Tests of answers that do not solve whole briefs of the demo catalog: the small world, and quick ones of their own."""
FLOORS = {
    "formulas": Floor(("tests/formulas", "tests/published"), BRIEF[:4], ("fluids", "CoolProp.CoolProp", "psychrolib"), False),
    "program": Floor(("tests/program",), (*BRIEF, "options", "rules"), all_tests=False),
    "options": Floor(("tests/options",), BRIEF),
    "rules": Floor(("tests/rules",), (*BRIEF, "options")),
    "answers": Floor(QUICK_ANSWERS, (*BRIEF, "options", "rules", "program", "search"), (), False, 60.0),
}


class _Chooser:
    """pytest plugin: which tests are run and in what order, and which one failed."""

    def __init__(self, wanted: list[str]) -> None:
        """`wanted`: names of tests in their order, or of whole files."""
        self.place = {name: place for place, name in enumerate(wanted)}
        self.failed = ""

    def _place(self, item: pytest.Item) -> int | None:
        return self.place.get(item.nodeid, self.place.get(item.nodeid.partition("::")[0]))

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        found = [(place, item) for item in items if (place := self._place(item)) is not None]
        items[:] = [item for _, item in sorted(found, key=lambda pair: pair[0])]

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.failed:
            self.failed = self.failed or report.nodeid

    def pytest_collectreport(self, report: pytest.CollectReport) -> None:
        if report.failed:
            self.failed = self.failed or f"reading {report.nodeid}"


class _Tracer:
    """pytest plugin: says to coverage which test is running."""

    def __init__(self, cover: Any) -> None:
        self.cover = cover
        self.took: dict[str, float] = {}
        self.load: dict[str, float] = {}
        self.failed: list[str] = []

    @pytest.hookimpl(wrapper=True)
    def pytest_make_collect_report(self, collector: pytest.Collector) -> Any:
        begun = time.process_time()
        try:
            return (yield)
        finally:
            if isinstance(collector, pytest.Module):
                self.load[collector.nodeid] = time.process_time() - begun

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Any:
        self.took[item.nodeid] = 0.0
        self.cover.switch_context(item.nodeid)
        try:
            return (yield)
        finally:
            self.cover.switch_context("")

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        self.took[report.nodeid] += report.duration
        if report.failed:
            self.failed.append(report.nodeid)


def _pytest(files: Iterable[str], plugin: object, *more: str) -> int:
    """Run tests; random ones with the same numbers each time, not shrunk, and however long they take."""
    from hypothesis import Phase, settings

    phases = (Phase.explicit, Phase.generate)
    settings.register_profile("mutants", database=None, derandomize=True, deadline=None, phases=phases)
    settings.load_profile("mutants")
    given = ["-q", "--tb=no", "-k", TIMED, *(f"-pno:{name}" for name in UNUSED)]
    return int(pytest.main([*files, *given, *more], plugins=[plugin]))


class Runner:
    """Tries texts of modules against tests, each try in a forked process."""

    def __init__(self, floor: str, kept: Path, only: tuple[str, ...] = ()) -> None:
        """`kept`: where to keep which tests run which line, until a test or the floor changes; `only`: files of tests that
        judge alone."""
        self.floor = FLOORS[floor]
        self.folder = Path("solver") / floor
        self.kills: dict[Path, Counter[str]] = {}
        sys.dont_write_bytecode = False
        sys.pycache_prefix = str(Path(tempfile.gettempdir()) / "rigset_mutants_bytecode")
        os.environ["OPENBLAS_NUM_THREADS"] = "1"
        for name in (*LIBRARIES, *self.floor.libraries):
            importlib.import_module(name)
        for name in self.floor.below:
            module = importlib.import_module(f"solver.{name}")
            for each in pkgutil.iter_modules(getattr(module, "__path__", ())):
                importlib.import_module(f"solver.{name}.{each.name}")
        if f"solver.{floor}" in sys.modules:
            raise RuntimeError(f"solver.{floor} was loaded before its change")
        with tempfile.TemporaryDirectory() as empty, contextlib.redirect_stdout(io.StringIO()):
            pytest.main([empty, *(f"-pno:{name}" for name in UNUSED)])  # loads the plugins
        gc.collect()
        gc.freeze()
        self.only = only
        self.lines: dict[tuple[str, int], set[str]] = {}
        if not only:
            self._learn(kept)
        elif self._forked(lambda: _pytest(only, _Chooser(list(only))), LIMIT) != 0:
            raise RuntimeError(f"the tests do not pass before any change: {only}")

    def _learn(self, kept: Path) -> None:
        """Which tests run which line, and how long they take."""
        places = (self.folder, *map(Path, self.floor.tests))
        newest = max(path.stat().st_mtime for place in places for path in _read_from(place))
        if not kept.exists() or kept.stat().st_mtime < newest:
            found = self._forked(self._cover, 3600)
            if not found or found[0]:
                raise RuntimeError(f"the tests do not pass before any change: {found and found[4]}")
            kept.write_text(json.dumps(found[1:4]), encoding="utf-8")
        lines, self.took, self.load = json.loads(kept.read_text(encoding="utf-8"))
        self.lines = {(name, int(line)): set(tests) for name, own in lines.items() for line, tests in own.items()}

    def _cover(self) -> Any:
        import coverage

        cover = coverage.Coverage(data_file=None, config_file=False, include=[f"{self.folder.resolve()}/*"])
        cover.start()
        tracer = _Tracer(cover)
        code = _pytest(self.floor.tests, tracer)
        cover.stop()
        data = cover.get_data()
        return code, {
            Path(name).name: {line: [t for t in tests if t] for line, tests in data.contexts_by_lineno(name).items()}
            for name in data.measured_files()
        }, tracer.took, tracer.load, tracer.failed  # fmt: skip

    def judge(self, change: MutationSpec) -> WorkResult:
        """Killed or survived, and the test that killed it."""
        source = change.module_path.read_text(encoding="utf-8")
        text = mutate_code(source, Chosen()[change.operator_name.partition("/")[2]](), change.occurrence)
        rank = self.kills.setdefault(change.module_path, Counter())
        covering: set[str] = set()
        for line in range(change.start_pos[0], change.end_pos[0] + 1):
            covering |= self.lines.get((change.module_path.name, line), set())
        if text is None or text == source:
            return WorkResult(worker_outcome=WorkerOutcome.NO_TEST)
        for wanted in filter(None, self._stages(covering, rank)):
            found = self._forked(lambda tests=wanted: self._try(change.module_path, text, tests), LIMIT)
            code, by = found or (1, "limit of work")
            if code not in (0, 5):
                rank[by] += 1
                return WorkResult(WorkerOutcome.NORMAL, by, TestOutcome.KILLED, _diff(source, text))
        told = f"{len(covering)} tests run this line"
        return WorkResult(WorkerOutcome.NORMAL, told, TestOutcome.SURVIVED, _diff(source, text))

    def _stages(self, covering: set[str], rank: Counter[str]) -> Iterable[list[str]]:
        """Tests to run one after the other until one kills: first a few that killed before or are quick."""
        if self.only:
            yield list(self.only)
            return

        def order(names: Iterable[str]) -> list[str]:
            return sorted(names, key=lambda name: (-rank[name], self.took[name], name))

        kills: Counter[str] = Counter()
        for name, count in rank.items():
            kills[name.partition("::")[0]] += count
        near = covering or {name for name in self.took if kills[name.partition("::")[0]]}
        files = sorted({name.partition("::")[0] for name in near}, key=lambda file: (-kills[file], self.load[file], file))
        first = order(name for name in near if name.partition("::")[0] in files[:2])[: FEW if covering else None]
        first = [name for name in first if self.took[name] < self.floor.most / 4]
        yield first
        everything = self.took.keys() if self.floor.all_tests or not covering else covering
        left, rest = self.floor.most, []
        for name in order(everything - set(first)):
            left -= self.took[name]
            if left > 0.0:
                rest.append(name)
        yield rest

    def _try(self, path: Path, text: str, wanted: list[str]) -> Any:
        given, target = SourceFileLoader.get_code, str(path.resolve())

        def get_code(loader: SourceFileLoader, name: str) -> Any:
            return compile(text, target, "exec", dont_inherit=True) if loader.path == target else given(loader, name)

        SourceFileLoader.get_code = get_code  # type: ignore[method-assign]
        chooser = _Chooser(wanted)
        files = sorted({name.partition("::")[0] for name in wanted})
        return _pytest(files, chooser, "-x"), chooser.failed

    @staticmethod
    def _forked(work: Callable[[], Any], seconds: int) -> Any:
        """What the work gives in a process of its own; None if it did not end properly."""
        with tempfile.NamedTemporaryFile() as answer:
            child = os.fork()
            if child == 0:
                try:
                    os.setpgid(0, 0)
                    resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds))
                    resource.setrlimit(resource.RLIMIT_DATA, (6 << 30, 6 << 30))
                    nothing = os.open(os.devnull, os.O_RDWR)
                    for stream in (0, 1, 2):
                        os.dup2(nothing, stream)
                    Path(answer.name).write_text(json.dumps(work()), encoding="utf-8")
                finally:
                    os._exit(0)
            os.waitpid(child, 0)
            told = Path(answer.name).read_text(encoding="utf-8")
        return json.loads(told) if told else None


def _read_from(place: Path) -> Iterator[Path]:
    """The files of a folder that a result depends on; a file of tests brings the folders of data beside it."""
    for folder in [place] if place.is_dir() else [place.parent / "small"]:
        yield from (path for path in folder.rglob("*") if path.suffix in (".py", ".yaml", ".json"))
    if place.is_file():
        yield place


def _diff(before: str, after: str) -> str:
    """The changed lines, old and new."""
    old, new = before.splitlines(), after.splitlines()
    first = next((i for i, (a, b) in enumerate(zip(old, new, strict=False)) if a != b), min(len(old), len(new)))
    last = next((i for i, (a, b) in enumerate(zip(old[::-1], new[::-1], strict=False)) if a != b), 0)
    return "\n".join([f"- {line.strip()}" for line in old[first : len(old) - last]]
                     + [f"+ {line.strip()}" for line in new[first : len(new) - last]])  # fmt: skip
