"""Liquids in hoses and pumps: the two sides of the material on their way to the gun.

Contents: `viscosity`, `laminar_drop`, `reynolds`, `pump_flow`, `side_flow`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from solver.formulas.ranges import LARGEST, Values, not_negative, positive, within
from solver.formulas.record import formula

BEYOND_POINTS = 15.0
"""How far beyond the given points a viscosity is carried on [K]."""


@formula
def viscosity(
    temperature: Values,
    temperatures: Sequence[float] | NDArray[np.float64],
    viscosities: Sequence[float] | NDArray[np.float64],
) -> Values:
    """Viscosity of a liquid between the points of its data sheet.

    ln mu is straight in 1/T between neighbouring points, and straight on beyond the end points

    Parameters
    ----------
    temperature : float or array [K]
        Temperature of the liquid.
    temperatures : array [K]
        Temperatures of the given points, at least two, all different, in any order.
    viscosities : array [Pa s]
        Dynamic viscosities at these points.

    Returns
    -------
    float or array [Pa s]
        Dynamic viscosity.

    Notes
    -----
    At most 15 K beyond the end points. Carried on to the cold side it comes out low (real liquids stiffen faster than
    the straight line), the unsafe side for pressure and pumps.

    Examples
    --------
    >>> round(viscosity(288.15, [298.15, 323.15], [0.200, 0.055]), 3)
    0.357

    References
    ----------
    Andrade's equation between points; common practice, no source
    """
    order = np.argsort(np.asarray(temperatures, dtype=float))
    points = np.asarray(temperatures, dtype=float)[order]
    logs = np.asarray(viscosities, dtype=float)[order]
    within("number of points of the viscosity", float(len(points)), "-", 2.0, LARGEST)
    positive("viscosity of a point", logs, "Pa s")
    positive("temperature between two points of the viscosity", np.diff(points), "K")
    within("temperature", temperature, "K", float(points[0]) - BEYOND_POINTS, float(points[-1]) + BEYOND_POINTS)
    inverse, logs = 1.0 / points, np.log(logs)
    piece = np.clip(np.searchsorted(points, temperature) - 1, 0, len(points) - 2)
    slope = (logs[piece + 1] - logs[piece]) / (inverse[piece + 1] - inverse[piece])
    found: NDArray[np.float64] = np.exp(logs[piece] + slope * (1.0 / temperature - inverse[piece]))
    return found


@formula
def laminar_drop(viscosity: Values, length: Values, flow: Values, bore: Values) -> Values:
    """Pressure that a hose takes from a liquid in laminar flow.

    dp = 128 mu L Q / (pi d^4)

    Parameters
    ----------
    viscosity : float or array [Pa s]
        Dynamic viscosity of the liquid.
    length : float or array [m]
        Length of the hose.
    flow : float or array [m3/s]
        Volume flow.
    bore : float or array [m]
        Inner diameter.

    Returns
    -------
    float or array [Pa]
        Fall of pressure.

    Notes
    -----
    Laminar, that is `reynolds` below 2,000; the thick liquids of this trade stay far below it. Couplings and the gun
    are neglected, the unsafe side; hoses that widen under pressure are neglected too, the safe side.

    Examples
    --------
    >>> round(laminar_drop(0.1, 100.0, 1.0e-3 / 60.0, 0.0095) / 1e3)
    834

    References
    ----------
    Fluid Mechanics - Worked Examples for Engineers, Example 3.8 (Hagen-Poiseuille)
    """
    positive("bore", bore, "m")
    not_negative("viscosity", viscosity, "Pa s")
    return 128.0 / math.pi * viscosity * length * flow / bore**4


@formula
def reynolds(density: Values, flow: Values, bore: Values, viscosity: Values) -> Values:
    """Reynolds number of a flow in a round hose.

    Re = 4 rho Q / (pi d mu)

    Parameters
    ----------
    density : float or array [kg/m3]
        Density of the liquid.
    flow : float or array [m3/s]
        Volume flow.
    bore : float or array [m]
        Inner diameter.
    viscosity : float or array [Pa s]
        Dynamic viscosity.

    Returns
    -------
    float or array [-]
        Reynolds number.

    Notes
    -----
    Laminar below about 2,000.

    Examples
    --------
    >>> round(reynolds(1100.0, 1.0e-3 / 60.0, 0.0095, 0.1), 2)
    24.57

    References
    ----------
    Fluid Mechanics - Worked Examples for Engineers, chapter 3 (definition)
    """
    positive("bore", bore, "m")
    positive("viscosity", viscosity, "Pa s")
    return 4.0 / math.pi * density * flow / (bore * viscosity)


@formula
def pump_flow(flow: Values, viscosity: Values, half_flow_viscosity: Values) -> Values:
    """Flow that a feed pump gives with a thick liquid.

    q = q0 / (1 + mu / mu_half)

    Parameters
    ----------
    flow : float or array [m3/s]
        Flow with a thin liquid.
    viscosity : float or array [Pa s]
        Dynamic viscosity of the liquid.
    half_flow_viscosity : float or array [Pa s]
        Viscosity at which half of the flow is left.

    Returns
    -------
    float or array [m3/s]
        Flow with this liquid.

    Notes
    -----
    A shape that passes through the two figures a maker gives; the curve of the actual pump rules.

    Examples
    --------
    >>> round(pump_flow(2.0e-4, 0.5, 0.5), 6)
    0.0001

    References
    ----------
    Common practice, no source
    """
    positive("half-flow viscosity", half_flow_viscosity, "Pa s")
    not_negative("viscosity", viscosity, "Pa s")
    return flow / (1.0 + viscosity / half_flow_viscosity)


@formula
def side_flow(output: Values, density_a: Values, density_b: Values) -> Values:
    """Volume flow of each side at 1:1 by volume.

    q = m / (rho_a + rho_b)

    Parameters
    ----------
    output : float or array [kg/s]
        Mass flow of both sides together while the gun is open.
    density_a : float or array [kg/m3]
        Density of the isocyanate.
    density_b : float or array [kg/m3]
        Density of the resin.

    Returns
    -------
    float or array [m3/s]
        Volume flow of one side.

    Notes
    -----
    Exactly 1:1. Site rules allow each component 2 percent off its ratio (UFGS 07570, 1.9.2), which is neglected.

    Examples
    --------
    >>> round(side_flow(0.136, 1230.0, 1150.0) * 60e3, 2)
    3.43

    References
    ----------
    Definition (conservation of mass)
    """
    positive("density", density_a + density_b, "kg/m3")
    return output / (density_a + density_b)
