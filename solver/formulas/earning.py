"""Earning: what a board foot costs, and how many must be sprayed to earn what the rig costs.

Contents: `labour_cost`, `full_cost_per_board_foot`, `break_even_board_feet`, `days_to_spray`.

Taxes on income and the overheads of the firm are left out.
"""

from __future__ import annotations

import numpy as np

from solver.errors import OutsideRange
from solver.formulas.ranges import LARGEST, Values, not_negative, positive
from solver.formulas.record import formula


@formula
def labour_cost(people: Values, time: Values, labour_rate: Values) -> Values:
    """What the crew's time costs.

    L = n t w

    Parameters
    ----------
    people : float or array [-]
        People at work.
    time : float or array [s]
        How long each of them works.
    labour_rate : float or array [USD/s]
        Cost of a person's time.

    Returns
    -------
    float or array [USD]
        Cost of that time.

    Notes
    -----
    One rate for all. Travel, breaks and overtime are left out: the unsafe side.

    Examples
    --------
    >>> labour_cost(3.0, 8 * 3600.0, 35.0 / 3600.0)
    840.0

    References
    ----------
    Definition; one rate for the whole crew is common practice, no source.
    """
    not_negative("people", people, "-")
    not_negative("time", time, "s")
    not_negative("labour_rate", labour_rate, "USD/s")
    return people * time * labour_rate


@formula
def full_cost_per_board_foot(fixed_yearly_cost: Values, board_feet: Values, cost_per_board_foot: Values) -> Values:
    """What a board foot costs when so many of them carry the fixed costs of the year.

    k = F / n + c

    Parameters
    ----------
    fixed_yearly_cost : float or array [USD]
        Costs of the year that do not depend on the work done.
    board_feet : float or array [board_feet]
        Board feet sold in the year.
    cost_per_board_foot : float or array [USD/board_feet]
        What each board foot costs: material, fuel, labour.

    Returns
    -------
    float or array [USD/board_feet]
        Cost of a board foot.

    Notes
    -----
    More than 0 board feet. Overheads of the firm are left out: the unsafe side.

    Examples
    --------
    >>> full_cost_per_board_foot(60000.0, 300000.0, 0.75)
    0.95

    References
    ----------
    Definition of full unit cost.
    """
    not_negative("fixed_yearly_cost", fixed_yearly_cost, "USD")
    positive("board_feet", board_feet, "board_feet")
    not_negative("cost_per_board_foot", cost_per_board_foot, "USD/board_feet")
    return fixed_yearly_cost / board_feet + cost_per_board_foot


@formula
def break_even_board_feet(fixed_yearly_cost: Values, price_per_board_foot: Values, cost_per_board_foot: Values) -> Values:
    """Board feet that must be sold in a year to cover the fixed costs.

    n = F / (p - c)

    Parameters
    ----------
    fixed_yearly_cost : float or array [USD]
        Costs of the year that do not depend on the work done.
    price_per_board_foot : float or array [USD/board_feet]
        What the customer pays.
    cost_per_board_foot : float or array [USD/board_feet]
        What each board foot costs: material, fuel, labour.

    Returns
    -------
    float or array [board_feet]
        Board feet a year.

    Notes
    -----
    A price that does not exceed the cost never breaks even and is refused.

    Examples
    --------
    >>> round(break_even_board_feet(60000.0, 1.35, 0.75))
    100000

    References
    ----------
    Definition of the break-even point.
    """
    not_negative("fixed_yearly_cost", fixed_yearly_cost, "USD")
    not_negative("cost_per_board_foot", cost_per_board_foot, "USD/board_feet")
    price, cost = np.broadcast_arrays(price_per_board_foot, cost_per_board_foot)
    never = ~(price > cost)
    if never.any():
        low = float(cost[never].flat[0])
        raise OutsideRange(
            "price_per_board_foot, which must exceed the cost,", float(price[never].flat[0]), "USD", low, LARGEST
        )
    return fixed_yearly_cost / (np.asarray(price_per_board_foot) - cost_per_board_foot)


@formula
def days_to_spray(board_feet: Values, daily_board_feet: Values) -> Values:
    """Days of spraying that so many board feet take.

    d = n / m

    Parameters
    ----------
    board_feet : float or array [board_feet]
        Board feet to be made.
    daily_board_feet : float or array [board_feet]
        Board feet made in a mean day.

    Returns
    -------
    float or array [-]
        Days, not rounded.

    Notes
    -----
    More than 0 board feet a day. Every day counts as a full one: days lost to weather are left out, the unsafe side.

    Examples
    --------
    >>> days_to_spray(100000.0, 4000.0)
    25.0

    References
    ----------
    Definition.
    """
    not_negative("board_feet", board_feet, "board_feet")
    positive("daily_board_feet", daily_board_feet, "board_feet")
    return board_feet / daily_board_feet
