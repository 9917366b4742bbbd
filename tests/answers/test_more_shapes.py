"""Facts and questions are not to be changed once they are made."""

from __future__ import annotations

import importlib
import pkgutil
from dataclasses import is_dataclass

import pytest

import solver.answers

WORKING = {"Met", "_Open"}
"""What an answer notes while it works."""
OWN = [
    thing
    for module in pkgutil.iter_modules(solver.answers.__path__, "solver.answers.")
    for thing in vars(importlib.import_module(module.name)).values()
    if isinstance(thing, type) and is_dataclass(thing)
    if thing.__module__ == module.name and thing.__name__ not in WORKING
]


@pytest.mark.parametrize("kind", OWN, ids=lambda kind: kind.__name__)
def test_nothing_is_to_be_changed_once_it_is_made(kind):
    assert kind.__dataclass_params__.frozen
