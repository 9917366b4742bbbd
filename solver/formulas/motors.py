"""What running motors draw.

Contents: `motor_current`, `motor_apparent_power`, `motor_efficiency`, `motor_real_power`, `motor_reactive_power`,
`motor_power_factor`, `unbalance_derating`.

One consistent set: apparent power is the code table's current times the voltage, real power is shaft power over
efficiency, and power factor and reactive power are what these two leave. A motor power of 0 means "no motor".
"""

from __future__ import annotations

import numpy as np

from solver.formulas.electricity_tables import EFFICIENCY, FULL_LOAD, HORSEPOWER, UNBALANCE_FACTORS
from solver.formulas.motor_lookup import check_phases, check_power, table_current
from solver.formulas.ranges import Values, within
from solver.formulas.record import formula


@formula
def motor_current(motor_power: Values, voltage: Values, phases: Values) -> Values:
    """Full-load current of a motor.

    I = table(P, V), log-log between rows; between columns I = I(nearest column) V(column) / V

    Parameters
    ----------
    motor_power : float or array [W]
        Rated shaft power; 0 for no motor.
    voltage : float or array [V]
        Voltage supplied, between the lines.
    phases : float or array [-]
        1 or 3.

    Returns
    -------
    float or array [A]
        Current in each line.

    Notes
    -----
    Single-phase 1/6 to 10 hp at 110-120 and 200-240 V; three-phase 1/2 to 50 hp at 200-240 and 440-480 V.
    The code takes a column's current unchanged over its voltage range; here the apparent power is kept instead, so at
    240 V the current is 4 percent below the 230 V column. Size conductors at the column's voltage: the safe side. The
    table's currents lie above those of most motors: the safe side.

    Examples
    --------
    >>> motor_current(7.5 * 745.6998715822702, 230.0, 3)
    22.0

    References
    ----------
    NFPA 70 (NEC), 2023, Tables 430.248 and 430.250.
    """
    return table_current(FULL_LOAD, motor_power, voltage, phases)


@formula
def motor_apparent_power(motor_power: Values, voltage: Values, phases: Values) -> Values:
    """Apparent power of a motor at full load.

    S = sqrt(phases) V I

    Parameters
    ----------
    motor_power : float or array [W]
        Rated shaft power; 0 for no motor.
    voltage : float or array [V]
        Voltage supplied, between the lines.
    phases : float or array [-]
        1 or 3.

    Returns
    -------
    float or array [VA]
        Apparent power drawn.

    Notes
    -----
    Range of `motor_current`. The table's currents lie above those of most motors: the safe side.

    Examples
    --------
    >>> round(motor_apparent_power(5 * 745.6998715822702, 230.0, 1))
    6440

    References
    ----------
    NFPA 70 (NEC), 2023, Tables 430.248 and 430.250; power relations of alternating current.
    """
    return np.sqrt(phases) * voltage * motor_current(motor_power, voltage, phases)


@formula
def motor_efficiency(motor_power: Values, phases: Values) -> Values:
    """Shaft power over real power of a motor at full load.

    efficiency = table(P), straight over log P between rows

    Parameters
    ----------
    motor_power : float or array [W]
        Rated shaft power; 0 for no motor, which gives 1.
    phases : float or array [-]
        1 or 3.

    Returns
    -------
    float or array [-]
        Efficiency as a share.

    Notes
    -----
    Single-phase 1/6 to 10 hp, three-phase 1/2 to 50 hp. From memory: plain induction motors on the low side, so the
    real power errs high, the safe side for the engine. A nameplate is better.

    Examples
    --------
    >>> round(motor_efficiency(10 * 745.6998715822702, 3), 2)
    0.86

    References
    ----------
    From memory, no document.
    """
    power, phase = np.broadcast_arrays(np.asarray(motor_power, float) / HORSEPOWER, np.asarray(phases, float))
    check_phases(power, phase)
    result = np.ones(power.shape)
    for count, (powers, shares) in EFFICIENCY.items():
        here = (power != 0.0) & (phase == count)
        if here.any():
            check_power(power[here], powers)
            result[here] = np.interp(np.log(power[here]), np.log(powers), shares)
    return result


@formula
def motor_real_power(motor_power: Values, voltage: Values, phases: Values) -> Values:
    """Real power of a motor at full load.

    P_real = P_shaft / efficiency

    Parameters
    ----------
    motor_power : float or array [W]
        Rated shaft power; 0 for no motor.
    voltage : float or array [V]
        Voltage supplied; it does not change the result.
    phases : float or array [-]
        1 or 3.

    Returns
    -------
    float or array [W]
        Real power drawn.

    Notes
    -----
    Range of `motor_current`. Efficiency from memory, on the low side: the real power errs high, the safe side.

    Examples
    --------
    >>> round(motor_real_power(10 * 745.6998715822702, 230.0, 3))
    8671

    References
    ----------
    Definition of efficiency; figures from memory.
    """
    shaft_power, _ = np.broadcast_arrays(np.asarray(motor_power, float), voltage)
    return shaft_power / motor_efficiency(motor_power, phases)


@formula
def motor_reactive_power(motor_power: Values, voltage: Values, phases: Values) -> Values:
    """Reactive power of a motor at full load.

    Q = sqrt(S^2 - P^2)

    Parameters
    ----------
    motor_power : float or array [W]
        Rated shaft power; 0 for no motor.
    voltage : float or array [V]
        Voltage supplied, between the lines.
    phases : float or array [-]
        1 or 3.

    Returns
    -------
    float or array [var]
        Reactive power drawn.

    Notes
    -----
    Range of `motor_current`. The table's current is an upper one, so the reactive power errs high.

    Examples
    --------
    >>> round(motor_reactive_power(10 * 745.6998715822702, 230.0, 3))
    7017

    References
    ----------
    Power relations of alternating current.
    """
    apparent = motor_apparent_power(motor_power, voltage, phases)
    real = motor_real_power(motor_power, voltage, phases)
    return np.sqrt((apparent - real) * (apparent + real))


@formula
def motor_power_factor(motor_power: Values, voltage: Values, phases: Values) -> Values:
    """Real over apparent power of a motor at full load.

    cos phi = P / S

    Parameters
    ----------
    motor_power : float or array [W]
        Rated shaft power; 0 for no motor, which gives 1.
    voltage : float or array [V]
        Voltage supplied, between the lines.
    phases : float or array [-]
        1 or 3.

    Returns
    -------
    float or array [-]
        Power factor as a share.

    Notes
    -----
    Range of `motor_current`. It belongs to the table's upper current: a motor's nameplate states a higher one with a
    lower current.

    Examples
    --------
    >>> round(motor_power_factor(10 * 745.6998715822702, 230.0, 3), 2)
    0.78

    References
    ----------
    Power relations of alternating current.
    """
    apparent = np.asarray(motor_apparent_power(motor_power, voltage, phases))
    real = np.asarray(motor_real_power(motor_power, voltage, phases))
    return np.asarray(np.divide(real, apparent, out=np.ones(apparent.shape), where=apparent > 0.0))


@formula
def unbalance_derating(unbalance: Values) -> Values:
    """Share of its rated power that a three-phase motor may give on unbalanced voltages.

    share = curve(unbalance), straight between the points read off

    Parameters
    ----------
    unbalance : float or array [-]
        Largest deviation of a line voltage from the mean, as a share of the mean.

    Returns
    -------
    float or array [-]
        Share of the rated power.

    Notes
    -----
    0 to 5 percent; a motor should not run above that. Read off a curve, to about 0.01.

    Examples
    --------
    >>> round(unbalance_derating(0.0275), 2)
    0.91

    References
    ----------
    NEMA MG 1, curve of derating for unbalanced voltage, read off.
    """
    within("unbalance", unbalance, "-", 0.0, 0.05)
    points, shares = zip(*UNBALANCE_FACTORS, strict=True)
    return np.asarray(np.interp(unbalance, points, shares))
