"""--page of whatif and frontier: a page is written whole, beside the answer, and nothing is overwritten unasked."""

from __future__ import annotations

import pytest

from tests.cli.run import brief, rigset

COMMANDS = {
    "whatif": ("whatif", brief("owned_truck"), "--vary", "duty.hose_reach=150ft,180ft", "--binding", "none", "--jobs", "1"),
    "frontier": ("frontier", brief("first_rig")),
}


@pytest.mark.parametrize("name", COMMANDS)
def test_a_page_beside_the_answer(name, tmp_path):
    page = tmp_path / "answer.html"
    outcome = rigset(*COMMANDS[name], "--page", str(page))
    assert (outcome.code, outcome.err) == (0, f"written: {page}\n")
    text = page.read_text("utf-8")
    assert text.startswith("<!doctype html>") and text.rstrip().endswith("</html>")
    again = rigset.__wrapped__(*COMMANDS[name], "--page", str(page))
    assert (again.code, again.out) == (2, "")
    assert again.err == f"{page} exists already and was left as it is. Try: another name, or --force to replace it\n"
    assert page.read_text("utf-8") == text


@pytest.mark.parametrize("name", COMMANDS)
def test_a_page_has_its_ending(name, tmp_path):
    outcome = rigset(*COMMANDS[name], "--page", str(tmp_path / "answer.pdf"))
    assert (outcome.code, outcome.out) == (2, "")
    assert "expected a file that ends in .html" in outcome.err and not list(tmp_path.iterdir())
