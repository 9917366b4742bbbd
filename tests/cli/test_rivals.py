"""`rigset rivals`: exit codes, text that fits the terminal, JSON with its keys, wrong usage."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.answers.insist import insist
from tests.answers.small.world import brief as small_brief
from tests.answers.small.world import stock
from tests.cli.run import brief, rigset


@pytest.mark.parametrize("columns", [80, 120])
@pytest.mark.parametrize("more", [("--count", "2"), ("--kinds",)])
def test_text_fits_the_terminal(columns, more):
    outcome = rigset("rivals", brief("owned_truck"), *more, columns=columns)
    assert (outcome.code, outcome.err) == (0, "")
    assert max(map(len, outcome.out.splitlines())) <= columns
    assert "instead of" in outcome.out and "Cautions" in outcome.out


def test_json_of_rivals():
    data = rigset("rivals", brief("owned_truck"), "--count", "2", "--differ", "generator,vehicle", "--json").data
    assert (data["status"], data["by"], data["differ"]) == ("found", "price", ["generator", "vehicle"])
    first, second = data["rivals"]
    assert first["difference"] == [] and second["difference"]
    assert second["total"]["price"] >= first["total"]["price"]
    assert data["cautions"]


def test_insist_in_text_and_json(monkeypatch):
    told = replace(insist(stock(), small_brief("barns")), by="weight")
    monkeypatch.setattr("solver.answers.insist.insist", lambda *arguments: told)
    outcome = rigset("rivals", brief("owned_truck"), "--insist")
    assert outcome.code == 0
    assert max(map(len, outcome.out.splitlines())) <= 80
    data = rigset("rivals", brief("owned_truck"), "--insist", "--json").data
    assert data["extra_unit"] == "lb"
    assert f"{data['solves']['extras']:,} solve" in " ".join(outcome.out.split())
    assert {one["extra"] for one in data["items"] if one["picked"]} == {0.0}


@pytest.mark.parametrize("more", [(), ("--kinds",), ("--insist",)])
def test_nothing_fits(more):
    outcome = rigset("rivals", brief("wish_list"), *more)
    assert outcome.code == 1
    assert "What cannot hold together" in outcome.out
    assert rigset("rivals", brief("wish_list"), *more, "--json").data["status"] == "none"


def test_wrong_usage():
    outcome = rigset("rivals", brief("owned_truck"), "--differ", "wheels")
    assert (outcome.code, outcome.out) == (2, "")
    assert 'slot "wheels"' in outcome.err
    assert rigset("rivals", brief("owned_truck"), "--kinds", "--insist").code == 2
    assert rigset("rivals", brief("owned_truck"), "--count", "0").code == 2
