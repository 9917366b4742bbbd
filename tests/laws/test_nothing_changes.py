"""Changes that must not change the answer: a duty given twice, another order, other units, another hash seed."""

from __future__ import annotations

import os
import re
import subprocess
import sys

import pytest

from solver.answers.ask import Asked, ask
from solver.brief import read_brief
from solver.catalog import read_catalog
from solver.rules.instances import Setting, instances
from tests.demo.demo import BRIEFS, FOLDER, IMPOSSIBLE, asked, brief, brief_path, least_cost, stock
from tests.laws.smaller import SI, given_twice, in_si, shuffled


def rig(of: Asked, by: str) -> list[tuple[str, str, str]] | None:
    """The best rig as slot, item and choice; None where none fits."""
    found = of.best(by=by)
    assert found.proven
    return None if found.columns is None else named(of, of.rig_of(found.columns))


def named(of: Asked, chosen: dict[str, int]) -> list[tuple[str, str, str]]:
    """A rig in words, sorted by slot."""
    return sorted((line.slot, line.item, line.choice) for line in of.lines(chosen, empty=True))


@pytest.mark.parametrize("name", BRIEFS)
def test_a_duty_given_twice(name):
    by = asked(name).by
    twice = ask(stock(), given_twice(brief(name)))
    assert len(twice.program.rhs) > len(asked(name).program.rhs)
    assert rig(twice, by) == rig(asked(name), by)


@pytest.mark.parametrize("name", [name for name in BRIEFS if len(brief(name).duties) > 1])
def test_the_order_of_duties(name):
    duties = brief(name).entry.model_dump(by_alias=True, exclude_unset=True)["duties"]
    turned = brief(name).changed(duties=duties[::-1])
    assert turned.duties == brief(name).duties[::-1]
    assert rig(ask(stock(), turned), "price") == rig(asked(name), "price")


def test_the_order_of_files_and_items(tmp_path):
    other = read_catalog(shuffled(tmp_path, 7))
    assert {key: list(items) for key, items in other.classes.items()} == {
        key: list(items) for key, items in stock().classes.items()
    }
    for name in ("owned_truck", "light_trailer"):
        assert rig(ask(other, brief(name)), "price") == rig(asked(name), "price")


@pytest.mark.parametrize("name", BRIEFS)
def test_the_order_of_slots(name):
    """Slots from last to first: the same least cost, and the same other cost; only full ties may fall otherwise."""
    of, by = asked(name), asked(name).by
    setting = Setting(of.brief, dict(reversed(of.setting.slots.items())), of.setting.materials)
    turned = Asked(of.catalog, of.brief, setting, instances(setting), by)
    found, usual = turned.best(by=by), of.best(by=by)
    assert (found.cost, found.proven) == (usual.cost, True)
    if found.columns is not None and usual.columns is not None:
        other = "weight" if by == "price" else "price"
        assert turned.program.cost(found.columns, other) == of.program.cost(usual.columns, other)
        assert of.program.fits(of.columns_of(turned.rig_of(found.columns)))


@pytest.mark.parametrize("name", BRIEFS)
def test_si_units_in_the_brief(name, tmp_path):
    text = in_si(brief_path(name).read_text(encoding="utf-8"))
    units = set(re.findall(r"(?<![\d,])[\d.]+ ([A-Za-z/_%]+)", text))
    assert [unit for unit in sorted(units) if SI.get(unit)] == [], "units that are not SI are left"
    path = tmp_path / f"{name}.yaml"
    path.write_text(text, encoding="utf-8")
    other = ask(stock(), read_brief(path, stock()))
    assert rig(other, other.by) == rig(asked(name), other.by)
    assert least_cost(other, "weight") == least_cost(asked(name), "weight")


@pytest.mark.parametrize("name", ["owned_truck", IMPOSSIBLE])
def test_the_hash_seed(name):
    said = [pick_json(name, seed) for seed in ("1", "4242")]
    assert said[0].startswith(b'{\n  "status": ')
    assert said[0] == said[1]


def pick_json(name: str, seed: str) -> bytes:
    """What the command line prints under this hash seed."""
    command = [sys.executable, "-m", "solver.cli.main", "pick", str(brief_path(name)), "--json"]
    done = subprocess.run(
        command, env={**os.environ, "PYTHONHASHSEED": seed}, cwd=FOLDER.parent, capture_output=True, check=False
    )
    assert done.returncode in (0, 1), done.stderr
    assert done.stderr == b""
    return done.stdout
