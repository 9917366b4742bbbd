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
class Part:
    """The option of one slot, by name."""

    slot: str
    item: str
    label: str
    choice: str


@dataclass(frozen=True)
class Clash:
    """One member of a conflict: the rule, the closest that a rig keeping all the others comes to it, and the options of
    that rig which supply what the rule wants."""

    rule: str
    balance: Balance | None
    suppliers: tuple[Part, ...] = ()


@dataclass(frozen=True)
class Conflict:
    """Rules that cannot hold together; leaving out any one of them makes a rig possible."""

    members: tuple[Clash, ...]
    unavoidable: bool
    """True when physics, ratings and regulation alone exclude every rig: only the work can change."""


@dataclass(frozen=True)
class Change:
    """One change of a brief: a requirement from one value to another, or a duty declined."""

    requirement: str
    """Id of the requirement; empty where a duty is declined."""
    duties: tuple[str, ...]
    """Duties in which it is changed, or the one that is declined; none for a change in the whole brief."""
    unit: str
    """Unit of the two values."""
    before: float | None
    after: float | None
    share: float
    """Share of the way to the loosest admissible value."""
    margin: bool
    """Whether a margin of safety is given up."""


@dataclass(frozen=True)
class Repair:
    """Changes that together make a rig possible, with the best rig there."""

    changes: tuple[Change, ...]
    total: Totals
    rig: tuple[Line, ...]


@dataclass(frozen=True)
class Argument:
    """Why no rig is so much better: rules that together exclude every such rig; leaving out any one of them lets one in.

    `limit` is what such a rig may cost at most [USD, kg or USD a year]. `at_least` names slots with the rules that leave
    nothing cheaper there than what the rig holds.
    """

    share: float
    limit: float
    rules: tuple[Reason, ...]
    at_least: tuple[Reason, ...]


@dataclass(frozen=True)
class Reason:
    """A rule in an argument, its tightest balance on the rig, and its saving [USD, kg or USD a year] where it binds."""

    rule: str
    balance: Balance | None
    saving: float
    slots: tuple[str, ...]


@dataclass(frozen=True)
class MoneyFacts:
    """What a person decides by, in USD, months, board feet, days and seconds; "a year" is one of the brief's days a year.

    The cost of a board foot and the break-even stand on the brief's own figures: its crew at its rate for an hour of work,
    its days a year shared equally by the duties, its price of foam.
    """

    start_up: float
    """Equipment, tax and freight, training, first material where the brief asks for it [USD]."""
    equipment: float
    tax_and_freight: float
    training: float
    first_material: float
    own_money: float
    """Part of the start-up total that is paid from own money: the down payment [USD]."""
    loan: float
    loan_payment: float
    """Payment at the end of each month [USD]."""
    loan_months: int
    delivery_time: float
    """Wait for the last of what is bought [s]."""
    cash_until_delivery: float
    """Own money, and the loan payments that fall due before the last delivery [USD]."""
    yearly_cost: float
    """Fixed cost of a year and its fuel [USD]."""
    fixed_yearly_cost: float
    """Capital recovery and upkeep [USD]."""
    fuel_a_year: float
    """Fuel of the brief's days [USD]."""
    board_feet_a_year: float
    """Board feet that the brief's days make."""
    days_a_year: float
    material_per_board_foot: float
    labour_per_board_foot: float
    fuel_per_board_foot: float
    cost_per_board_foot: float
    """All costs of a year over its board feet [USD/board_feet]."""
    foam_price: float
    """What the customer pays [USD/board_feet]."""
    contribution_per_board_foot: float
    """Price less material, labour and fuel [USD/board_feet]; not above 0 where no amount of work breaks even."""
    break_even_board_feet: float | None
    """Board feet a year that earn the fixed cost; None where it never breaks even."""
    break_even_days: float | None
    """Days of spraying that take."""
    break_even_share: float | None
    """These as a share of the brief's days a year; above 1 where the brief's year does not break even."""


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
    reasons: bool = True
    """Whether what binds, or what cannot hold together, was worked out; not so where a limit of work ended before."""
