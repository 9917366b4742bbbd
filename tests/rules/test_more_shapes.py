"""Records of rules are not to be changed once they are made."""

from __future__ import annotations

import importlib
import pkgutil
from dataclasses import is_dataclass

import pytest

import solver.rules

OWN = [
    thing
    for module in pkgutil.iter_modules(solver.rules.__path__, "solver.rules.")
    for thing in vars(importlib.import_module(module.name)).values()
    if isinstance(thing, type) and is_dataclass(thing) and thing.__module__ == module.name
]


@pytest.mark.parametrize("kind", OWN, ids=lambda kind: kind.__name__)
def test_nothing_is_to_be_changed_once_it_is_made(kind):
    assert kind.__dataclass_params__.frozen
