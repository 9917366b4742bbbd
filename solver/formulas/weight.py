"""Weights: what stands on which axle, what hangs on the hitch, what a set weighs, what the floor holds.

Contents: `rear_reaction`, `front_reaction`, `hitch_load`; `set_mass`, `floor_area`; constants of a 55 gal drum.

Weights are masses [kg]; a reaction is the mass that a scale under the support would show.
"""

from __future__ import annotations

import numpy as np

from solver.formulas.ranges import Values, not_negative, positive, within
from solver.formulas.record import formula
from solver.quantities import factor_of

DRUM_VOLUME = 55 * factor_of("gal")
"""Volume of a 55 gal drum, exact [m3]."""
DRUM_DIAMETER = 24 * factor_of("in")
"""Outside diameter of a 55 gal drum with its rims, from memory [m]."""
DRUM_HEIGHT = 35 * factor_of("in")
"""Height of a 55 gal drum, from memory [m]."""


@formula
def rear_reaction(weights: Values, positions: Values, span: Values) -> Values:
    """Load on the rear one of two supports.

    R_rear = sum(W x) / L

    Parameters
    ----------
    weights : float or array [kg]
        Weights, one per thing along the last axis.
    positions : float or array [m]
        Distance of each weight behind the front support; negative ahead of it.
    span : float or array [m]
        Distance of the two supports: wheelbase, or hitch to axle centre.

    Returns
    -------
    float or array [kg]
        Load on the rear support; negative where it would lift off.

    Notes
    -----
    A tandem counts as one support at its centre; on a trailer the hitch is the front support. Level ground, at rest.

    Examples
    --------
    >>> rear_reaction(20000.0, 10.0, 25.0)
    8000.0

    References
    ----------
    Statics of a beam on two supports.
    """
    positive("span", span, "m")
    moment = np.sum(np.atleast_1d(np.asarray(weights) * np.asarray(positions)), axis=-1)
    return np.asarray(moment / span)


@formula
def front_reaction(weights: Values, positions: Values, span: Values) -> Values:
    """Load on the front one of two supports; on a trailer, on the hitch.

    R_front = sum(W) - R_rear

    Parameters
    ----------
    weights : float or array [kg]
        Weights, one per thing along the last axis.
    positions : float or array [m]
        Distance of each weight behind the front support; negative ahead of it.
    span : float or array [m]
        Distance of the two supports: wheelbase, or hitch to axle centre.

    Returns
    -------
    float or array [kg]
        Load on the front support; negative where it would lift off.

    Notes
    -----
    As `rear_reaction`.

    Examples
    --------
    >>> front_reaction(20000.0, 10.0, 25.0)
    12000.0

    References
    ----------
    Statics of a beam on two supports.
    """
    every, _ = np.broadcast_arrays(np.atleast_1d(weights), np.atleast_1d(positions))
    return np.asarray(np.sum(every, axis=-1) - rear_reaction(weights, positions, span))


@formula
def hitch_load(trailer_weight: Values, hitch_share: Values) -> Values:
    """Load that a loaded trailer puts on the tow vehicle's hitch.

    W_hitch = share W_trailer

    Parameters
    ----------
    trailer_weight : float or array [kg]
        Gross weight of the loaded trailer.
    hitch_share : float or array [-]
        Part of it on the hitch: 0.10-0.15 conventional, 0.15-0.25 gooseneck (practice).

    Returns
    -------
    float or array [kg]
        Load on the hitch.

    Notes
    -----
    Share 0 to 1. Until the places of the items are known: then `front_reaction`. For the tow vehicle's payload the
    upper share is the safe side.

    Examples
    --------
    >>> hitch_load(4000.0, 0.125)
    500.0

    References
    ----------
    Common practice, quoted in one text.
    """
    not_negative("trailer_weight", trailer_weight, "kg")
    within("hitch_share", hitch_share, "-", 0.0, 1.0)
    return trailer_weight * hitch_share


@formula
def set_mass(net_mass_a: Values, net_mass_b: Values, drum_tare: Values) -> Values:
    """Gross mass of a set of material: two full drums.

    m = m_A + m_B + 2 m_drum

    Parameters
    ----------
    net_mass_a : float or array [kg]
        Isocyanate in its drum.
    net_mass_b : float or array [kg]
        Resin in its drum.
    drum_tare : float or array [kg]
        One empty drum, 38 to 60 lb (from memory).

    Returns
    -------
    float or array [kg]
        Gross mass.

    Notes
    -----
    The data sheet's gross weight is better where it is stated.

    Examples
    --------
    >>> set_mass(250.0, 227.0, 20.0)
    517.0

    References
    ----------
    Sum of the parts.
    """
    not_negative("net_mass_a", net_mass_a, "kg")
    not_negative("net_mass_b", net_mass_b, "kg")
    not_negative("drum_tare", drum_tare, "kg")
    return net_mass_a + net_mass_b + 2.0 * drum_tare


@formula
def floor_area(length: Values, width: Values, floor_factor: Values) -> Values:
    """Floor that an item takes, gaps included.

    A = l w factor

    Parameters
    ----------
    length : float or array [m]
        Length of the footprint.
    width : float or array [m]
        Width of the footprint.
    floor_factor : float or array [-]
        Factor for gaps, 1.15 by practice.

    Returns
    -------
    float or array [m2]
        Floor taken.

    Notes
    -----
    An area says nothing of shapes: a plan of the floor may still fail where this fits. The unsafe side.

    Examples
    --------
    >>> round(floor_area(2.0, 1.0, 1.15), 2)
    2.3

    References
    ----------
    Common practice, no source.
    """
    not_negative("length", length, "m")
    not_negative("width", width, "m")
    positive("floor_factor", floor_factor, "-")
    return length * width * floor_factor
