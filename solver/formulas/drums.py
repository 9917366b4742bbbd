"""Heat into drums of liquid that stand in a cooler body.

Contents: `kept_heat`, `drums_share`.
"""

from __future__ import annotations

import numpy as np

from solver.formulas.ranges import Values, not_negative, positive
from solver.formulas.record import formula


@formula
def kept_heat(real_power: Values, conductance: Values, thermal_mass: Values, time: Values) -> Values:
    """Heat that drums still hold after being heated for a time while they lose to the body around them.

    E = P tau (1 - exp(-t / tau)),  tau = C / K

    Parameters
    ----------
    real_power : float or array [W]
        Power of the heaters.
    conductance : float or array [W/K]
        Loss of the drums to the body for each kelvin.
    thermal_mass : float or array [J/K]
        Heat capacity of the drums.
    time : float or array [s]
        How long they are heated.

    Returns
    -------
    float or array [J]
        Heat left in the drums, over what they would hold without heaters.

    Notes
    -----
    Heat lost by the drums warms the body, which is neglected: the safe side. A thermostat that cuts the heaters out is
    neglected: the figure is the most that they can do.

    Examples
    --------
    >>> round(kept_heat(2400.0, 32.0, 950e3, 14 * 3600.0) / 3.6e6, 1)
    16.2
    >>> round(kept_heat(2400.0, 32.0, 950e3, 3600.0) / 3.6e6, 2)
    2.26

    References
    ----------
    Cengel, Heat and Mass Transfer, chapter 4, lumped system with heat generation; from memory
    """
    positive("conductance", conductance, "W/K")
    positive("thermal mass", thermal_mass, "J/K")
    not_negative("time", time, "s")
    constant = thermal_mass / conductance
    return real_power * constant * -np.expm1(-time / constant)


@formula
def drums_share(heated_drums: Values, used_drums: Values) -> Values:
    """Share of the drum heaters' power that goes into the drums opened that day.

    s = n_used / n_heated, or 0 where n_heated < n_used

    Parameters
    ----------
    heated_drums : float or array [-]
        Drums that have a heater.
    used_drums : float or array [-]
        Drums opened in the day.

    Returns
    -------
    float or array [-]
        Share that counts.

    Notes
    -----
    Drums are opened one after another and the coldest decides, so heat counts only where every one of them has its
    heater: the safe side.

    Examples
    --------
    >>> drums_share(4.0, 2.0), drums_share(2.0, 4.0)
    (0.5, 0.0)

    References
    ----------
    Definition
    """
    positive("used drums", used_drums, "-")
    every = 1.0 * (heated_drums >= used_drums)
    return every * used_drums / np.maximum(heated_drums, used_drums)
