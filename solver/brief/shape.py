"""What cannot stand together in a brief, whatever the catalog: names given twice, an output said twice or not at all.

Contents: `misfits`, `not_waivable`; `entries_of`, `texts_of`, `mapping_of`, which reach into raw entries that may hold
anything. It works on the raw entries of a file, so that a wrong figure elsewhere hides nothing.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator
from difflib import get_close_matches
from typing import Any

from solver.brief.margins import Margins
from solver.errors import EntryError, Mistake
from solver.files import Document

Place = tuple[str | int, ...]

RULE_ID = re.compile(r"[A-Z]+-[0-9]{2}[A-Z]?")
OWN_WORDS = ("duty", "brief")
"""Words that stand for every duty, or for the whole brief, where a requirement is named."""


def entries_of(data: Any, *keys: str) -> list[Any]:
    """The list at these keys; empty if there is none."""
    for key in keys:
        data = data.get(key) if isinstance(data, dict) else None
    return list(data) if isinstance(data, list | tuple) else []


def texts_of(data: Any, *keys: str) -> Iterator[tuple[int, str]]:
    """The texts in the list at these keys, each with its position."""
    return ((k, entry) for k, entry in enumerate(entries_of(data, *keys)) if isinstance(entry, str))


def mapping_of(entry: Any) -> dict[str, Any]:
    """The entry if it is a mapping; else an empty one."""
    return entry if isinstance(entry, dict) else {}


def misfits(data: dict[str, Any], document: Document) -> list[Mistake]:
    """Everything in a brief that does not go together."""
    return [
        *_empty(data, document),
        *_twice(data, document),
        *_outputs(data, document),
        *_materials_of_duties(data, document),
        *_waived(data, document),
        *_owned_and_unwanted(data, document),
        *_orders_of_margins(data, document),
    ]


def _empty(data: dict[str, Any], document: Document) -> Iterator[Mistake]:
    for key, what, advice in (
        ("materials", "no material", "- {material: material-01, sets: 1}"),
        ("duties", "no duty", "a list that begins with - name:"),
    ):
        if key in data and not data[key]:
            yield document.mistake((key,), what, "at least one", advice)


def _names(data: dict[str, Any], key: str, field: str) -> list[tuple[int, str]]:
    named = ((k, mapping_of(entry).get(field)) for k, entry in enumerate(entries_of(data, key)))
    return [(k, name.strip()) for k, name in named if isinstance(name, str)]


def _twice(data: dict[str, Any], document: Document) -> Iterator[Mistake]:
    seen: set[str] = set()
    for k, name in _names(data, "materials", "material"):
        if name in seen:
            place: Place = ("materials", k, "material")
            again = f'material "{name}" a second time'
            yield document.mistake(place, again, "each material once", "adding up its sets")
        seen.add(name)
    seen = set()
    for k, name in _names(data, "duties", "name"):
        place = ("duties", k, "name")
        if name in seen:
            yield document.mistake(place, f'duty "{name}" a second time', "each name once")
        if name in OWN_WORDS:
            yield document.mistake(place, f'a duty called "{name}"', "a name that is no word of the program's own")
        seen.add(name)


def _outputs(data: dict[str, Any], document: Document) -> Iterator[Mistake]:
    for k, entry in enumerate(entries_of(data, "duties")):
        if not isinstance(entry, dict):
            continue
        said = [name for name in ("output", "board_feet_a_day") if entry.get(name) is not None]
        if len(said) == 2:
            expected = "one of them; the output follows from board feet, hours, trigger share, density and field yield"
            yield document.mistake(("duties", k, "output"), "both output and board_feet_a_day", expected)
        elif not said:
            yield document.mistake(("duties", k), "no output", "output or board_feet_a_day", "output: 12 lb/min")


def _materials_of_duties(data: dict[str, Any], document: Document) -> Iterator[Mistake]:
    aboard = list(dict.fromkeys(name for _, name in _names(data, "materials", "material")))
    if not aboard:
        return
    for k, entry in enumerate(entries_of(data, "duties")):
        if not isinstance(entry, dict):
            continue
        material = entry.get("material")
        if isinstance(material, str) and material not in aboard:
            near = get_close_matches(material, aboard, 1, 0.4)
            expected = f"a material that is aboard: {', '.join(aboard)}"
            place: Place = ("duties", k, "material")
            yield document.mistake(place, f'material "{material}"', expected, near[0] if near else "")
        elif material is None and len(aboard) > 1:
            found = f"no material, with {len(aboard)} aboard"
            yield document.mistake(("duties", k), found, f"one of {', '.join(aboard)}", f"material: {aboard[0]}")


def _waived(data: dict[str, Any], document: Document) -> Iterator[Mistake]:
    for k, rule in texts_of(data, "waived"):
        if not RULE_ID.fullmatch(rule):
            advice = rule.upper() if RULE_ID.fullmatch(rule.upper()) else ""
            yield document.mistake(("waived", k), f'"{rule}"', "the id of a practice rule, such as AIR-07", advice)


def not_waivable(data: dict[str, Any], document: Document, waivable: Collection[str]) -> Iterator[Mistake]:
    """Ids under `waived` that are no rule, or a rule that is not practice."""
    for k, rule in texts_of(data, "waived"):
        if RULE_ID.fullmatch(rule) and rule not in waivable:
            near = get_close_matches(rule, waivable, 1, 0.6)
            expected = "the id of a rule whose basis is practice"
            yield document.mistake(("waived", k), f'"{rule}"', expected, near[0] if near else "")


def _owned_and_unwanted(data: dict[str, Any], document: Document) -> Iterator[Mistake]:
    owned = {item for _, item in texts_of(data, "owned")}
    for k, item in texts_of(data, "unwanted", "items"):
        if item in owned:
            place: Place = ("unwanted", "items", k)
            yield document.mistake(place, f'"{item}", which is owned too', "an item that is not kept", "one of the two")


def _orders_of_margins(data: dict[str, Any], document: Document) -> Iterator[Mistake]:
    """Margins in the wrong order, also where another margin is wrong by itself."""
    said = mapping_of(data.get("margins"))
    for order in Margins.orders:
        values: dict[str, float] = {}
        for name in order[:2]:
            quantity = Margins.quantity(str(name))
            if quantity is not None:
                try:
                    values[str(name)] = quantity.checker()(said.get(str(name), Margins.model_fields[str(name)].default))
                except EntryError:
                    continue
        wrong = order.finding(values, Margins)
        if wrong:
            yield document.mistake(("margins", wrong.field), wrong.found, wrong.expected, wrong.advice)
