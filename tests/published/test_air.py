"""Air and compressed air against published figures; orifices, receivers and power with it."""

from __future__ import annotations

from fractions import Fraction

import pytest

from solver.formulas import air
from solver.formulas.saturation import saturation_pressure
from solver.quantities import from_unit
from tests.published import documents as of
from tests.published.printed import MEMORY, READ, Figure, Passage, checked, rows

FOOT = 0.3048
INCH = 0.0254
PSI = 6894.757293168
CUBIC_FOOT = FOOT**3
CFM = CUBIC_FOOT / 60.0
RANKINE = 5.0 / 9.0
POUND_PER_CUBIC_FOOT = 0.45359237 / CUBIC_FOOT
SEA_LEVEL = 14.696 * PSI

# --- the atmosphere ---------------------------------------------------------------------------------------------------

IN_FEET = Passage(of.ASHRAE, "ch. 1, Table 1 (inch-pound)", "pressure of the standard atmosphere, psia", READ)
IN_METRES = Passage(of.ASHRAE, "ch. 1, Table 1 (SI)", "pressure of the standard atmosphere, kPa", MEMORY)
PSIA = {
    0: "14.696", 500: "14.43", 1000: "14.175", 2000: "13.664", 3000: "13.173", 4000: "12.682", 5000: "12.23",
    6000: "11.778", 7000: "11.341", 8000: "10.914", 9000: "10.506", 10000: "10.108",
}  # fmt: skip
KILOPASCAL = {
    -500: "107.478", 0: "101.325", 500: "95.461", 1000: "89.875", 1500: "84.556", 2000: "79.495", 2500: "74.682",
    3000: "70.108", 4000: "61.640", 5000: "54.020", 6000: "47.181", 7000: "41.061", 8000: "35.600", 9000: "30.742",
    10000: "26.436",
}  # fmt: skip
ATMOSPHERE = [
    IN_FEET.figure(f"{feet} ft", text, lambda feet=feet: air.atmosphere_pressure(feet * FOOT) / PSI, share=1e-3,
                   reason="the published column passed through inHg with two decimals")
    for feet, text in PSIA.items()
] + [
    IN_METRES.figure(f"{metres} m", text, lambda metres=metres: air.atmosphere_pressure(float(metres)) / 1e3)
    for metres, text in KILOPASCAL.items()
]  # fmt: skip

# Table C.2 of the textbook: degC, Pa / 1e4, kg/m3, Pa s x 1e5, from sea level to 10,000 m.
TABLE_C_2 = """
degC    pressure  density  viscosity
15.00      10.13    1.225      1.789
8.50       8.988    1.112      1.758
2.00       7.950    1.007      1.726
-4.49      7.012   0.9093      1.694
-10.98     6.166   0.8194      1.661
-17.47     5.405   0.7364      1.628
-23.96     4.722   0.6601      1.595
-30.45     4.111   0.5900      1.561
-36.94     3.565   0.5258      1.527
-43.42     3.080   0.4671      1.493
-49.90     2.650   0.4135      1.458
"""
DENSITIES = Passage(of.MUNSON, "Table C.2", "density of air from its pressure and temperature, kg/m3", MEMORY)
VISCOSITIES = Passage(of.MUNSON, "Table C.2", "viscosity of air, 1e-5 Pa s", MEMORY)
_LINES = [line.split() for line in TABLE_C_2.strip().splitlines()[1:]]
_COARSE = ("-17.47", "-23.96", "-30.45")
STANDARD_AIR_TABLE = [
    DENSITIES.figure(
        f"{t} degC, {p}e4 Pa", rho, lambda t=t, p=p: air.air_density(float(p) * 1e4, float(t) + 273.15, 0.0),
        steps=1.2 if t in _COARSE else 0.5,
        reason="the pressure put in has four digits itself" if t in _COARSE else "",
    )
    for t, p, rho, _ in _LINES
] + [
    VISCOSITIES.figure(f"{t} degC", mu, lambda t=t: air.air_viscosity(float(t) + 273.15) * 1e5) for t, _, _, mu in _LINES
]  # fmt: skip
# US Standard Atmosphere 1976, Table III: temperature K at 0 to 10,000 m, viscosity 1e-5 Pa s.
ATMOSPHERE_1976 = Passage(of.US_ATMOSPHERE, "Part 4, Table III", "viscosity of air, 1e-5 Pa s", MEMORY)
TABLE_III = {
    "288.150": "1.7894", "281.651": "1.7579", "275.154": "1.7260", "268.659": "1.6938", "262.166": "1.6612",
    "255.676": "1.6282", "249.187": "1.5949", "242.700": "1.5612", "236.215": "1.5271", "229.733": "1.4926",
    "223.252": "1.4577",
}  # fmt: skip
VISCOSITY_1976 = [
    ATMOSPHERE_1976.figure(f"{kelvin} K", text, lambda kelvin=kelvin: air.air_viscosity(float(kelvin)) * 1e5,
                           steps=0.6 if kelvin == "255.676" else 0.5,
                           reason="1.62825, on the edge of rounding" if kelvin == "255.676" else "")
    for kelvin, text in TABLE_III.items()
]  # fmt: skip


@checked(ATMOSPHERE + STANDARD_AIR_TABLE + VISCOSITY_1976)
def test_atmosphere(figure: Figure) -> None:
    """Pressure, density and viscosity of the air around."""
    figure.check()


@pytest.mark.parametrize("feet", list(PSIA))
def test_standard_atmosphere_formula(feet: float) -> None:
    """The formula printed beside the table, 14.696 (1 - 6.8754e-6 Z)^5.2559 psia. Standing: read.

    0.002 percent: the exponent is the same, the factors for feet and metres are rounded to five and six digits.
    """
    printed = 14.696 * (1 - 6.8754e-6 * feet) ** 5.2559
    assert air.atmosphere_pressure(feet * FOOT) / PSI == pytest.approx(printed, rel=2e-5)


# --- the states at which flows are stated -----------------------------------------------------------------------------

ISO_STATE = Passage(of.ISO_1217, "standard inlet conditions", "state of standard air", READ, held=True)
ASME_STATE = Passage(of.ASME_COMPRESSORS, "standard air", "state of standard air", READ, held=True)
ASME_DENSITY = Passage(of.ASME_COMPRESSORS, "standard air", "density at 68 degF, 36 % and 14.7 psia, lb/ft3", READ)


def _asme_density() -> float:
    """Density of the air of the ASME base [kg/m3]."""
    return air.air_density(air.ASME_STANDARD_PRESSURE, air.ASME_STANDARD_TEMPERATURE, air.ASME_STANDARD_HUMIDITY)


STATES = [
    ISO_STATE.figure("bar", "1.0", lambda: air.STANDARD_PRESSURE / 1e5),
    ISO_STATE.figure("degC", "20", lambda: air.STANDARD_TEMPERATURE - 273.15),
    ASME_STATE.figure("psia", "14.7", lambda: air.ASME_STANDARD_PRESSURE / PSI),
    ASME_STATE.figure("degF", "68", lambda: air.ASME_STANDARD_TEMPERATURE / RANKINE - 459.67),
    ASME_DENSITY.figure("density", "0.075", lambda: _asme_density() / POUND_PER_CUBIC_FOOT),
]


@checked(STATES)
def test_standard_states(figure: Figure) -> None:
    """The two bases of a standard flow."""
    figure.check()


def test_density_of_standard_air() -> None:
    """1.1884 kg/m3 at 1 bar, 20 degC, dry: derived (psychrolib), no figure of the standard."""
    density = air.air_density(air.STANDARD_PRESSURE, air.STANDARD_TEMPERATURE, 0.0)
    assert abs(density - 1.1884) <= 0.00005
    assert pytest.approx(density, rel=1e-12) == air.STANDARD_AIR_DENSITY


def test_bases_differ_by_up_to_2_9_percent() -> None:
    """Remark beside the standard bases: they differ by up to 2.9 percent. Its own standing is not stated.

    The widest pair is 14.7 psia, 60 degF, dry against 1 bar, 20 degC, dry; the pair is inferred, not printed.
    """
    sixty = air.air_density(14.7 * PSI, 519.67 * RANKINE, 0.0)
    assert abs(100 * (sixty / air.STANDARD_AIR_DENSITY - 1) - 2.9) <= 0.05


# --- flows, receivers, power ------------------------------------------------------------------------------------------

# ACFM = SCFM (Ps - RHs PVs)/(Pb - RH PV) (T/Ts), several copies: 100 scfm at 14.7 psia and 520 R, dry; site 12.23 psia,
# 540 R, 80 % with PV 0.5069 psia. The text takes 80 degF as 540 R (it is 539.67 R): temperature and vapour pressure are
# not of the same state, so the vapour pressure put in is the printed one.
SCFM = Passage(of.SCFM_TEXT, "scfm to acfm", "actual flow of 100 scfm at 12.23 psia, 80 degF, 80 %", READ)


def _acfm(vapour_pressure: float) -> float:
    """The case with this vapour pressure [psia]."""
    humidity = 0.8 * vapour_pressure * PSI / saturation_pressure(540 * RANKINE)
    return air.actual_flow(100 * CFM, 12.23 * PSI, 540 * RANKINE, humidity, 14.7 * PSI, 520 * RANKINE, 0.0) / CFM


# V = t (C - S) Pa / (P1 - P2), 7.48 gal in a cubic foot. Minutes, demand and supply cfm, band psi, gallons.
RECEIVERS = [(0.5, 100, 0, 10, "549.78"), (0.5, 900, 45, 30, "1566.873")]
RECEIVER = Passage(of.RECEIVER_LIBRARY, "receiver tank, test values", "receiver volume, gal", READ)
# 7 L/s, 1.013 to 14 bar, n 1.3, mechanical efficiency 0.82.
POWER = Passage(of.ARASU, "Example 5.11", "shaft power of a compressor, kW", READ)
TWO_PSI = Passage(of.SOURCEBOOK, "pressure drop and control, rule of thumb at 100 psig", "power for 2 psi more, %", MEMORY)
FLOWS = [
    SCFM.figure("acfm", "129.1", lambda: _acfm(0.5069)),
    SCFM.figure("vapour pressure at 80 degF, psia", "0.5069", lambda: saturation_pressure(539.67 * RANKINE) / PSI,
                share=1e-3, reason="older steam tables"),
    *(
        RECEIVER.figure(
            f"{minutes} min, {demand} cfm less {supply}", text,
            lambda minutes=minutes, demand=demand, supply=supply, band=band:
            air.receiver_volume(minutes * 60, demand * CFM, supply * CFM, 14.7 * PSI, band * PSI) / CUBIC_FOOT * 7.48,
        )
        for minutes, demand, supply, band, text in RECEIVERS
    ),
    POWER.figure("7 L/s to 14 bar", "3.12", lambda: air.compression_power(0.007, 1.013e5, 14e5, 1.3, 0.82) / 1000),
    TWO_PSI.figure("102 over 100 psig", "1", lambda: 100.0 * (_power_at(102.0) / _power_at(100.0) - 1.0)),
]  # fmt: skip


def _power_at(gauge: float) -> float:
    """Power for a little air at this gauge pressure [psi]."""
    return air.compression_power(0.01, SEA_LEVEL, SEA_LEVEL + gauge * PSI, 1.3, 1.0)


@checked(FLOWS)
def test_flows_receivers_and_power(figure: Figure) -> None:
    """Worked figures of texts on compressed air."""
    figure.check()


def test_scfm_to_acfm_with_our_own_vapour_pressure() -> None:
    """0.1: at 540 R, a third of a degree above 80 degF, the air holds 1.1 percent more vapour than the text put in."""
    actual = air.actual_flow(100 * CFM, 12.23 * PSI, 540 * RANKINE, 0.8, 14.7 * PSI, 520 * RANKINE, 0.0)
    assert abs(actual / CFM - 129.1) <= 0.1


@pytest.mark.parametrize(("minutes", "demand", "supply", "band", "gallons"), RECEIVERS)
def test_pump_up_time_is_the_receiver_formula_turned_round(minutes, demand, supply, band, gallons) -> None:
    """The time that fills the printed volume is the time given."""
    volume = float(gallons) / 7.48 * CUBIC_FOOT
    time = air.pump_up_time(volume, (demand - supply) * CFM, 14.7 * PSI, band * PSI)
    assert time / 60 == pytest.approx(minutes, rel=1e-5)


# --- orifices ---------------------------------------------------------------------------------------------------------

# Leak in scfm at 100 psig, coefficient 1.0. The sheet states neither the temperature nor the base: taken are 68 degF and
# 14.7 psia, dry. Five figures are met at their printed precision; that for 1/16 in. is 0.14 percent below ours (one
# kelvin colder would meet all six).
LEAKS = Passage(of.TIP_SHEET_3, "table of leak rates", "leak at 100 psig, scfm", READ)
LEAK_TABLE = {"1/64": "0.406", "1/32": "1.62", "1/16": "6.49", "1/8": "26.0", "1/4": "104", "3/8": "234"}
# The same table as the sheet prints it for other pressures. At the larger sizes 0.2 to 0.6 percent above it is ours.
LEAKS_ELSEWHERE = Passage(of.TIP_SHEET_3, "table of leak rates", "leak at other pressures, scfm", MEMORY)
ELSEWHERE = """
psig  1/64  1/32  1/16   1/8   1/4  3/8
70     0.3   1.2   4.8  19.2  76.7  173
80    0.33   1.3   5.4  21.4  85.7  193
90    0.37   1.5   5.9  23.8  94.8  213
125   0.49   2.0   7.9  31.6   126  284
"""
WIDER = {"70": ("1/4",), "80": ("1/64", "1/8", "1/4"), "90": ("1/8", "1/4", "3/8"), "125": ("1/8", "1/4", "3/8")}


def leak(inches: str, gauge: float) -> float:
    """Leak through a well-rounded hole at a gauge pressure [psi], in scfm of air at 68 degF and 14.7 psia, dry."""
    flow = air.orifice_flow(from_unit(float(Fraction(inches)), "in"), gauge * PSI, 14.7 * PSI, 293.15, 1.0)
    return flow * air.STANDARD_AIR_DENSITY / air.air_density(14.7 * PSI, 293.15, 0.0) / CFM


ORIFICES = [
    LEAKS.figure(f"{inches} in", text, lambda inches=inches: leak(inches, 100.0),
                 steps=1.0 if inches == "1/16" else 0.5, reason="base not stated" if inches == "1/16" else "")
    for inches, text in LEAK_TABLE.items()
] + [
    LEAKS_ELSEWHERE.figure(f"{inches} in at {gauge} psig", text, lambda i=inches, g=gauge: leak(i, float(g)),
                           share=0.02 if (inches, gauge) == ("1/64", "80") else 0.006 if inches in WIDER[gauge] else 0.0,
                           reason="base not stated" if inches in WIDER[gauge] else "")
    for gauge, inches, text in rows(ELSEWHERE)
]  # fmt: skip


@checked(ORIFICES)
def test_orifice_flow(figure: Figure) -> None:
    """Choked flow through a hole."""
    figure.check()


def test_orifice_grows_with_the_area() -> None:
    """The published figure for 1/4 in. is that for 1/8 in. times four. Standing: read."""
    small, large = (air.orifice_flow(d * INCH, 100 * PSI, SEA_LEVEL, 293.15, 1.0) for d in (1 / 8, 1 / 4))
    assert large / small == pytest.approx(104 / 26.0, rel=1e-12)
