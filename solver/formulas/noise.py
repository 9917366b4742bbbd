"""Noise of a working day.

Contents: `allowed_time`, `noise_dose`, `time_weighted_average`. Levels are A-weighted, slow response.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from solver.formulas.ranges import Values, not_negative, positive, within
from solver.formulas.record import formula

CRITERION_LEVEL = 90.0
"""Level allowed for eight hours [dBA]."""
EXCHANGE_RATE = 5.0
"""Rise of the level that halves the time allowed [dBA]."""
THRESHOLD_LEVEL = 80.0
"""Level below which noise does not count towards the dose [dBA]: 29 CFR 1910.95(d)(2)(i)."""
LARGEST_LEVEL = 130.0
"""Highest level of the table [dBA]."""
EIGHT_HOURS = 8.0 * 3600.0


@formula
def allowed_time(level: Values) -> Values:
    """Time in a day that a steady level is allowed to last: the reference duration.

    T = 8 h / 2^((L - 90) / 5)

    Parameters
    ----------
    level : float or array [dBA]
        Sound level.

    Returns
    -------
    float or array [s]
        Reference duration.

    Notes
    -----
    From 80 dBA to 130 dBA. Above 115 dBA no exposure is allowed, whatever the dose.

    Examples
    --------
    >>> allowed_time(95.0) / 3600
    4.0

    References
    ----------
    29 CFR 1910.95 Appendix A, section II; Table G-16 holds the same figures rounded
    """
    within("sound level", level, "dBA", THRESHOLD_LEVEL, LARGEST_LEVEL)
    return EIGHT_HOURS / 2.0 ** ((level - CRITERION_LEVEL) / EXCHANGE_RATE)


@formula
def noise_dose(
    levels: Sequence[float] | NDArray[np.float64], times: Sequence[float] | NDArray[np.float64]
) -> float:
    """Noise dose of a day made of pieces with steady levels.

    D = sum(C / T) over levels of 80 dBA and more

    Parameters
    ----------
    levels : array [dBA]
        Sound level of each piece.
    times : array [s]
        How long each piece lasts.

    Returns
    -------
    float [-]
        Dose; 1 is the most allowed in a day, 0.5 asks for a hearing conservation program.

    Notes
    -----
    Levels below 80 dBA do not count; none may be above 130 dBA. Hearing protection is not taken off.

    Examples
    --------
    >>> noise_dose([90.0, 95.0, 85.0], [14400.0, 7200.0, 7200.0])
    1.125

    References
    ----------
    29 CFR 1910.95 Appendix A, section I; threshold from 1910.95(d)(2)(i), from memory
    """
    level, time = np.broadcast_arrays(np.asarray(levels, dtype=float), np.asarray(times, dtype=float))
    within("sound level", level, "dBA", 0.0, LARGEST_LEVEL)
    not_negative("time", time, "s")
    counted = level >= THRESHOLD_LEVEL
    return float(np.sum(time[counted] / allowed_time(level[counted])))


@formula
def time_weighted_average(dose: Values) -> Values:
    """Steady level over eight hours that gives the same dose.

    TWA = 16.61 log10(D) + 90

    Parameters
    ----------
    dose : float or array [-]
        Noise dose; 1 is the most allowed in a day.

    Returns
    -------
    float or array [dBA]
        Eight-hour time-weighted average sound level.

    Notes
    -----
    For a dose above zero. From 85 dBA a hearing conservation program is needed, above 90 dBA the noise must come down.

    Examples
    --------
    >>> round(time_weighted_average(1.125), 2)
    90.85

    References
    ----------
    29 CFR 1910.95 Appendix A, section II
    """
    positive("noise dose", dose, "-")
    return 16.61 * np.log10(dose) + CRITERION_LEVEL
