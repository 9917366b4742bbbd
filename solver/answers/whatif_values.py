"""What is varied in a what-if: from `duty.hose_reach=100ft:300ft:50ft` to a requirement with its values.

Contents: `Axis`, `axis_of` (from text), `axis_from` (from figures in SI), `figure_of`.

A range is from:to:step, both ends included where the steps meet them; a list is separated by commas. Every figure has
a unit, with or without a space before it. The step of a temperature is a difference: `5degF`.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from math import floor, isfinite

from solver.brief.models import Brief
from solver.brief.requirements import Requirement, find
from solver.errors import EntryError, NotANumber, UnitForgotten
from solver.quantities import dimension_of, factor_of, from_unit, parse, to_unit

MOST_VALUES = 10_000
"""Values of one requirement; more is taken for a slip in the step."""

_FORM = re.compile(r"([+-]?[$]?[0-9.eE+-]*[0-9.])\s*([^0-9\s].*)?")


@dataclass(frozen=True)
class Axis:
    """One requirement that is varied, and its values."""

    path: str
    """As it was named."""
    requirement: Requirement
    """What is varied."""
    duties: tuple[str, ...]
    """The duties in which it is varied; none for a requirement of the whole brief."""
    values: tuple[float, ...]
    """The values in SI, in the order given."""


def axis_of(text: str, brief: Brief) -> Axis:
    """The axis that a text names; EntryError with a way out if it names none.

    Parameters
    ----------
    text : str
        PATH=VALUES, the path as `solver.brief.requirements.find` takes it.
    brief : Brief
        The brief whose requirement is varied.
    """
    path, mark, values = text.partition("=")
    if not mark or not values.strip():
        raise EntryError(f'"{text}"', "PATH=FROM:TO:STEP or PATH=VALUE,VALUE", "duty.hose_reach=100ft:300ft:50ft")
    requirement, duties = find(path.strip(), brief)
    parts = [part.strip() for part in values.split(":")]
    if len(parts) == 1:
        found = _list(values.split(","), requirement)
    elif len(parts) == 3:
        found = _range(text, parts, requirement)
    else:
        raise EntryError(f'"{text}"', "a range of three figures, FROM:TO:STEP", _example(path.strip(), requirement))
    return axis_from(path.strip(), requirement, duties, found)


def axis_from(path: str, requirement: Requirement, duties: tuple[str, ...], values: Sequence[float]) -> Axis:
    """An axis from figures in SI; EntryError where there are none, too many, or one of them twice."""
    if not values:
        raise EntryError(f'"{path}" without a value', "at least one value")
    if len(values) > MOST_VALUES:
        raise EntryError(f'{len(values):,} values of "{path}"', f"at most {MOST_VALUES:,}", "a larger step")
    seen: set[float] = set()
    for value in values:
        if value in seen:
            again = f'{figure_of(requirement, value)} a second time in "{path}"'
            raise EntryError(again, "each value once")
        seen.add(value)
    return Axis(path, requirement, duties, tuple(float(value) for value in values))


def figure_of(requirement: Requirement, value: float) -> str:
    """A value in SI as text in the requirement's own unit."""
    if requirement.unit == "1":
        return f"{value:g}"
    return f"{round(float(to_unit(value, requirement.unit)), 6):,.10g} {requirement.unit}"


def _example(path: str, requirement: Requirement) -> str:
    unit = "" if requirement.whole else requirement.unit.replace("delta_", "")
    low, step = f"{requirement.least:g}{unit}", f"{requirement.step:g}{unit}"
    return f"{path}={low}:{requirement.least + 4 * requirement.step:g}{unit}:{step}"


def _list(parts: list[str], requirement: Requirement) -> tuple[float, ...]:
    """The values of a list; a comma inside of a figure is told from one between two."""
    try:
        return tuple(_value(part.strip(), requirement) for part in parts)
    except UnitForgotten as error:
        if len(parts) == 1:
            raise
        advice = "a unit at each value, and no comma inside of a figure: 1200ft,1500ft"
        raise UnitForgotten(error.found, error.expected, advice) from None


def _value(text: str, requirement: Requirement) -> float:
    return _count(text, requirement) if requirement.whole else parse(text, dimension_of(requirement.unit))


def _count(text: str, requirement: Requirement) -> float:
    if not re.fullmatch(r"[0-9]{1,6}", text):
        raise NotANumber(f'"{text}"', f"a whole number for {requirement.title}", "2")
    return float(text)


def _range(text: str, parts: list[str], requirement: Requirement) -> tuple[float, ...]:
    """The figures from:to:step, stepped in the unit of the first so that round figures stay round."""
    first, last = (_value(part, requirement) for part in parts[:2])
    unit = _unit_of(parts[0], requirement)
    step = _step(parts[2], requirement, unit)
    low, high = (value if unit == "1" else float(to_unit(value, unit)) for value in (first, last))
    if not (isfinite(step) and step > 0.0):
        raise EntryError(f'the step "{parts[2]}" in "{text}"', "a step above zero")
    if low > high:
        raise EntryError(f'the range "{text}"', "first the lower end, then the higher one")
    count = floor((high - low) / step + 1e-9) + 1
    if count > MOST_VALUES:
        raise EntryError(f'{count:,} values in "{text}"', f"at most {MOST_VALUES:,}", "a larger step")
    figures = (round(low + k * step, 9) for k in range(count))
    return tuple(figure if unit == "1" else float(from_unit(figure, unit)) for figure in figures)


def _unit_of(text: str, requirement: Requirement) -> str:
    """The unit that a figure was typed in, where it is one that is known as it stands; else the requirement's own."""
    match = _FORM.fullmatch(text)
    unit = (match[2] or "").strip() if match and "$" not in text else ""
    if not unit or requirement.whole:
        return requirement.unit
    try:
        return unit if dimension_of(unit) == dimension_of(requirement.unit) else requirement.unit
    except EntryError:
        return requirement.unit


def _step(text: str, requirement: Requirement, unit: str) -> float:
    """The step in this unit. A step of a temperature is a difference, whichever way it is written."""
    if requirement.whole:
        return _count(text, requirement)
    dimension = dimension_of(requirement.unit)
    if dimension != "temperature":
        return float(to_unit(parse(text, dimension), unit))
    match = re.fullmatch(r"([0-9.]+)\s*(deg[FC])", text)
    plain = text if match is None else f"{match[1]} delta_{match[2]}"
    return parse(plain, "temperature_difference") / factor_of(unit)
