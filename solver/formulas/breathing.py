"""Air for people to breathe: what regulation asks of supplied-air respirators and of their air.

Contents: `TIGHT_FITTING_FLOW`, `LOOSE_FITTING_FLOW`, `LARGEST_FLOW`, `LONGEST_HOSE`, `LARGEST_INLET_PRESSURE`, the
limits of Grade D air; `respirator_flow`, `grade_d_dew_point`.
"""

from __future__ import annotations

from solver.errors import InternalError
from solver.formulas.ranges import Values, positive
from solver.formulas.record import formula

_LITRE_PER_MINUTE = 1.0e-3 / 60.0

TIGHT_FITTING_FLOW = 115.0 * _LITRE_PER_MINUTE
"""Least air to a tight-fitting respirator [m3/s]: 115 L/min, 42 CFR 84 subpart J, Table 8 (continuous flow, Type C)."""
LOOSE_FITTING_FLOW = 170.0 * _LITRE_PER_MINUTE
"""Least air to a loose-fitting respirator [m3/s]: 170 L/min, 42 CFR 84 subpart J, Table 8."""
LARGEST_FLOW = 425.0 * _LITRE_PER_MINUTE
"""Most air to any respirator [m3/s]: 425 L/min, 42 CFR 84 subpart J, Table 8."""
LONGEST_HOSE = 91.44
"""Longest air hose [m]: 300 ft, 42 CFR 84 subpart J, Table 8."""
LARGEST_INLET_PRESSURE = 861844.66
"""Highest gauge pressure at the inlet of the hose [Pa]: 125 psi, 42 CFR 84.148."""

GRADE_D_OXYGEN = (0.195, 0.235)
"""Share of oxygen in Grade D air [-]: 29 CFR 1910.134(i)(1)(ii)."""
GRADE_D_OIL_MIST = 5.0e-6
"""Most condensed oil in Grade D air [kg/m3]: 5 mg/m3."""
GRADE_D_MONOXIDE = 10.0e-6
"""Most carbon monoxide in Grade D air [-]: 10 ppm."""
GRADE_D_DIOXIDE = 1000.0e-6
"""Most carbon dioxide in Grade D air [-]: 1,000 ppm."""
GRADE_D_DEW_POINT_DIFFERENCE = 10.0 / 1.8
"""How far the dew point at 1 atm lies below the air around [K]: 10 degF."""

_FLOWS = {"tight-fitting": TIGHT_FITTING_FLOW, "loose-fitting": LOOSE_FITTING_FLOW}


@formula
def respirator_flow(kind: str) -> float:
    """Least air that regulation asks for one supplied-air respirator.

    115 L/min tight-fitting, 170 L/min loose-fitting

    Parameters
    ----------
    kind : str [-]
        `tight-fitting` or `loose-fitting`.

    Returns
    -------
    float [m3/s]
        Flow to the respirator, taken as standard flow.

    Notes
    -----
    The most is 425 L/min. The maker's approval of the respirator rules, with its hose and pressure.

    Examples
    --------
    >>> round(respirator_flow("loose-fitting") * 60e3)
    170

    References
    ----------
    42 CFR 84 subpart J, Table 8 (continuous flow, Type C)
    """
    if kind not in _FLOWS:
        raise InternalError(f"a respirator is {' or '.join(_FLOWS)}; not {kind!r}")
    return _FLOWS[kind]


@formula
def grade_d_dew_point(air_temperature: Values) -> Values:
    """Highest dew point of breathing air, at 1 atm.

    T_dew = T - 10 degF

    Parameters
    ----------
    air_temperature : float or array [K]
        Temperature of the air where the hose lies.

    Returns
    -------
    float or array [K]
        Dew point at 1 atm not to be exceeded.

    Notes
    -----
    At 1 atm, not at line pressure: `dew_point_at_pressure` brings the one to the other. Take the coldest air.

    Examples
    --------
    >>> round(grade_d_dew_point(283.15), 2)
    277.59

    References
    ----------
    29 CFR 1910.134(i)(5)(ii) and ANSI/CGA G-7.1, Grade D
    """
    positive("air temperature", air_temperature, "K")
    return air_temperature - GRADE_D_DEW_POINT_DIFFERENCE
