"""How the rig comes through the night: figures that the rules of storage, hose and heat share.

Contents: `body_conductance`, `morning_temperature`, `NIGHT_EFFECTS`, `drum_heating_time`, `DRUM_CONDUCTANCE`.

Parked, the body with its drums and all liquid is one lump that coasts towards the night's air; a small body with one
set freezes where a large load does not. Kept warm, it stays at the temperature of its thermostat.
"""

from __future__ import annotations

from typing import Any

from solver.formulas.body_heat import air_change_heat, coast_temperature
from solver.rules.case import Case
from solver.rules.record import OVERNIGHT, Effect

DRUM_CONDUCTANCE = 16.0
"""Loss of one bare 55 gal drum to still air for each kelvin [W/K]: 2.0 m2 at 8 W/(m2 K), from memory. An insulating
jacket halves it: bare is the safe side."""

NIGHT_EFFECTS: dict[str, Effect] = {
    "overnight_air": Effect.EASES,
    "evening_temperature": Effect.EASES,
    "overnight_time": Effect.BOTH,
    "sets": Effect.BOTH,
    "altitude": Effect.BOTH,
    "humidity": Effect.BOTH,
}
"""Longer nights, less liquid and denser air bring the drums nearer to the air around: mostly colder, warmer in a hot
night."""


def body_conductance(o: Any, c: Case, air_density: float) -> Any:
    """Loss of the vehicle's body through its walls and by change of air for each kelvin [W/K]."""
    volume = o.floor_length * o.floor_width * o.inside_height
    return o.ua + air_change_heat(volume, o.air_changes, air_density, 1.0)


def morning_temperature(o: Any, c: Case) -> Any:
    """Temperature of drums and body when the night is over, without drum heaters [K]."""
    evening = c.margin("evening_temperature")
    if c.duty.keep_warm is not None:
        return min(float(c.duty.keep_warm), evening)
    return coast_temperature(
        c.of_duty("overnight_air"),
        evening,
        body_conductance(o, c, c.night_air_density),
        o.heat_capacity + c.drum_capacity,
        c.of_duty("overnight_time"),
    )


def drum_heating_time(c: Case) -> float:
    """How long drum heaters run before work starts [s]: in warm-up, and at night where there is shore power."""
    time = c.heating_time("drum_heater")
    if c.of_duty("shore_power") > 0.0:
        time += c.share("drum_heater", OVERNIGHT) * c.of_duty("overnight_time")
    return time
