"""What makes a function a formula: its docstring is data, and its calls can be recorded for a worksheet.

Contents: `formula` (the decorator), `recording` (collect the calls made inside a `with`), `FormulaCall` (one call),
`describe` (the parsed docstring), `FormulaDoc`, `Quantity`, `is_formula`, `is_recording`.

The skeleton of a formula's docstring, in this order::

    Purpose in one line.

    symbol = the formula in one or a few lines

    Parameters
    ----------
    altitude : float or array [m]
        What it is.

    Returns
    -------
    float or array [Pa]
        What it is.

    Notes
    -----
    Range; what is neglected; which side is safe.

    Examples
    --------
    A doctest.

    References
    ----------
    Document, edition, place. A second reference starts on a line of its own;
        lines indented below it carry it on.

A unit is SI and written as in `kg/m3`, `W/(m K)`, `J/(kg K)`; a pure number or a word has the unit `-`.
Recording costs nothing worth speaking of while no one records.
"""

from __future__ import annotations

import functools
import inspect
import re
import threading
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from typing import Any, ParamSpec, TypeVar, cast

import numpy as np

P = ParamSpec("P")
R = TypeVar("R")

_Array = np.ndarray
_SECTIONS = ("Parameters", "Returns", "Notes", "Examples", "References")
_PARAMETER = re.compile(r"^(?P<name>\w+) : (?P<kind>[^\[\]]+) \[(?P<unit>[^\[\]]+)\]$")
_RETURNS = re.compile(r"^(?P<kind>[^\[\]:]+) \[(?P<unit>[^\[\]]+)\]$")


@dataclass(frozen=True)
class Quantity:
    """A parameter or a result as its docstring states it: kind (`float or array`), SI unit, meaning."""

    kind: str
    unit: str
    text: str


@dataclass(frozen=True)
class FormulaDoc:
    """The parsed docstring of a formula."""

    name: str
    purpose: str
    formula: str
    parameters: Mapping[str, Quantity]
    returns: Quantity
    notes: str
    examples: str
    references: tuple[str, ...]

    @property
    def source(self) -> str:
        """All references in one line."""
        return " | ".join(self.references)


@dataclass(frozen=True)
class FormulaCall:
    """One call of a formula: what went in, what came out. Calls nested in another formula have depth 1 and more.

    A call is entered when it is finished, so the calls that a formula makes stand before it: the order of working.
    """

    name: str
    arguments: Mapping[str, Any]
    result: Any
    depth: int
    doc: FormulaDoc

    @property
    def units(self) -> dict[str, str]:
        """SI unit of each argument."""
        return {name: quantity.unit for name, quantity in self.doc.parameters.items()}

    @property
    def unit(self) -> str:
        """SI unit of the result."""
        return self.doc.returns.unit

    @property
    def formula(self) -> str:
        """The formula in symbols."""
        return self.doc.formula

    @property
    def source(self) -> str:
        """Where the formula is from."""
        return self.doc.source


class _Recorder:
    """A list being filled, and how deep inside formulas the present call is."""

    def __init__(self) -> None:
        self.calls: list[FormulaCall] = []
        self.depth = 0


_open_recordings = 0
"""How many recordings are open in the whole process: the one thing looked at by a call that nobody records."""
_counting = threading.Lock()
_recorders: ContextVar[tuple[_Recorder, ...]] = ContextVar("formula_recorders", default=())


def formula(function: Callable[P, R]) -> Callable[P, R]:
    """Mark a function as a formula: a plain float comes back for floats, and calls are recorded when asked."""

    @functools.wraps(function)
    def call(*args: P.args, **kwargs: P.kwargs) -> R:
        if _open_recordings:
            return _recorded(function, args, kwargs)
        result = function(*args, **kwargs)
        if type(result) is float or (isinstance(result, _Array) and result.ndim):
            return result
        return _plain(result)

    call.__dict__["is_formula"] = True
    return call


def is_recording() -> bool:
    """Whether any recording is open: then figures that are kept must be worked out anew to show on it."""
    return _open_recordings > 0


def _plain(result: R) -> R:
    """A numpy scalar or an array without dimensions as a float; anything else as it is."""
    if isinstance(result, np.float64) or (isinstance(result, np.ndarray) and result.ndim == 0):
        return cast(R, float(result))
    return result


def _recorded(function: Callable[..., R], args: tuple[Any, ...], kwargs: dict[str, Any]) -> R:
    """Call a formula and enter the call in every recording open in this context."""
    recorders = _recorders.get()
    for recorder in recorders:
        recorder.depth += 1
    try:
        result = _plain(function(*args, **kwargs))
    finally:
        for recorder in recorders:
            recorder.depth -= 1
    if recorders:
        doc = describe(function)
        bound = inspect.signature(function).bind(*args, **kwargs)
        bound.apply_defaults()
        for recorder in recorders:
            recorder.calls.append(FormulaCall(doc.name, dict(bound.arguments), result, recorder.depth, doc))
    return result


@contextmanager
def recording() -> Iterator[list[FormulaCall]]:
    """Collect the formula calls made inside the `with`. Recordings nest: the outer one sees the inner one's calls.

    A call that raises is not entered. What was collected before stays, and the recording ends in any case.
    """
    global _open_recordings
    recorder = _Recorder()
    token = _recorders.set((*_recorders.get(), recorder))
    with _counting:
        _open_recordings += 1
    try:
        yield recorder.calls
    finally:
        with _counting:
            _open_recordings -= 1
        _recorders.reset(token)


def is_formula(thing: object) -> bool:
    """Whether something is a function decorated with `formula`."""
    return inspect.isfunction(thing) and bool(thing.__dict__.get("is_formula"))


def describe(function: Callable[..., Any]) -> FormulaDoc:
    """The docstring of a formula, parsed; ValueError if it does not follow the skeleton."""
    return _described(inspect.unwrap(function))


@functools.cache
def _described(function: Callable[..., Any]) -> FormulaDoc:
    name = function.__name__
    head, sections = _sections(name, inspect.getdoc(function) or "")
    purpose, _, symbols = head.partition("\n\n")
    parameters: dict[str, Quantity] = {}
    for title, text in _entries(sections["Parameters"]):
        match = _match(_PARAMETER, title, name)
        parameters[match["name"]] = Quantity(match["kind"], match["unit"], text)
    (title, text), *more = _entries(sections["Returns"])
    if more:
        raise ValueError(f"{name}: the docstring states more than one result")
    match = _match(_RETURNS, title, name)
    return FormulaDoc(
        name=name,
        purpose=" ".join(purpose.split()),
        formula=symbols.strip(),
        parameters=parameters,
        returns=Quantity(match["kind"], match["unit"], text),
        notes=sections["Notes"],
        examples=sections["Examples"],
        references=tuple(f"{title} {text}".strip() for title, text in _entries(sections["References"])),
    )


def _sections(name: str, text: str) -> tuple[str, dict[str, str]]:
    """What stands before the first section, and the text of each section."""
    parts = re.split(r"^(\w+)\n-{3,}\n", text, flags=re.MULTILINE)
    titles = tuple(parts[1::2])
    if titles != _SECTIONS:
        raise ValueError(f"{name}: the docstring has the sections {titles}; expected {_SECTIONS}")
    return parts[0].strip(), {title: body.strip("\n") for title, body in zip(titles, parts[2::2], strict=True)}


def _entries(section: str) -> list[tuple[str, str]]:
    """Lines that start at the margin, each with the indented lines below it joined."""
    entries: list[tuple[str, list[str]]] = []
    for line in section.splitlines():
        if line and not line[0].isspace():
            entries.append((line.strip(), []))
        elif line.strip() and entries:
            entries[-1][1].append(line.strip())
    return [(title, " ".join(below)) for title, below in entries]


def _match(pattern: re.Pattern[str], title: str, name: str) -> re.Match[str]:
    match = pattern.match(title)
    if match is None:
        raise ValueError(f"{name}: cannot read the docstring line {title!r}; expected `name : kind [unit]`")
    return match
