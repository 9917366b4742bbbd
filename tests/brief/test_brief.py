"""What a brief can do once it is read: tell its defaults from what is stated, be changed, and stay as it is."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import FrozenInstanceError
from typing import Any

import pytest
from pydantic import ValidationError

from solver.brief import Assumption, Brief, brief_of, output_of
from solver.brief.margins import Margins, Money
from solver.brief.requirements import REQUIREMENTS, si, value_of, with_value
from solver.catalog import item_classes
from solver.catalog.notes import notes_of
from solver.errors import EntryError
from solver.quantities import from_unit
from tests.catalog.samples import sample

DUTY: dict[str, Any] = {
    "name": "job", "output": "9 lb/min", "hose_reach": {"distance": "100 ft"}, "altitude": "0 ft",
    "air_temperature": {"coldest": "20 degF", "hottest": "60 degF"},
}  # fmt: skip


def bare(*duties: dict[str, Any], **changes: Any) -> Brief:
    """A brief that says as little as it can."""
    return brief_of(
        {
            "title": "Bare",
            "materials": [{"material": "foam"}],
            "duties": [{**DUTY, **duty} for duty in duties or ({},)],
            **changes,
        }
    )


def values(figures: tuple[Assumption, ...]) -> dict[str, str]:
    """Value by name."""
    return {figure.name: figure.value for figure in figures}


def test_every_default_of_a_bare_brief_is_listed_with_its_value():
    listed = values(bare().assumed())
    assert not bare().stated()
    assert {name: text for name, text in listed.items() if ":" in name} == {
        "foam: sets": "1", "job: hose height": "0 ft", "job: hose slack": "10 %", "job: humidity": "50 %",
        "job: overnight time": "14 h", "job: warm up time": "1.5 h", "job: spraying time": "5 h",
        "job: cleaning time": "0.5 h", "job: parking": "outdoors", "job: air at night": "20 degF",
        "job: hose inside": "true", "job: shore power": "0 kW", "job: resupply": "0", "job: tool power": "0 kW",
    }  # fmt: skip
    assert {name: listed[name] for name in ("by", "sprayers", "respirators", "outlets", "winter")} == {
        "by": "price", "sprayers": "1", "respirators": "2", "outlets": "2", "winter": "auto",
    }  # fmt: skip
    for model in (Margins, Money):
        assert {name.replace("_", " ") for name in model.model_fields} <= set(listed)


def test_the_defaults_of_margins_are_the_practice_that_the_manual_states():
    listed = values(bare().assumed())
    assert {name.replace(" ", "_"): text for name, text in listed.items() if name.replace(" ", "_") in
            Margins.model_fields} == {
        "trigger_share": "50 %", "air_share": "65 %", "filter_drop": "5 psi", "pressure_band": "30 psi",
        "peak_time": "1 min", "blow_time": "0.5 min", "least_receiver": "30 gal", "gun_air_design": "6 scfm",
        "dryer_dew_point": "38 degF", "power_margin": "10 %", "engine_margin": "10 %", "voltage_dip": "20 %",
        "start_power_factor": "40 %", "start_overload": "110 %", "least_load": "30 %", "fuel_reserve": "10 %",
        "fuel_slope": "0.07 gal/kWh", "fuel_density": "7.07 lb/gal", "hitch_share": "15 %", "gooseneck_share": "25 %",
        "floor_factor": "115 %", "aisle_width": "28 in", "pump_distance": "50 ft", "crew_weight": "200 lb",
        "body_floor": "60 degF", "body_ceiling": "100 degF", "evening_temperature": "65 degF", "drum_target": "75 degF",
        "drum_hold_share": "30 %", "hose_margin": "5 delta_degF", "dew_margin": "0 delta_degF",
        "heater_efficiency": "95 %",
    }  # fmt: skip


def test_every_margin_says_on_what_it_stands():
    sources = {"least_load": "NFPA 110", "fuel_density": "GREET", "aisle_width": "29 CFR 1910.36(g)(2)"}
    for name, note in notes_of(Margins).items():
        assert sources.get(name, "Common practice, no source") in note, name


def test_what_is_stated_is_told_apart():
    brief = bare({"humidity": "0.3", "overnight": {"parking": "indoors", "air": "10 degC"}}, outlets="4")
    assert brief.stated() == (
        Assumption("job: humidity", "30.0 %", "Stated by the brief."),
        Assumption("job: parking", "indoors", "Stated by the brief."),
        Assumption("job: air at night", "50.0 degF", "Stated by the brief."),
        Assumption("outlets", "4", "Stated by the brief."),
    )
    assert not set(values(brief.stated())) & set(values(brief.assumed()))


def test_a_changed_requirement_is_no_longer_assumed():
    changed = with_value(bare(), REQUIREMENTS["air_share"], 0.7)
    assert "air share" not in values(changed.assumed())
    assert values(changed.stated())["air share"] == "70.0 %"


def test_the_night_follows_the_coldest_air_where_the_brief_does_not_say_it():
    changed = with_value(bare(), REQUIREMENTS["coldest_air"], 250.0)
    assert (changed.duties[0].coldest_air, changed.duties[0].overnight_air) == (250.0, 250.0)
    said = bare({"overnight": {"air": "30 degF"}})
    assert with_value(said, REQUIREMENTS["coldest_air"], 250.0).duties[0].overnight_air == said.duties[0].overnight_air


def test_a_brief_is_frozen_and_changed_only_by_its_own_means():
    brief = bare()
    with pytest.raises(FrozenInstanceError, match="cannot assign to field 'entry'"):
        brief.entry = bare().entry  # type: ignore[misc]
    lighter = brief.changed(by="weight", waived=("AIR-07",))
    assert (lighter.by, lighter.waived, brief.by, brief.waived) == ("weight", ("AIR-07",), "price", ())
    assert lighter.duties == brief.duties
    assert with_value(lighter, REQUIREMENTS["outlets"], 6.0).waived == ("AIR-07",)
    with pytest.raises(ValidationError, match="'price', 'weight' or 'yearly-cost'"):
        brief.changed(by="prize")


def test_a_duty_can_be_declined_but_not_the_last():
    brief = bare({"name": "attic"}, {"name": "barn"})
    assert [duty.name for duty in brief.without_duty("attic").duties] == ["barn"]
    with pytest.raises(EntryError) as caught:
        brief.without_duty("bran")
    assert str(caught.value) == 'found duty "bran"; expected one of the duties attic, barn. Try: barn'
    with pytest.raises(EntryError) as caught:
        brief.without_duty("attic").without_duty("barn")
    assert str(caught.value) == 'found only the duty "barn"; expected a duty that is left when this one is declined.'


def test_output_from_board_feet_a_day():
    """3,000 board feet of 2 lb/ft3 are 500 lb in place, 714.3 lb sprayed at 70 % yield; 5 h at 50 % are 150 min."""
    fields = {**sample("material"), "features": []}
    fields |= {f"viscosity_{side}": [{"temperature": "50 degF", "viscosity": "480 cP"},
                                     {"temperature": "77 degF", "viscosity": "200 cP"}] for side in "ab"}  # fmt: skip
    material = item_classes()["material"].model_validate(fields)
    brief = bare({"output": None, "board_feet_a_day": "3000 board_feet"}, {"name": "said"})
    flow = output_of(brief.duties[0], material, brief.margins)  # type: ignore[arg-type]
    assert flow == pytest.approx(from_unit(500 / 0.7 / 150, "lb/min"))
    assert output_of(brief.duties[1], material, brief.margins) == brief.duties[1].output  # type: ignore[arg-type]


@pytest.mark.parametrize("requirement", REQUIREMENTS.values(), ids=lambda requirement: requirement.id)
def test_both_ends_of_a_requirement_can_be_stated_in_a_brief(requirement):
    duty = {"air_temperature": {"coldest": "-60 degF", "hottest": "130 degF"},
            "hours": {"overnight": "1 h", "warm-up": "1 h", "spraying": "1 h"},
            "site_supply": {"system": "wye", "power": "9 kVA"}}  # fmt: skip
    brief = bare(duty, margins={"body_floor": "0 degF", "body_ceiling": "150 degF"})
    grid = requirement.grid()
    assert (grid[0], requirement.most - requirement.step < grid[-1] <= requirement.most) == (requirement.least, True)
    for figure in (requirement.least, requirement.most):
        value = si(requirement, figure)
        assert value_of(with_value(brief, requirement, value), requirement) == pytest.approx(value)


@pytest.mark.parametrize(
    ("name", "figure", "sentence"),
    [
        (
            "trigger_share", 105.0,
            'found margins trigger_share "105 %"; expected a share above 0 % and at most 100 %, such as 60 %.',
        ),
        (
            "hose_reach", -5.0,
            'found duties 1 hose_reach length "-5.00 ft"; expected a length above 0 ft, such as 50 ft.',
        ),
        ("overnight_time", 20.0, "found 27 h in all; expected at most 24 h in a day. Try: a shorter night"),
        ("body_floor", 120.0, "found body_floor 120 degF; expected at most body_ceiling, which is 100.0 degF."),
        ("helpers", float("nan"), "found helpers nan; expected a whole number."),
    ],
)  # fmt: skip
def test_a_value_beyond_what_a_brief_may_say_is_refused(name, figure, sentence):
    with pytest.raises(EntryError) as caught:
        with_value(bare(), REQUIREMENTS[name], si(REQUIREMENTS[name], figure))
    assert str(caught.value) == sentence


def test_an_unknown_duty_cannot_be_changed():
    with pytest.raises(EntryError) as caught:
        with_value(bare(), REQUIREMENTS["output"], 0.1, "jab")
    assert str(caught.value) == 'found duty "jab"; expected one of the duties job. Try: job'


def test_reading_needs_no_slow_library():
    slow = "{'pint', 'ortools', 'pandas', 'typer'}"
    code = f"import sys, solver.brief, solver.brief.requirements; print(sorted({slow} & set(sys.modules)))"
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "[]"
