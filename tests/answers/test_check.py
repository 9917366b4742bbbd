"""check judges a rig as the engine does, and does so without it."""

from __future__ import annotations

import json
import random
import subprocess
import sys

import numpy as np
import pytest

from solver.answers.check import check
from solver.report.as_data import pick_data, to_json
from tests.demo.demo import BRIEFS, COSTS, FOLDER, IMPOSSIBLE, POSSIBLE, answer, asked, brief, brief_path, stock


def rig_file(path, of, rig):
    """A rig as lines of slot, item and choice, the form that `pick --json` has."""
    lines = [{"slot": line.slot, "item": line.item, "choice": line.choice} for line in of.lines(rig)]
    path.write_text(json.dumps({"rig": lines}), encoding="utf-8")
    return path


@pytest.mark.parametrize("by", COSTS)
@pytest.mark.parametrize("name", POSSIBLE)
def test_the_best_rig_fits(name, by, tmp_path):
    of = asked(name)
    found = of.best(by=by)
    assert found.columns is not None
    rig = of.rig_of(found.columns)
    checked = check(stock(), brief(name), rig_file(tmp_path / "rig.json", of, rig))
    assert checked.fits
    assert checked.failures == ()
    assert checked.rig == of.lines(rig)
    assert checked.total == of.totals(rig)
    assert checked.balances == of.balances(rig)
    assert all(balance.holds for balance in checked.balances)


@pytest.mark.parametrize("name", BRIEFS)
def test_any_rig_fits_if_and_only_if_every_integer_row_holds(name, tmp_path):
    """Random rigs, most of which fail: the failures are exactly the places of the rows that are broken."""
    of, rng = asked(name), np.random.default_rng(5)
    fits = 0
    for _ in range(5):
        columns = np.array([rng.integers(start, end) for start, end in of.program.slices], np.int64)
        rig = of.rig_of(columns)
        rig["generator"] = min(rig["generator"], len(of.setting.slots["generator"]) - 2)
        columns = of.columns_of(rig)
        checked = check(stock(), brief(name), rig_file(tmp_path / "rig.json", of, wired(of, rig)))
        columns = of.columns_of(wired(of, rig))
        broken = of.program.rows[:, columns].sum(axis=1) > of.program.rhs
        places = {label for label, broke in zip(of.program.labels, broken, strict=True) if broke}
        assert {balance.place for balance in checked.failures} == places
        assert checked.fits == of.program.fits(columns)
        fits += checked.fits
    assert fits < 5


def wired(of, rig):
    """The rig with every load of one item turned to the generator's system where it can be, as a file would be read."""
    generator = of.setting.slots["generator"].one(rig["generator"])
    found = {}
    for name, table in of.setting.slots.items():
        j = rig[name]
        if name != "generator" and "system_wye" in table.numbers and table.items[j] != "none":
            same = [
                k for k in range(len(table))
                if table.items[k] == table.items[j] and table.choices[k] == table.choices[j]
                and table.numbers["system_wye"][k] == generator.system_wye
            ]  # fmt: skip
            j = same[0] if same else j
        found[name] = j
    return found


@pytest.mark.parametrize("name", POSSIBLE)
def test_failures_come_worst_first(name, tmp_path):
    of = asked(name)
    rig = dict.fromkeys(of.setting.slots, 0)
    checked = check(stock(), brief(name), rig_file(tmp_path / "rig.json", of, wired(of, rig)))
    assert not checked.fits
    shares = [balance.slack_share for balance in checked.failures]
    assert len(shares) > 1
    assert shares == sorted(shares)


@pytest.mark.parametrize("name", POSSIBLE)
def test_what_pick_prints_is_a_rig_that_fits(name, tmp_path):
    path = tmp_path / "picked.json"
    path.write_text(to_json(pick_data(answer(name, brief(name).by))), encoding="utf-8")
    checked = check(stock(), brief(name), path)
    assert checked.fits
    assert checked.total == answer(name, brief(name).by).total


def test_a_swap_that_breaks_one_rule_is_said(tmp_path):
    """The shortest hose instead of the picked one: the reach fails, in the words of the rule."""
    of = asked("owned_truck")
    found = of.best()
    assert found.columns is not None
    rig = of.rig_of(found.columns)
    rig["hose"] = int(np.argmin(of.setting.slots["hose"].hose_length))
    checked = check(stock(), brief("owned_truck"), rig_file(tmp_path / "rig.json", of, rig))
    assert not checked.fits
    assert "HOSE-01" in {balance.place.rule for balance in checked.failures}


def test_it_works_without_the_engine(tmp_path):
    """In a fresh process ortools is never imported."""
    of = asked("owned_truck")
    rig = wired(of, {slot: random.Random(1).randrange(len(table) - 1) if len(table) > 1 else 0
                     for slot, table in of.setting.slots.items()})  # fmt: skip
    rig_file(tmp_path / "rig.json", of, rig)
    code = (
        "import sys\nfrom pathlib import Path\nfrom solver.answers.check import check\n"
        "from solver.brief import read_brief\nfrom solver.catalog import read_catalog\n"
        f"stock = read_catalog(Path({str(FOLDER / 'catalog')!r}))\n"
        f"brief = read_brief(Path({str(brief_path('owned_truck'))!r}), stock)\n"
        f"found = check(stock, brief, Path({str(tmp_path / 'rig.json')!r}))\n"
        "print(found.fits, any(name.partition('.')[0] == 'ortools' for name in sys.modules))\n"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=FOLDER.parent, capture_output=True, text=True, check=True)
    assert done.stdout == "False False\n"


def test_no_rig_fits_the_brief_that_cannot_be_met(tmp_path):
    of = asked(IMPOSSIBLE)
    other = asked("mountain_winter").best()
    assert other.columns is not None
    rig = asked("mountain_winter").rig_of(other.columns)
    assert not check(stock(), brief(IMPOSSIBLE), rig_file(tmp_path / "rig.json", of, rig)).fits
