"""What a brief names that the catalog must have: ids, slots, classes, features.

Contents: `unknown_names`. It works on the raw entries of a file, so that a wrong figure elsewhere hides nothing.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from difflib import get_close_matches
from functools import cached_property
from typing import Any

from solver.brief.shape import Place, entries_of, mapping_of, texts_of
from solver.catalog.base import Item, item_classes
from solver.catalog.read import Catalog
from solver.errors import Mistake
from solver.files import Document

SLUG = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
PUMP_SIDES = ("feed_pump_a", "feed_pump_b")
WORD_FIELDS = ("condition", "drive")
"""Fields whose words serve as features beside the tags."""


def unknown_names(data: dict[str, Any], document: Document, catalog: Catalog, slots: Iterable[str]) -> list[Mistake]:
    """Every name in the brief that this catalog does not know; `slots` are further slot names for `asked`."""
    names = _Names(document, catalog, frozenset(slots))
    return [*names.materials(data), *names.owned(data), *names.unwanted(data), *names.asked(data)]


class _Names:
    def __init__(self, document: Document, catalog: Catalog, slots: frozenset[str]) -> None:
        self.document, self.catalog, self.slots = document, catalog, slots

    def materials(self, data: dict[str, Any]) -> Iterator[Mistake]:
        """Materials aboard; those of duties are compared with these."""
        for k, aboard in enumerate(entries_of(data, "materials")):
            material = mapping_of(aboard).get("material")
            if isinstance(material, str):
                yield from self._id(("materials", k, "material"), material, "material")

    def owned(self, data: dict[str, Any]) -> Iterator[Mistake]:
        """Items owned, each once; a feed pump serves two sides."""
        owned = list(texts_of(data, "owned"))
        for k, item in owned:
            yield from self._item(("owned", k), item)
            before = [other for at, other in owned if at < k].count(item)
            most = 2 if item in self.catalog and self.catalog.class_of(item) == "feed_pump" else 1
            if before >= most:
                times = "at most twice, for two sides" if most == 2 else "each item once"
                yield self.document.mistake(("owned", k), f'"{item}" once more', times)

    def unwanted(self, data: dict[str, Any]) -> Iterator[Mistake]:
        """Items, classes and features left out."""
        for k, item in texts_of(data, "unwanted", "items"):
            yield from self._item(("unwanted", "items", k), item)
        for k, name in texts_of(data, "unwanted", "classes"):
            yield from self._class(("unwanted", "classes", k), name)
        every = self._features(item for items in self.catalog.classes.values() for item in items)
        for k, feature in texts_of(data, "unwanted", "features"):
            yield from self._feature(("unwanted", "features", k), feature, every)

    def asked(self, data: dict[str, Any]) -> Iterator[Mistake]:
        """Slots of which something is asked, and the features asked for."""
        for slot in mapping_of(data.get("asked")):
            place: Place = ("asked", slot)
            if slot not in self._slots:
                near = " or ".join(PUMP_SIDES) if slot == "feed_pump" else self._near(slot, self._slots, 0.6)
                yield self.document.mistake(place, f'"{slot}"', "a slot of the rig", near)
                continue
            items = self.catalog.classes.get("feed_pump" if slot in PUMP_SIDES else slot, ())
            known = self._features(items)
            for k, feature in texts_of(data, "asked", slot):
                yield from self._feature((*place, k), feature, known)

    @cached_property
    def _slots(self) -> frozenset[str]:
        several = {"material", "feed_pump"}
        single = {name for name, kind in item_classes().items() if "provides" not in kind.model_fields} - several
        return frozenset({*single, *PUMP_SIDES, *self.slots})

    def _id(self, place: Place, item: str, item_class: str | None = None) -> Iterator[Mistake]:
        if item in self.catalog and item_class in (None, self.catalog.class_of(item)):
            return
        if not SLUG.fullmatch(item):  # which the field says by itself
            return
        expected = f"the id of a {item_class}" if item_class else "an id of the catalog"
        near = self.catalog.nearest(item, item_class)
        yield self.document.mistake(place, f'id "{item}"', expected, near or "look the id up in the catalog")

    def _item(self, place: Place, item: str) -> Iterator[Mistake]:
        """An item that can fill a slot."""
        yield from self._id(place, item)
        if item in self.catalog and self.catalog.class_of(item) == "material":
            advice = "the key materials for what is sprayed"
            yield self.document.mistake(place, f'"{item}", a material', "an item that fills a slot", advice)

    def _class(self, place: Place, name: str) -> Iterator[Mistake]:
        optional = [known for known, item_class in item_classes().items() if not item_class.required]
        if name in optional:
            return
        if name in item_classes():
            expected = "a class whose slot may stay empty"
            yield self.document.mistake(place, f'"{name}", which no rig goes without', expected)
        else:
            yield self.document.mistake(place, f'"{name}"', "a class of the catalog", self._near(name, optional, 0.6))

    def _feature(self, place: Place, feature: str, known: frozenset[str]) -> Iterator[Mistake]:
        """A feature that nothing carries is no mistake, unless it is spelled nearly like one that something does."""
        if feature in known:
            return
        near = self._near(feature, known, 0.8)
        if near:
            expected = "a feature of some item"
            yield self.document.mistake(place, f'the feature "{feature}"', expected, near)

    def _features(self, items: Iterable[Item]) -> frozenset[str]:
        found: set[str] = {"new", "used"}
        for item in items:
            found.update(item.features)
            found.update(str(word) for name in WORD_FIELDS if (word := getattr(item, name, None)))
        return frozenset(found)

    @staticmethod
    def _near(word: str, words: Iterable[str], cutoff: float) -> str:
        near = get_close_matches(word, sorted(words), 1, cutoff)
        return near[0] if near else ""
