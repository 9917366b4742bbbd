"""Small catalogs and briefs drawn at random, as the text that stands in their files, and the reading of such files.

Contents: `Little` (the text of a catalog and of a brief), `little` (of a seed), `Read` with `written` (written, read back);
changes of the text: `dearer`, `with_copy`, `without`, `changed_brief`; `figure_of`, `times` (a figure multiplied).

A catalog holds what a rig for a demo brief is made of, some more demo items of a few classes, and one or two items for
each class of yes/no items, which provide what the rig's own provide; and twins of some items, which differ in price or in
weight alone. Prices, weights and some ratings are varied, and so
are output, reach, altitude, weather, budget and objective of the brief. Some of them can be met, some cannot.
"""

from __future__ import annotations

import json
import random
import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from typing import Any

import yaml

from solver.answers.ask import Asked, ask
from solver.brief import Brief, read_brief
from solver.catalog import Catalog, read_catalog
from solver.options.slots import ACCESSORY_CLASSES
from tests.demo.demo import FOLDER, brief_path

Fields = dict[str, Any]
"""An item or a brief as its file says it: every figure is text."""

EXTRA = ("proportioner", "gun", "feed_pump", "compressor", "generator", "vehicle", "lighting", "body_heater", "receiver",
         "air_dryer", "ventilation_fan", "fit_out", "circulation_set")  # fmt: skip
"""Classes from which a few more items are drawn; seldom hoses, which come in thirteen lengths each."""
VARIED = {
    "proportioner": ("heater_power", "hose_heat", "body_heat"), "compressor": ("free_air",), "hose": ("loss",),
    "feed_pump": ("flow",), "receiver": ("volume",), "ventilation_fan": ("flow",), "generator": ("burn_per_energy",),
}  # fmt: skip
"""Ratings that are varied besides price and weight."""
HELD = ("material", "vehicle", "tow_vehicle")
"""Classes whose weight hangs together with other figures of theirs."""
RIGS = {
    "first_rig": """
        air-dryer-11 body-heater-08 breathing-air-03 circulation-set-01 compressor-07 feed-pump-03 feed-pump-10
        fit-out-04 generator-04 gun-09 hose-04 lighting-02 proportioner-03 safety-01 safety-10 safety-11 safety-17
        safety-18 safety-20 spare-part-05 spare-part-06 spare-part-12 tool-01 tool-03 tool-05 tool-07 tool-09 tool-12
        vehicle-04 ventilation-fan-03
    """,
    "humid_coast": """
        air-dryer-11 body-heater-06 breathing-air-06 circulation-set-01 compressor-07 drum-dryer-01 feed-pump-03
        feed-pump-10 fit-out-04 generator-20 gun-09 hose-04 lighting-03 proportioner-10 safety-01 safety-10 safety-11
        safety-17 safety-18 safety-20 spare-part-05 spare-part-06 spare-part-12 tool-01 tool-03 tool-05 tool-07
        tool-09 tool-12 vehicle-14 ventilation-fan-06
    """,
    "light_trailer": """
        air-dryer-13 body-heater-06 breathing-air-02 circulation-set-03 compressor-07 drum-mixer-08 feed-pump-07
        feed-pump-10 fit-out-07 generator-11 gun-05 hose-03 lighting-02 proportioner-05 safety-02 safety-07 safety-09
        safety-12 safety-14 safety-16 safety-19 safety-21 spare-part-02 spare-part-04 spare-part-07 spare-part-09
        spare-part-11 tool-02 tool-04 tool-06 tool-08 tool-10 tool-13 tow-vehicle-04 vehicle-15 ventilation-fan-05
    """,
    "mountain_winter": """
        air-dryer-12 body-heater-08 breathing-air-07 circulation-set-01 compressor-07 drum-heater-05 feed-pump-03
        feed-pump-10 fit-out-04 generator-16 gun-09 hose-06 lighting-03 proportioner-07 safety-03 safety-10 safety-11
        safety-17 safety-18 safety-20 spare-part-05 spare-part-06 spare-part-12 tool-01 tool-03 tool-05 tool-07
        tool-09 tool-12 vehicle-11 ventilation-fan-04 winter-kit-05 winter-kit-07
    """,
    "owned_truck": """
        air-dryer-03 body-heater-01 breathing-air-03 circulation-set-01 compressor-07 drum-mixer-05 feed-pump-03
        feed-pump-10 fit-out-01 generator-07 gun-01 hose-01 lighting-03 proportioner-06 safety-01 safety-10 safety-11
        safety-17 safety-18 safety-20 spare-part-05 spare-part-06 spare-part-12 tool-01 tool-03 tool-05 tool-07
        tool-09 tool-12 vehicle-05 ventilation-fan-04
    """,
}
"""Demo briefs that can be met, and items that together make a rig for each. They are written down, so that a seed draws the
same files whatever the program answers."""
PRICES = ("price", "short_price", "whip_price")
BUDGET, TRAINING = "budget", "training"


@dataclass(frozen=True)
class Little:
    """What stands in the files: items by class, and the brief."""

    items: Mapping[str, tuple[Fields, ...]]
    brief: Fields


@dataclass(frozen=True)
class Read:
    """What was read back from the files, and where they are."""

    folder: Path
    catalog: Catalog
    brief: Brief

    def asked(self) -> Asked:
        """The brief laid over the catalog."""
        return ask(self.catalog, self.brief)


# --- text and figures -------------------------------------------------------------------------------------------------
def figure_of(text: str) -> tuple[float, str]:
    """Number and unit of a figure."""
    number, _, unit = text.partition(" ")
    return float(number), unit


def times(text: str, factor: float, digits: int = 0) -> str:
    """The figure multiplied and rounded."""
    number, unit = figure_of(text)
    return f"{round(number * factor, digits):.{digits}f} {unit}".strip()


@cache
def _stock() -> dict[str, tuple[Fields, ...]]:
    """The demo catalog as text, by class."""
    read = (yaml.load(path.read_text(encoding="utf-8"), yaml.BaseLoader)  # text only, no tags
            for path in sorted((FOLDER / "catalog").glob("*.yaml")))  # fmt: skip
    return {entry["class"]: tuple(entry["items"]) for entry in read}


# --- drawing ----------------------------------------------------------------------------------------------------------
def _varied(rng: random.Random, item_class: str, fields: Fields, ratings: float) -> Fields:
    """The item with other prices and weights; each of its ratings is varied too with this chance."""
    found = dict(fields)
    for name in ("price", "weight", "short_price", "short_weight", "upkeep_cost"):
        if name in found and rng.random() < 0.7 and (name != "weight" or item_class not in HELD):
            found[name] = times(found[name], rng.uniform(0.85, 1.15))
    for name in VARIED.get(item_class, ()):
        if rng.random() < ratings:
            found[name] = times(found[name], rng.uniform(0.9, 1.15), 3)
    return found


def _kit(rng: random.Random, item_class: str, own: list[Fields]) -> list[Fields]:
    """One item that provides all that the rig's own provide, and at times one that provides a part of it, or all again."""
    prefix = own[0]["id"].rpartition("-")[0]
    tags = sorted({tag for item in own for tag in item["provides"]})
    sums = {name: f"{sum(figure_of(item[name])[0] for item in own):g} {figure_of(own[0][name])[1]}"
            for name in ("price", "weight")}  # fmt: skip
    whole = {**own[0], **sums, "id": f"{prefix}-01", "label": f"All of the {prefix} kit", "provides": tags}
    found = [whole]
    while len(found) < 3 and rng.random() < 0.3:
        part = sorted(rng.sample(tags, rng.randint(1, len(tags))))
        share = 0.3 + 0.8 * len(part) / len(tags)
        found.append({
            **whole, "id": f"{prefix}-{len(found) + 1:02d}", "label": f"Some of the {prefix} kit", "provides": part,
            **{name: times(sums[name], share * rng.uniform(0.8, 1.1)) for name in sums},
        })  # fmt: skip
    return found


def _twin(rng: random.Random, fields: Fields) -> Fields:
    """An item that differs in price or in weight alone, so that costs can tie."""
    name = rng.choice(("price",) if "gvwr" in fields else ("price", "weight"))
    return {**fields, "id": f"{fields['id'].rpartition('-')[0]}-91", name: times(fields[name], rng.uniform(0.8, 1.2))}


def _items(rng: random.Random, used: frozenset[str], kept: frozenset[str]) -> dict[str, tuple[Fields, ...]]:
    """The catalog: what is used and kept, some more, and kit."""
    found = {}
    twins = rng.sample(EXTRA, 2)
    more = set(rng.sample(EXTRA, 3)) | ({"hose"} if rng.random() < 0.15 else set())
    for item_class, stock in _stock().items():
        own = [item for item in stock if item["id"] in used | kept]
        if item_class in ACCESSORY_CLASSES:
            own = _kit(rng, item_class, own) if own else []
        elif item_class in more:
            others = [item for item in stock if item not in own]
            own += rng.sample(others, min(len(others), rng.randint(1, 2)))
        rows = [_varied(rng, item_class, item, 0.06 if item["id"] in used else 0.4) for item in own]
        if rows and item_class in twins:
            rows.append(_twin(rng, rng.choice(rows)))
        if rows:
            found[item_class] = tuple(rows)
    return found


def _duty(rng: random.Random, duty: Fields) -> Fields:
    """A duty of somewhat more or less."""
    found = dict(duty)
    if "output" in found:
        found["output"] = times(found["output"], rng.uniform(0.8, 1.03), 2)
    if isinstance(found["hose_reach"], dict):
        reach = found["hose_reach"]
        found["hose_reach"] = {**reach, "distance": times(reach["distance"], rng.uniform(0.65, 1.04))}
    found["altitude"] = times(found["altitude"], rng.uniform(0.5, 1.1))
    air = found["air_temperature"]
    if isinstance(air, dict):
        number, unit = figure_of(air["hottest"])
        found["air_temperature"] = {**air, "hottest": f"{number + rng.randint(-8, 4)} {unit}"}
    return found


def little(seed: int) -> Little:
    """The catalog and brief of this seed."""
    rng = random.Random(f"little {seed}")
    name, words = list(RIGS.items())[seed % len(RIGS)]
    used = frozenset(words.split())
    brief = yaml.load(brief_path(name).read_text(encoding="utf-8"), yaml.BaseLoader)
    kept = {entry["material"] for entry in brief["materials"]} | set(brief.get("owned", ()))
    brief = {**brief, "title": f"Little {seed}", "duties": [_duty(rng, duty) for duty in brief["duties"]]}
    brief["by"] = rng.choice(["price", "price", "weight", "yearly-cost"])
    limits = dict(brief.get("limits", {}))
    if rng.random() < 0.5:
        limits.pop(BUDGET, None)
    elif BUDGET in limits:
        limits[BUDGET] = times(limits[BUDGET], rng.uniform(0.85, 1.2))
    brief["limits"] = limits
    return Little(_items(rng, used, frozenset(kept)), brief)


# --- changes ----------------------------------------------------------------------------------------------------------
def changed_brief(of: Little, **changes: Any) -> Little:
    """Other entries at the top of the brief."""
    return replace(of, brief={**of.brief, **changes})


def dearer(of: Little, factor: int) -> Little:
    """Every price, the budget and the training times this whole number."""
    def item(fields: Fields) -> Fields:
        return {name: times(text, factor, 2) if name in PRICES else text for name, text in fields.items()}

    items = {key: tuple(item(fields) for fields in own) for key, own in of.items.items()}
    limits, money = dict(of.brief["limits"]), dict(of.brief["money"])
    if BUDGET in limits:
        limits[BUDGET] = times(limits[BUDGET], factor, 2)
    money[TRAINING] = times(money[TRAINING], factor, 2)
    return replace(of, items=items, brief={**of.brief, "limits": limits, "money": money})


def neighbour(item: str, earlier: bool) -> str:
    """An id that stands directly before or after this one in the order of the catalog."""
    prefix, number = re.fullmatch(r"(.*)-([0-9]+)", item).groups()  # type: ignore[union-attr]
    return f"{prefix}-{int(number) - 1:02d}-z" if earlier else f"{item}-z"


def with_copy(of: Little, item: str, earlier: bool, price: float = 0.0) -> Little:
    """A second item with the figures of this one, before or after it in order, at so much more money."""
    found = {}
    for key, own in of.items.items():
        rows = list(own)
        for fields in own:
            if fields["id"] == item:
                number, unit = figure_of(fields["price"])
                rows.append({**fields, "id": neighbour(item, earlier), "price": f"{number + price:g} {unit}"})
        found[key] = tuple(rows)
    return replace(of, items=found)


# --- files ------------------------------------------------------------------------------------------------------------
def written(of: Little, folder: Path) -> Read:
    """Catalog and brief as YAML files in this folder, read back."""
    stock = folder / "catalog"
    stock.mkdir(parents=True, exist_ok=True)
    for name, own in of.items.items():
        lines = [f"class: {name}", "items:", *(f"- {json.dumps(fields)}" for fields in own)]
        (stock / f"{name}.yaml").write_text("\n".join(lines) + "\n", encoding="utf-8")
    path = folder / "brief.yaml"
    path.write_text("\n".join(f"{name}: {json.dumps(entry)}" for name, entry in of.brief.items()) + "\n", encoding="utf-8")
    catalog = read_catalog(stock)
    return Read(folder, catalog, read_brief(path, catalog))
