"""Air around the rig: its pressure and density, and what a compressor delivers from it.

Contents: `atmosphere_pressure`, `air_density`, `delivered_flow`, `actual_flow`; the constants of standard air.
Receivers are in `receivers`, lines, orifices and power in `compressed_air`; all may be had from here too.
"""

from __future__ import annotations

from solver.formulas.compressed_air import (
    air_viscosity,
    compression_power,
    line_pressure_drop,
    orifice_flow,
)
from solver.formulas.ranges import Values, positive, within
from solver.formulas.receivers import pump_up_time, receiver_flow_volume, receiver_volume
from solver.formulas.record import formula
from solver.formulas.saturation import saturation_pressure
from solver.formulas.standard_air import (
    ASME_STANDARD_HUMIDITY,
    ASME_STANDARD_PRESSURE,
    ASME_STANDARD_TEMPERATURE,
    GAS_CONSTANT_DRY_AIR,
    GAS_CONSTANT_WATER,
    SEA_LEVEL_PRESSURE,
    STANDARD_AIR_DENSITY,
    STANDARD_PRESSURE,
    STANDARD_TEMPERATURE,
)

__all__ = [
    "ASME_STANDARD_HUMIDITY",
    "ASME_STANDARD_PRESSURE",
    "ASME_STANDARD_TEMPERATURE",
    "SEA_LEVEL_PRESSURE",
    "STANDARD_AIR_DENSITY",
    "STANDARD_PRESSURE",
    "STANDARD_TEMPERATURE",
    "actual_flow",
    "air_density",
    "air_viscosity",
    "atmosphere_pressure",
    "compression_power",
    "delivered_flow",
    "line_pressure_drop",
    "orifice_flow",
    "pump_up_time",
    "receiver_flow_volume",
    "receiver_volume",
]


@formula
def atmosphere_pressure(altitude: Values) -> Values:
    """Pressure of the standard atmosphere at an altitude.

    p = 101325 (1 - 2.25577e-5 z)^5.2559

    Parameters
    ----------
    altitude : float or array [m]
        Height above sea level.

    Returns
    -------
    float or array [Pa]
        Absolute pressure of the air.

    Notes
    -----
    From -500 m to 11,000 m. Weather moves it by about 3 percent either way; that is neglected.

    Examples
    --------
    >>> round(atmosphere_pressure(1829.0))
    81198

    References
    ----------
    US Standard Atmosphere 1976, as in ASHRAE Handbook Fundamentals, chapter 1, Table 1 and the formula beside it
    """
    within("altitude", altitude, "m", -500.0, 11000.0)
    return SEA_LEVEL_PRESSURE * (1.0 - 2.25577e-5 * altitude) ** 5.2559


@formula
def air_density(air_pressure: Values, air_temperature: Values, relative_humidity: Values) -> Values:
    """Density of moist air.

    rho = (p - phi p_s) / (R_a T) + phi p_s / (R_w T)

    Parameters
    ----------
    air_pressure : float or array [Pa]
        Absolute pressure.
    air_temperature : float or array [K]
        Temperature.
    relative_humidity : float or array [-]
        Relative humidity, 0 to 1.

    Returns
    -------
    float or array [kg/m3]
        Mass of air and vapour in a volume.

    Notes
    -----
    Ideal gases: at one atmosphere within 0.1 percent of the real mixture. The vapour must leave some room for air.

    Examples
    --------
    >>> round(air_density(1.0e5, 293.15, 0.0), 4)
    1.1884

    References
    ----------
    ASHRAE Handbook Fundamentals, chapter 1, perfect gas relationships for moist air; gas constants from memory
    """
    vapour = _vapour_pressure(air_pressure, air_temperature, relative_humidity)
    return ((air_pressure - vapour) / GAS_CONSTANT_DRY_AIR + vapour / GAS_CONSTANT_WATER) / air_temperature


def _vapour_pressure(air_pressure: Values, air_temperature: Values, relative_humidity: Values) -> Values:
    """Pressure of the vapour in air [Pa], less than the whole pressure."""
    within("relative humidity", relative_humidity, "-", 0.0, 1.0)
    positive("air pressure", air_pressure, "Pa")
    vapour = relative_humidity * saturation_pressure(air_temperature)
    positive("pressure of the dry part of the air", air_pressure - vapour, "Pa")
    return vapour


@formula
def delivered_flow(
    free_air: Values, air_pressure: Values, air_temperature: Values, relative_humidity: Values
) -> Values:
    """Standard flow that a piston compressor delivers from the air around it.

    q = q_free (p - phi p_s) / p_std * T_std / T

    Parameters
    ----------
    free_air : float or array [m3/s]
        Free air that the machine takes in, as rated with standard air at its inlet.
    air_pressure : float or array [Pa]
        Absolute pressure of the air at the inlet.
    air_temperature : float or array [K]
        Temperature of the air at the inlet: that of the body, not of the outdoors.
    relative_humidity : float or array [-]
        Relative humidity of the air at the inlet.

    Returns
    -------
    float or array [m3/s]
        Delivered flow as standard flow: dry air at 1 bar and 20 degC.

    Notes
    -----
    A piston machine takes in the same volume whatever the air. Its moisture is not counted: it falls out as water. Cold
    air gives more than the rating. Neglected: a small machine fills its cylinder a little worse at altitude, where its
    pressure ratio is higher; that is the unsafe side, by about one percent for each 1,000 m (from memory).

    Examples
    --------
    >>> round(delivered_flow(0.010, 81198.0, 311.0, 0.2), 5)
    0.00753

    References
    ----------
    ISO 1217, standard inlet conditions (1 bar, 20 degC, 0 %) and correction of volume flow by inlet density
    Compressed-air engineering texts, ACFM = SCFM (Ps - RHs PVs)/(Pb - RH PV) (T/Ts), turned round
    """
    vapour = _vapour_pressure(air_pressure, air_temperature, relative_humidity)
    return free_air * (air_pressure - vapour) / STANDARD_PRESSURE * (STANDARD_TEMPERATURE / air_temperature)


@formula
def actual_flow(
    standard_flow: Values,
    air_pressure: Values,
    air_temperature: Values,
    relative_humidity: Values,
    standard_pressure: float = STANDARD_PRESSURE,
    standard_temperature: float = STANDARD_TEMPERATURE,
    standard_humidity: float = 0.0,
) -> Values:
    """Volume flow of the air around that holds the dry air of a standard flow.

    q = q_std (p_std - phi_std p_s,std) / (p - phi p_s) * T / T_std

    Parameters
    ----------
    standard_flow : float or array [m3/s]
        Flow at the base.
    air_pressure : float or array [Pa]
        Absolute pressure of the actual air.
    air_temperature : float or array [K]
        Temperature of the actual air.
    relative_humidity : float or array [-]
        Relative humidity of the actual air.
    standard_pressure : float [Pa]
        Absolute pressure of the base.
    standard_temperature : float [K]
        Temperature of the base.
    standard_humidity : float [-]
        Relative humidity of the base.

    Returns
    -------
    float or array [m3/s]
        Actual flow.

    Notes
    -----
    Ideal gases. With the default base it is the inverse of `delivered_flow`.

    Examples
    --------
    >>> round(actual_flow(1.0, 84323.0, 300.0, 0.8), 3)
    1.256

    References
    ----------
    Compressed-air engineering texts, several copies: ACFM = SCFM (Ps - RHs PVs)/(Pb - RH PV) (T/Ts)
    """
    base_vapour = _vapour_pressure(standard_pressure, standard_temperature, standard_humidity)
    vapour = _vapour_pressure(air_pressure, air_temperature, relative_humidity)
    dry_ratio = (standard_pressure - base_vapour) / (air_pressure - vapour)
    return standard_flow * dry_ratio * (air_temperature / standard_temperature)
