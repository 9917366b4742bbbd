"""Ctrl-C and its like, at any moment: a clear word, exit code 130, no half file. Broken pipes and full disks of stdout."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time

import pytest

from tests.cli.run import ROOT, brief

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="signals as Unix has them")
STOPPED = "Stopped before the answer was known. Nothing was written.\n"
STOPPED_CELLS = (
    "Stopped before all cells were known. The output was not written; settled cells are kept. "
    "Try: the same command with --resume\n"
)
SLOW = """
import sys
import numpy as np
from solver.search import best, engine

def endless(*arguments, **keywords):
    sys.stderr.write("solving\\n")
    sys.stderr.flush()
    chance = np.random.default_rng(3)
    half = np.zeros((6, 100), np.int64)
    half[:, 1::2] = chance.integers(0, 100, (6, 50))
    rows, rhs = np.vstack([half, -half]), half.sum(axis=1) // 2
    return engine.solve_rows(rows, np.concatenate([rhs, -rhs]), [2] * 50, None)

best.solve_rows = endless
from solver.cli import main
main.run()
"""
"""A run whose first solve takes far longer than the test: 50 figures to be split in halves six times over.

Reference: G. Cornuéjols, M. Dawande, A class of hard small 0-1 programs, IPCO 1998 (from memory).
"""


def begun(*words: str) -> subprocess.Popen[str]:
    """A process in a group of its own that hears Ctrl-C, also where the tests run in the background and do not."""
    return subprocess.Popen(
        [sys.executable, *words], cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, start_new_session=True,
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),
    )  # fmt: skip


def stopped(process: subprocess.Popen[str], number: int, whole_group: bool) -> tuple[str, str, float]:
    """stdout, stderr and the seconds that stopping took."""
    start = time.monotonic()
    (os.killpg if whole_group else os.kill)(process.pid, number)
    out, err = process.communicate(timeout=30)
    return out, err, time.monotonic() - start


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_while_the_engine_solves(number):
    process = begun("-c", SLOW, "pick", brief("first_rig"))
    assert process.stderr is not None
    assert process.stderr.readline() == "solving\n"
    time.sleep(0.3)
    out, err, took = stopped(process, number, whole_group=False)
    assert (process.returncode, out, err) == (130, "", STOPPED)
    assert took < 30.0


@pytest.mark.parametrize("wait", [0.3, 0.7, 1.0])
def test_at_any_moment_of_why(wait):
    """A pass through start, reading, compiling and reasons with their threads and second process."""
    process = begun("-m", "solver.cli.main", "why", brief("light_trailer"))
    time.sleep(wait)
    out, err, took = stopped(process, signal.SIGINT, whole_group=True)
    if wait > 0.5 or process.returncode != -signal.SIGINT:  # before the program begins, Python itself ends
        assert (process.returncode, out, err) == (130, "", STOPPED)
    assert took < 30.0


@pytest.mark.parametrize(("number", "whole_group"), [(signal.SIGINT, True), (signal.SIGTERM, False)])
def test_during_a_long_whatif(tmp_path, number, whole_group):
    out_file = tmp_path / "cells.csv"
    process = begun(
        "-m", "solver.cli.main", "whatif", brief("first_rig"), "--vary", "duty.altitude=0ft:9000ft:50ft",
        "--binding", "none", "--out", str(out_file),
    )  # fmt: skip
    journal = tmp_path / "cells.csv.part"
    end = time.monotonic() + 30
    while time.monotonic() < end and not journal.exists():
        time.sleep(0.05)
    time.sleep(0.5)
    out, err, took = stopped(process, number, whole_group)
    assert (process.returncode, out, err) == (130, "", STOPPED_CELLS)
    assert [path.name for path in tmp_path.iterdir()] == ["cells.csv.part"]
    assert took < 30.0


def test_a_reader_that_leaves_early_is_no_mistake():
    command = f"{sys.executable} -m solver.cli.main pick {brief('first_rig')} --json | head -c 1"
    done = subprocess.run(command, shell=True, cwd=ROOT, capture_output=True, text=True, timeout=60, check=False)
    assert (done.returncode, done.stdout, done.stderr) == (0, "{", "")


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="needs a device without room")  # noqa: PTH110
def test_a_disk_without_room_for_the_answer():
    with open("/dev/full", "w") as full:  # noqa: PTH123
        done = subprocess.run(
            [sys.executable, "-m", "solver.cli.main", "pick", brief("first_rig")],
            cwd=ROOT, stdout=full, stderr=subprocess.PIPE, text=True, timeout=60, check=False,
        )  # fmt: skip
    assert done.returncode == 2
    assert done.stderr in (
        "The system refused: no space left on device.\n",
        "The answer could not be written (no space left on device).\n",
    )


def test_a_terminal_that_knows_ascii_only():
    done = subprocess.run(
        [sys.executable, "-m", "solver.cli.main", "pick", brief("first_rig"), "--json"],
        cwd=ROOT, env={**os.environ, "PYTHONIOENCODING": "ascii"}, capture_output=True, timeout=60, check=False,
    )  # fmt: skip
    assert done.returncode == 0
    assert done.stderr == b""
    assert done.stdout.isascii()
