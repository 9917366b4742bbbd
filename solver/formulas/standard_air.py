"""Constants of air: gas constants and the states at which flows are stated. Nothing but numbers.

Standard flow in this project is dry air at the base of ISO 1217 and CAGI: 1 bar absolute, 20 degC, 0 % humidity. The
other base met in trade figures (14.7 psia, 68 degF, 36 %) is given too; the two differ by about one percent.
"""

from __future__ import annotations

GAS_CONSTANT_DRY_AIR = 287.042
"""Gas constant of dry air [J/(kg K)]: ASHRAE Handbook Fundamentals, chapter 1; from memory."""
GAS_CONSTANT_WATER = 461.524
"""Gas constant of water vapour [J/(kg K)]: ASHRAE Handbook Fundamentals, chapter 1; from memory."""
FREEZING_POINT = 273.15
"""0 degC [K]."""
TRIPLE_POINT = 273.16
"""Triple point of water [K]."""

STANDARD_PRESSURE = 1.0e5
"""Absolute pressure of standard air [Pa]: ISO 1217, CAGI."""
STANDARD_TEMPERATURE = 293.15
"""Temperature of standard air [K]: ISO 1217, CAGI; standard air is dry."""
STANDARD_AIR_DENSITY = STANDARD_PRESSURE / (GAS_CONSTANT_DRY_AIR * STANDARD_TEMPERATURE)
"""Density of standard air [kg/m3]: 1.1884."""

ASME_STANDARD_PRESSURE = 101352.9
"""Absolute pressure of the other base [Pa]: 14.7 psia, ASME test code for displacement compressors."""
ASME_STANDARD_TEMPERATURE = 293.15
"""Temperature of the other base [K]: 68 degF."""
ASME_STANDARD_HUMIDITY = 0.36
"""Relative humidity of the other base [-]; its density is 0.075 lb/ft3."""

SEA_LEVEL_PRESSURE = 101325.0
"""Pressure of the standard atmosphere at sea level [Pa]."""
HEAT_CAPACITY_RATIO = 1.4
"""Ratio of the heat capacities of air at constant pressure and volume [-]."""
AIR_HEAT_CAPACITY = 1006.0
"""Heat capacity of air at constant pressure [J/(kg K)]."""
