"""The docstring of a formula is data: names, units, example and source are held against function and project."""

from __future__ import annotations

import doctest
import importlib
import inspect
import math
import pkgutil
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pint
import pytest

import solver.formulas
from solver.errors import UnknownUnit
from solver.formulas.record import describe, is_formula, recording
from solver.quantities import dimension_of

NOMENCLATURE = Path(__file__).parents[2] / "docs" / "nomenclature.md"
MODULES = sorted(module.name for module in pkgutil.iter_modules(solver.formulas.__path__))
MACHINERY = {"record", "ranges"}


def _formulas() -> dict[str, Callable[..., Any]]:
    found: dict[str, Callable[..., Any]] = {}
    for name in MODULES:
        module = importlib.import_module(f"solver.formulas.{name}")
        for title, thing in vars(module).items():
            if is_formula(thing) and thing.__module__ == module.__name__ and not title.startswith("_"):
                found[f"{name}.{title}"] = thing
    return found


FORMULAS = _formulas()
everything = pytest.mark.parametrize("formula", FORMULAS.values(), ids=FORMULAS.keys())


def _nomenclature() -> dict[str, str]:
    rows = re.findall(r"^\| `(\w+)` \| (.+?) \| .+ \|$", NOMENCLATURE.read_text(encoding="utf-8"), re.MULTILINE)
    assert len(rows) == len({name for name, _ in rows}), "a name stands twice"
    return dict(rows)


NAMES = _nomenclature()


REGISTRY = pint.UnitRegistry()
for _line in ("USD = [money]", "board_feet = [foam]", "dBA = [sound]", "VA = [apparent]", "var = watt"):
    REGISTRY.define(_line)


def _pint(unit: str) -> pint.Unit:
    text = re.sub(r"\b(m)([23])\b", r"\1**\2", "dimensionless" if unit == "-" else unit)
    return REGISTRY.parse_units(text)


def _known(unit: str) -> bool:
    try:
        dimension_of("1" if unit == "-" else unit)
    except UnknownUnit:
        try:
            _pint(unit)
        except pint.PintError:
            return False
    return True


def test_there_are_formulas() -> None:
    assert len(FORMULAS) >= 60


def test_every_public_function_of_a_formula_module_that_takes_numbers_is_a_formula_or_says_what_it_is() -> None:
    """Each public function is either decorated or documented by an opening sentence."""
    bare = []
    for name in set(MODULES) - MACHINERY:
        module = importlib.import_module(f"solver.formulas.{name}")
        for title, thing in vars(module).items():
            mine = inspect.isfunction(thing) and thing.__module__ == module.__name__ and not title.startswith("_")
            if mine and not is_formula(thing) and not inspect.getdoc(thing):
                bare.append(f"{name}.{title}")
    assert bare == []


@everything
def test_parameters_are_those_of_the_signature(formula: Callable[..., Any]) -> None:
    assert list(describe(formula).parameters) == list(inspect.signature(formula).parameters)


@everything
def test_every_bracket_is_a_unit(formula: Callable[..., Any]) -> None:
    doc = describe(formula)
    units = [quantity.unit for quantity in (*doc.parameters.values(), doc.returns)]
    assert [unit for unit in units if not _known(unit)] == []


@everything
def test_every_parameter_is_in_the_nomenclature_with_the_same_unit(formula: Callable[..., Any]) -> None:
    stated = {name: quantity.unit for name, quantity in describe(formula).parameters.items()}
    assert stated == {name: NAMES.get(name, "is not in docs/nomenclature.md") for name in stated}


@everything
def test_it_says_what_it_is_for_and_where_it_is_from(formula: Callable[..., Any]) -> None:
    doc = describe(formula)
    assert doc.purpose.endswith(".")
    assert doc.formula
    assert doc.notes
    assert all(quantity.text for quantity in (*doc.parameters.values(), doc.returns))
    assert doc.references
    assert all(len(reference) > 8 for reference in doc.references)


def _run_example(formula: Callable[..., Any]) -> int:
    """Run the doctest of a formula; the number of its examples."""
    module = importlib.import_module(formula.__module__)
    test = doctest.DocTestParser().get_doctest(
        inspect.getdoc(formula) or "", dict(vars(module)), formula.__name__, module.__file__, 0
    )
    result = doctest.DocTestRunner().run(test)
    assert result.failed == 0
    return result.attempted


@everything
def test_its_example_calls_it_and_holds(formula: Callable[..., Any]) -> None:
    with recording() as calls:
        assert _run_example(formula) >= 1
    assert formula.__name__ in {call.name for call in calls if call.depth == 0}


@everything
def test_floats_give_plain_floats(formula: Callable[..., Any]) -> None:
    with recording() as calls:
        _run_example(formula)
    for call in calls:
        numbers = not any(isinstance(value, np.ndarray | list) for value in call.arguments.values())
        if call.name == formula.__name__ and numbers:
            assert type(call.result) in (float, int, str), call


def test_nothing_on_the_page_is_left_over() -> None:
    used = {name for formula in FORMULAS.values() for name in describe(formula).parameters}
    assert sorted(set(NAMES) - used) == []


# --- calling with the stated units gives the stated unit --------------------------------------------------------------

WITH_CONSTANTS = {
    "air": "gas constants, standard air, the standard atmosphere",
    "compressed_air": "gas constants, standard air",
    "saturation": "gas constants, fits in K and Pa",
    "moist_air": "gas constants, fits in K and Pa",
    "breathing": "figures of a regulation",
    "noise": "figures of a regulation",
    "breakers": "tables",
    "conductors": "tables",
    "motors": "tables",
    "motor_starts.locked_rotor_current": "tables",
    "motor_starts.code_letter_kva": "tables",
    "engine_methods": "tables and reference states",
    "vehicle_classes": "figures of a regulation",
    "body_heat.air_change_heat": "heat capacity of air",
    "body_heat.ventilation_heat": "heat capacity of air",
    "foam": "the board foot",
}
"""Modules and formulas that hold constants with a unit: they give the stated unit for SI arguments alone."""

HOMOGENEOUS = {
    name: formula for name, formula in FORMULAS.items() if not {name, name.split(".")[0]} & set(WITH_CONSTANTS)
} | {"compressed_air.compression_power": FORMULAS["compressed_air.compression_power"]}
_STEPS = {"[length]": 3.0, "[mass]": 5.0, "[time]": 7.0, "[temperature]": 1.1, "[current]": 1.3, "[money]": 11.0,
          "[foam]": 2.3, "[apparent]": 5.0 * 3.0**2 / 7.0**3}  # fmt: skip


def _step(unit: str) -> float:
    """SI value of the unit's like, in a system whose base units are so many times those of SI."""
    return math.prod(_STEPS[base] ** power for base, power in _pint(unit).dimensionality.items())


@pytest.mark.parametrize("formula", HOMOGENEOUS.values(), ids=HOMOGENEOUS.keys())
def test_the_result_has_the_stated_unit(formula: Callable[..., Any]) -> None:
    """In another consistent system of units the same formula gives the same quantity, so its units are right."""
    doc = describe(formula)
    with recording() as calls:
        _run_example(formula)
    example = next(call for call in calls if call.name == formula.__name__ and call.depth == 0)
    scaled = {}
    for name, value in example.arguments.items():
        step = _step(doc.parameters[name].unit)
        if not isinstance(value, str):
            value = np.asarray(value) / step if np.ndim(value) else value / step
        scaled[name] = value
    result = formula(**scaled)
    assert np.asarray(result) * _step(doc.returns.unit) == pytest.approx(np.asarray(example.result), rel=1e-9)
