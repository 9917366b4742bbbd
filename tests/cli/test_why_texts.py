"""The whole text of the reasons, word for word, under several hash seeds.

The texts stand in `texts/`. Where a change of catalog, brief or wording is meant, write them anew by running this file:
`python -m tests.cli.test_why_texts`, and read what changed.
"""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
TEXTS = Path(__file__).with_name("texts")
CASES: dict[str, tuple[str, ...]] = {
    "first_rig": ("first_rig",),
    "wish_list": ("wish_list",),
    "owned_truck_by_weight": ("owned_truck", "--by", "weight", "--better-by", "10%", "--units", "si"),
    "owned_truck_curve": ("owned_truck", "--curve", "hose_reach"),
}


def said(case: str, seed: str) -> str:
    name, *options = CASES[case]
    command = [sys.executable, "-m", "solver.cli.main", "why", f"catalog_demo/briefs/{name}.yaml", *options]
    environment = {**os.environ, "PYTHONHASHSEED": seed, "COLUMNS": "80", "RIGSET_CACHE": "off", "PYTHONIOENCODING": "utf-8"}
    done = subprocess.run(command, env=environment, cwd=ROOT, capture_output=True, check=False)
    assert done.stderr == b"", done.stderr
    return done.stdout.decode("utf-8")


@pytest.mark.parametrize(("case", "seed"), [*((case, "1") for case in CASES), ("first_rig", "7"), ("wish_list", "7")])
def test_the_whole_text(case, seed):
    assert said(case, seed) == (TEXTS / f"{case}.txt").read_text("utf-8")


if __name__ == "__main__":
    for case in CASES:
        (TEXTS / f"{case}.txt").write_text(said(case, "0"), "utf-8")
