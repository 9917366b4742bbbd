"""What must be true of every entry of a table: resolutions, kit lists, loads."""

from __future__ import annotations

import re
from math import cos, radians

import pytest

from solver.brief import read_brief
from solver.options.build import build_options
from solver.rules.balance import RESOLUTION, in_unit
from solver.rules.cover import KITS
from solver.rules.instances import Setting
from solver.rules.loads import CREDIT, LOADS, tangent_terms
from solver.rules.record import CLEANING, COLDEST, HOTTEST, SPRAYING, WARM_UP
from solver.rules.sentence import figure
from tests.demo.demo import brief_path, stock


@pytest.fixture(scope="module")
def demo() -> Setting:
    """The demo catalog under the first demo brief."""
    asked = read_brief(brief_path("first_rig"), stock())
    return Setting(asked, build_options(stock()), {item.id: item for item in stock().classes["material"]})


# --- resolution -----------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize("unit", RESOLUTION)
def test_figures_are_counted_at_least_as_finely_as_they_are_shown(unit):
    """What is shown of 0.123456789 has so many digits after the point: the resolution is at most one of the last. Money and
    weight, shown whole, are counted in hundredths; things are counted whole."""
    step = RESOLUTION[unit]
    digits = re.match(r"\$?0\.?(\d*)", figure(0.123456789, unit))
    assert digits is not None
    assert 0.0 < step <= (1.0 if unit == "1" else 10.0 ** -len(digits[1]))
    whole = {"1": 1.0, "W": 1.0, "USD": 0.01, "lb": 0.01, "psi": 0.1}
    assert step == whole.get(unit, step)
    assert unit in whole or step <= 0.01


def test_a_figure_in_the_unit_of_its_rule():
    assert in_unit(3.0, "1") == in_unit(3.0, "set") == 3.0
    assert in_unit(0.3048, "ft") == pytest.approx(1.0)
    assert in_unit(2500.0, "kW") == pytest.approx(2.5)


# --- kit --------------------------------------------------------------------------------------------------------------
def test_everything_on_the_lists_can_be_had_and_is_named_in_words():
    """By the demo catalog, where the lists' tags are provided by items."""
    provided = {tag for items in stock().classes.values() for item in items for tag in getattr(item, "provides", ())}
    wanted = {thing.tag: thing.name for kit in KITS for thing in kit.things}
    assert sorted(set(wanted) - provided) == []
    assert [name for name in wanted.values() if not re.fullmatch(r"[a-z-]+( [a-z-]+)*", name)] == []
    assert len(wanted) == sum(len(kit.things) for kit in KITS) == 23


def test_winter_lists_and_no_others_wait_for_winter():
    assert [kit.id for kit in KITS if kit.winter] == ["SAFE-03", "WINTER-01"]


# --- loads ------------------------------------------------------------------------------------------------------------
RESISTANCES = {(load.slot, load.what) for load in (*LOADS, CREDIT) if load.kvar is None}


@pytest.mark.parametrize("state", [WARM_UP, SPRAYING, CLEANING])
@pytest.mark.parametrize("end", [COLDEST, HOTTEST])
@pytest.mark.parametrize("degrees", [15, 60, 75])
def test_a_resistance_counts_by_its_real_power_alone(demo, state, end, degrees):
    """Along a tangent at an angle it is P cos(angle), on every option of the demo; at 90 degrees it is no term at all."""
    case = demo.case(demo.brief.duties[0], state, end)
    straight = {(term.slot, term.what): term for term in tangent_terms(case, state, 0.0)}
    along = {(term.slot, term.what): term for term in tangent_terms(case, state, radians(degrees))}
    assert straight.keys() == along.keys()
    found = sorted(straight.keys() & RESISTANCES)
    assert len(found) >= 2
    for key in found:
        for name in demo.slots_of(straight[key]):
            table = demo.slots[name]
            expected = straight[key].of(table, case) * cos(radians(degrees))
            assert along[key].of(table, case) == pytest.approx(expected, rel=1e-9, abs=1e-9), key
    across = {(term.slot, term.what) for term in tangent_terms(case, state, radians(90))}
    assert across == straight.keys() - RESISTANCES
