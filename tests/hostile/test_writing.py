"""Outputs are whole or not there, whatever happens: killed processes, two writers, a disk without room."""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import time

import pytest

from solver.errors import CannotWrite
from solver.files import write_whole

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="signals and limits as Unix has them")

WRITER = """
import sys
from solver.errors import OutputExists
from solver.files import write_whole
path, mark, size, times = sys.argv[1], sys.argv[2], int(sys.argv[3]), int(sys.argv[4])
print("ready", flush=True)
for _ in range(times):
    write_whole(path, mark * size, force=True)
"""


def writer(path, mark: str, size: int, times: int) -> subprocess.Popen[str]:
    """A process that writes the file over and over."""
    return subprocess.Popen(
        [sys.executable, "-c", WRITER, str(path), mark, str(size), str(times)], stdout=subprocess.PIPE, text=True
    )


def test_a_process_killed_while_writing_leaves_the_old_file_or_the_new(tmp_path):
    chance = random.Random(5)
    path = tmp_path / "out.bin"
    seen = set()
    for mark in "abcdefghijkl":
        before = path.read_text() if path.exists() else ""
        process = writer(path, mark, 3_000_000, 1000)
        assert process.stdout is not None
        assert process.stdout.readline() == "ready\n"
        time.sleep(chance.uniform(0.0, 0.03))
        process.send_signal(signal.SIGKILL)
        process.communicate()
        after = path.read_text() if path.exists() else ""
        assert after in (before, mark * 3_000_000)
        seen.add(after != before)
    assert True in seen


def test_two_processes_writing_the_same_file(tmp_path):
    path = tmp_path / "out.bin"
    both = [writer(path, mark, 200_000, 60) for mark in "ab"]
    read = set()
    while any(process.poll() is None for process in both):
        if path.exists():
            content = path.read_text()
            assert content in ("a" * 200_000, "b" * 200_000)
            read.add(content[0])
    for process in both:
        assert process.communicate()[0] == "ready\n"
        assert process.returncode == 0
    assert read
    assert [found.name for found in tmp_path.iterdir()] == ["out.bin"]


def test_of_two_processes_that_may_not_replace_one_wins(tmp_path):
    script = WRITER.replace("force=True", "force=False")
    path = tmp_path / "out.bin"
    both = [
        subprocess.Popen([sys.executable, "-c", script, str(path), mark, "1000000", "1"], stderr=subprocess.PIPE, text=True,
                         stdout=subprocess.PIPE)
        for mark in "ab"
    ]  # fmt: skip
    said = [process.communicate()[1] for process in both]
    assert sorted(process.returncode for process in both) == [0, 1]
    assert sum(f"OutputExists: {path} exists already and was left as it is." in words for words in said) == 1
    assert path.read_text() in ("a" * 1_000_000, "b" * 1_000_000)


LIMITED = """
import resource, signal, sys
from solver.errors import CannotWrite
from solver.files import write_whole
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
resource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000))
try:
    write_whole(sys.argv[1], "x" * 5000, force=True)
except CannotWrite as error:
    print(error)
"""


def test_a_file_larger_than_the_system_allows(tmp_path):
    path = tmp_path / "out.txt"
    path.write_text("old")
    done = subprocess.run([sys.executable, "-c", LIMITED, str(path)], capture_output=True, text=True, check=True)
    assert done.stdout == f"{path} could not be written (file too large). Nothing was written. Try: another folder\n"
    assert path.read_text() == "old"
    assert [found.name for found in tmp_path.iterdir()] == ["out.txt"]


@pytest.mark.parametrize("call", ["open", "fsync", "replace"])
def test_a_full_disk_at_every_step(tmp_path, monkeypatch, call):
    path = tmp_path / "out.txt"
    path.write_text("old")

    def full(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, call, full)
    with pytest.raises(CannotWrite) as caught:
        write_whole(path, "new", force=True)
    monkeypatch.undo()
    assert str(caught.value) == (
        f"{path} could not be written (no space left on device). Nothing was written. Try: another folder"
    )
    assert path.read_text() == "old"
    assert [found.name for found in tmp_path.iterdir()] == ["out.txt"]


def test_a_pipe_is_not_replaced_by_a_file(tmp_path):
    path = tmp_path / "pipe"
    os.mkfifo(path)
    with pytest.raises(CannotWrite) as caught:
        write_whole(path, "x", force=True)
    assert caught.value.reason == "it is no plain file"
    assert [found.name for found in tmp_path.iterdir()] == ["pipe"]
