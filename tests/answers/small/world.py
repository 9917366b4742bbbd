"""A small world: an invented catalog of some fifty items and four briefs, on which every answer comes in a second or so.

Contents: `BRIEFS`; `stock`, `brief`, `asked`, `picked`, `best_rig` (all kept); `refused` (the text of an error); `rig_file`
(a file of a rig); `ANSWERS` (every answer of the Python door by name); `plain` (an answer as plain data), `text_of`,
`stored`, `path_of`, `first_difference`.

The catalog holds one to four items of each class: electric and hydraulic proportioners, single- and three-phase generators,
trucks and a trailer, new and used things, kits that hold all of a class's parts. `barns` has a rig by price, `attics` one by
weight with two duties behind a pickup of the owner's, `wishes` has too little money and time together, `porches` one duty too
many. In the files the figures are rounded to 9 significant digits, so that they are the same on every machine; counts of
questions put to the engine are left out, as they say nothing about the world.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from dataclasses import fields, is_dataclass, replace
from enum import Enum
from functools import cache, partial
from math import isfinite
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest

from solver.answers import robust_ranged
from solver.answers.ask import Asked, ask
from solver.answers.better import argument, jointly
from solver.answers.certificate import certify, verify
from solver.answers.certificate_file import certificate_text
from solver.answers.check import check
from solver.answers.complete import complete
from solver.answers.facts import Line, Picked
from solver.answers.frontier import frontier
from solver.answers.insist import insist
from solver.answers.mend import mend
from solver.answers.pick import pick
from solver.answers.rivals import rivals
from solver.answers.robust import robust
from solver.answers.sheet import price_against_weight, sheet_facts
from solver.answers.steps import steps
from solver.answers.whatif import whatif
from solver.answers.why import curve_of, why
from solver.brief import Brief, read_brief
from solver.brief.models import Assumption
from solver.brief.requirements import Requirement
from solver.catalog import Catalog, read_catalog
from solver.rules.balance import Balance, Rig
from solver.rules.cautions import Caution
from solver.rules.instances import Place
from solver.rules.record import Rule

FOLDER = Path(__file__).parent
BRIEFS = ("attics", "barns", "porches", "wishes")
DIGITS = 9
"""Significant digits of a figure in the files."""
LEFT_OUT = ("solves", "rule_solves")
"""Fields that count questions put to the engine."""


@cache
def stock() -> Catalog:
    """The small catalog."""
    return read_catalog(FOLDER / "catalog")


@cache
def brief(name: str) -> Brief:
    """A small brief; `thrifty` is `barns` with less money."""
    if name == "thrifty":
        return limited("barns", budget="81000 USD")
    return read_brief(FOLDER / "briefs" / f"{name}.yaml", stock())


def limited(name: str, **limits: str) -> Brief:
    """A small brief with some other limits."""
    own = brief(name)
    data = own.entry.model_dump(by_alias=True, exclude_unset=True)["limits"]
    return own.changed(limits={**data, **limits})


@cache
def asked(name: str) -> Asked:
    """A small brief laid over the catalog."""
    return ask(stock(), brief(name))


@cache
def picked(name: str) -> Picked:
    """The answer to pick."""
    return pick(stock(), brief(name))


@cache
def best_rig(name: str) -> Rig:
    """Option of every slot of the best rig."""
    columns = asked(name).best().columns
    assert columns is not None
    return asked(name).rig_of(columns)


def refused(kind: type[Exception], work: Callable[[], object]) -> str:
    """The text of the error that the work ends with; it must be of just this kind."""
    with pytest.raises(kind) as caught:
        work()
    assert type(caught.value) is kind
    return str(caught.value)


def rig_file(folder: Path, lines: tuple[Line, ...], without: tuple[str, ...] = (), **instead: str) -> Path:
    """A file of a rig: its lines but for these slots, and other items in some."""
    path = folder / "rig.json"
    rows: list[dict[str, str]] = [
        {"slot": line.slot, "item": line.item, "choice": line.choice}
        for line in lines
        if line.slot not in without and line.slot not in instead
    ]
    rows += [{"slot": slot, "item": item} for slot, item in instead.items()]
    path.write_text(json.dumps({"rig": rows}), encoding="utf-8")
    return path


def _of_rig(answer: Callable[..., object], name: str, without: tuple[str, ...] = (), **instead: str) -> object:
    """What an answer says of the best rig of `barns`, changed, under a brief."""
    with TemporaryDirectory() as folder:
        return answer(stock(), brief(name), rig_file(Path(folder), picked("barns").rig, without, **instead))


def _certified(name: str) -> object:
    certificate, findings = certify(stock(), brief(name), picked(name))
    with TemporaryDirectory() as folder:
        path = Path(folder) / "certificate.json"
        path.write_text(certificate_text(certificate), encoding="utf-8")
        return {"findings": findings, "file": certificate_text(certificate).split("\n"),
                "verified": verify(stock(), brief(name), path)}  # fmt: skip


def _better(name: str, by: str, share: float) -> object:
    """Why no rig is so much better, the savings of two rules being known."""
    of = ask(stock(), brief(name), by)
    columns = of.best().columns
    savings = (("HOSE-01", 1000, {}), ("WT-03", 500, {}))
    return [argument(of, columns, savings, of.balances(of.rig_of(columns)), share), jointly(of, of.program.cost(columns, by))]


def _steps(name: str, requirements: tuple[str, ...]) -> object:
    """First steps of some requirements."""
    of = asked(name)
    found = of.best()
    return steps(of, found.columns, found.cost, requirements)


def _robust(ranges: dict[str, tuple[float, float]]) -> object:
    """A robust pick on fewer points than usual."""
    grid, extra = robust_ranged.GRID, robust_ranged.RANDOM
    robust_ranged.GRID, robust_ranged.RANDOM = 16, 6
    try:
        return robust(stock(), brief("barns"), ranges)
    finally:
        robust_ranged.GRID, robust_ranged.RANDOM = grid, extra


def _three_costs() -> object:
    """The front of three costs with more points than are shown; their rigs follow from what changes."""
    found = frontier(stock(), brief("thrifty"), True)
    return replace(found, points=tuple(replace(point, rig=()) for point in found.points))


def _sheet(name: str) -> object:
    """What the sheet of a rig says; of each working the balance alone."""
    found = sheet_facts(stock(), brief(name), picked(name))
    return [found.reasons, found.temperatures, [one.balance for one in found.worksheets]] if found else None


REACHES = "barns.hose_reach=125ft,165ft"
HARD = "barns.output=9lb/min,13lb/min"
STUDY = (REACHES, HARD, "barns.coldest_air=50degF,95degF")
"""Nine cells or so: rigs, no rig, and briefs that cannot be said (a coldest air above the hottest)."""

ANSWERS: dict[str, Callable[[], object]] = {
    **{f"pick_{name}": partial(picked, name) for name in BRIEFS},
    "pick_barns_by_weight": lambda: pick(stock(), brief("barns"), "weight"),
    "pick_barns_by_yearly_cost": lambda: pick(stock(), brief("barns"), "yearly-cost"),
    **{f"why_{name}": lambda name=name: why(stock(), brief(name)) for name in ("barns", "porches", "wishes")},
    "steps_attics": lambda: _steps("attics", ("output", "hose_reach", "altitude", "budget", "delivery_time")),
    "better_by_a_fifth": lambda: _better("barns", "weight", 0.2),
    "why_rules": lambda: why(stock(), brief("attics"), rules=("HEAT-04", "WT-03")),
    "rivals_barns": lambda: rivals(stock(), brief("barns"), count=6),
    "rivals_hose_and_gun": lambda: rivals(stock(), brief("attics"), differ=("gun", "hose"), count=3),
    "rivals_wishes": lambda: rivals(stock(), brief("wishes")),
    "kinds_barns": lambda: rivals(stock(), brief("barns"), kinds=True),
    "kinds_attics": lambda: rivals(stock(), brief("attics"), kinds=True),
    "insist_barns": lambda: insist(stock(), brief("barns")),
    "insist_attics": lambda: insist(stock(), brief("attics")),
    "insist_wishes": lambda: insist(stock(), brief("wishes")),
    "frontier_thrifty": lambda: frontier(stock(), brief("thrifty")),
    "frontier_three": _three_costs,
    "frontier_wishes": lambda: frontier(stock(), brief("wishes")),
    "curve_hose_reach": lambda: curve_of(stock(), brief("barns"), "barns.hose_reach"),
    "curve_budget": lambda: curve_of(stock(), brief("wishes"), "limits.budget"),
    "curve_spraying": lambda: curve_of(stock(), brief("attics"), "spraying_time"),
    "whatif_grid": lambda: whatif(stock(), brief("barns"), STUDY, jobs=1),
    "whatif_alone": lambda: whatif(stock(), brief("attics"), ("output=9lb/min,12lb/min", "limits.budget=60000USD"), "price",
                                   one_at_a_time=True, binding="rules", jobs=1),
    "check_right": lambda: _of_rig(check, "barns"),
    "check_wrong": lambda: _of_rig(check, "barns", ("body_heater",), vehicle="vehicle-01", generator="generator-03"),
    "complete_barns": lambda: _of_rig(complete, "barns", ("generator", "vehicle", "hose", "gun")),
    "complete_stuck": lambda: _of_rig(complete, "barns", ("compressor",), generator="generator-03", vehicle="vehicle-01"),
    "complete_wishes": lambda: _of_rig(complete, "wishes", ("compressor",)),
    "mend_money": lambda: _of_rig(mend, "barns", ("body_heater",), vehicle="vehicle-01", generator="generator-03"),
    "mend_fewest": lambda: _of_rig(partial(mend, fewest=True), "barns", ("tool-01",), feed_pump_b="feed-pump-11"),
    "mend_right": lambda: _of_rig(mend, "barns"),
    "mend_wishes": lambda: _of_rig(mend, "wishes"),
    "robust_barns": lambda: _robust({"barns.altitude": (0.0, 1500.0), "barns.hose_reach": (30.0, 50.0)}),
    "robust_none": lambda: _robust({"barns.output": (0.06, 0.25)}),
    "sheet_barns": lambda: _sheet("barns"),
    "sheet_attics": lambda: _sheet("attics"),
    "sheet_wishes": lambda: _sheet("wishes"),
    "trades_barns": lambda: price_against_weight(stock(), brief("barns"), 6),
    "certificate_barns": lambda: _certified("barns"),
    "certificate_wishes": lambda: _certified("wishes"),
}  # fmt: skip
"""Every answer, by the name of its file."""


# --- plain data -------------------------------------------------------------------------------------------------------
def plain(thing: Any) -> Any:
    """An answer as plain data: records as mappings, lines and balances as one text each, rules and the like by id."""
    if isinstance(thing, Rule | Requirement):
        return thing.id
    if isinstance(thing, Enum):
        return thing.value
    if isinstance(thing, Caution):
        return thing.id
    if isinstance(thing, Line | Balance | Place | Assumption):
        return ", ".join(str(plain(getattr(thing, each.name))) for each in fields(thing))
    if is_dataclass(thing):
        return {each.name: plain(getattr(thing, each.name)) for each in fields(thing) if each.name not in LEFT_OUT}
    if isinstance(thing, Mapping):
        return {key if isinstance(key, str) else str(key): plain(entry) for key, entry in thing.items()}
    if isinstance(thing, list | tuple):
        return [plain(entry) for entry in thing]
    if isinstance(thing, frozenset | set):
        return sorted(plain(entry) for entry in thing)
    if hasattr(thing, "tolist"):
        return plain(thing.tolist())
    if isinstance(thing, float):
        return float(f"{thing:.{DIGITS}g}") + 0.0 if isfinite(thing) else str(thing)
    if thing is None or isinstance(thing, str | int):
        return thing
    raise TypeError(f"{type(thing).__name__} in an answer")


def text_of(data: Any, depth: int = 0) -> str:
    """JSON with what is short on one line."""
    short = json.dumps(data, ensure_ascii=False)
    if len(short) <= 150 or not isinstance(data, dict | list):
        return short
    inner = " " * (depth + 1)
    if isinstance(data, dict):
        rows = [f"{inner}{json.dumps(key, ensure_ascii=False)}: {text_of(entry, depth + 1)}" for key, entry in data.items()]
    else:
        rows = [f"{inner}{text_of(entry, depth + 1)}" for entry in data]
    marks = "{}" if isinstance(data, dict) else "[]"
    return f"{marks[0]}\n" + ",\n".join(rows) + f"\n{' ' * depth}{marks[1]}"


def path_of(name: str) -> Path:
    """File of an answer."""
    return FOLDER / "answers" / f"{name}.json"


def stored(name: str) -> Any:
    """What the file of an answer says."""
    return json.loads(path_of(name).read_text(encoding="utf-8"))


def first_difference(told: Any, kept: Any, where: str = "") -> str:
    """The first place at which two answers differ, with both figures; empty if there is none."""
    if isinstance(told, dict) and isinstance(kept, dict) and list(told) == list(kept):
        pairs = [(f"{where}.{key}", told[key], kept[key]) for key in told]
    elif isinstance(told, list) and isinstance(kept, list) and len(told) == len(kept):
        pairs = [(f"{where}[{k}]", one, other) for k, (one, other) in enumerate(zip(told, kept, strict=True))]
    else:
        same = type(told) is type(kept) and told == kept
        return "" if same else f"{where}: {str(told)[:200]} for {str(kept)[:200]}"
    return next((found for place, one, other in pairs if (found := first_difference(one, other, place))), "")
