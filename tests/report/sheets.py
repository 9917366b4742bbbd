"""Pages and bundles for the tests of the sheet, each worked out once; and a page read back without any template.

Contents: `quick` (a bundle without curves and alternatives), `whole` (everything, of the first demo brief), `Read`, `read`
(what html.parser finds on a page), `at` (the number at a place of the JSON), `hostile`.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from html.parser import HTMLParser
from typing import Any

from solver.answers.sheet import sheet_facts
from solver.report.drawings.flows import drawn
from solver.report.sheet.bundle import Bundle
from solver.report.sheet.gather import gather
from tests.demo.demo import answer, brief, stock

EVIL = '=HYPERLINK("http://x") <script>alert(1)</script> <img src=x onerror=alert(1)> & "quoted"'


def labels() -> dict[str, str]:
    """Labels of everything in the demo catalog."""
    return {item.id: item.label for items in stock().classes.values() for item in items}


@cache
def quick(name: str) -> Bundle:
    """The bundle of a demo brief, without the answers that solve anew."""
    asked = brief(name)
    picked = answer(name, asked.by)
    facts = sheet_facts(stock(), asked, picked)
    flows = drawn(asked, picked.rig, facts, labels()) if facts is not None else None
    return Bundle(asked, picked, facts, flows, labels())


@cache
def whole() -> Bundle:
    """Everything about the first demo brief."""
    return gather(stock(), brief("first_rig"))


@cache
def hostile() -> Bundle:
    """The bundle of the first brief with labels, names and title that try to be something else than text."""
    plain = quick("first_rig")
    rig = tuple(replace(line, label=EVIL, choice=EVIL if line.slot == "gun" else line.choice) for line in plain.picked.rig)
    picked = replace(plain.picked, title=EVIL, rig=rig, assumptions=(replace(plain.picked.assumptions[0], value=EVIL),))
    facts = plain.facts
    assert facts is not None
    return Bundle(plain.brief, picked, facts, drawn(plain.brief, rig, facts, labels()), labels())


def at(data: Any, place: str) -> Any:
    """What stands at a place of the JSON."""
    for step in place.split("."):
        name = step.replace("~1", ".").replace("~0", "~")
        data = data[int(name)] if isinstance(data, list) else data[name]
    return data


class Read(HTMLParser):
    """What a page holds: tags, figures (place, value, text), sections with their rows of cells, all text."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.figures: list[tuple[str, str, str]] = []
        self.rows: dict[str, list[list[str]]] = {}
        self.text = ""
        self._section, self._figure = "", None
        self._cells: list[str] | None = None
        self._open = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        found = dict(attrs)
        self.tags.append((tag, found))
        if tag == "section":
            self._section = found.get("id") or ""
        if "data-of" in found:
            self._figure = [found["data-of"], found.get("value") or found.get("data-value"), ""]
        if tag == "tr":
            self._cells = []
        if tag in ("th", "td") and self._cells is not None:
            self._cells.append("")
            self._open = True

    def handle_endtag(self, tag: str) -> None:
        if tag in ("data", "tspan", "text") and self._figure is not None:
            self.figures.append(tuple(self._figure))
            self._figure = None
        if tag in ("th", "td"):
            self._open = False
        if tag == "tr" and self._cells is not None:
            self.rows.setdefault(self._section, []).append([" ".join(cell.split()) for cell in self._cells])
            self._cells = None

    def handle_data(self, data: str) -> None:
        self.text += data
        if self._figure is not None:
            self._figure[2] += data
        if self._open and self._cells:
            self._cells[-1] += data


def read(page: str) -> Read:
    """A page read back."""
    found = Read()
    found.feed(page)
    found.close()
    return found
