"""Foam made from liquid: board feet, output, material.

Contents: `board_feet_per_mass`, `board_feet_made`, `output_for_board_feet`, `material_mass`; `BOARD_FOOT`.

A board foot is one square foot of foam one inch thick. Densities of foam in place: open-cell 0.5, closed-cell 2.0,
roofing 3.0 lb/ft3 (US EPA spray foam publication).
"""

from __future__ import annotations

from solver.formulas.ranges import SMALLEST, Values, not_negative, positive, within
from solver.formulas.record import formula
from solver.quantities import factor_of

BOARD_FOOT = factor_of("ft3") / 12.0
"""Volume of a board foot [m3]."""


@formula
def board_feet_per_mass(foam_density: Values) -> Values:
    """Board feet that a mass of liquid makes at the nominal density.

    n = 1 / (rho V), V the volume of a board foot

    Parameters
    ----------
    foam_density : float or array [kg/m3]
        Nominal density of the foam in place.

    Returns
    -------
    float or array [board_feet/kg]
        Board feet per mass.

    Notes
    -----
    5 to 100 kg/m3. No loss: the field makes less, see `board_feet_made`. The blowing agent that escapes is neglected.

    Examples
    --------
    >>> round(board_feet_per_mass(32.0369) * 0.45359237, 3)
    6.0

    References
    ----------
    Definition: 12 board feet in a cubic foot.
    """
    within("foam_density", foam_density, "kg/m3", 5.0, 100.0)
    return 1.0 / (foam_density * BOARD_FOOT)


@formula
def board_feet_made(mass: Values, foam_density: Values, field_yield: Values) -> Values:
    """Board feet that a mass of liquid makes in the field.

    n = m y / (rho V), V the volume of a board foot

    Parameters
    ----------
    mass : float or array [kg]
        Liquid sprayed, both sides.
    foam_density : float or array [kg/m3]
        Nominal density of the foam in place.
    field_yield : float or array [-]
        Share of the nominal yield that the field reaches.

    Returns
    -------
    float or array [board_feet]
        Board feet.

    Notes
    -----
    Yield above 0, to 1. Closed-cell loses 20 to 35 percent (practice), open-cell 10 to 25 (from memory).

    Examples
    --------
    >>> round(board_feet_made(100.0, 32.0369, 0.75))
    992

    References
    ----------
    Definition: 12 board feet in a cubic foot; field yield: common practice, no source.
    """
    not_negative("mass", mass, "kg")
    within("field_yield", field_yield, "-", SMALLEST, 1.0)
    return mass * board_feet_per_mass(foam_density) * field_yield


@formula
def output_for_board_feet(
    board_feet: Values, foam_density: Values, field_yield: Values, spraying_time: Values, trigger_share: Values
) -> Values:
    """Output, while the gun is open, that makes so many board feet in a day.

    m' = n rho V / (y t s), V the volume of a board foot

    Parameters
    ----------
    board_feet : float or array [board_feet]
        Board feet a day.
    foam_density : float or array [kg/m3]
        Nominal density of the foam in place.
    field_yield : float or array [-]
        Share of the nominal yield that the field reaches.
    spraying_time : float or array [s]
        Hours of spraying in the day.
    trigger_share : float or array [-]
        Share of that time in which the gun is open, 0.5 by practice.

    Returns
    -------
    float or array [kg/s]
        Mass flow of both sides together.

    Notes
    -----
    Yield and share above 0, to 1. A low share is the safe side for the pumps and heaters.

    Examples
    --------
    >>> round(output_for_board_feet(3000.0, 32.0369, 0.75, 5 * 3600.0, 0.5) / 0.45359237 * 60, 2)
    4.44

    References
    ----------
    Definition: 12 board feet in a cubic foot; field yield and trigger share: common practice, no source.
    """
    not_negative("board_feet", board_feet, "board_feet")
    positive("spraying_time", spraying_time, "s")
    within("field_yield", field_yield, "-", SMALLEST, 1.0)
    within("trigger_share", trigger_share, "-", SMALLEST, 1.0)
    return board_feet / (board_feet_per_mass(foam_density) * field_yield * spraying_time * trigger_share)


@formula
def material_mass(output: Values, spraying_time: Values, trigger_share: Values) -> Values:
    """Liquid sprayed in a day.

    m = m' t s

    Parameters
    ----------
    output : float or array [kg/s]
        Mass flow of both sides while the gun is open.
    spraying_time : float or array [s]
        Hours of spraying in the day.
    trigger_share : float or array [-]
        Share of that time in which the gun is open, 0.5 by practice.

    Returns
    -------
    float or array [kg]
        Mass of both sides.

    Notes
    -----
    Share 0 to 1. Rests in drums and hose and the start of the spray are neglected, a few kilograms: the unsafe side.

    Examples
    --------
    >>> material_mass(0.1, 18000.0, 0.5)
    900.0

    References
    ----------
    Definition of the trigger share; common practice, no source.
    """
    not_negative("output", output, "kg/s")
    not_negative("spraying_time", spraying_time, "s")
    within("trigger_share", trigger_share, "-", 0.0, 1.0)
    return output * spraying_time * trigger_share
