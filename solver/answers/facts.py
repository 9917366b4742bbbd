"""The kinds of fact an answer is made of. Data first: text, JSON and pages render these and nothing else.

Contents: `Line`, `Totals`, `Binding`, `Clash`, `Conflict`, `MoneyFacts`, `Picked`.
All figures in the catalog's plain units: USD, and SI where not said otherwise.
"""

from __future__ import annotations

from dataclasses import dataclass

from solver.brief.models import Assumption
from solver.rules.balance import Balance
from solver.rules.cautions import Caution


@dataclass(frozen=True)
class Line:
    """One filled slot of a rig: price as the owner pays it [USD], weight [kg]."""

    slot: str
    item_class: str
    item: str
    label: str
    choice: str
    count: int
    price: float
    weight: float
    owned: bool


@dataclass(frozen=True)
class Totals:
    """Totals of a rig: price [USD], weight of the equipment with the empty vehicle [kg], yearly cost [USD a year]."""

    price: float
    weight: float
    yearly_cost: float


@dataclass(frozen=True)
class Binding:
    """A rule without which the best rig would be better: the saving [USD, kg or USD a year], and per duty.

    `by_duty` holds the saving if only that duty's instances were dropped; when each is nothing, any one of the duties
    asks for the same. `balance` is the tightest balance of the rule on the picked rig.
    """

    rule: str
    saving: float
    by_duty: dict[str, float]
    balance: Balance | None
    reads: tuple[str, ...]


@dataclass(frozen=True)
class Clash:
    """One member of a conflict: the rule, and the closest that a rig keeping all the others comes to it."""

    rule: str
    balance: Balance | None


@dataclass(frozen=True)
class Conflict:
    """Rules that cannot hold together; leaving out any one of them makes a rig possible."""

    members: tuple[Clash, ...]
    unavoidable: bool
    """True when physics, ratings and regulation alone exclude every rig: only the work can change."""


@dataclass(frozen=True)
class MoneyFacts:
    """What a person decides by [USD, months, USD a year, USD a board foot, board feet]."""

    start_up: float
    equipment: float
    tax_and_freight: float
    training: float
    first_material: float
    loan: float
    loan_payment: float
    loan_months: int
    yearly_cost: float


@dataclass(frozen=True)
class Picked:
    """The answer to pick: a rig with everything said about it, or the conflict when nothing fits."""

    title: str
    by: str
    status: str
    proven: bool
    bound: float | None
    total: Totals | None
    rig: tuple[Line, ...]
    balances: tuple[Balance, ...]
    binding: tuple[Binding, ...]
    conflicts: tuple[Conflict, ...]
    cautions: tuple[Caution, ...]
    assumptions: tuple[Assumption, ...]
    waived: tuple[str, ...]
    money: MoneyFacts | None
    options: int = 0
    rows: int = 0
