"""The page of performance and the README's figures, both from `docs/performance.json`, which the benchmark writes.

Contents: `Row`, `Section`, `Machine` (the shape of the results); `PROMISES`, `SECTIONS` (what is promised and measured);
`read_results`, `write_results`; `performance_page`, `performance_blocks`.

A figure stands on a page only if a run measured it. A section that was never run says so.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from pathlib import Path
from statistics import median

from docs.markdown import table

RESULTS = Path(__file__).with_name("performance.json")
PAGE = Path(__file__).with_name("performance.md")
COMMAND = "python -m tests.bench"


@dataclass(frozen=True)
class Promise:
    """What is promised: at most `mark`, in `unit`, measured in a section."""

    words: str
    mark: float
    unit: str
    section: str


@dataclass(frozen=True)
class Row:
    """One measured figure.

    `value` is what counts (median, or what `what` says), `least` and `most` its spread over `count` rounds, seeds or
    cases. `cpu`: the same figure in processor's seconds instead of those of the clock, where it was taken. `seconds`:
    for a ratio, the median seconds of what was measured. `bound`: something it was compared with was cut off, so the
    true figure is no larger than this.
    """

    what: str
    unit: str
    value: float
    least: float
    most: float
    count: int
    promise: str = ""
    cpu: float | None = None
    seconds: float | None = None
    bound: bool = False
    note: str = ""

    @property
    def met(self) -> bool | None:
        """Whether the promise is kept; None for a row that promises nothing."""
        return None if not self.promise else self.value <= PROMISES[self.promise].mark


@dataclass(frozen=True)
class Machine:
    """Where and with what a section was measured. `load`: processes that wanted a core in the minute before."""

    date: str
    processor: str
    cores: int
    memory_gb: float
    system: str
    load: float
    versions: Mapping[str, str]


@dataclass(frozen=True)
class Section:
    """The results of one section, and its settings."""

    rows: tuple[Row, ...]
    notes: tuple[str, ...]
    settings: Mapping[str, str]
    minutes: float
    machine: Machine


PROMISES: dict[str, Promise] = {
    "help": Promise('`rigset --help` against `python -c "import typer"`', 2.0, "times", "starts"),
    "pick": Promise("`rigset pick` of each demo brief against importing CP-SAT's Python layer "
                    '(`python -c "from ortools.sat.python import cp_model"`)', 2.5, "times", "starts"),
    "why": Promise("`rigset why` of each demo brief against `rigset pick` of the same", 4.0, "times", "starts"),
    "whatif": Promise("a thousand what-if cells in two processes against one `rigset pick`", 60.0, "times", "whatif"),
    "reading": Promise("reading a catalog, for each figure in it", 25.0, "us", "growth"),
    "copy": Promise("opening a large catalog from its kept copy against the first time", 0.1, "times", "growth"),
    "large": Promise("compile and proven solve at 45,000 options against the best of HiGHS, SCIP and CP-SAT (default, and "
                     "presolve off), median over the seeds", 0.1, "times", "large"),
    "large-worst": Promise("the same, worst seed", 0.25, "times", "large"),
    "hostile": Promise("hostile input that ends in anything but an answer or a clear sentence", 0.0, "cases", "hostile"),
    "hostile-memory": Promise("the most memory that takes", 1000.0, "MB", "hostile"),
}  # fmt: skip
"""Each promise by the name that rows use. The mark stands here and nowhere else."""

SECTIONS: dict[str, tuple[str, str]] = {
    "starts": (
        "Whole commands",
        "Each line is a whole process, from start to end, output thrown away, timed beside what it is compared with: both "
        "run in every round, in turn first and last, and the ratio is taken within the round. Bytecode is kept, as Python "
        "does by default, and the demo catalog's copy too, as from the second start on; both were warmed before. The "
        "operating system's file cache is warm.",
    ),
    "stages": (
        "Stages of `pick`",
        "One process; imports in processes of their own, less the start of bare Python. The stages are the functions that "
        "the command calls, called one after the other. In the command, ties are settled while the savings are worked out, "
        "so the whole takes less than the sum. Reduction and engine are parts of the search for the least cost. No kept "
        "copy for \"reading the catalog's files\", the kept copy for \"opening its kept copy\".",
    ),
    "answers": (
        "The other answers",
        "In one process, without imports and reading, against `pick` of the same brief in the same round; the rows are "
        "compiled anew for each. Curves are the least cost at every value of the requirement's grid, of all duties.",
    ),
    "insist": (
        "Insist tables",
        "What every item of the demo catalog would cost more, or the rules that exclude it: in one process, without imports "
        "and reading, once, against the median of a few picks of the same brief.",
    ),
    "whatif": (
        "A thousand what-ifs",
        "25 reaches times 40 outputs around a brief's own values. Whole commands (`rigset whatif`, with what binds in every "
        "cell) against the median of a few whole commands `rigset pick`, before and after. The last line of each brief "
        "leaves imports and reading out on both sides.",
    ),
    "growth": (
        "Growth with the catalog",
        "Invented catalogs around the demo catalog (`tests/bench/large.py`) and one brief with two duties. First and second "
        "start are processes of their own, without their imports: the first reads the files and keeps a copy, the second "
        "opens the copy. A figure is a value with a unit; the time of a whole reading is shared among the figures alone. "
        "The exponent is the slope of a straight line through the logarithms of time and options, by least squares, over "
        "the medians of the seeds.",
    ),
    "against": (
        "Against general solvers: demo briefs",
        "The same integer rows for all, one thread each, to proven optimality or proof that nothing fits. Ours counts "
        "compiling the rows, reduction and search for the least cost; the others are handed the finished rows, and only "
        "their solving counts, not the building of their models in Python. Settings are the defaults but for the thread, "
        "the time limit and an absolute gap below one step of the cost. CPMpy hands its model to CP-SAT; what counts is "
        "that solve, and its building of the model is noted. Not compared: ties, savings and explanations, which the "
        "others do not have. Where one was cut off, the ratio is a bound.",
    ),
    "large": (
        "Against general solvers: 45,000 options",
        "As above, on generated catalogs, a seed each. A solver is cut off once it is twelve times slower "
        "than ours: enough to know the promise. Its ratio is then at most what is shown. CPMpy is left "
        "out: it stands on CP-SAT, which is there.",
    ),
    "hostile": (
        "Hostile input",
        "Every reader is fed with mangled input from a seed (`tests/bench/fuzz_readers.py`), in two processes side by side. "
        "A case fails if it ends in anything but an answer or a clear sentence.",
    ),
}  # fmt: skip
"""Title of each section, and what is measured there and what not."""


def read_results(path: Path = RESULTS) -> dict[str, Section]:
    """The sections measured so far, in the order of `SECTIONS`."""
    if not path.exists():
        return {}
    data = json.loads(path.read_text("utf-8"))
    return {name: _section(data[name]) for name in SECTIONS if name in data}


def _section(data: dict[str, object]) -> Section:
    found = dict(data)
    rows = tuple(Row(**row) for row in found.pop("rows"))  # type: ignore[attr-defined]
    notes, machine = tuple(found.pop("notes")), Machine(**found.pop("machine"))  # type: ignore[arg-type]
    return Section(rows=rows, notes=notes, machine=machine, **found)  # type: ignore[arg-type]


def write_results(results: Mapping[str, Section], path: Path = RESULTS) -> None:
    """Keep the results; sections in the order of `SECTIONS`."""
    data = {name: asdict(results[name]) for name in SECTIONS if name in results}
    path.write_text(json.dumps(data, indent=1) + "\n", "utf-8")


def shown(value: float, unit: str) -> str:
    """A figure as the tables show it: three digits, its unit behind it."""
    if unit in ("cases", "options"):
        return f"{value:,.0f}"
    text = f"{value:,.0f}" if abs(value) >= 100.0 else f"{value:#.3g}"
    return text if unit in ("times", "") else f"{text} {unit}"


def _verdict(row: Row) -> tuple[str, str]:
    if row.met is None:
        return "", ""
    mark = PROMISES[row.promise]
    unit = "" if mark.unit in ("times", "cases") else f" {mark.unit}"
    return f"{mark.mark:g}{unit}", "met" if row.met else "**not met**"


def _cells(row: Row) -> tuple[str, ...]:
    value = ("at most " if row.bound else "") + shown(row.value, row.unit)
    spread = f"{shown(row.least, '')} to {shown(row.most, '')}" if row.least < row.most else ""
    cpu = "" if row.cpu is None else shown(row.cpu, "")
    seconds = "" if row.seconds is None else shown(row.seconds, "s")
    return (row.what, value, spread, str(row.count), cpu, seconds, *_verdict(row), row.note)


_HEADINGS = ("what", "measured", "spread", "of", "by processor's seconds", "takes", "mark, at most", "", "note")


def _machine_words(machine: Machine) -> str:
    libraries = ", ".join(f"{name} {version}" for name, version in machine.versions.items())
    return (
        f"{machine.date}; {machine.processor}, {machine.cores} cores, {machine.memory_gb:.0f} GB; {machine.system}; "
        f"load before the start {machine.load:.2f}. {libraries}."
    )


def section_lines(name: str, section: Section | None) -> list[str]:
    """A section of the page."""
    title, words = SECTIONS[name]
    lines = [f"## {title}", "", words, "", f"Alone: `{COMMAND} --only {name}`", ""]
    if section is None:
        return [*lines, "Not measured yet.", ""]
    settings = ", ".join(f"{key} {value}" for key, value in section.settings.items())
    lines += [_machine_words(section.machine), "", f"Settings: {settings}. It took {section.minutes:.1f} minutes.", ""]
    if section.machine.load > 0.5:
        lines += ["The machine was not quiet: times by the clock are too long, and the ratios less certain.", ""]
    lines += table(_HEADINGS, [_cells(row) for row in section.rows]).splitlines()
    return [*lines, "", *(f"- {note}" for note in section.notes), *([""] if section.notes else [])]


def promise_rows(results: Mapping[str, Section]) -> list[tuple[str, str, str, str]]:
    """Each promise: words, mark, the figure that is nearest to breaking it, and the verdict."""
    found = []
    for name, promise in PROMISES.items():
        mark = shown(promise.mark, promise.unit)
        section = results.get(promise.section)
        rows = [row for row in section.rows if row.promise == name] if section is not None else []
        if not rows:
            found.append((promise.words, mark, "", "not measured yet"))
            continue
        worst = max(rows, key=lambda row: row.value)
        value = ("at most " if worst.bound else "") + shown(worst.value, worst.unit)
        told = f"{value} ({worst.what})" if len(rows) > 1 else value
        found.append((promise.words, mark, told, "met" if all(row.met for row in rows) else "**not met**"))
    return found


def _minutes(results: Mapping[str, Section]) -> str:
    """What a whole run takes, if every section was measured."""
    if set(results) != set(SECTIONS):
        return ""
    return f" All sections below took {sum(section.minutes for section in results.values()):.0f} minutes together."


def performance_page(results: Mapping[str, Section] | None = None) -> str:
    """docs/performance.md, from the results given or else from those kept."""
    results = read_results() if results is None else results
    lines = [
        f"<!-- This page is written by `{COMMAND} --write` from docs/performance.json; change the program, not the page. -->",
        "",
        "# Performance",
        "",
        "What the program takes, measured by one command. It writes this page anew:",
        "",
        "```sh",
        "pip install -e '.[test,bench]'",
        f"{COMMAND} --write",
        "```",
        "",
        f"It is no part of the tests that must pass.{_minutes(results)} A section can be run alone: "
        f"`{COMMAND} --only starts --write` measures that one and keeps the others as they are; each says when "
        "and where it was measured. `--quick` shows whether everything runs, not how fast it is; `--seeds` and `--limit` set "
        "how many catalogs are generated and how many seconds a general solver gets.",
        "",
        "Seconds depend on the machine; ratios taken within one run depend on it less. So each promise is a ratio, but "
        "for reading and hostile input. \"Measured\" is the median of as many rounds as \"of\" says, and \"spread\" the "
        "least and the most of them; what is measured otherwise says so.",
        "",
        "## Promises",
        "",
        *table(("promised", "mark, at most", "measured, worst line", ""), promise_rows(results)).splitlines(),
        "",
    ]  # fmt: skip
    for name in SECTIONS:
        lines += section_lines(name, results.get(name))
    return "\n".join(lines).rstrip() + "\n"


def performance_blocks(results: Mapping[str, Section] | None = None) -> dict[str, str]:
    """The README's block: the three figures that matter to a person."""
    results = read_results() if results is None else results
    return {"performance": "".join(f"- {line}\n" for line in _three(results))}


def _three(results: Mapping[str, Section]) -> list[str]:
    told = [_start_words(results, "pick", "the answer"), _start_words(results, "why", "the reasons in full")]
    cells = _promised(results, "whatif")
    large = _promised(results, "large")
    if cells:
        slow = max(cells, key=lambda row: row.seconds or 0.0)
        told.append(f"a thousand what-ifs on two cores: {shown(slow.seconds or 0.0, 's')} at most, {shown(slow.value, '')} "
                    "times one pick")  # fmt: skip
    elif large:
        told.append(f"45,000 options, compiled and proven: {shown(large[0].seconds or 0.0, 's')}")
    else:
        told.append("a thousand what-ifs: not measured yet")
    return told


def _start_words(results: Mapping[str, Section], promise: str, what: str) -> str:
    rows = _promised(results, promise)
    if not rows:
        return f"`rigset {promise}`, {what}: not measured yet"
    seconds = [row.seconds or 0.0 for row in rows]
    against = {"pick": "importing CP-SAT's Python layer alone", "why": "one pick"}[promise]
    return (
        f"`rigset {promise}`, {what}: {shown(median(seconds), 's')} on a demo brief, {shown(max(seconds), 's')} on the "
        f"slowest; {shown(max(row.value for row in rows), '')} times {against} at most"
    )


def _promised(results: Mapping[str, Section], promise: str) -> list[Row]:
    section = results.get(PROMISES[promise].section)
    return [row for row in section.rows if row.promise == promise] if section is not None else []
