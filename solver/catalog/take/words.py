"""What headings of price lists call the fields, and what a heading is made of.

Contents: `plain`, `names_of`, `parts_of` (a heading into name and unit, in every way), `CODES`.

Only a name of this list, or the field's own, is taken without asking. A name that is merely like one is asked about.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from solver.catalog.base import Item

_SYNONYMS: dict[str, str] = {
    "id": "item id, rigset id, catalog id",
    "label": "description, item, item description, item name, name, product, product name, product description, title",
    "price": "price each, unit price, list price, net price, our price, sales price, price usd, cost, unit cost, msrp",
    "weight": "wt, mass, dry weight, unit weight, weight each, curb weight, empty weight",
    "length": "len, l, overall length, dimensions l, dimensions length, size l, footprint length",
    "width": "w, overall width, dimensions w, dimensions width, size w, footprint width",
    "height": "h, hgt, ht, overall height, dimensions h, dimensions height, size h",
    "mounting": "mount, mounted",
    "upkeep_time": "upkeep hours, yearly upkeep time, maintenance hours, maintenance time, service time, service hours",
    "upkeep_cost": "yearly upkeep cost, maintenance cost, service cost, yearly service cost",
    "delivery": "delivery time, lead time, leadtime, ships in",
    "parts": "parts time, spare parts time, parts lead time, parts delivery, wait for parts",
    "features": "feature, tags, feature tags",
    "condition": "new or used, new used, cond",
    "connections": "connection, supply, electrical connection, wiring",
    "rated_voltage": "voltage, volts, rated volts, v",
    "motor_power": "motor, motor size, motor rating, motor hp, hp, horsepower",
    "code_letter": "code, nema code, kva code, locked rotor code, lr code letter",
    "start_share": "start, starting share",
    "power_factor": "pf, cos phi",
    "free_air": "free air delivery, fad, delivered air, scfm",
    "rating_pressure": "rated at pressure",
    "cut_in": "cut in pressure",
    "cut_out": "cut out pressure",
    "receiver": "tank, tank size, receiver size, receiver volume, tank volume, air tank",
    "duty_share": "duty cycle, duty",
    "alarm": "alarms",
    "oil_lubricated": "oil lubed",
    "outputs": "output, ratings",
    "altitude_free": "altitude without loss",
    "transient_reactance": "x d, xd",
    "tank": "fuel tank, tank size, fuel tank size, fuel capacity, tank volume",
    "speed": "engine speed, rpm",
    "sound": "sound level, noise, noise level, noise 7 m, noise at 7 m, sound at 7 m, sound level at 7 m",
    "cooling": "engine cooling, cooled by",
    "aspiration": "engine aspiration, aspirated",
    "volume": "capacity, tank size, size",
    "pressure": "max pressure, maximum pressure, rated pressure, working pressure, maximum working pressure",
    "output": "rated output, max output, maximum output",
    "heater_power": "heaters, heater, heater rating, primary heaters, heater kw",
    "longest_hose": "max hose, max hose length, maximum hose length, maximum hose",
    "hose_heat": "hose heat power, hose heater",
    "flow": "max flow, maximum flow, rated flow, airflow, air flow",
    "gvwr": "gross vehicle weight rating, gross weight rating, gross rating",
    "gcwr": "gross combined weight rating, combined rating",
    "payload": "payload capacity, carrying capacity",
    "tow_rating": "towing capacity, max towing, tow capacity",
    "floor_length": "inside length, body length, box length, cargo length",
    "floor_width": "inside width, body width, box width, cargo width",
    "front_axle_rating": "gawr front, front gawr, front axle",
    "rear_axle_rating": "gawr rear, rear gawr, rear axle, rear axles",
    "hitch": "coupling, coupler",
    "hitches": "couplings, hitch",
    "wheelbase": "wheel base, wb",
    "provides": "provides tags, covers",
    "respirators": "users, number of respirators",
    "drums": "number of drums",
    "outlets": "receptacles, number of outlets",
    "section_length": "long section, hose section length",
    "bore": "hose bore, inside diameter",
    "monoxide_alarm": "co alarm",
    "field_yield": "yield",
    "kind": "type",
}  # fmt: skip

CODES = frozenset({
    "model", "model no", "model number", "model code", "part", "part no", "part number", "item no", "item number",
    "sku", "mpn", "article no", "article number", "catalog no", "catalog number", "order no", "order code", "code no",
    "product code", "item code", "stock no", "upc", "ean", "no", "nr", "pos", "line",
})  # fmt: skip
"""Headings of codes and counters that are never made an id."""


def plain(text: str) -> str:
    """A heading's words: small letters and digits, apart by one space."""
    low = text.lower().replace("#", " no ").replace("№", " no ")
    return " ".join(re.findall(r"[a-z0-9]+", low))


@cache
def names_of(model: type[Item]) -> dict[str, frozenset[str]]:
    """Per plain name the fields of this class that are called so."""
    found: dict[str, set[str]] = {}
    own = {plain(field): field for field in model.model_fields}
    for name, field in own.items():
        found.setdefault(name, set()).add(field)
    for field in model.model_fields:
        for name in _SYNONYMS.get(field, "").split(","):
            if name.strip() and name.strip() not in own:
                found.setdefault(name.strip(), set()).add(field)
    return {name: frozenset(fields) for name, fields in found.items()}


def parts_of(heading: str) -> Iterator[tuple[str, str]]:
    """Ways of reading a heading as a name and a unit, the plainest first; the last has no unit."""
    text = " ".join(heading.split())
    if text.endswith((")", "]")):
        start = _opening(text)
        if start > 0:
            yield text[:start].strip(), text[start + 1 : -1].strip()
    for mark in (",", ":", " in ", " - ", "/"):
        before, found, after = text.rpartition(mark)
        if found and before.strip() and after.strip():
            yield before.strip(), after.strip()
    words = text.split(" ")
    for count in (1, 2, 3):
        if len(words) > count:
            yield " ".join(words[:-count]), " ".join(words[-count:])
    yield text, ""


def _opening(text: str) -> int:
    """Where the bracket opens that closes at the end of the text; -1 if nowhere."""
    depth = 0
    for at in range(len(text) - 1, -1, -1):
        depth += (text[at] in ")]") - (text[at] in "([")
        if depth == 0:
            return at
    return -1
