"""The demo catalog and its briefs, compiled and solved once for all tests that use them.

Contents: `BRIEFS`, `POSSIBLE`, `IMPOSSIBLE`, `COSTS`; `stock`, `brief_path`, `brief`, `asked`, `answer` (all kept);
`least_cost`.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

from solver.answers.ask import Asked, ask
from solver.answers.facts import Picked
from solver.answers.pick import pick
from solver.brief import Brief, read_brief
from solver.catalog import Catalog, read_catalog
from solver.program.matrix import Mask
from solver.search.best import cost_of_best

FOLDER = Path(__file__).resolve().parents[2] / "catalog_demo"
BRIEFS: tuple[str, ...] = tuple(sorted(path.stem for path in (FOLDER / "briefs").glob("*.yaml")))
IMPOSSIBLE = "wish_list"
POSSIBLE: tuple[str, ...] = tuple(name for name in BRIEFS if name != IMPOSSIBLE)
COSTS = ("price", "weight")


@cache
def stock() -> Catalog:
    """The demo catalog."""
    return read_catalog(FOLDER / "catalog")


def brief_path(name: str) -> Path:
    """File of a demo brief."""
    return FOLDER / "briefs" / f"{name}.yaml"


@cache
def brief(name: str) -> Brief:
    """A demo brief."""
    return read_brief(brief_path(name), stock())


@cache
def asked(name: str) -> Asked:
    """A demo brief laid over the demo catalog and compiled, by its own objective."""
    return ask(stock(), brief(name))


@cache
def answer(name: str, by: str) -> Picked:
    """The whole answer to pick."""
    return pick(stock(), brief(name), by)


def least_cost(of: Asked, by: str, rows: Mask | None = None) -> float:
    """Least cost in whole steps of the objective; infinite where no rig fits."""
    cost = cost_of_best(of.question(by, rows))
    return float("inf") if cost is None else float(cost)
