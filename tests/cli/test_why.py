"""rigset why: exit codes, JSON, a working that fits the terminal, and an unknown rule refused."""

from __future__ import annotations

import json

import pytest

from tests.cli.run import brief, rigset


@pytest.mark.parametrize(("name", "code"), [("owned_truck", 0), ("wish_list", 1)])
def test_exit_code_and_json(name, code):
    outcome = rigset("why", brief(name), "--json")
    data = json.loads(outcome.out)
    assert (outcome.code, outcome.err) == (code, "")
    assert bool(data["binding"]) != bool(data["conflicts"])
    assert data["cautions"]


@pytest.mark.parametrize("columns", [80, 120])
@pytest.mark.parametrize("units", ["us", "si"])
def test_a_working_fits_the_terminal(columns, units):
    arguments = ("why", brief("owned_truck"), "--rule", "PWR-01", "--rule", "HOSE-04", "--units", units)
    outcome = rigset(*arguments, columns=columns)
    assert outcome.code == 0
    assert "HOSE-04" in outcome.out and "warm_up_power" in outcome.out
    assert max(map(len, outcome.out.splitlines())) <= columns


def test_an_unknown_rule_is_refused():
    outcome = rigset("why", brief("owned_truck"), "--rule", "AIR-99")
    assert (outcome.code, outcome.out) == (2, "")
    assert 'rule "AIR-99"' in outcome.err
