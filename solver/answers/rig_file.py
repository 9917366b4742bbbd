"""Reading a rig chosen by hand: which option of every slot a person means.

Contents: `read_rig` (a whole rig), `read_named` (a rig of which only some slots are filled), `Named`.

A rig file is YAML (or the JSON that `rigset pick --json` prints). Under `rig` stands either a list of lines with `slot`,
`item` and `choice`, or a mapping from slot to item id, or to `{item: ..., choice: ...}`. Safety items, tools, spares and
winter kit may be listed together under `aboard`. Slots not named stay empty; slots that cannot stay empty are mistakes.
Where an item can be configured in several ways and the file does not say which, the wiring that the generator gives is
taken; where that still leaves a choice that matters (hose sections, number of drum heaters, generator output), it is a
mistake that lists the choices. Where only some slots are filled, those not named are open and a choice not said is open.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from pathlib import Path
from typing import Any, TypeVar

from solver.answers.ask import Asked
from solver.errors import InputError, Mistake
from solver.files import Node, read_yaml
from solver.options.table import NONE, SlotOptions
from solver.rules.balance import Rig
from solver.yaml_events import MOST_MISTAKES

_MUST_SAY = ("hose", "drum_heater", "generator")
_LONGEST = 200
"""Characters of what was found, as a message shows it."""

Read = TypeVar("Read")
Named = Mapping[str, tuple[int, ...]]
"""Per slot that a file names, the options that what is said leaves open. Slots that are not in it are not named."""


@dataclass(frozen=True)
class _Wish:
    item: str
    choice: str
    line: int


def _text(node: Node) -> str:
    """What an entry says; a list or mapping where a word is wanted is named as what it is."""
    if isinstance(node.value, str):
        return node.value
    return "a list" if isinstance(node.value, list) else "a mapping"


class _Reader:
    def __init__(self, path: Path, asked: Asked):
        self.path, self.asked = path, asked
        self.mistakes: list[Mistake] = []
        self.wishes: dict[str, _Wish] = {}

    def mistake(self, line: int, found: str, expected: str, advice: str) -> None:
        short = found if len(found) <= _LONGEST else f"{found[: _LONGEST - 3]}..."
        self.mistakes.append(Mistake(str(self.path), line, short, expected, advice))
        if len(self.mistakes) >= MOST_MISTAKES:
            raise InputError(self.mistakes)

    def rig(self) -> Rig:
        """The whole rig."""
        self._read()
        return self._told(self._settle())

    def named(self) -> Named:
        """What is named, slot by slot in the order of the rig."""
        self._read()
        slots = self.asked.setting.slots
        return self._told({name: self._ways(slots[name], self.wishes[name]) for name in slots if name in self.wishes})

    def _told(self, found: Read) -> Read:
        if self.mistakes:
            raise InputError(self.mistakes)
        return found

    def _read(self) -> None:
        root = read_yaml(self.path).root
        data: Any = root.value
        if not isinstance(data, dict) or "rig" not in data:
            raise InputError([Mistake(str(self.path), 1, "no key `rig`", "a mapping with the key `rig`",
                                      "start the file with `rig:` and a line `slot: item-id` for every slot")])  # fmt: skip
        self._wishes_from(data["rig"])
        if "aboard" in data:
            self._aboard(data["aboard"])

    def _aboard(self, node: Node) -> None:
        if not isinstance(node.value, list) or any(isinstance(entry.value, list | dict) for entry in node.value):
            self.mistake(node.line, "something else under `aboard`", "a list of item ids", "aboard: [safety-01, tool-01]")
            return
        for entry in node.value:
            self._wish(_text(entry), _text(entry), "", entry.line)

    def _wishes_from(self, node: Node) -> None:
        if isinstance(node.value, list):
            for entry in node.value:
                fields = entry.value if isinstance(entry.value, dict) else {}
                if "slot" not in fields or "item" not in fields:
                    found = "a line without `slot` and `item`"
                    self.mistake(entry.line, found, "both keys", "write {slot: gun, item: gun-01}")
                    continue
                choice = _text(fields["choice"]) if "choice" in fields else ""
                self._wish(_text(fields["slot"]), _text(fields["item"]), choice, entry.line)
        elif isinstance(node.value, dict):
            for slot, entry in node.value.items():
                if isinstance(entry.value, dict):
                    fields = entry.value
                    item = _text(fields["item"]) if "item" in fields else ""
                    choice = _text(fields["choice"]) if "choice" in fields else ""
                    self._wish(slot, item, choice, entry.line)
                else:
                    self._wish(slot, _text(entry), "", entry.line)
        else:
            self.mistake(node.line, "text under `rig`", "a list or a mapping of slots", "write `slot: item-id` lines")

    def _wish(self, slot: str, item: str, choice: str, line: int) -> None:
        slots = self.asked.setting.slots
        if slot not in slots:
            near = get_close_matches(slot, slots, 1)
            self.mistake(line, f"slot `{slot}`", "a slot of the rig", f"did you mean `{near[0]}`?" if near else
                         "see the list of slots in the catalog reference")  # fmt: skip
            return
        table = slots[slot]
        if item not in table.items:
            near = get_close_matches(item, table.items, 1)
            self.mistake(line, f"item `{item}` in slot {slot}", f"an item of class {table.slot.item_class}",
                         f"did you mean `{near[0]}`?" if near else "look the id up in the catalog")  # fmt: skip
            return
        if slot in self.wishes:
            self.mistake(line, f"slot {slot} a second time", "one line a slot", "take one of the lines out")
            return
        self.wishes[slot] = _Wish(item, choice, line)

    def _settle(self) -> Rig:
        rig: dict[str, int] = {}
        slots = self.asked.setting.slots
        system = self._system(slots)
        for name, table in slots.items():
            wish = self.wishes.get(name)
            if wish is not None:
                rig[name] = self._option(name, table, wish, system)
            elif table.slot.optional:
                rig[name] = table.items.index(NONE)
            else:
                rig[name] = 0
                self.mistake(1, f"nothing for slot {name}", "an item in every slot that cannot stay empty",
                             f"add `{name}: {table.items[0]}` or another item of class {table.slot.item_class}")  # fmt: skip
        return rig

    def _system(self, slots: Mapping[str, SlotOptions]) -> str:
        wish = self.wishes.get("generator")
        if wish is None:
            sites = {duty.site_system for duty in self.asked.brief.duties if duty.site_system}
            return sites.pop() if len(sites) == 1 else ""
        table = slots["generator"]
        options = list(self._matching(table, wish))
        systems = {"split" if table.numbers["system_split"][j] else "wye" for j in options}
        return systems.pop() if len(systems) == 1 else ""

    @staticmethod
    def _matching(table: SlotOptions, wish: _Wish) -> list[int]:
        return [
            j
            for j, item in enumerate(table.items)
            if item == wish.item and (not wish.choice or wish.choice == table.choices[j])
        ]

    def _ways(self, table: SlotOptions, wish: _Wish) -> tuple[int, ...]:
        options = self._matching(table, wish)
        if not options:
            ways = [c for c, item in zip(table.choices, table.items, strict=True) if item == wish.item]
            self.mistake(wish.line, f"choice `{wish.choice}` of {wish.item}", "one of: " + "; ".join(ways[:8]),
                         "copy one of these words")  # fmt: skip
        return tuple(options)

    def _option(self, name: str, table: SlotOptions, wish: _Wish, system: str) -> int:
        options = list(self._ways(table, wish))
        if not options:
            return 0
        if len(options) > 1 and system and "system_split" in table.numbers and name != "generator":
            own = [j for j in options if table.numbers[f"system_{system}"][j]]
            options = own or options
        if len(options) > 1 and name in _MUST_SAY:
            self.mistake(wish.line, f"{wish.item} without its choice", "one of: " + "; ".join(
                table.choices[j] for j in options[:14]), f"write {name}: {{item: {wish.item}, choice: ...}}")  # fmt: skip
        return options[0]


def read_rig(path: Path, asked: Asked) -> Rig:
    """The rig that a file names: option index of every slot. InputError lists every mistake with file and line."""
    return _Reader(path, asked).rig()


def read_named(path: Path, asked: Asked) -> Named:
    """What a file names of a rig. InputError lists every mistake with file and line; an open slot is none."""
    return _Reader(path, asked).named()
