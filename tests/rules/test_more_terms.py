"""Terms at their ends: figures of nothing are exactly nothing, and the owner's own is no other."""

from __future__ import annotations

import numpy as np
import pytest

from solver.errors import InternalError
from solver.rules import RULES
from solver.rules.balance import chosen
from solver.rules.cautions import cautions
from solver.rules.loads import drum_saving, feed_heat
from solver.rules.owned import _another
from solver.rules.record import COLDEST, HOTTEST, ONCE, SPRAYING, Basis, Rule, Words, declare, need, supply
from tests.rules.small import brief, full_rig, material, none, setting, table


def _term(rule: str, what: str):
    return next(term for term in RULES[rule].terms if term.what == what)


def _spraying(**changes):
    return setting(brief(), table("gun", {}), materials=(material(**changes),))


def test_liquid_that_is_sprayed_cold_takes_no_heat():
    """The body is kept at 60 degF = 15.6 degC; a spray temperature of 10 degC lies below it."""
    case = _spraying(spray_temperature="10 degC", least_feed_temperature="5 degC").case(brief().duties[0], SPRAYING, COLDEST)
    assert (feed_heat(case), drum_saving(case)) == (0.0, 0.0)


def test_liquid_that_is_sprayed_half_a_degree_warmer_takes_its_heat():
    """0.1 kg/s x 2000 J/(kg K) x 0.5 K / 0.95 = 105.26 W; the drums, at 75 degF, save all of it."""
    warmer = (60 + 459.67) / 1.8 + 0.5
    case = _spraying(spray_temperature=f"{warmer!r} K").case(brief().duties[0], SPRAYING, COLDEST)
    assert feed_heat(case) == pytest.approx(0.1 * 2000 * 0.5 / 0.95, rel=1e-6)
    assert drum_saving(case) == pytest.approx(feed_heat(case), rel=1e-9)


@pytest.mark.parametrize(("end", "hours"), [(COLDEST, 6.5), (HOTTEST, 0.0)])
def test_a_heater_that_burns_fuel_does_so_all_day_and_at_night_where_the_body_is_kept_warm(end, hours):
    """1 + 5 + 0.5 h of the day, 14 h of the night, in the cold alone; 0.1 litre an hour."""
    heaters = table("body_heater", {"burn": f"{1e-4 / 3600} m3/s"}, none())
    warm = {"overnight": {"keep_warm": "10 degC", "parking": "outdoors", "air": "0 degC", "hose_inside": False}}
    burnt = _term("PWR-06", "fuel burnt in the body heater")
    for duty, night in (({}, 0.0), (warm, 14.0 if hours else 0.0)):
        asked = brief(duty)
        case = setting(asked, heaters).case(asked.duties[0], "", end)
        litres = np.asarray(burnt.of(heaters, case)) * 1000
        assert litres.tolist() == pytest.approx([0.1 * (hours + night), 0.0], rel=1e-9, abs=1e-12)


def test_what_is_owned_is_no_other_and_all_else_is():
    guns = table("gun", {"item": "mine"}, {"item": "yours"})
    case = setting(brief(owned=["mine"]), guns).case(None, "", "")
    assert np.asarray(_another(guns, case)).tolist() == [0.0, 1.0]


def test_a_rule_is_declared_once_and_given_back():
    rule = Rule("NEW-01", "a title", "1", Basis.PRACTICE, "none: invented", ONCE, Words("", "", ""))
    assert declare(rule) is rule
    try:
        assert RULES["NEW-01"] is rule
        with pytest.raises(InternalError, match=r"^two rules are called NEW-01$"):
            declare(rule)
    finally:
        del RULES["NEW-01"]


def test_sides_of_terms():
    def nothing(o, c):
        return 0.0

    assert need("gun", "a", nothing).side.value == "need"
    assert supply(None, "a", nothing).side.value == "supply"


def test_a_case_says_in_a_fault_where_it_is():
    asked = brief({"name": "barn"})
    case = setting(asked, table("gun", {}))
    assert repr(case.case(asked.duties[0], SPRAYING, COLDEST)) == "Case('barn', 'spraying', 'coldest')"
    assert repr(case.case(None, "", "")) == "Case('', '', '')"


@pytest.mark.parametrize(("power", "mains"), [("0 W", False), ("1 W", True)])
def test_any_shore_power_is_mains_voltage(power, mains):
    asked = brief({"overnight": {"shore_power": power}})
    case = setting(asked, table("vehicle", {"kind": "truck", "gvwr": "9990 lb"}))
    found = cautions(asked, chosen(case, full_rig(case)), ())
    assert ("mains-voltage" in [caution.id for caution in found]) == mains
