"""Random parts of the demo catalog, and briefs changed in ways that must not matter.

Contents: `nested_parts` (catalogs, each holding all items of the one before), `in_si` (a brief's text in SI units),
`shuffled` (the catalog's files cut up, renamed and reordered), `given_twice` (a duty a second time).
"""

from __future__ import annotations

import random
import re
from pathlib import Path

from solver.brief import Brief
from solver.catalog import Catalog
from solver.catalog.read import build_catalog
from solver.quantities import from_unit, to_unit
from tests.demo.demo import FOLDER, stock

SI = {
    "lb/min": "kg/s", "ft": "m", "degF": "degC", "kW": "W", "h": "s", "lb": "kg", "week": "s", "day": "s", "%": None,
    "USD": None, "USD/board_foot": None, "board_feet": None,
}  # fmt: skip
"""Units of the demo briefs and what stands for them in SI; None where there is but one unit."""

_FIGURE = re.compile(r"(?<![\w.,-])(-?\d+(?:\.\d+)?) (lb/min|ft|degF|kW|h|lb|week|day)\b(?![/\w])")


def nested_parts(seed: int, shares: tuple[float, ...], kept: frozenset[str]) -> list[Catalog]:
    """Catalogs of these shares of each class's items, growing, then the whole; `kept` items are in every one."""
    rng = random.Random(seed)
    order = {name: rng.sample(items, len(items)) for name, items in stock().classes.items()}
    found = []
    for share in shares:
        items = [
            item
            for own in order.values()
            for place, item in enumerate(own)
            if place < max(1, round(share * len(own))) or item.id in kept
        ]
        found.append(build_catalog(f"{share:.0%} of the demo", items))
    return [*found, stock()]


def kept_by(brief: Brief) -> frozenset[str]:
    """Items without which the brief is another: materials and what is owned."""
    return frozenset(aboard.material for aboard in brief.materials) | frozenset(brief.owned)


def in_si(text: str) -> str:
    """The text of a demo brief with its figures in SI, to the last digit."""

    def converted(match: re.Match[str]) -> str:
        value, unit = float(match[1]), match[2]
        return f"{float(to_unit(from_unit(value, unit), SI[unit]))!r} {SI[unit]}"

    return _FIGURE.sub(converted, text)


def shuffled(folder: Path, seed: int) -> Path:
    """The demo catalog written item by item into files of other names and folders, in another order."""
    rng = random.Random(seed)
    for source in sorted((FOLDER / "catalog").glob("*.yaml")):
        head, *items = re.split(r"(?m)^(?=- id: )", source.read_text(encoding="utf-8"))
        item_class = re.search(r"(?m)^class: *(\S+)", head)
        assert item_class is not None
        rng.shuffle(items)
        for start in range(0, len(items), 5):
            place = folder / f"{rng.randrange(9)}" / f"{rng.randrange(10**9):09d}.yaml"
            place.parent.mkdir(parents=True, exist_ok=True)
            place.write_text(f"class: {item_class[1]}\nitems:\n{''.join(items[start : start + 5])}", encoding="utf-8")
    return folder


def given_twice(brief: Brief) -> Brief:
    """The brief with its last duty a second time, under another name."""
    duties = brief.entry.model_dump(by_alias=True, exclude_unset=True)["duties"]
    return brief.changed(duties=[*duties, {**duties[-1], "name": f"{brief.duties[-1].name} again"}])
