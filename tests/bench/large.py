"""Large invented catalogs: the demo catalog with many more items around its own, figures drawn with a seed.

Contents: `large_items` (items as text, by class), `write_large` (files as `read_catalog` reads them, and a brief),
`large_catalog` (the same in memory), `LARGE_BRIEF`.

An added item starts from an item of the demo catalog and a size. What it can do goes with the size; price and weight go
with a power of it; every figure has lognormal scatter of its own. Kit classes stay as they are. Everything is invented.
"""

from __future__ import annotations

import copy
import re
from pathlib import Path
from typing import Any

import numpy as np

import solver
from solver.brief.models import Brief
from solver.brief.read import brief_of
from solver.catalog.base import item_classes
from solver.catalog.quick import quick_item
from solver.catalog.read import Catalog, build_catalog, read_catalog
from solver.errors import InternalError
from solver.files import find_yaml, read_yaml
from solver.options import build_options

DEMO = Path(solver.__file__).parent.parent / "catalog_demo" / "catalog"
Entry = dict[str, Any]

SHARES: dict[str, float] = {
    "hose": 0.14, "compressor": 0.14, "generator": 0.12, "proportioner": 0.12, "vehicle": 0.09, "air_dryer": 0.08,
    "breathing_air": 0.06, "feed_pump": 0.06, "body_heater": 0.05, "drum_heater": 0.04, "gun": 0.04, "body_cooler": 0.02,
    "receiver": 0.01, "fuel_tank": 0.01, "tow_vehicle": 0.01, "ventilation_fan": 0.01,
}  # fmt: skip
"""Share of each class in the options that are added."""

SPREAD: dict[str, float] = {"vehicle": 0.07, "tow_vehicle": 0.07, "hose": 0.10}
"""Standard deviation of the logarithm of an item's size against the demo item's; 0.22 for classes not named."""

COMMON: dict[str, tuple[float, float]] = {
    "price": (0.8, 0.16), "weight": (0.7, 0.11), "length": (0.3, 0.04), "width": (0.3, 0.04), "height": (0.2, 0.04),
    "upkeep_time": (0.3, 0.20), "upkeep_cost": (0.4, 0.20), "delivery": (0.0, 0.35), "parts": (0.0, 0.35),
}  # fmt: skip
"""Field: power of the size that it goes with, standard deviation of the logarithm of its own scatter."""

FIGURES: dict[str, dict[str, tuple[float, float]]] = {
    "air_dryer": {"rated_flow": (1.0, 0.05), "power": (0.9, 0.10), "pressure_drop": (0.0, 0.20)},
    "body_cooler": {"heat": (1.0, 0.05), "power": (1.0, 0.07)},
    "body_heater": {"heat": (1.0, 0.0), "power": (1.0, 0.0), "burn": (1.0, 0.05)},
    "breathing_air": {"air_per_respirator": (0.0, 0.10), "hose_length": (0.5, 0.10)},
    "compressor": {"free_air": (1.0, 0.06), "receiver": (0.7, 0.20), "approach": (0.0, 0.18), "duty_share": (0.0, 0.04)},
    "drum_heater": {"power": (1.0, 0.05)},
    "feed_pump": {"flow": (1.0, 0.08), "air_per_flow": (0.0, 0.15), "half_flow_viscosity": (0.3, 0.12)},
    "fuel_tank": {"volume": (1.0, 0.05)},
    "generator": {
        "idle_burn": (0.9, 0.08), "burn_per_energy": (0.0, 0.03), "tank": (0.7, 0.15), "sound": (0.0, 0.02),
        "radiator_air": (0.9, 0.08), "body_heat": (1.0, 0.10), "transient_reactance": (0.0, 0.15),
        "altitude_loss": (0.0, 0.08), "temperature_loss": (0.0, 0.08),
    },
    "gun": {"largest_output": (1.0, 0.05), "purge_air": (0.4, 0.18), "cleaning_air": (0.2, 0.12)},
    "hose": {
        "short_price": (0.8, 0.10), "short_weight": (0.7, 0.06), "whip_price": (0.4, 0.15), "whip_weight": (0.3, 0.08),
        "loss": (-0.5, 0.10), "heat_capacity": (0.6, 0.06),
    },
    "proportioner": {
        "output": (1.0, 0.05), "heater_power": (0.9, 0.10), "longest_hose": (0.5, 0.08), "hose_heat": (0.6, 0.10),
        "air_per_output": (0.0, 0.08), "body_heat": (0.8, 0.10),
    },
    "receiver": {"volume": (1.0, 0.05)},
    "tow_vehicle": {"weight": (0.9, 0.03), "gvwr": (1.0, 0.02), "tow_rating": (1.2, 0.05), "gcwr": (1.1, 0.03)},
    "vehicle": {
        "weight": (0.9, 0.03), "gvwr": (1.0, 0.02), "floor_length": (0.4, 0.04), "ua": (0.6, 0.10),
        "heat_capacity": (0.6, 0.08), "front_axle_rating": (1.0, 0.04),
        "rear_axle_rating": (1.0, 0.04), "wheelbase": (0.4, 0.03),
    },
    "ventilation_fan": {"flow": (1.0, 0.06), "power": (0.9, 0.08)},
}  # fmt: skip
"""What goes with the size of an item, and how closely; the rest stays as the demo item has it."""

MOTORS = (0.5, 0.75, 1.0, 1.5, 2.0, 3.0, 5.0, 7.5, 10.0, 15.0, 20.0, 25.0)
"""Motor sizes as built [hp]; single-phase ones end at 10 hp."""

LARGE_BRIEF: dict[str, Any] = {
    "title": "Many catalogs on one desk",
    "story": "Thornvale Insulation sprays halls on the plain in summer and houses in the hills in winter, from one rig.",
    "by": "price",
    "materials": [{"material": "material-02", "sets": "2"}],
    "crew": {"sprayers": "1", "helpers": "2", "trimmers": "0", "respirator": "tight-fitting"},
    "duties": [
        {
            "name": "summer halls", "output": "17 lb/min", "hose_reach": "230 ft", "altitude": "600 ft",
            "air_temperature": {"coldest": "55 degF", "hottest": "96 degF"}, "humidity": "65 %",
            "hours": {"overnight": "13 h", "warm-up": "1 h", "spraying": "4 h", "cleaning": "0.75 h"},
            "overnight": {"parking": "outdoors", "air": "55 degF", "hose_inside": "true", "keep_warm": "60 degF",
                          "shore_power": "3 kW"},
            "tool_power": "1.2 kW",
        },
        {
            "name": "winter hills", "output": "13 lb/min", "hose_reach": "180 ft", "altitude": "4200 ft",
            "air_temperature": {"coldest": "18 degF", "hottest": "50 degF"}, "humidity": "55 %",
            "hours": {"overnight": "14 h", "warm-up": "2 h", "spraying": "4 h", "cleaning": "0.5 h"},
            "overnight": {"parking": "outdoors", "air": "12 degF", "hose_inside": "true", "keep_warm": "58 degF",
                          "shore_power": "6 kW"},
            "tool_power": "0.8 kW",
        },
    ],
    "outlets": "4",
    "limits": {"budget": "240000 USD", "combined_rating": "26000 lb", "upkeep_time": "200 h"},
    "money": {"tax": "7 %", "freight": "3 %", "training": "2500 USD", "first_material": "true"},
}  # fmt: skip
"""A brief with two duties for any of these catalogs, in the shape of its file."""

_FIGURE = re.compile(r"([0-9.]+) (.+)")


def _times(text: str, factor: float) -> str:
    """A figure with its unit, times a factor, to four digits."""
    found = _FIGURE.fullmatch(text)
    if found is None:
        raise InternalError(f"{text} is no figure with a unit")
    value = float(found[1]) * factor
    digits = 3 - int(np.floor(np.log10(value))) if value > 0.0 else 0
    return f"{np.format_float_positional(round(value, digits), trim='-')} {found[2]}"


def _near_one(rng: np.random.Generator, deviation: float) -> float:
    """A lognormal factor, no farther out than two and a half standard deviations."""
    return float(np.exp(np.clip(rng.normal(0.0, deviation), -2.5 * deviation, 2.5 * deviation)))


def _number(text: str) -> float:
    return float(text.split(" ", 1)[0])


def _motor(entry: Entry, size: float) -> float:
    """Give the entry a motor as built of about that size; the size that it comes to."""
    power = _number(entry["motor_power"])
    most = 25.0 if entry["connections"] == ["3-phase"] else 10.0
    usual = [hp for hp in MOTORS if hp <= max(most, power)]
    near = min(usual, key=lambda hp: abs(np.log(hp / (power * size))))
    entry["motor_power"] = f"{near:g} hp"
    return near / power


def _within(entry: Entry, template: Entry, item_class: str) -> None:
    """Mend figures that hang together."""
    if item_class in ("vehicle", "tow_vehicle"):
        used = _number(template["payload"]) / (_number(template["gvwr"]) - _number(template["weight"]))
        entry["payload"] = f"{int((_number(entry['gvwr']) - _number(entry['weight'])) * used)} lb"
    if item_class == "tow_vehicle":
        entry["gcwr"] = f"{max(_number(entry['gcwr']), _number(entry['gvwr'])):g} lb"
    for name in ("duty_share", "heat_share", "transient_reactance"):
        if name in entry:
            entry[name] = f"{min(_number(entry[name]), 100.0):g} %"


def _invented(template: Entry, item_class: str, number: int, rng: np.random.Generator) -> Entry:
    """One more item like the template, of another size."""
    entry = copy.deepcopy(template)
    size = _near_one(rng, SPREAD.get(item_class, 0.22))
    if item_class in ("proportioner", "compressor") and _number(template["motor_power"]) > 0.0:
        built = _motor(entry, size)
        size = built if item_class == "compressor" else size
    for name, (power, scatter) in {**COMMON, **FIGURES[item_class]}.items():
        factor = size**power * _near_one(rng, scatter)
        if name in entry and _number(entry[name]) > 0.0:
            entry[name] = _times(entry[name], factor)
    for output in entry.get("outputs", ()):
        for name in ("power", "apparent_power"):
            output[name] = _times(output[name], size)
    _within(entry, template, item_class)
    entry["id"] = f"{item_class.replace('_', '-')}-{number:04d}"
    entry["label"] = f"{item_class.replace('_', ' ').capitalize()} {number}, like {template['id']}"
    return entry


def large_items(options: int, seed: int) -> dict[str, list[Entry]]:
    """Items by class, as text; together they make about so many options. The same for the same seed.

    Parameters
    ----------
    options : int
        Configured options over all slots; no fewer than the demo catalog has.
    seed : int
    """
    rng = np.random.default_rng(seed)
    items = {}
    for path in find_yaml(DEMO):
        data: Any = read_yaml(path).data
        items[data["class"]] = list(data["items"])
    tables = build_options(read_catalog(DEMO)).values()
    missing = options - sum(len(table) for table in tables)
    if missing < 0:
        raise ValueError(f"the demo catalog alone has {options - missing} options")
    for item_class, share in SHARES.items():
        templates = list(items[item_class])
        ways = [sum(table.items.count(entry["id"]) for table in tables) for entry in templates]
        left = missing * share
        while left > 0.0:
            k = int(rng.integers(len(templates)))
            items[item_class].append(_invented(templates[k], item_class, len(items[item_class]) + 1, rng))
            left -= ways[k]
    return items


def _lines(entry: Entry) -> list[str]:
    """An item as lines of YAML."""
    found = []
    for name, value in entry.items():
        if isinstance(value, list) and value and isinstance(value[0], dict):
            found.append(f"{name}:")
            found += [f"- {{{', '.join(f'{key}: {text}' for key, text in part.items())}}}" for part in value]
        else:
            found.append(f"{name}: [{', '.join(value)}]" if isinstance(value, list) else f"{name}: {value}")
    return [("- " if k == 0 else "  ") + line for k, line in enumerate(found)]


def write_large(folder: Path, options: int, seed: int, items_a_file: int = 5_000) -> Path:
    """Write the catalog's files to a folder `catalog` in this folder, and the brief beside it; gives the brief's path."""
    import yaml

    home = folder / "catalog"
    home.mkdir(parents=True)
    for item_class, entries in large_items(options, seed).items():
        for start in range(0, len(entries), items_a_file):
            lines = [f"class: {item_class}", "items:"]
            for entry in entries[start : start + items_a_file]:
                lines += _lines(entry)
            number = start // items_a_file + 1
            (home / f"{item_class}_{number}.yaml").write_text("\n".join(lines) + "\n", encoding="utf-8")
    path = folder / "brief.yaml"
    text = yaml.safe_dump(LARGE_BRIEF, sort_keys=False).replace("'", "")
    path.write_text(text, encoding="utf-8")
    return path


def large_catalog(options: int, seed: int) -> tuple[Catalog, Brief]:
    """The same catalog and brief, without files."""
    classes = item_classes()
    items = []
    for item_class, entries in large_items(options, seed).items():
        for entry in entries:
            item = quick_item(classes[item_class], entry)
            items.append(classes[item_class].model_validate(entry) if item is None else item)
    catalog = build_catalog(f"(large, seed {seed})", items)
    return catalog, brief_of(LARGE_BRIEF, catalog)
