"""No file takes more than a gigabyte: each is read in a process of its own, whose greatest size is measured."""

from __future__ import annotations

import subprocess
import sys

import pytest

pytest.importorskip("resource")

SCRIPT = """
import resource, sys
from pathlib import Path
limit = 4 << 30
resource.setrlimit(resource.RLIMIT_AS, (limit, limit))
from solver.catalog import read_catalog
from solver.errors import InputError
try:
    read_catalog(Path(sys.argv[1]))
except InputError as error:
    print(str(error.mistakes[-1]).split(":", 1)[1][:200])
print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024)
"""
MANY = " found more entries than a file may have; expected at most 2,000,000. Try: several smaller files"
HEAVY = {
    "empty mappings": ("class: gun\nitems: [" + "{}," * 1_100_000 + "]", "2:" + MANY),
    "repeated keys": ("a: 1\n" * 2_000_000, '1001: found "a" a second time; expected each key once (first in line 1).'),
    "aliases": (
        "a: &a [x, x, x, x, x, x, x, x, x]\n" + "".join(f"k{k}: [*a, *a]\n" for k in range(9)),
        "2: found the alias *a; expected every entry written out. Try: a copy of the entry",
    ),
    "one deep list": ("[" * 5_000_000, "1: found more than 20 lists or mappings inside each other; expected at most 20."),
}


@pytest.mark.parametrize("name", HEAVY)
def test_memory(tmp_path, name):
    text, sentence = HEAVY[name]
    (tmp_path / "a.yaml").write_text(text)
    done = subprocess.run(
        [sys.executable, "-c", SCRIPT, str(tmp_path)], capture_output=True, text=True, timeout=120, check=False
    )
    assert done.stderr == ""
    told, peak = done.stdout.splitlines()
    assert told == sentence
    assert int(peak) < 1000
