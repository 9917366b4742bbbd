"""`rigset whatif`: text, JSON, files, and a run that is killed at random and goes on to the same bytes."""

from __future__ import annotations

import json
import os
import random
import signal
import subprocess
import sys
import time

import pytest

from solver.answers.whatif import WhatIf, whatif
from tests.cli.run import ROOT, brief, python, rigset

VARY = ("--vary", "duty.hose_reach=100ft,150ft", "--vary", "limits.budget=60000USD,90000USD")
GRID = ("whatif", brief("first_rig"), *VARY, "--binding", "none", "--jobs", "1")


_FOUND: dict[object, WhatIf] = {}


@pytest.fixture(autouse=True)
def kept(monkeypatch):
    """What a study of this process finds, worked out once; those in processes of their own are not touched."""

    def once(catalog, asked, vary, by, one_at_a_time, binding, **more):
        key = (asked.title, tuple(vary), by, one_at_a_time, binding)
        if key not in _FOUND:
            _FOUND[key] = whatif(catalog, asked, vary, by, one_at_a_time, binding, jobs=1)
        return _FOUND[key]

    monkeypatch.setattr("solver.answers.whatif.whatif", once)


def test_the_text_fits_and_says_where_the_answer_switches():
    for columns in (80, 120):
        outcome = rigset(*GRID, columns=columns)
        assert (outcome.code, outcome.err) == (0, "")
        assert max(len(line) for line in outcome.out.splitlines()) <= columns
    words = " ".join(outcome.out.split())
    assert "4 cells, 2 with a rig, 2 where no rig fits" in words
    assert "duty.hose_reach from 100 ft to 150 ft" in words
    assert "The rig of 100 ft does not do for 150 ft: HOSE-01 Summer barns: 150.00 ft of hose reach the work" in words
    assert "Cautions" in outcome.out


def test_si_units():
    outcome = rigset(*GRID, "--units", "si")
    assert "30.48 m" in outcome.out
    assert "kg" in outcome.out
    data = rigset(*GRID, "--units", "si", "--json").data
    assert data["vary"][0]["values"] == [30.48, 45.72]
    assert data["vary"][0]["unit"] == "m"


def test_json_names_each_rig_once():
    data = rigset(*GRID, "--json").data
    assert [cell["values"] for cell in data["cells"]] == [[100.0, 60000.0], [100.0, 90000.0], [150.0, 60000.0],
                                                        [150.0, 90000.0]]  # fmt: skip
    assert [cell["status"] for cell in data["cells"]] == ["none", "found", "none", "found"]
    for cell in data["cells"]:
        if cell["status"] == "found":
            price = sum(line["price"] for line in data["rigs"][cell["rig"]])
            assert price == pytest.approx(cell["total"]["price"])
        else:
            assert (cell["rig"], cell["total"], cell["conflict"] != []) == (None, None, True)
    assert data["base"]["values"] == [None, None]
    assert {caution["id"] for caution in data["cautions"]} >= {"sizing-only", "isocyanates"}


def test_a_tornado_lists_each_requirement_by_its_span():
    outcome = rigset(*GRID, "--one-at-a-time")
    words = " ".join(outcome.out.split())
    assert "How far each moves the price" in words
    assert "4 cells, " in words


def test_csv_has_units_in_its_headings(tmp_path):
    out = tmp_path / "cells.csv"
    assert rigset(*GRID, "--out", str(out)).code == 0
    lines = out.read_text("utf-8").splitlines()
    assert lines[0].startswith("cell,duty.hose_reach (ft),limits.budget (USD),status,price (USD),weight (lb),start up (USD),")
    assert [line.split(",")[:4] for line in lines[1:]] == [
        ["0", "", "", "found"], ["1", "100.0", "60000.0", "none"], ["2", "100.0", "90000.0", "found"],
        ["3", "150.0", "60000.0", "none"], ["4", "150.0", "90000.0", "found"],
    ]  # fmt: skip
    assert [path.name for path in tmp_path.iterdir()] == ["cells.csv"]


def test_json_and_parquet_files_say_the_same_as_csv(tmp_path):
    pandas = pytest.importorskip("pandas")
    pytest.importorskip("pyarrow")
    assert rigset(*GRID, "--out", str(tmp_path / "cells.csv"), "--force").code == 0
    assert rigset(*GRID, "--out", str(tmp_path / "cells.parquet")).code == 0
    assert rigset(*GRID, "--out", str(tmp_path / "cells.json")).code == 0
    csv = pandas.read_csv(tmp_path / "cells.csv", keep_default_na=False)
    parquet = pandas.read_parquet(tmp_path / "cells.parquet")
    assert list(csv) == list(parquet)
    assert list(csv["status"]) == list(parquet["status"])
    assert [float(p or 0) for p in csv["price (USD)"]] == list(parquet["price (USD)"].fillna(0.0))
    data = json.loads((tmp_path / "cells.json").read_text("utf-8"))
    assert data == rigset(*GRID, "--json").data


def test_exit_1_where_no_cell_has_a_rig():
    outcome = rigset("whatif", brief("first_rig"), "--vary", "limits.budget=20000USD", "--binding", "none", "--jobs", "1")
    assert (outcome.code, outcome.err) == (1, "")
    assert "1 where no rig fits" in " ".join(outcome.out.split())


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (("--vary", "duty.hose_reach=12psi"), 'found "12psi", a pressure; expected a length such as 50 ft.\n'),
        (("--vary", "budget=1USD", "--resume"),
         "found --resume without --out; expected the file whose run was stopped. Try: --out cells.csv --resume\n"),
        (("--vary", "budget=1USD", "--out", "cells.txt"),
         'found "cells.txt"; expected a file that ends in .csv, .json or .parquet. Try: cells.txt.csv\n'),
    ],
)  # fmt: skip
def test_bad_input_is_exit_code_2(arguments, message):
    outcome = rigset("whatif", brief("first_rig"), *arguments)
    assert (outcome.code, outcome.out, outcome.err) == (2, "", message)


def test_a_file_that_is_there_is_kept(tmp_path):
    out = tmp_path / "cells.csv"
    out.write_text("mine", "utf-8")
    outcome = rigset(*GRID, "--out", str(out))
    assert (outcome.code, outcome.out) == (2, "")
    assert outcome.err == f"{out} exists already and was left as it is. Try: another name, or --force to replace it\n"
    assert out.read_text("utf-8") == "mine"


def test_a_missing_library_is_named_with_its_extra(monkeypatch, tmp_path):
    monkeypatch.setitem(sys.modules, "pyarrow", None)
    monkeypatch.setattr("importlib.util.find_spec", lambda name: None)
    outcome = rigset.__wrapped__(*GRID, "--out", str(tmp_path / "cells.parquet"))
    assert (outcome.code, outcome.out) == (2, "")
    assert outcome.err == (
        "found no pyarrow; expected pyarrow to be installed, which comes with the extra `study`. Try: pip install "
        "'rigset[study]', or a file that ends in .csv\n"
    )


SMALL = ("whatif", brief("owned_truck"), "--vary", "margins.power_margin=15%", "--binding", "none", "--jobs", "1")


def test_nothing_of_the_extra_is_loaded_for_csv(tmp_path):
    script = (
        "import sys\n"
        f"sys.argv = ['rigset', *{list(SMALL)!r}, '--out', {str(tmp_path / 'cells.csv')!r}]\n"
        "from solver.cli.main import outcome\n"
        "code = outcome()\n"
        "heavy = [name for name in ('pandas', 'pyarrow', 'dask', 'distributed', 'pint') if name in sys.modules]\n"
        "sys.stderr.write(f'{code} {heavy}')\n"
    )
    assert python("-c", script).stderr == "0 []"


KILLED = ("whatif", brief("owned_truck"), "--vary", "margins.power_margin=5%:20%:5%", "--vary",
          "duty.hose_reach=100ft:120ft:10ft", "--binding", "none")  # fmt: skip
SMALL_PIECES = "import solver.answers.whatif as w; w.CHUNK = 3; from solver.cli.main import run; run()"


def started(out: str, *more: str) -> subprocess.Popen[bytes]:
    """The command in a process of its own, in small pieces, so that there is something to kill."""
    command = [sys.executable, "-c", SMALL_PIECES, *KILLED, "--out", out, *more]
    return subprocess.Popen(command, cwd=ROOT, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE)


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="no SIGKILL here")
@pytest.mark.parametrize(("seed", "jobs"), [(1, "1"), (2, "1"), (3, "2")])
def test_a_run_killed_at_random_and_resumed_gives_the_same_bytes(tmp_path, seed, jobs, whole_run):
    rng = random.Random(seed)
    out = tmp_path / "run.csv"
    kills = 0
    for attempt in range(8):
        process = started(str(out), "--jobs", jobs, *(["--resume"] if attempt else []))
        if kills < 2:
            seen_working(process, out)
            time.sleep(rng.uniform(0.0, 0.8))
            if process.poll() is None:
                os.kill(process.pid, signal.SIGKILL)
                kills += 1
        _, complaint = process.communicate(timeout=120)
        assert b"Traceback" not in complaint, complaint
        if out.exists():
            break
    assert kills >= 1
    assert out.read_bytes() == whole_run
    assert [path.name for path in tmp_path.iterdir()] == ["run.csv"]


def seen_working(process: subprocess.Popen[bytes], out) -> None:
    """Wait until there is a journal, or nothing to wait for."""
    part = out.with_name(f"{out.name}.part")
    for _ in range(2400):
        if process.poll() is not None or (part.exists() and part.stat().st_size):
            return
        time.sleep(0.025)


@pytest.fixture(scope="module")
def whole_run(tmp_path_factory) -> bytes:
    """The output of a run that nobody disturbs."""
    out = tmp_path_factory.mktemp("whole") / "run.csv"
    process = started(str(out), "--jobs", "2")
    _, complaint = process.communicate(timeout=120)
    assert (process.returncode, complaint) == (0, b"")
    return out.read_bytes()


def test_workers_end_when_their_parent_is_killed(tmp_path):
    process = started(str(tmp_path / "run.csv"), "--jobs", "2")
    children: list[int] = []
    for _ in range(600):
        time.sleep(0.05)
        listed = subprocess.run(["ps", "-o", "pid=", "--ppid", str(process.pid)], capture_output=True, text=True, check=False)
        children = [int(pid) for pid in listed.stdout.split() if int(pid) != os.getpid()]
        if len(children) >= 3 or process.poll() is not None:
            break
    os.kill(process.pid, signal.SIGKILL)
    process.wait()
    if process.stderr:
        process.stderr.close()
    left = children
    for _ in range(200):
        left = [pid for pid in children if _alive(pid)]
        if not left:
            break
        time.sleep(0.05)
    assert children
    assert left == []


def _alive(pid: int) -> bool:
    try:
        with open(f"/proc/{pid}/stat", encoding="utf-8") as file:  # noqa: PTH123
            return file.read().rpartition(")")[2].split()[0] != "Z"
    except FileNotFoundError:
        return False
