"""The shape of a rule. Everything said about a limit comes from one record of this shape.

Contents: `Basis`, `Effect`, `Term` with `need` and `supply`, `Part`, `Scope`, `Guard`, `Words`, `Rule`, and the register
`RULES` that `declare` fills.

A rule holds on a rig when, in every place where it applies (duty, state, end of the day's air, part), the sum of its
needs is at most the sum of its supplies. A term is one summand: a slot, a side, and a function of that slot's option
columns and of the case, made of formula calls, field reads, + and x only. So a term runs alike on all options of a slot
(numpy columns) and on the one chosen option (floats, with the formula calls recorded for the worksheet).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from enum import Enum
from typing import TYPE_CHECKING, Any

from solver.errors import InternalError

if TYPE_CHECKING:
    from solver.options.table import SlotOptions
    from solver.rules.case import Case


class Basis(Enum):
    """Where a rule takes its right from."""

    PHYSICS = "physics"
    RATING = "rating"
    REGULATION = "regulation"
    PRACTICE = "practice"
    BRIEF = "brief"


class Effect(Enum):
    """What raising a requirement does to a rule."""

    EASES = "eases"
    TIGHTENS = "tightens"
    BOTH = "both"


class Side(Enum):
    """The side of a balance on which a term stands."""

    NEED = "need"
    SUPPLY = "supply"


EVERY = "*"
"""In place of a slot: the term is taken in every slot."""

TermFunction = Callable[[Any, "Case"], Any]
SlotNames = str | tuple[str, ...] | None


@dataclass(frozen=True)
class Term:
    """One summand of a balance: in which slot(s), on which side, what it is, and how it is worked out [SI]."""

    slot: SlotNames
    side: Side
    what: str
    of: TermFunction


def need(slot: SlotNames, what: str, of: TermFunction) -> Term:
    """A term on the need side; `slot` None for a figure of the brief alone, EVERY for every slot, or a class name."""
    return Term(slot, Side.NEED, what, of)


def supply(slot: SlotNames, what: str, of: TermFunction) -> Term:
    """A term on the supply side."""
    return Term(slot, Side.SUPPLY, what, of)


@dataclass(frozen=True)
class Guard:
    """The balance counts only when the option of `slot` meets `when` (1 or 0 per option)."""

    slot: str
    when: TermFunction
    text: str


@dataclass(frozen=True)
class Part:
    """One of several balances of a rule in the same place: its own terms, the rule's terms left out, its own guard."""

    name: str
    terms: tuple[Term, ...] = ()
    without: tuple[str, ...] = ()
    guard: Guard | None = None


PartsFunction = Callable[["Mapping[str, SlotOptions]", "Case"], tuple[Part, ...]]


@dataclass(frozen=True)
class Scope:
    """Where a rule applies: once for the rig, or in each duty, in these states and at these ends of the day's air."""

    duties: bool = True
    states: tuple[str, ...] = ("",)
    ends: tuple[str, ...] = ("",)


ONCE = Scope(duties=False)
EACH_DUTY = Scope()
OVERNIGHT, WARM_UP, SPRAYING, CLEANING = "overnight", "warm-up", "spraying", "cleaning"
STATES = (OVERNIGHT, WARM_UP, SPRAYING, CLEANING)
COLDEST, HOTTEST = "coldest", "hottest"
ENDS = (COLDEST, HOTTEST)


def each_state(*states: str, ends: tuple[str, ...] = (COLDEST,)) -> Scope:
    """Each duty, in these states, at these ends of the day's air."""
    return Scope(True, states, ends)


def _always(case: Case) -> bool:
    return True


@dataclass(frozen=True)
class Words:
    """Sentence templates; {need}, {supply}, {margin}, {short}, {place} and {part} are filled in with units."""

    fits: str
    fails: str
    binds: str


@dataclass(frozen=True)
class Rule:
    """One named condition of compatibility, whole: see the opening docstring."""

    id: str
    title: str
    unit: str
    basis: Basis
    source: str
    scope: Scope
    words: Words
    terms: tuple[Term, ...] = ()
    parts: tuple[Part, ...] | PartsFunction = (Part(""),)
    effects: Mapping[str, Effect] = field(default_factory=dict)
    """What raising each requirement that the rule reads does to it. Tested against the numbers."""
    when: Callable[[Case], bool] = _always
    """Whether the brief asks for this rule at all in this place (winter kit only in winter)."""
    guard: Guard | None = None
    note: str = ""
    """What is neglected and on which side that is."""
    background: bool = False
    """Ownership and wiring: never dropped in an explanation."""


RULES: dict[str, Rule] = {}


def declare(rule: Rule) -> Rule:
    """Enter a rule into the register; its id must be new."""
    if rule.id in RULES:
        raise InternalError(f"two rules are called {rule.id}")
    RULES[rule.id] = rule
    return rule
