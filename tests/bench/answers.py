"""The other answers against one pick of the same brief.

Contents: `answers` (`why`, curves, front), `insists`, `opened`, `middle`.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from docs.performance_page import Row
from tests.bench.stages import CATALOG
from tests.bench.timing import BRIEFS, ROOT, Settings, Spent, brief_path, called, ratio, rounds

if TYPE_CHECKING:
    from solver.answers.insist import Insist
    from solver.brief import Brief
    from solver.catalog import Catalog


def answers(settings: Settings) -> tuple[list[Row], list[str]]:
    """`why`, two curves and the front of each demo brief."""
    told: list[Row] = []
    for name in BRIEFS[:1] if settings.quick else BRIEFS:
        told += _answers(name, settings)
    return told, []


def opened(name: str) -> tuple[Catalog, Brief]:
    """The demo catalog and a demo brief, read."""
    from solver.brief import read_brief
    from solver.catalog import read_catalog

    catalog = read_catalog(CATALOG)
    return catalog, read_brief(ROOT / brief_path(name), catalog)


def middle(job: Callable[[], Spent], count: int) -> Spent:
    """The median of a few runs of something short that is compared with something long."""
    return sorted((job() for _ in range(count)), key=lambda spent: spent.wall)[count // 2]


def _answers(name: str, settings: Settings) -> list[Row]:
    from solver.answers.frontier import frontier
    from solver.answers.pick import pick
    from solver.answers.why import curve_of, why

    catalog, brief = opened(name)
    status = pick(catalog, brief).status
    asked: dict[str, Callable[[], object]] = {
        "pick": lambda: pick(catalog, brief),
        "why": lambda: why(catalog, brief),
        "curve over hose_reach": lambda: curve_of(catalog, brief, "hose_reach"),
        "curve over output": lambda: curve_of(catalog, brief, "output"),
        "front of price and weight": lambda: frontier(catalog, brief),
    }
    found = rounds({what: partial(called, work) for what, work in asked.items()}, settings.few(3))
    nothing = "no rig fits" if status == "none" else ""
    return [ratio(f"{name}: {what}", found[what], found["pick"], note=nothing) for what in asked]


def insists(settings: Settings) -> tuple[list[Row], list[str]]:
    """The insist table of each demo brief, once."""
    from solver.answers.insist import insist
    from solver.answers.pick import pick

    told = []
    for name in BRIEFS[:1] if settings.quick else BRIEFS:
        catalog, brief = opened(name)
        facts: dict[str, Insist] = {}
        jobs = {
            "pick": partial(middle, partial(called, partial(pick, catalog, brief)), settings.few(5)),
            "insist": partial(called, lambda c=catalog, b=brief, f=facts: f.update(found=insist(c, b))),  # type: ignore[misc]
        }
        spent = rounds(jobs, 1)
        items = len(facts["found"].items)
        note = f"{items} items" if items else "no rig fits"
        told.append(ratio(f"{name}: insist table", spent["insist"], spent["pick"], note=note))
    return told, []
