"""How loads are wired: shares of legs, and every way that a system gives."""

from __future__ import annotations

import itertools
from math import sqrt

import pytest

from solver.options.wiring import SYSTEM_TITLES, SYSTEMS, UNWIRED, WIRINGS, wirings_of

EVERY = [wiring for ways in WIRINGS.values() for wiring in ways]


@pytest.mark.parametrize("wiring", EVERY, ids=lambda w: f"{w.system} {w.text}")
def test_currents_of_the_legs_carry_the_whole_load(wiring):
    """Line-to-neutral loads sit on one leg; between two split legs each carries half; on a wye each of two carries
    120/208 of the load's kVA; three phases carry a third each."""
    count = sum(share > 0.0 for share in wiring.legs)
    if wiring.voltage == 120.0:
        assert sorted(wiring.legs) == [0.0, 0.0, 1.0]
    elif wiring.phases == 3:
        assert wiring.legs == pytest.approx((1 / 3, 1 / 3, 1 / 3))
        assert sum(wiring.legs) == pytest.approx(1.0)
    elif wiring.system == "split":
        assert wiring.legs == (0.5, 0.5, 0.0)
    else:
        assert count == 2
        assert sum(wiring.legs) == pytest.approx(2 / sqrt(3))
        assert max(wiring.legs) == pytest.approx(120.0 / 208.0, rel=1e-3)


@pytest.mark.parametrize("wiring", EVERY, ids=lambda w: f"{w.system} {w.text}")
def test_a_split_system_has_two_legs_and_no_third(wiring):
    assert wiring.system in SYSTEMS
    if wiring.system == "split":
        assert wiring.legs[2] == 0.0
        assert wiring.voltage in (120.0, 240.0)
    else:
        assert wiring.voltage in (120.0, 208.0)


def test_the_ways_of_one_connection_use_every_leg_alike():
    for (connection, system), ways in WIRINGS.items():
        used = [sum(way.legs[leg] for way in ways) for leg in range(3 if system == "wye" else 2)]
        assert max(used) == pytest.approx(min(used)), (connection, system)
        assert len({way.legs for way in ways}) == len(ways)
        assert len({way.text for way in ways}) == len(ways)


def test_three_phase_loads_find_nothing_on_a_split_system():
    assert [way.system for way in wirings_of(["3-phase"])] == ["wye"]


def test_a_load_with_several_connections_may_be_wired_by_any():
    ways = wirings_of(["120 V", "240 V", "3-phase"])
    assert len(ways) == 2 + 1 + 3 + 3 + 1
    assert len(set(ways)) == len(ways)


@pytest.mark.parametrize("leg", [0, 1, 2])
def test_a_fixed_leg_leaves_one_way_of_each_connection(leg):
    ways = wirings_of(["120 V", "240 V", "3-phase"], leg)
    found = [(way.system, way.voltage, way.phases) for way in ways]
    assert found == [
        ("split", 120.0, 1), ("split", 240.0, 1), ("wye", 120.0, 1), ("wye", 208.0, 1), ("wye", 208.0, 3),
    ]  # fmt: skip
    assert all(way in wirings_of(["120 V", "240 V", "3-phase"]) for way in ways)


def test_no_connection_is_one_way_that_draws_on_no_leg():
    assert wirings_of([]) == (UNWIRED,)
    assert UNWIRED.legs == (0.0, 0.0, 0.0)
    assert UNWIRED.voltage > 0.0


def test_every_system_has_a_title():
    assert set(SYSTEM_TITLES) == set(SYSTEMS)


def test_turning_the_legs_round_gives_another_way_of_the_same_connection():
    """So one load may keep its legs without losing a rig: the others turn with it."""
    for connection in ("120 V", "240 V"):
        legs = {way.legs for way in WIRINGS[connection, "wye"]}
        for (a, b, c), turn in itertools.product(legs, range(3)):
            turned = ((a, b, c), (c, a, b), (b, c, a))[turn]
            assert turned in legs
