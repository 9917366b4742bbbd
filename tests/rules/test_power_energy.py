"""PWR-06, PWR-07 and PWR-12 beyond their cases (those are in `test_power`): fuel, load enough, the night."""

from __future__ import annotations

import pytest

from tests.rules.small import brief, judge, none, setting, table
from tests.rules.test_power import SPLIT_120, SPLIT_240, motor, rig


# --- fuel and load ----------------------------------------------------------------------------------------------------
def test_fuel_of_a_fuel_fired_heater_and_an_extra_tank() -> None:
    heater = {"kind": "fuel", "heat": "5 kW", "burn": "0.1 gal/h", **SPLIT_120}
    case, _ = rig(
        table("body_heater", heater),
        table("fuel_tank", {"volume": "10 gal"}),
        duty={"overnight": {"keep_warm": "55 degF"}},
    )
    plain = {b.place.end: b for b in judge("PWR-06", rig()[0])}
    found = {b.place.end: b for b in judge("PWR-06", case)}
    assert found["coldest"].need - plain["coldest"].need == pytest.approx(0.1 * (6.5 + 14))
    assert found["hottest"].need == pytest.approx(plain["hottest"].need)
    assert found["coldest"].supply - plain["coldest"].supply == pytest.approx(9.0)


def test_an_unloaded_compressor_burns_fuel_too() -> None:
    stops, idles = (judge("PWR-06", rig(motor("5 hp", unloaders=u))[0])[0].need for u in (0, 1))
    running = judge("PWR-02", rig(motor("5 hp"))[0])[0].need - 15.5
    assert idles - stops == pytest.approx(0.07 * running * 6.5 * 0.35 * 0.3)


def test_least_load_counts_the_air_used() -> None:
    gun = table("gun", {"purge": "air", "purge_air": "4 scfm"})
    with_air, without = (judge("PWR-07", rig(*tables)[0])[0].supply for tables in ((gun,), ()))
    # 4 scfm x 5 h of a good machine: 0.867 kW per hp, 3.9 scfm per hp.
    assert with_air - without == pytest.approx(4 * 5 * 0.867 / 3.9, rel=0.01)


def test_least_load_asks_nothing_without_a_generator() -> None:
    case, chosen = rig(generator=none(), duty={"site_supply": {"system": "split", "power": "16 kVA"}})
    assert all(b.need == 0.0 and b.holds for b in judge("PWR-07", case, chosen))


# --- night ------------------------------------------------------------------------------------------------------------
def test_drum_heaters_hang_on_shore_power_at_night_where_there_is_any() -> None:
    heaters = table("drum_heater", {"power": "2 kW", "heated_drums": 2, **SPLIT_240})
    shore = setting(brief({"overnight": {"shore_power": "3 kW"}}), heaters)
    assert judge("PWR-12", shore)[0].margin == pytest.approx(1.0)
    assert judge("PWR-12", setting(brief(), heaters)) == ()
