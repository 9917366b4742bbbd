"""Small settings for the tests of rules: hand-made options, one material, one brief, and what every case must show.

Contents: `si` (text to SI), `table` and `none` (options of one slot), `material`, `brief`, `setting`; `judge`,
`margins`, `failing_sentence`; `RuleCase`, `assert_case`, `assert_effects`.

    hoses = table("hose", {"item": "long", "heated_length": "200 ft", "hose_length": "210 ft"})
    case = setting(brief({"hose_reach": "180 ft"}), hoses)
    judge("HOSE-01", case)          # first option of every slot
    judge("HOSE-01", case, {"hose": 0})

A figure is text with its unit, or a float in SI. A column that the option does not state is 0 (voltages 240 V, phases
and factors 1); a name that is no column of the class is an error, so that a test cannot hide a slip in a rule.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from solver.brief.models import Brief
from solver.brief.read import brief_of
from solver.brief.requirements import REQUIREMENTS, value_of, with_value
from solver.brief.requirements import si as requirement_si
from solver.catalog import item_classes
from solver.catalog.columns import table_of
from solver.options import derived as _derived  # noqa: F401 (fills the register of derived columns)
from solver.options.build import NONE_FIELDS
from solver.options.slots import FIXED_SLOTS, Slot
from solver.options.table import NONE, SlotOptions
from solver.program.compile import compile_program
from solver.quantities import from_unit
from solver.rules import RULES
from solver.rules.balance import Balance, balances
from solver.rules.instances import Setting, instances
from solver.rules.record import Effect
from solver.rules.sentence import sentence

CONFIGURED: dict[str, tuple[str, ...]] = {
    "hose": ("long_count", "short_count", "heated_length", "hose_length"),
    "drum_heater": ("heated_drums",),
    "generator": ("power", "apparent_power", "system_split", "system_wye"),
    "tow_vehicle": ("takes_conventional", "takes_gooseneck"),
}
"""Columns that come with the choice of an option and stand in no catalog file."""

WIRED = ("voltage", "phases", "system_split", "system_wye", "leg_a", "leg_b", "leg_c", "start_kva_per_power")
"""Columns of the wiring, for every class with connections."""

USUAL = {
    name: value
    for name, value in {**NONE_FIELDS, "present": 1.0, "count": 1.0}.items()
    if name not in ("dew_point", "largest_ambient")
}
"""What a column holds where an option does not state it; all others hold 0."""

Options = Mapping[str, Any]


def si(figure: str | float) -> float:
    """Text such as `12 kW` in SI; numbers are in SI already."""
    if not isinstance(figure, str):
        return float(figure)
    number, unit = figure.split(" ", 1)
    return float(from_unit(float(number.replace(",", "")), unit))


def slot_named(name: str, item_class: str | None = None) -> Slot:
    """The fixed slot of this name, or a yes/no slot of an accessory class."""
    for slot in FIXED_SLOTS:
        if slot.name == name:
            return slot
    return Slot(name, item_class or "tool", optional=True, item=name)


def none() -> Options:
    """The option of an empty slot."""
    return {"item": NONE, "present": 0.0, **{name: value for name, value in NONE_FIELDS.items() if name != "present"}}


def table(name: str, *options: Options, item_class: str | None = None) -> SlotOptions:
    """The options of one slot. Besides columns an option may state `item`, `label`, `choice` and `tags` (a tuple)."""
    slot = slot_named(name, item_class)
    empty = table_of(item_classes()[slot.item_class], ())
    wired = WIRED if "connections" in empty.lists else ()
    columns = (*empty.numbers, *empty.switches, *CONFIGURED.get(slot.item_class, ()), *wired, "present", "count")
    items = tuple(str(option.get("item", f"{slot.item_class}-{k + 1}")) for k, option in enumerate(options))
    known = {*columns, *empty.words, "item", "label", "choice", "tags"}
    for option in options:
        unknown = set(option) - known - (set(NONE_FIELDS) if option.get("item") == NONE else set())
        assert not unknown, f"{name} has no column {', '.join(sorted(unknown))}"
    tags = {tag for option in options for tag in option.get("tags", ())}
    return SlotOptions(
        slot,
        items,
        tuple(str(option.get("label", item)) for item, option in zip(items, options, strict=True)),
        tuple(str(option.get("choice", "")) for option in options),
        tuple(int(option.get("count", 1)) for option in options),
        {c: np.array([si(option.get(c, USUAL.get(c, 0.0))) for option in options]) for c in dict.fromkeys(columns)},
        {w: tuple(str(option.get(w, "")) for option in options) for w in empty.words},
        {tag: np.array([float(tag in option.get("tags", ())) for option in options]) for tag in tags},
    )


MATERIAL: dict[str, Any] = {
    "id": "foam", "label": "Foam", "price": "2500 USD", "weight": "1200 lb", "length": "48 in", "width": "24 in",
    "height": "36 in", "mounting": "floor", "upkeep_time": "0 h", "upkeep_cost": "0 USD", "delivery": "1 week",
    "parts": "1 day", "kind": "closed-cell", "density_a": "1200 kg/m3", "density_b": "1200 kg/m3",
    "viscosity_a": [{"temperature": "283.15 K", "viscosity": "500 mPa s"},
                    {"temperature": "323.15 K", "viscosity": "50 mPa s"}],
    "viscosity_b": [{"temperature": "283.15 K", "viscosity": "1000 mPa s"},
                    {"temperature": "323.15 K", "viscosity": "100 mPa s"}],
    "heat_capacity_a": "2 kJ/kg/K", "heat_capacity_b": "2 kJ/kg/K", "spray_temperature": "50 degC",
    "least_feed_temperature": "15 degC", "storage_temperature": "10 degC", "gun_pressure": "7 MPa",
    "foam_density": "2 lb/ft3", "field_yield": "70 %", "resin_must_be_mixed": True, "net_mass_a": "250 kg",
    "net_mass_b": "250 kg",
}  # fmt: skip
"""A material in round figures: 1,200 kg/m3 and 2 kJ/(kg K) on both sides, 500 kg in a set, sprayed at 50 degC."""

DUTY: dict[str, Any] = {
    "name": "job",
    "output": "6 kg/min",
    "hose_reach": "60 m",
    "altitude": "0 ft",
    "air_temperature": {"coldest": "0 degC", "hottest": "30 degC"},
    "humidity": "50 %",
    "hours": {"overnight": "14 h", "warm-up": "1 h", "spraying": "5 h", "cleaning": "0.5 h"},
    "overnight": {"parking": "outdoors", "air": "0 degC", "hose_inside": False},
}
"""A duty in round figures: 0.1 kg/s, sea level, 0 to 30 degC."""


def _merged(base: Mapping[str, Any], changes: Mapping[str, Any]) -> dict[str, Any]:
    found = dict(base)
    for key, value in changes.items():
        held = found.get(key)
        found[key] = _merged(held, value) if isinstance(held, Mapping) and isinstance(value, Mapping) else value
    return {key: value for key, value in found.items() if value is not None}


def material(**changes: Any) -> Any:
    """`MATERIAL` with changes, as the catalog's record."""
    return item_classes()["material"].model_validate(_merged(MATERIAL, changes))


def brief(*duties: Mapping[str, Any], **changes: Any) -> Brief:
    """A brief through the real models. Each duty is `DUTY` with changes (None leaves a key out)."""
    base = {
        "title": "Small",
        "materials": [{"material": "foam", "sets": 2}],
        "duties": [_merged(DUTY, duty) for duty in duties or ({},)],
    }
    return brief_of(_merged(base, changes))


def setting(asked: Brief, *tables: SlotOptions, materials: tuple[Any, ...] = ()) -> Setting:
    """Brief, options of a few slots, and the materials' records."""
    records = {record.id: record for record in materials or (material(),)}
    return Setting(asked, {options.slot.name: options for options in tables}, records)


def full_rig(case: Setting, rig: Mapping[str, int] | None = None) -> dict[str, int]:
    """The rig with the first option in every slot that it does not name."""
    return {**dict.fromkeys(case.slots, 0), **(rig or {})}


def judge(rule_id: str, case: Setting, rig: Mapping[str, int] | None = None) -> tuple[Balance, ...]:
    """Every balance of one rule, without any engine; slots that the rig does not name hold their first option."""
    return balances(case, full_rig(case, rig), {rule_id: RULES[rule_id]})


def margins(rule_id: str, case: Setting, rig: Mapping[str, int] | None = None) -> dict[str, float]:
    """Margin by place ("duty/state/end/part"), in the rule's unit."""
    places = ((b.place, b) for b in judge(rule_id, case, rig) if b.applies)
    return {"/".join((p.duty, p.state, p.end, p.part)): b.margin for p, b in places}


def failing_sentence(rule_id: str, case: Setting, rig: Mapping[str, int] | None = None) -> str:
    """The sentence of the first balance that does not hold."""
    return next(sentence(b) for b in judge(rule_id, case, rig) if not b.holds)


def reads_of(rule_id: str, case: Setting) -> frozenset[str]:
    """Requirements that the rule's rows read."""
    costs = {"price": np.zeros(sum(len(options) for options in case.slots.values()), np.int64)}
    found = compile_program(case, instances(case, {rule_id: RULES[rule_id]}), costs).reads
    return frozenset().union(*found)


@dataclass(frozen=True)
class RuleCase:
    """What one rule must show: a rig that passes everywhere, one that trips, and the sentence it is told."""

    rule: str
    passing: tuple[Setting, Mapping[str, int]]
    tripping: tuple[Setting, Mapping[str, int]]
    sentence: str


def assert_case(case: RuleCase) -> None:
    """The passing rig is judged and holds everywhere; the tripping one fails with exactly this sentence; rows agree."""
    passed = judge(case.rule, *case.passing)
    assert any(b.applies for b in passed), "the passing rig is not judged at all"
    assert all(b.holds for b in passed), [sentence(b) for b in passed if not b.holds]
    told = failing_sentence(case.rule, *case.tripping)
    assert told == case.sentence, told
    for where, rig in (case.passing, case.tripping):
        assert_rows_agree(case.rule, where, rig)


def assert_rows_agree(rule_id: str, where: Setting, rig: Mapping[str, int]) -> None:
    """The integer rows say of this rig what the balances say."""
    costs = {"price": np.zeros(sum(len(options) for options in where.slots.values()), np.int64)}
    found = instances(where, {rule_id: RULES[rule_id]})
    program = compile_program(where, found, costs)
    full = full_rig(where, rig)
    starts = program.offsets.tolist()
    columns = np.array([start + full[name] for start, name in zip(starts, where.slots, strict=False)], np.int64)
    kept = program.rows[:, columns].sum(axis=1) <= program.rhs
    assert kept.tolist() == [b.holds for b in judge(rule_id, where, rig)]


def assert_effects(case: RuleCase, exempt: tuple[str, ...] = ()) -> None:
    """The rule states an effect for what it reads, and the numbers agree when a requirement is raised by one step.

    `exempt` names requirements that the two rigs of the case cannot show.
    """
    effects = RULES[case.rule].effects
    for where, rig in (case.passing, case.tripping):
        unstated = reads_of(case.rule, where) - set(effects)
        assert not unstated, f"{case.rule} reads {sorted(unstated)} without stating an effect"
        before = margins(case.rule, where, rig)
        for name, effect in effects.items():
            if name in exempt:
                continue
            requirement = REQUIREMENTS[name]
            value = value_of(where.brief, requirement)
            if value is None:
                continue
            step = requirement_si(requirement, requirement.step) - requirement_si(requirement, 0.0)
            if value + step > requirement_si(requirement, requirement.most):
                continue
            raised = with_value(where.brief, requirement, value + step)
            after = margins(case.rule, Setting(raised, where.slots, where.materials), rig)
            for place, margin in before.items():
                if place not in after:
                    continue
                change = after[place] - margin
                wrong = (effect is Effect.EASES and change < -1e-9) or (effect is Effect.TIGHTENS and change > 1e-9)
                assert not wrong, f"{case.rule} ({place}): raising {name} changes the margin by {change:+.6g}"
