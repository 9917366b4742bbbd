"""Whole commands against the imports that they cannot do without.

Contents: `starts`.
"""

from __future__ import annotations

from docs.performance_page import Row
from tests.bench.timing import BRIEFS, Desk, Settings, brief_path, desk, ratio, rounds

TYPER = "import typer"
ENGINE = "from ortools.sat.python import cp_model"


def starts(settings: Settings) -> tuple[list[Row], list[str]]:
    """`--help` against typer; `pick` of each demo brief against CP-SAT's Python layer; `why` against `pick`."""
    with desk() as place:
        jobs = {"typer": lambda: place.python(TYPER), "help": lambda: place.rigset("--help")}
        found = rounds(jobs, settings.rounds)
        told = [ratio("`rigset --help`", found["help"], found["typer"], "help", "against importing typer")]
        picks, whys = [], []
        for name in BRIEFS[:1] if settings.quick else BRIEFS:
            pick, why = _brief(place, name, settings)
            picks.append(pick)
            whys.append(why)
        told += [*picks, *whys, _first_start(place, BRIEFS[0], settings)]
    return told, []


def _brief(place: Desk, name: str, settings: Settings) -> tuple[Row, Row]:
    path = brief_path(name)
    jobs = {
        "engine": lambda: place.python(ENGINE),
        "pick": lambda: place.rigset("pick", path),
        "why": lambda: place.rigset("why", path),
    }
    found = rounds(jobs, settings.few(5))
    nothing = "no rig fits" if found["pick"][0].code == 1 else ""
    return (
        ratio(f"`rigset pick`, {name}", found["pick"], found["engine"], "pick", nothing),
        ratio(f"`rigset why`, {name}", found["why"], found["pick"], "why", nothing),
    )


def _first_start(place: Desk, name: str, settings: Settings) -> Row:
    """The same command where no copy of the catalog is kept."""
    jobs = {
        "pick": lambda: place.rigset("pick", brief_path(name)),
        "first": lambda: place.rigset("pick", brief_path(name), cache="off"),
    }
    found = rounds(jobs, settings.few(5))
    return ratio(f"`rigset pick`, {name}, no kept copy", found["first"], found["pick"], note="against the same with it")
