"""The records of a floor.

Contents: `records_of`.
"""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Collection
from dataclasses import is_dataclass
from types import ModuleType


def records_of(floor: ModuleType, working: Collection[str] = ()) -> list[type]:
    """Dataclasses that the modules of a floor define, but for those, by name, that change while work goes on."""
    return [
        thing
        for module in pkgutil.iter_modules(floor.__path__, f"{floor.__name__}.")
        for thing in vars(importlib.import_module(module.name)).values()
        if isinstance(thing, type) and is_dataclass(thing)
        if thing.__module__ == module.name and thing.__name__ not in working
    ]
