"""Air receivers: the volume that carries a peak, and the time to fill it.

Contents: `receiver_flow_volume`, `receiver_volume`, `pump_up_time`.
"""

from __future__ import annotations

from solver.formulas.ranges import Values, not_negative, positive
from solver.formulas.record import formula


@formula
def receiver_flow_volume(time: Values, flow: Values, air_pressure: Values, pressure_band: Values) -> Values:
    """Receiver volume that one flow takes up while the pressure falls through a band.

    V = t q P / (P1 - P2)

    Parameters
    ----------
    time : float or array [s]
        How long the flow lasts.
    flow : float or array [m3/s]
        Flow out of the receiver.
    air_pressure : float or array [Pa]
        Absolute pressure at which the flow is stated: the standard pressure for a standard flow.
    pressure_band : float or array [Pa]
        Fall of pressure allowed.

    Returns
    -------
    float or array [m3]
        Volume of the receiver.

    Notes
    -----
    Linear in the flow, so flows of several users add up. The air in the receiver keeps its temperature: in a fast
    draw it cools and the pressure falls further, the unsafe side, by less than the ratio of heat capacities 1.4.

    Examples
    --------
    >>> round(receiver_flow_volume(60.0, 0.005, 1.0e5, 2.0e5), 3)
    0.15

    References
    ----------
    US DOE / ORNL plant-energy calculation library, receiver volume V = t (C - S) Pa / (P1 - P2)
    """
    not_negative("time", time, "s")
    positive("pressure band", pressure_band, "Pa")
    return time * flow * air_pressure / pressure_band


@formula
def receiver_volume(
    time: Values, demand: Values, supply: Values, air_pressure: Values, pressure_band: Values
) -> Values:
    """Receiver volume that carries a demand above the supply for a time.

    V = t (C - S) P / (P1 - P2)

    Parameters
    ----------
    time : float or array [s]
        How long the peak lasts.
    demand : float or array [m3/s]
        Flow drawn in the peak.
    supply : float or array [m3/s]
        Flow that the compressor delivers meanwhile.
    air_pressure : float or array [Pa]
        Absolute pressure at which both flows are stated: the standard pressure for standard flows.
    pressure_band : float or array [Pa]
        Fall of pressure allowed.

    Returns
    -------
    float or array [m3]
        Volume of the receiver; below zero where the supply alone is more than the demand.

    Notes
    -----
    As `receiver_flow_volume`, of which it is the difference for demand and supply.

    Examples
    --------
    >>> round(receiver_volume(60.0, 0.012, 0.008, 1.0e5, 2.0e5), 3)
    0.12

    References
    ----------
    US DOE / ORNL plant-energy calculation library, receiver volume V = t (C - S) Pa / (P1 - P2)
    """
    return receiver_flow_volume(time, demand - supply, air_pressure, pressure_band)


@formula
def pump_up_time(volume: Values, delivered: Values, air_pressure: Values, pressure_rise: Values) -> Values:
    """Time that a compressor takes to raise the pressure of a receiver while no one draws.

    t = V dp / (P q)

    Parameters
    ----------
    volume : float or array [m3]
        Volume of the receiver.
    delivered : float or array [m3/s]
        Flow that the compressor delivers.
    air_pressure : float or array [Pa]
        Absolute pressure at which the flow is stated: the standard pressure for a standard flow.
    pressure_rise : float or array [Pa]
        Rise of pressure.

    Returns
    -------
    float or array [s]
        Time.

    Notes
    -----
    The receiver keeps its temperature; warm air from the compressor fills it a little sooner, the safe side.

    Examples
    --------
    >>> round(pump_up_time(0.3, 0.01, 1.0e5, 2.0e5), 1)
    60.0

    References
    ----------
    US DOE / ORNL plant-energy calculation library, receiver volume, solved for the time
    """
    positive("delivered flow", delivered, "m3/s")
    positive("air pressure", air_pressure, "Pa")
    return volume * pressure_rise / (air_pressure * delivered)
