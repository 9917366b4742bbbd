"""What starting motors draw, and what that does to a generator.

Contents: `locked_rotor_current`, `code_letter_kva`, `start_apparent_power`; `voltage_dip`,
`start_apparent_power_limit`.
"""

from __future__ import annotations

from math import isinf

from solver.errors import InternalError, OutsideRange
from solver.formulas.electricity_tables import CODE_LETTERS, HORSEPOWER, LOCKED_ROTOR
from solver.formulas.motor_lookup import table_current
from solver.formulas.ranges import Values, not_negative, positive, within
from solver.formulas.record import formula


@formula
def locked_rotor_current(motor_power: Values, voltage: Values, phases: Values) -> Values:
    """Current of a motor switched on across the line, before it turns.

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
    1/2 to 10 hp single-phase, 1/2 to 25 hp three-phase. Motors with a code letter above the table's draw more: then
    take the letter. A sagging voltage, which lowers the current, is neglected: the safe side.

    Examples
    --------
    >>> locked_rotor_current(10 * 745.6998715822702, 208.0, 3)
    179.0

    References
    ----------
    NFPA 70 (NEC), 2023, Tables 430.251(A) and 430.251(B); NEMA MG 1 12.35.
    """
    return table_current(LOCKED_ROTOR, motor_power, voltage, phases)


@formula
def code_letter_kva(letter: str) -> float:
    """Locked-rotor apparent power per shaft power that a motor's code letter allows at most.

    S/P = upper end of the letter's range

    Parameters
    ----------
    letter : text [-]
        Code letter of the nameplate, A to U without I, O and Q.

    Returns
    -------
    float [VA/W]
        Upper end of the range.

    Notes
    -----
    The upper end is the safe side. Letter V has no upper end in the table and is refused.

    Examples
    --------
    >>> round(code_letter_kva("G") * 745.6998715822702)
    6290

    References
    ----------
    NFPA 70 (NEC), 2023, Table 430.7(B).
    """
    if letter not in CODE_LETTERS:
        raise InternalError(f"code letter {letter!r} is not in the table, which has A to V without I, O and Q")
    high = CODE_LETTERS[letter][1]
    if isinf(high):
        raise OutsideRange(f"locked-rotor apparent power of code letter {letter}", high, "kVA/hp", 0.0, 22.39)
    return high * 1000.0 / HORSEPOWER


@formula
def start_apparent_power(motor_power: Values, kva_per_power: Values, start_share: Values) -> Values:
    """Apparent power that a motor draws while it starts.

    S_start = P (S/P) share

    Parameters
    ----------
    motor_power : float or array [W]
        Rated shaft power; 0 for no motor.
    kva_per_power : float or array [VA/W]
        Locked-rotor apparent power per shaft power, from the code letter.
    start_share : float or array [-]
        What the starter lets through: 1 across the line, 0.5 for a usual soft starter (practice).

    Returns
    -------
    float or array [VA]
        Starting apparent power at full voltage.

    Notes
    -----
    Share 0 to 1. The sag of the voltage, which lowers it, is left to `voltage_dip`.

    Examples
    --------
    >>> start_apparent_power(5000.0, 8.0, 0.5)
    20000.0

    References
    ----------
    NFPA 70 (NEC), 2023, 430.7(B): meaning of the code letter.
    """
    not_negative("motor_power", motor_power, "W")
    not_negative("kva_per_power", kva_per_power, "VA/W")
    within("start_share", start_share, "-", 0.0, 1.0)
    return motor_power * kva_per_power * start_share


@formula
def voltage_dip(start_apparent_power: Values, set_apparent_power: Values, transient_reactance: Values) -> Values:
    """How far a generator's voltage falls when a motor is switched on.

    dip = S_start / (S_start + S_set / X)

    Parameters
    ----------
    start_apparent_power : float or array [VA]
        Starting apparent power of the motor at full voltage.
    set_apparent_power : float or array [VA]
        Rated apparent power of the generator.
    transient_reactance : float or array [-]
        Transient reactance of the generator as a share of its rated impedance.

    Returns
    -------
    float or array [-]
        Fall of the voltage as a share.

    Notes
    -----
    Motor and generator as two reactances in a row: the phase angle between them is neglected, which overstates the
    dip, the safe side; so is the voltage regulator, which needs longer than the first dip. Load already running is
    left out.

    Examples
    --------
    >>> round(voltage_dip(40e3, 40e3, 0.25), 3)
    0.2

    References
    ----------
    Divider form attributed to IEEE Std 141 and IEEE Std 399, as quoted in one text.
    """
    not_negative("start_apparent_power", start_apparent_power, "VA")
    positive("set_apparent_power", set_apparent_power, "VA")
    positive("transient_reactance", transient_reactance, "-")
    return start_apparent_power / (start_apparent_power + set_apparent_power / transient_reactance)


@formula
def start_apparent_power_limit(set_apparent_power: Values, transient_reactance: Values, dip: Values) -> Values:
    """Largest starting apparent power that keeps a generator's voltage dip within a limit.

    S_start = dip / (1 - dip) S_set / X

    Parameters
    ----------
    set_apparent_power : float or array [VA]
        Rated apparent power of the generator.
    transient_reactance : float or array [-]
        Transient reactance of the generator as a share of its rated impedance.
    dip : float or array [-]
        Largest fall of the voltage as a share.

    Returns
    -------
    float or array [VA]
        Starting apparent power at full voltage.

    Notes
    -----
    The inverse of `voltage_dip`, with the same neglects. Dip 0 to 0.5.

    Examples
    --------
    >>> round(start_apparent_power_limit(40e3, 0.25, 0.2))
    40000

    References
    ----------
    Divider form attributed to IEEE Std 141 and IEEE Std 399, as quoted in one text, solved for the start.
    """
    not_negative("set_apparent_power", set_apparent_power, "VA")
    positive("transient_reactance", transient_reactance, "-")
    within("dip", dip, "-", 0.0, 0.5)
    return dip / (1.0 - dip) * set_apparent_power / transient_reactance
