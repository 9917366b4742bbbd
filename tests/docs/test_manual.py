"""The checks of the manual see what is wrong. Whether it is up to date, `python -m docs.check` asks, as in `.ci/run`."""

from __future__ import annotations

import pytest

from docs import check
from docs.shell_blocks import shell_complaints


def test_a_block_that_no_one_writes_is_refused(tmp_path):
    page = tmp_path / "page.md"
    page.write_text("<!-- written: nothing -->\nold\n<!-- end -->\n", "utf-8")
    with pytest.raises(SystemExit, match="no one writes a block called nothing"):
        check.with_blocks(page)


def test_a_written_block_replaces_what_stands_there(tmp_path, monkeypatch):
    monkeypatch.setattr(check, "blocks", lambda: {"sum": "1 + 1 = 2\n"})
    page = tmp_path / "page.md"
    page.write_text("before\n<!-- written: sum -->\n1 + 1 = 3\n<!-- end -->\nafter\n", "utf-8")
    assert check.with_blocks(page) == "before\n<!-- written: sum -->\n1 + 1 = 2\n<!-- end -->\nafter\n"


def complaints(tmp_path, line: str) -> list[str]:
    """What is said of a page with one line of shell."""
    (tmp_path / "README.md").write_text(f"```sh\n{line}\n```\n", "utf-8")
    return shell_complaints(tmp_path, "README.md")


@pytest.mark.parametrize(
    "line",
    [
        "rigset --help",
        "rigset pick brief.yaml --by weight | python -m json.tool  # a comment",
        "python3 -m venv .venv && .venv/bin/pip install -q -e . && .venv/bin/rigset catalog check DIR",
        "ruff check .",
    ],
)
def test_lines_of_shell_that_are_true(tmp_path, line):
    assert complaints(tmp_path, line) == []


@pytest.mark.parametrize(
    ("line", "wrong"),
    [
        ("rigset choose brief.yaml", "there is no command choose"),
        ("rigset pick brief.yaml --fast", "no option --fast"),
        ("python -m no_such_module", "no module no_such_module"),
        ("cp solver/nothing.py x", "solver/nothing.py is not there"),
        ("frobnicate", "frobnicate is not known"),
    ],
)
def test_lines_of_shell_that_are_not(tmp_path, line, wrong):
    assert complaints(tmp_path, line) == [f"README.md: `{line}`: {wrong}"]


def test_a_link_to_nowhere_and_to_no_heading_is_seen(tmp_path, monkeypatch):
    page = tmp_path / "page.md"
    page.write_text("# A heading\n[x](#a-heading) [y](#another) [z](gone.md) [w](https://example.org)\n", "utf-8")
    monkeypatch.setattr(check, "ROOT", tmp_path)
    monkeypatch.setattr(check, "hand_written", lambda: (page,))
    monkeypatch.setattr(check, "pages", dict)
    assert list(check.broken_links()) == [
        "page.md: link to (#another): no such heading".replace("(", "").replace(")", ""),
        "page.md: link to gone.md leads nowhere",
    ]
