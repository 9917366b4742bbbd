"""Power relations of alternating current, and the door to everything electrical.

Contents: `apparent_power`, `real_power`, `reactive_power`, `tangent_load`, `three_phase_apparent_power`. Handed on from
their own files: running motors (`motors.py`), starting motors and the generator's dip (`motor_starts.py`), conductors
(`conductors.py`), breakers (`breakers.py`).
"""

from __future__ import annotations

from math import pi, sqrt

import numpy as np

from solver.formulas.breakers import breaker_size, continuous_load_current, motor_branch_breaker, motor_branch_current
from solver.formulas.conductors import (
    ambient_correction,
    conductor_ampacity,
    conductor_area,
    conductor_size,
    count_adjustment,
    voltage_drop,
)
from solver.formulas.motor_starts import (
    code_letter_kva,
    locked_rotor_current,
    start_apparent_power,
    start_apparent_power_limit,
    voltage_dip,
)
from solver.formulas.motors import (
    motor_apparent_power,
    motor_current,
    motor_efficiency,
    motor_power_factor,
    motor_reactive_power,
    motor_real_power,
    unbalance_derating,
)
from solver.formulas.ranges import SMALLEST, Values, within
from solver.formulas.record import formula

__all__ = [
    "ambient_correction",
    "apparent_power",
    "breaker_size",
    "code_letter_kva",
    "conductor_ampacity",
    "conductor_area",
    "conductor_size",
    "continuous_load_current",
    "count_adjustment",
    "locked_rotor_current",
    "motor_apparent_power",
    "motor_branch_breaker",
    "motor_branch_current",
    "motor_current",
    "motor_efficiency",
    "motor_power_factor",
    "motor_reactive_power",
    "motor_real_power",
    "reactive_power",
    "real_power",
    "start_apparent_power",
    "start_apparent_power_limit",
    "tangent_load",
    "three_phase_apparent_power",
    "unbalance_derating",
    "voltage_dip",
    "voltage_drop",
]


@formula
def apparent_power(real_power: Values, reactive_power: Values) -> Values:
    """Apparent power of a load from its real and reactive power.

    S = sqrt(P^2 + Q^2)

    Parameters
    ----------
    real_power : float or array [W]
        Real power.
    reactive_power : float or array [var]
        Reactive power.

    Returns
    -------
    float or array [VA]
        Apparent power.

    Notes
    -----
    Sine waves; harmonics are neglected, which is the unsafe side for loads with rectifiers.

    Examples
    --------
    >>> apparent_power(3000.0, 4000.0)
    5000.0

    References
    ----------
    Power relations of alternating current.
    """
    return np.hypot(real_power, reactive_power)


@formula
def real_power(apparent_power: Values, power_factor: Values) -> Values:
    """Real power of a load from its apparent power.

    P = S cos phi

    Parameters
    ----------
    apparent_power : float or array [VA]
        Apparent power.
    power_factor : float or array [-]
        Power factor as a share.

    Returns
    -------
    float or array [W]
        Real power.

    Notes
    -----
    Power factor 0 to 1.

    Examples
    --------
    >>> real_power(10000.0, 0.8)
    8000.0

    References
    ----------
    Power relations of alternating current.
    """
    within("power_factor", power_factor, "-", 0.0, 1.0)
    return apparent_power * power_factor


@formula
def reactive_power(real_power: Values, power_factor: Values) -> Values:
    """Reactive power of a load from its real power.

    Q = P sqrt(1 - cos^2 phi) / cos phi

    Parameters
    ----------
    real_power : float or array [W]
        Real power.
    power_factor : float or array [-]
        Power factor as a share.

    Returns
    -------
    float or array [var]
        Reactive power, taken as lagging.

    Notes
    -----
    Power factor above 0, to 1. Taking every load as lagging is the safe side for an alternator.

    Examples
    --------
    >>> round(reactive_power(8000.0, 0.8), 6)
    6000.0

    References
    ----------
    Power relations of alternating current.
    """
    within("power_factor", power_factor, "-", SMALLEST, 1.0)
    return real_power * np.sqrt((1.0 - power_factor) * (1.0 + power_factor)) / power_factor


@formula
def tangent_load(real_power: Values, reactive_power: Values, angle: Values) -> Values:
    """Apparent power of a load seen along one direction: at most its apparent power, and a plain sum over loads.

    S(angle) = P cos angle + Q sin angle

    Parameters
    ----------
    real_power : float or array [W]
        Real power.
    reactive_power : float or array [var]
        Reactive power.
    angle : float or array [rad]
        Direction of the tangent, 0 for real and pi/2 for reactive power.

    Returns
    -------
    float or array [VA]
        Part of the apparent power along the tangent.

    Notes
    -----
    Between tangents a step apart the largest of them is low by at most the factor cos(step/2): hold it against the
    supply times cos(step/2), the safe side.

    Examples
    --------
    >>> round(tangent_load(3000.0, 4000.0, 0.9272952180016122), 6)
    5000.0

    References
    ----------
    Tangent of the circle P^2 + Q^2 = S^2.
    """
    within("angle", angle, "rad", 0.0, pi / 2)
    return real_power * np.cos(angle) + reactive_power * np.sin(angle)


@formula
def three_phase_apparent_power(voltage: Values, current: Values) -> Values:
    """Apparent power of a balanced three-phase load.

    S = sqrt(3) V I

    Parameters
    ----------
    voltage : float or array [V]
        Voltage between the lines.
    current : float or array [A]
        Current in each line.

    Returns
    -------
    float or array [VA]
        Apparent power of the three phases together.

    Notes
    -----
    Balanced load. With unbalance the heaviest line carries more than this says: the unsafe side.

    Examples
    --------
    >>> round(three_phase_apparent_power(208.0, 10.0))
    3603

    References
    ----------
    Power relations of three-phase circuits.
    """
    return sqrt(3.0) * voltage * current
