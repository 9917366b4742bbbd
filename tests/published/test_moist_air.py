"""Water in air against published figures and independent libraries.

Agreement with a library is no published figure; "derived" is what was worked out with the library named.
"""

from __future__ import annotations

import numpy as np
import psychrolib
import pytest
from CoolProp.CoolProp import PropsSI
from CoolProp.HumidAirProp import HAPropsSI

from solver.formulas import moist_air
from solver.formulas.air import STANDARD_AIR_DENSITY, air_density
from tests.published import documents as of
from tests.published.printed import MEMORY, QUOTED, Figure, Passage, checked

PSI = 6894.757293168
psychrolib.SetUnitSystem(psychrolib.SI)


def kelvin(fahrenheit: float) -> float:
    return (fahrenheit + 459.67) * 5.0 / 9.0


# Cooling load per kg of dry air from saturated inlet to a 38 degF pressure dew point, as capacity relative to 100 degF
# and 100 psig; rows psig, columns inlet degF. Standing: derived (CoolProp humid air), ambient left out.
INLETS = (80, 90, 100, 110, 120, 130)
DRYERS = {
    80: (1.544, 1.193, 0.951, 0.772, 0.635, 0.526),
    100: (1.603, 1.246, 1.0, 0.819, 0.679, 0.568),
    125: (1.655, 1.294, 1.045, 0.862, 0.72, 0.607),
    150: (1.691, 1.328, 1.078, 0.894, 0.751, 0.637),
}


@pytest.mark.parametrize(
    ("psig", "inlet", "capacity"),
    [(psig, inlet, value) for psig, row in DRYERS.items() for inlet, value in zip(INLETS, row, strict=True)],
)
def test_dryer_cooling_load(psig: float, inlet: float, capacity: float) -> None:
    """The printed precision (0.0005) and 0.1 percent: a virial mixture against ideal gases with fitted corrections.

    The corrections leave 0.0 to 0.1 percent of each load, and the figure is a ratio of two loads.
    """

    def load(pressure: float, temperature: float) -> float:
        return moist_air.cooling_load(1.0, kelvin(temperature), (pressure + 14.696) * PSI, kelvin(38))

    assert abs(load(100, 100) / load(psig, inlet) - capacity) <= 0.0005 + 0.001 * capacity


# Mass of water vapour in saturated air, degC, g/m3: every printed figure above freezing is 0.2 to 0.3 percent above e/(R T)
# with today's vapour pressures (an older table; the cause is not stated), at -10 degC, over ice, 0.9 percent.
VAPOUR = Passage(of.CRC, "mass of water vapour in saturated air", "vapour density, g/m3", QUOTED)
SATURATED = {
    -10: "2.16", 0: "4.86", 2: "5.57", 4: "6.37", 6: "7.27", 8: "8.28", 10: "9.42", 12: "10.68", 14: "12.09", 16: "13.66",
    18: "15.4", 20: "17.33", 22: "19.46", 24: "21.83", 26: "24.43", 28: "27.29", 30: "30.43", 32: "33.87", 34: "37.66",
}  # fmt: skip
# Table A-2, saturated water, degC and bar, to 60 degC (what air on a site can hold). It cuts decimals off: at 8 degC later
# tables have 1.0730 kPa where it prints 0.01072 bar. Those figures are met to one step, the others to half of one.
STEAM = Passage(of.MORAN, "Table A-2", "saturation pressure of water, bar", MEMORY)
TABLE_A_2 = {
    4: "0.00813", 5: "0.00872", 6: "0.00935", 8: "0.01072", 10: "0.01228", 11: "0.01312", 12: "0.01402", 13: "0.01497",
    14: "0.01598", 15: "0.01705", 16: "0.01818", 17: "0.01938", 18: "0.02064", 19: "0.02198", 20: "0.02339",
    21: "0.02487", 22: "0.02645", 23: "0.02810", 24: "0.02985", 25: "0.03169", 26: "0.03363", 27: "0.03567",
    28: "0.03782", 29: "0.04008", 30: "0.04246", 31: "0.04496", 32: "0.04759", 33: "0.05034", 34: "0.05324",
    35: "0.05628", 36: "0.05947", 38: "0.06632", 40: "0.07384", 45: "0.09593", 50: "0.1235", 55: "0.1576", 60: "0.1994",
}  # fmt: skip
CUT_OFF = (8, 11, 12, 13, 14, 21, 38, 40)
HOT_STEAM = {
    65: "0.2503", 70: "0.3119", 75: "0.3858", 80: "0.4739", 85: "0.5783", 90: "0.7014", 95: "0.8455", 100: "1.014",
    110: "1.433", 120: "1.985", 130: "2.701", 140: "3.613", 150: "4.758", 160: "6.178", 170: "7.917", 180: "10.02",
    190: "12.54", 200: "15.54",
}  # fmt: skip
# Table 2, moist air at 101.325 kPa, saturated: degC, kg of vapour in a kg of dry air.
MOIST = Passage(of.ASHRAE, "ch. 1 (ch. 6 in older editions), Table 2", "humidity ratio of saturated air", MEMORY)
TABLE_2 = {
    -20: "0.0006373", -10: "0.0016062", 0: "0.0037895", 5: "0.005424", 10: "0.007661", 15: "0.010692", 20: "0.014758",
    25: "0.020170", 30: "0.027329", 35: "0.036756", 40: "0.049141",
}  # fmt: skip
# A house at 20 degC and 75 %: the window fogs below the dew point of its vapour pressure.
FOGGING = Passage(of.THERMODYNAMICS, "Example 14-2", "fogging of a window: vapour pressure kPa, dew point degC", MEMORY)
# A room at 25 degC, 100 kPa and 75 %.
ROOM = Passage(of.THERMODYNAMICS, "Example 14-1", "air of a room: vapour pressure kPa, humidity ratio", MEMORY)
FIGURES = [
    VAPOUR.figure(f"{t} degC", text, lambda t=t: 1000 * moist_air.vapour_density(t + 273.15),
                  share=0.01 if t < 0 else 0.003, reason="older vapour pressures")
    for t, text in SATURATED.items()
] + [
    STEAM.figure(f"{t} degC", text, lambda t=t: moist_air.saturation_pressure(t + 273.15) / 1e5,
                 steps=1.0 if t in CUT_OFF else 0.5, reason="the table cuts decimals off" if t in CUT_OFF else "")
    for t, text in TABLE_A_2.items()
] + [
    STEAM.figure(f"{t} degC", text, lambda t=t: moist_air.saturation_pressure(t + 273.15) / 1e5,
                 share=1.2e-3, reason="another formulation of steam, 0.02 to 0.11 percent")
    for t, text in HOT_STEAM.items()
] + [
    MOIST.figure(f"{t} degC", text, lambda t=t: moist_air.humidity_ratio(t + 273.15, 1.0, 101325.0),
                 share=5e-4, reason="another enhancement factor, 0.01 to 0.03 percent")
    for t, text in TABLE_2.items()
] + [
    FOGGING.figure("vapour pressure", "1.754", lambda: 0.75 * moist_air.saturation_pressure(293.15) / 1e3),
    FOGGING.figure("dew point", "15.4", lambda: moist_air.dew_point(1754.0) - 273.15),
    ROOM.figure("vapour pressure", "2.38", lambda: 0.75 * moist_air.saturation_pressure(298.15) / 1e3),
    ROOM.figure("humidity ratio", "0.0152", lambda: moist_air.humidity_ratio(298.15, 0.75, 100e3)),
]  # fmt: skip


@checked(FIGURES)
def test_vapour(figure: Figure) -> None:
    """Saturation, dew point, humidity ratio."""
    figure.check()


# ISO 8573-1:2010, classes of humidity: pressure dew points in degC, standing: quoted; reference 20 degC, 1 bar(a). What
# is checked is that every class has a dew point at 1 bar and comes back from it, and that a lower class is drier.
@pytest.mark.parametrize(("number", "celsius"), [(1, -70), (2, -40), (3, -20), (4, 3), (5, 7), (6, 10)])
def test_humidity_classes_keep_their_water(number: int, celsius: float) -> None:
    expanded = moist_air.dew_point_at_pressure(celsius + 273.15, 8e5, 1e5)
    assert expanded < celsius + 273.15
    assert moist_air.dew_point_at_pressure(expanded, 1e5, 8e5) == pytest.approx(celsius + 273.15, abs=1e-3)


@pytest.mark.parametrize("celsius", [-90.0, -40.0, -10.0, -0.5, 0.5, 20.0, 60.0, 99.0, 180.0])
def test_saturation_pressure_agrees_with_psychrolib(celsius: float) -> None:
    """The same equations (Hyland and Wexler): equal to eight digits."""
    found = moist_air.saturation_pressure(celsius + 273.15)
    assert found == pytest.approx(psychrolib.GetSatVapPres(celsius), rel=1e-8)


@pytest.mark.parametrize("celsius", [0.5, 20.0, 40.0, 80.0, 120.0, 180.0])
def test_saturation_pressure_agrees_with_coolprop(celsius: float) -> None:
    """IAPWS-95 steam against Hyland and Wexler: 0.1 percent, the scatter between the two formulations."""
    found = moist_air.saturation_pressure(celsius + 273.15)
    assert found == pytest.approx(PropsSI("P", "T", celsius + 273.15, "Q", 1, "Water"), rel=1e-3)


@pytest.mark.parametrize("pressure", [1.01325e5, 4e5, 8e5, 12e5, 15e5])
@pytest.mark.parametrize(
    ("celsius", "tolerance"), [(-40, 6e-3), (-20, 4e-3), (-5, 2.5e-3), (3.3, 2e-3), (20, 2e-3), (60, 2e-3)]
)
def test_humidity_ratio_agrees_with_coolprop(pressure: float, celsius: float, tolerance: float) -> None:
    """Real-gas virial mixture (ASHRAE RP-1485) against Greenspan's fit: 0.2 percent, more over ice at high pressure."""
    found = moist_air.humidity_ratio(celsius + 273.15, 1.0, pressure)
    assert found == pytest.approx(HAPropsSI("W", "T", celsius + 273.15, "P", pressure, "R", 1), rel=tolerance)


@pytest.mark.parametrize("celsius", [-10.0, 5.0, 20.0, 35.0])
def test_humidity_ratio_agrees_with_psychrolib_but_for_the_enhancement(celsius: float) -> None:
    """psychrolib leaves the enhancement factor out: at one atmosphere it is 0.4 percent low, at 7 bar(g) to 2.4."""
    for pressure, least, most in ((101325.0, 0.003, 0.006), (8e5, 0.020, 0.034)):
        plain = psychrolib.GetHumRatioFromRelHum(celsius, 1.0, pressure)
        assert least < moist_air.humidity_ratio(celsius + 273.15, 1.0, pressure) / plain - 1 < most


@pytest.mark.parametrize("celsius", [-10.0, 0.0, 20.0, 38.0])
@pytest.mark.parametrize("humidity_ratio", [1e-4, 0.005, 0.02])
def test_enthalpy_agrees_with_psychrolib(celsius: float, humidity_ratio: float) -> None:
    """The same equation: equal to eight digits."""
    found = moist_air.enthalpy(celsius + 273.15, humidity_ratio)
    assert found == pytest.approx(psychrolib.GetMoistAirEnthalpy(celsius, humidity_ratio), rel=1e-8, abs=1e-6)


@pytest.mark.parametrize("psig", [80, 100, 125, 150])
@pytest.mark.parametrize("inlet", INLETS)
def test_cooling_load_agrees_with_coolprop(psig: float, inlet: float) -> None:
    """Real-gas enthalpies, the condensate leaving at the dew point: 0.2 percent, that of the humidity ratio."""
    pressure, dew_point = (psig + 14.696) * PSI, kelvin(38)
    h1, h2 = (HAPropsSI("H", "T", t, "P", pressure, "R", 1) for t in (kelvin(inlet), dew_point))
    w1, w2 = (HAPropsSI("W", "T", t, "P", pressure, "R", 1) for t in (kelvin(inlet), dew_point))
    theirs = h1 - h2 - (w1 - w2) * PropsSI("H", "T", dew_point, "Q", 0, "Water")
    found = moist_air.cooling_load(1.0, kelvin(inlet), pressure, dew_point) / STANDARD_AIR_DENSITY
    assert found == pytest.approx(theirs, rel=2e-3)


@pytest.mark.parametrize("celsius", [-60.0, -20.0, -0.1, 0.1, 15.0, 60.0])
def test_dew_point_agrees_with_psychrolib(celsius: float) -> None:
    """psychrolib inverts the same equations with its own solver, which stops at 0.001 K."""
    vapour = psychrolib.GetSatVapPres(celsius)
    assert moist_air.dew_point(vapour) - 273.15 == pytest.approx(
        psychrolib.GetTDewPointFromVapPres(celsius + 5.0, vapour), abs=2e-3
    )


@pytest.mark.parametrize("celsius", [3.3, 7.0, 10.0])
def test_dew_point_after_expansion_agrees_with_coolprop(celsius: float) -> None:
    """0.1 K: 0.3 percent of vapour pressure is 0.03 K, and below freezing CoolProp has its own curve over ice."""
    share = HAPropsSI("psi_w", "T", celsius + 273.15, "P", 8e5, "R", 1)
    theirs = HAPropsSI("D", "T", 293.15, "P", 101325.0, "psi_w", share)
    assert moist_air.dew_point_at_pressure(celsius + 273.15, 8e5, 101325.0) == pytest.approx(theirs, abs=0.1)


def test_density_of_moist_air_agrees_with_coolprop() -> None:
    """0.1 percent: real mixture against ideal gases."""
    for celsius, humidity, pressure in ((-20.0, 0.5, 81200.0), (20.0, 0.36, 101353.0), (35.0, 0.8, 101325.0)):
        theirs = 1.0 / HAPropsSI("Vha", "T", celsius + 273.15, "P", pressure, "R", humidity)
        assert air_density(pressure, celsius + 273.15, humidity) == pytest.approx(theirs, rel=1e-3)


def test_condensate_agrees_with_coolprop() -> None:
    """0.3 percent: twice the 0.2 percent of the humidity ratio, partly cancelling."""
    drop = np.subtract(*(HAPropsSI("W", "T", kelvin(f), "P", 114.696 * PSI, "R", 1) for f in (100, 38)))
    found = moist_air.condensate_rate(1.0, kelvin(100), 114.696 * PSI, kelvin(38)) / STANDARD_AIR_DENSITY
    assert found == pytest.approx(float(drop), rel=3e-3)
