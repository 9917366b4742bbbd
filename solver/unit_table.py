"""The known units, as data: factors to SI, other spellings, units of display, examples. `quantities.py` reads it.

Contents: `UNITS`, `OFFSETS`, `DIMENSIONS`, `SPELLINGS`, `US_UNITS`, `SI_UNITS`, `EXAMPLES`, `HINTS`, `LOOKALIKES`,
`PINT_LINES`.

References: factors from the definitions of foot, pound, US gallon and standard gravity (NIST SP 811, Appendix B); the
Btu is the one of 1055.056 J.
"""

from __future__ import annotations

_FT, _IN, _LB, _GAL, _MIN, _H, _DAY = 0.3048, 0.0254, 0.45359237, 231 * 0.0254**3, 60.0, 3600.0, 86400.0
_FT3, _HP, _BTU, _PSI, _DEGF, _KFT = _FT**3, 550 * _FT * _LB * 9.80665, 1055.056, _LB * 9.80665 / _IN**2, 5 / 9, 304.8
_YR, _KWH = 365.25 * _DAY, 3.6e6

UNITS: dict[str, dict[str, float]] = {
    "length": {"m": 1.0, "ft": _FT, "in": _IN, "mm": 1e-3, "cm": 1e-2, "km": 1e3, "yd": 3 * _FT, "kft": _KFT},
    "area": {"m2": 1.0, "ft2": _FT**2, "in2": _IN**2, "cm2": 1e-4, "mm2": 1e-6},
    "volume": {"m3": 1.0, "gal": _GAL, "L": 1e-3, "mL": 1e-6, "ft3": _FT3, "in3": _IN**3},
    "mass": {"kg": 1.0, "lb": _LB, "g": 1e-3, "oz": _LB / 16, "t": 1e3},
    "time": {"s": 1.0, "min": _MIN, "h": _H, "day": _DAY, "week": 7 * _DAY, "yr": _YR, "month": _YR / 12},
    "temperature": {"K": 1.0, "degF": _DEGF, "degC": 1.0, "degR": _DEGF},
    "temperature_difference": {"K": 1.0, "delta_degF": _DEGF, "delta_degC": 1.0},
    "pressure": {"Pa": 1.0, "psi": _PSI, "psig": _PSI, "kPa": 1e3, "MPa": 1e6, "bar": 1e5, "mbar": 1e2, "hPa": 1e2},
    "power": {"W": 1.0, "kW": 1e3, "hp": _HP, "Btu/h": _BTU / _H, "kBtu/h": 1e3 * _BTU / _H},
    "apparent_power": {"VA": 1.0, "kVA": 1e3},
    "reactive_power": {"var": 1.0, "kvar": 1e3},
    "energy": {"J": 1.0, "kWh": _KWH, "Wh": _H, "kJ": 1e3, "MJ": 1e6, "Btu": _BTU, "kBtu": 1e3 * _BTU},
    "voltage": {"V": 1.0, "kV": 1e3},
    "current": {"A": 1.0, "mA": 1e-3},
    "mass_flow": {"kg/s": 1.0, "lb/min": _LB / _MIN, "kg/min": 1 / _MIN, "lb/h": _LB / _H, "kg/h": 1 / _H, "g/s": 1e-3},
    "volume_flow": {
        "m3/s": 1.0, "gpm": _GAL / _MIN, "L/min": 1e-3 / _MIN, "L/s": 1e-3, "cfm": _FT3 / _MIN, "m3/h": 1 / _H,
        "m3/min": 1 / _MIN, "gal/h": _GAL / _H, "L/h": 1e-3 / _H, "gal/min": _GAL / _MIN, "ft3/min": _FT3 / _MIN,
    },
    "fuel_rate": {"m3/s": 1.0, "gal/h": _GAL / _H, "L/h": 1e-3 / _H},
    "standard_flow": {
        "standard_m3/s": 1.0, "scfm": _FT3 / _MIN, "standard_L/s": 1e-3, "standard_L/min": 1e-3 / _MIN,
        "standard_m3/h": 1 / _H, "standard_m3/min": 1 / _MIN,
    },
    "standard_volume_per_mass": {
        "standard_m3/kg": 1.0, "scfm/(lb/min)": _FT3 / _LB, "(standard_L/min)/(kg/min)": 1e-3,
        "(standard_L/s)/(kg/s)": 1e-3, "(standard_m3/s)/(kg/s)": 1.0,
    },
    "standard_flow_per_flow": {
        "standard_m3/m3": 1.0, "scfm/gpm": _FT3 / _GAL, "(standard_L/min)/(L/min)": 1.0, "(standard_m3/s)/(m3/s)": 1.0,
    },
    "density": {"kg/m3": 1.0, "lb/gal": _LB / _GAL, "lb/ft3": _LB / _FT3, "pcf": _LB / _FT3, "kg/L": 1e3, "g/cm3": 1e3,
                "g/mL": 1e3},
    "viscosity": {"Pa s": 1.0, "mPa s": 1e-3, "cP": 1e-3, "cps": 1e-3},
    "conductance": {"W/K": 1.0, "Btu/h/delta_degF": _BTU / _H / _DEGF},
    "conductance_per_length": {"W/m/K": 1.0, "W/ft/K": 1 / _FT, "W/ft/delta_degF": 1 / _FT / _DEGF,
                               "Btu/h/ft/delta_degF": _BTU / _H / _FT / _DEGF},
    "heat_capacity": {"J/K": 1.0, "kJ/K": 1e3, "MJ/K": 1e6, "kWh/K": _KWH, "Btu/delta_degF": _BTU / _DEGF},
    "heat_capacity_per_length": {"J/m/K": 1.0, "kJ/m/K": 1e3, "kJ/ft/K": 1e3 / _FT, "J/ft/K": 1 / _FT,
                                 "Btu/ft/delta_degF": _BTU / _FT / _DEGF},
    "specific_heat_capacity": {"J/kg/K": 1.0, "kJ/kg/K": 1e3, "Btu/lb/delta_degF": _BTU / _LB / _DEGF},
    "thermal_resistance": {"m2 K/W": 1.0, "h ft2 delta_degF/Btu": _H * _FT**2 * _DEGF / _BTU},
    "volume_per_energy": {"m3/J": 1.0, "gal/kWh": _GAL / _KWH, "L/kWh": 1e-3 / _KWH},
    "energy_per_volume": {"J/m3": 1.0, "kWh/gal": _KWH / _GAL, "kWh/L": _KWH / 1e-3, "Btu/gal": _BTU / _GAL},
    "apparent_power_per_power": {"VA/W": 1.0, "kVA/kW": 1.0, "kVA/hp": 1e3 / _HP},
    "rotation_speed": {"revolution/s": 1.0, "rpm": 1 / _MIN},
    "rate": {"1/s": 1.0, "1/h": 1 / _H, "1/min": 1 / _MIN},
    "angle": {"rad": 1.0, "deg": 3.141592653589793 / 180},
    "sound_level": {"dBA": 1.0},
    "share": {"1": 1.0, "-": 1.0, "%": 1e-2},
    "share_per_length": {"1/m": 1.0, "%/kft": 1e-2 / _KFT, "%/m": 1e-2, "%/km": 1e-5, "%/ft": 1e-2 / _FT,
                         "%/(100 m)": 1e-4, "%/(1000 m)": 1e-5, "%/(1000 ft)": 1e-2 / _KFT},
    "share_per_temperature_difference": {
        "1/K": 1.0, "%/K": 1e-2, "%/delta_degF": 1e-2 / _DEGF, "%/delta_degC": 1e-2, "%/(5 delta_degF)": 2e-3 / _DEGF,
        "%/(10 delta_degF)": 1e-3 / _DEGF, "%/(5 K)": 2e-3, "%/(10 K)": 1e-3, "%/(10 delta_degC)": 1e-3,
    },
    "board_feet": {"board_feet": 1.0},
    "board_feet_rate": {"board_feet/s": 1.0, "board_feet/day": 1 / _DAY, "board_feet/h": 1 / _H},
    "money": {"USD": 1.0, "cent": 1e-2},
    "money_per_time": {"USD/s": 1.0, "USD/h": 1 / _H, "USD/day": 1 / _DAY, "USD/yr": 1 / _YR, "USD/month": 12 / _YR},
    "money_per_volume": {"USD/m3": 1.0, "USD/gal": 1 / _GAL, "USD/L": 1e3},
    "money_per_mass": {"USD/kg": 1.0, "USD/lb": 1 / _LB},
    "money_per_energy": {"USD/J": 1.0, "USD/kWh": 1 / _KWH},
    "money_per_board_feet": {"USD/board_feet": 1.0},
}  # fmt: skip
"""Per dimension, the known unit texts and their SI factor; the first of each is the SI unit."""

OFFSETS: dict[str, float] = {"degF": 459.67 * 5 / 9, "degC": 273.15}
"""What is added after the factor: the two scales whose zero is not absolute."""

DIMENSIONS: dict[str, str] = {dimension: next(iter(units)) for dimension, units in UNITS.items()}
"""The SI unit of each dimension."""

SPELLINGS: dict[str, str] = {
    "feet": "ft", "foot": "ft", "inch": "in", "inches": "in", "lbs": "lb", "pounds": "lb", "gallon": "gal",
    "gallons": "gal", "liter": "L", "liters": "L", "l": "L", "hour": "h", "hours": "h", "hr": "h", "hrs": "h",
    "minute": "min", "minutes": "min", "sec": "s", "second": "s", "seconds": "s", "days": "day", "weeks": "week",
    "year": "yr", "years": "yr", "months": "month", "percent": "%", "board_foot": "board_feet", "dollars": "USD",
    "USD/board_foot": "USD/board_feet", "board_foot/day": "board_feet/day", "acfm": "cfm", "gph": "gal/h",
    "W/(m K)": "W/m/K", "W/(ft K)": "W/ft/K", "J/(m K)": "J/m/K", "kJ/(m K)": "kJ/m/K", "kJ/(ft K)": "kJ/ft/K",
    "J/(kg K)": "J/kg/K", "kJ/(kg K)": "kJ/kg/K", "dB(A)": "dBA", "sq ft": "ft2", "cu ft": "ft3",
    "BTU/h": "Btu/h", "Btu/hr": "Btu/h", "BTU/hr": "Btu/h", "kBTU/h": "kBtu/h", "sL/min": "standard_L/min",
    "lb/(ft3)": "lb/ft3", "Btu/(h delta_degF)": "Btu/h/delta_degF", "Btu/(lb delta_degF)": "Btu/lb/delta_degF",
}  # fmt: skip
"""Other ways of writing a known unit."""

US_UNITS: dict[str, str] = {
    "length": "ft", "area": "ft2", "volume": "gal", "mass": "lb", "time": "h", "temperature": "degF",
    "temperature_difference": "delta_degF", "pressure": "psi", "power": "kW", "apparent_power": "kVA",
    "reactive_power": "kvar", "energy": "kWh", "mass_flow": "lb/min", "volume_flow": "gpm", "fuel_rate": "gal/h",
    "standard_flow": "scfm", "standard_volume_per_mass": "scfm/(lb/min)", "standard_flow_per_flow": "scfm/gpm",
    "density": "lb/ft3", "viscosity": "mPa s", "conductance_per_length": "W/ft/K", "heat_capacity": "kJ/K",
    "heat_capacity_per_length": "kJ/ft/K", "specific_heat_capacity": "kJ/kg/K", "volume_per_energy": "gal/kWh",
    "energy_per_volume": "kWh/gal", "apparent_power_per_power": "kVA/hp", "rotation_speed": "rpm", "rate": "1/h",
    "share": "%", "share_per_length": "%/kft", "share_per_temperature_difference": "%/delta_degF",
    "board_feet_rate": "board_feet/day", "money_per_time": "USD/h", "money_per_volume": "USD/gal",
    "money_per_mass": "USD/lb", "money_per_energy": "USD/kWh", "thermal_resistance": "h ft2 delta_degF/Btu",
}  # fmt: skip
"""Units of display in the US system; a dimension that is not here shows its SI unit."""

SI_UNITS: dict[str, str] = {
    "time": "h", "temperature": "degC", "pressure": "kPa", "power": "kW", "apparent_power": "kVA", "volume": "L",
    "reactive_power": "kvar", "energy": "kWh", "mass_flow": "kg/min", "volume_flow": "L/min", "fuel_rate": "L/h",
    "standard_flow": "standard_L/s", "standard_volume_per_mass": "(standard_L/min)/(kg/min)", "viscosity": "mPa s",
    "standard_flow_per_flow": "(standard_L/min)/(L/min)", "heat_capacity": "kJ/K", "specific_heat_capacity": "kJ/kg/K",
    "volume_per_energy": "L/kWh", "energy_per_volume": "kWh/L", "rotation_speed": "rpm", "rate": "1/h", "share": "%",
    "share_per_length": "%/km", "share_per_temperature_difference": "%/K", "board_feet_rate": "board_feet/day",
    "money_per_time": "USD/h", "money_per_volume": "USD/L", "money_per_energy": "USD/kWh",
    "heat_capacity_per_length": "kJ/m/K", "apparent_power_per_power": "kVA/kW", "angle": "deg",
}  # fmt: skip
"""Units of display in the SI system."""

EXAMPLES: dict[str, float] = {
    "length": 50, "mass": 480, "time": 2, "temperature": 60, "pressure": 120, "power": 12, "apparent_power": 25,
    "share": 15, "money": 3200, "standard_flow": 18, "mass_flow": 18, "voltage": 240, "viscosity": 250,
    "volume": 30, "rotation_speed": 1800, "sound_level": 68, "board_feet": 3000, "share_per_length": 3,
}  # fmt: skip
"""Figures, in US units, that messages give as examples; 2 where none is here."""

HINTS: dict[str, str] = {
    "F": "degF (or delta_degF for a difference)", "C": "degC (or delta_degC for a difference)",
    "psia": "the gauge pressure, in psi", "ton": "kBtu/h or kW", "tons": "kBtu/h or kW", "HP": "hp",
    "CFM": "cfm or scfm",
    "Nm3/h": "standard_m3/h",
}  # fmt: skip
"""What was probably meant by a unit that is refused."""

LOOKALIKES: dict[int, str] = {
    ord(k): v
    for k, v in {
        "°": "deg", "º": "deg", "℉": "degF", "℃": "degC", "²": "2", "³": "3", "µ": "u", "μ": "u", "\u00a0": " ",
        "\u2009": " ", "\u202f": " ", "\u2007": " ", "−": "-", "⁄": "/", "·": " ", "⋅": " ", "×": " ", "*": " ",
        "½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8", "\ufeff": "",
        "Δ": "delta_", "∆": "delta_", "％": "%",
    }.items()
}  # fmt: skip
"""Characters that look like a unit's own, and what is read for them."""

PINT_LINES: tuple[str, ...] = (
    "USD = [money]", "cent = 0.01 USD", "board_foot = [board_foot] = _ = board_feet", "dBA = [sound_level]",
    "standard_m3 = [standard_volume]", "standard_L = 0.001 standard_m3", "standard_ft3 = 0.3048**3 standard_m3",
    "scfm = standard_ft3 / minute", "kft = 1000 foot", "gpm = gallon / minute", "cfm = foot**3 / minute",
    "psig = psi", "pcf = pound / foot**3", "cps = centipoise", "apparent_watt = [apparent_power]",
    "reactive_watt = [reactive_power]", "m2 = meter**2", "ft2 = foot**2", "in2 = inch**2",
    "cm2 = centimeter**2", "mm2 = millimeter**2", "m3 = meter**3", "ft3 = foot**3", "in3 = inch**3",
    "cm3 = centimeter**3",
)  # fmt: skip
"""The trade's own units, in pint's words."""
