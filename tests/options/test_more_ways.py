"""Figures of the options that other tests take as given: what "none" holds, which slots may stay empty, which leg a small
load keeps, and the words of every way."""

from __future__ import annotations

from dataclasses import FrozenInstanceError

import pytest

from solver.catalog import read_catalog
from solver.formulas.record import recording
from solver.options.build import Way, build_options
from solver.options.slots import FIXED_SLOTS, Slot, slots_of
from solver.options.table import NONE, SlotOptions
from solver.options.wiring import UNWIRED, WIRINGS, Wiring, wirings_of
from solver.quantities import parse
from tests.catalog.samples import sample, write_catalog

HORSEPOWER = 745.6998715822702


@pytest.fixture(scope="module")
def small(tmp_path_factory):
    """Options of the catalog of samples: one item of every class."""
    return build_options(read_catalog(write_catalog(tmp_path_factory.mktemp("catalog"))))


# --- slots ------------------------------------------------------------------------------------------------------------
NEEDED = ["proportioner", "hose", "gun", "feed_pump_a", "feed_pump_b", "compressor", "lighting", "fit_out", "vehicle"]


def test_a_rig_needs_nine_slots_filled_and_no_more():
    assert [slot.name for slot in FIXED_SLOTS if not slot.optional] == NEEDED
    assert len(FIXED_SLOTS) == 22


def test_a_slot_is_named_in_words_and_takes_any_item_unless_it_is_of_one():
    assert Slot("feed_pump_a", "feed_pump") == Slot("feed_pump_a", "feed_pump", optional=False, item=None)
    assert Slot("feed_pump_a", "feed_pump").title == "feed pump a"
    assert slots_of([("tool", "spanner")])[-1] == Slot("spanner", "tool", optional=True, item="spanner")


def test_slots_of_accessories_come_class_by_class():
    given = [("winter_kit", "w"), ("spare_part", "p"), ("tool", "t"), ("safety_item", "s")]
    assert [slot.name for slot in slots_of(given)[22:]] == ["s", "t", "p", "w"]


# --- the option "none" ------------------------------------------------------------------------------------------------
def _none(table: SlotOptions) -> dict[str, float]:
    assert table.items[-1] == NONE
    return {name: float(column[-1]) for name, column in table.numbers.items() if column[-1]}


def test_figures_of_an_empty_slot_that_keep_formulas_whole(small):
    """Volts, phases and factors by which a formula divides; all others are 0."""
    load = {"voltage": 240.0, "rated_voltage": 240.0, "phases": 1.0}
    assert _none(small["air_dryer"]) == load | {"power_factor": 1.0, "dew_point": 373.15, "largest_ambient": 1000.0}
    assert _none(small["breathing_air"]) == load | {"start_share": 1.0}
    assert _none(small["body_cooler"]) == load | {"start_share": 1.0, "power_factor": 1.0}
    assert _none(small["generator"]) == {"transient_reactance": 1.0}
    assert _none(small["receiver"]) == _none(small["tow_vehicle"]) == _none(small["tool-1"]) == {}


def test_an_empty_slot_has_no_words_no_tags_and_no_count(small):
    table = small["air_dryer"]
    last = len(table) - 1
    assert (table.labels[last], table.choices[last], table.counts[last]) == (NONE, "", 0)
    assert (table.present[last], table.numbers["count"][last], table.has("quiet")[last]) == (0.0, 0.0, 0.0)
    assert table.is_("kind", "")[last] == 1.0


# --- wiring -----------------------------------------------------------------------------------------------------------
def test_every_way_of_wiring_in_full():
    """240 V loads are wired to 208 V on a wye, 208 / sqrt(3) = 120 V to neutral."""
    third, pair = 0.3333, 0.5774
    found = {
        f"{way.system} {way.text}": (way.voltage, way.phases, tuple(round(leg, 4) for leg in way.legs))
        for ways in WIRINGS.values()
        for way in ways
    }
    assert found == {
        "split 120 V, leg A": (120.0, 1, (1.0, 0.0, 0.0)),
        "split 120 V, leg B": (120.0, 1, (0.0, 1.0, 0.0)),
        "split 240 V single-phase": (240.0, 1, (0.5, 0.5, 0.0)),
        "wye 120 V, leg A of three": (120.0, 1, (1.0, 0.0, 0.0)),
        "wye 120 V, leg B of three": (120.0, 1, (0.0, 1.0, 0.0)),
        "wye 120 V, leg C of three": (120.0, 1, (0.0, 0.0, 1.0)),
        "wye 208 V single-phase, legs A-B": (208.0, 1, (pair, pair, 0.0)),
        "wye 208 V single-phase, legs B-C": (208.0, 1, (0.0, pair, pair)),
        "wye 208 V single-phase, legs C-A": (208.0, 1, (pair, 0.0, pair)),
        "wye 208 V three-phase": (208.0, 3, (third, third, third)),
    }
    assert Wiring("", 240.0, 1, (0.0, 0.0, 0.0), "") == UNWIRED


def test_what_draws_no_electricity_is_not_wired(tmp_path):
    items = [sample("body_heater", kind="fuel", power="0 kW", burn="0.1 gal/h", connections="[]", rated_voltage="240 V")]
    heater = build_options(read_catalog(write_catalog(tmp_path, body_heater=items)))["body_heater"]
    assert heater.choices == ("", "")
    wired = {name: heater.numbers[name].tolist() for name in ("voltage", "phases", "system_split", "leg_a", "leg_b", "leg_c")}
    assert wired == {
        "voltage": [240.0, 240.0], "phases": [1.0, 1.0], "system_split": [0.0, 0.0],
        "leg_a": [0.0, 0.0], "leg_b": [0.0, 0.0], "leg_c": [0.0, 0.0],
    }  # fmt: skip


@pytest.mark.parametrize(
    ("leg", "split", "wye"),
    [(0, "120 V, leg A", "120 V, leg A of three"), (1, "120 V, leg B", "120 V, leg B of three"),
     (2, "120 V, leg A", "120 V, leg C of three")],
)  # fmt: skip
def test_a_fixed_leg_is_counted_round_the_legs_there_are(leg, split, wye):
    assert [way.text for way in wirings_of(["120 V"], leg)] == [split, wye]


def test_each_leg_has_a_column_of_its_own(tmp_path):
    items = [sample("compressor", connections="[120 V]", rated_voltage="120 V")]
    table = build_options(read_catalog(write_catalog(tmp_path, compressor=items)))["compressor"]
    legs = {
        choice: (table.leg_a[j], table.leg_b[j], table.leg_c[j], table.system_split[j], table.system_wye[j])
        for j, choice in enumerate(table.choices)
    }
    assert legs == {
        "120 V, leg A": (1, 0, 0, 1, 0), "120 V, leg B": (0, 1, 0, 1, 0), "120 V, leg A of three": (1, 0, 0, 0, 1),
        "120 V, leg B of three": (0, 1, 0, 0, 1), "120 V, leg C of three": (0, 0, 1, 0, 1),
    }  # fmt: skip


SMALL_LOADS = ("proportioner", "lighting", "ventilation_fan", "drum_mixer", "air_dryer", "body_cooler")


def test_which_leg_a_small_load_keeps(tmp_path):
    """On 120 V of a wye: the proportioner A; fan, mixer and dryer B; lights and cooler C. The compressor chooses."""
    wired = {name: [sample(name, connections="[120 V]", rated_voltage="120 V")] for name in (*SMALL_LOADS, "compressor")}
    found = build_options(read_catalog(write_catalog(tmp_path, **wired)))
    legs = {
        name: "".join(choice[len("120 V, leg ")] for choice in found[name].choices if "three" in choice) for name in wired
    }
    assert legs == {"proportioner": "A", "lighting": "C", "ventilation_fan": "B", "drum_mixer": "B", "air_dryer": "B",
                    "body_cooler": "C", "compressor": "ABC"}  # fmt: skip


def test_columns_of_the_wiring_are_those_of_the_way(small):
    table = small["lighting"]
    place = {choice: j for j, choice in enumerate(table.choices)}
    names = ("voltage", "phases", "system_split", "system_wye", "leg_a", "leg_b", "leg_c")
    assert [float(table.numbers[n][place["240 V single-phase"]]) for n in names] == [240.0, 1.0, 1.0, 0.0, 0.5, 0.5, 0.0]
    assert [float(table.numbers[n][place["208 V three-phase"]]) for n in names] == pytest.approx(
        [208.0, 3.0, 0.0, 1.0, 1 / 3, 1 / 3, 1 / 3]
    )


# --- what is worked out once ------------------------------------------------------------------------------------------
def test_a_motor_starts_on_its_code_letter(small):
    """Letter H: up to 7.1 kVA per hp (NEC table 430.7(B)); 5 hp at full share."""
    table = small["compressor"]
    assert table.start_kva_per_power[0] * HORSEPOWER == pytest.approx(7100.0, rel=0.002)
    assert table.start_kva[0] == pytest.approx(5 * 7100.0, rel=0.002)


DERIVED = {
    "motor_kw": "motor_real_power", "motor_kvar": "motor_reactive_power", "start_kva": "start_apparent_power",
    "heaters_kw": "heater_power", "hose_heat_kw": "heater_power", "power_at_voltage": "heater_power",
    "kvar": "reactive_power",
}  # fmt: skip
FIELDS = {
    "rated_power": ("heater_power", "hose_heat", "power"), "real_power": ("power",),
    "kva_per_power": ("start_kva_per_power",),
}  # fmt: skip
"""Arguments that are not called as the field they are given."""


@pytest.mark.parametrize(
    ("slot", "name"),
    [("compressor", "motor_kw"), ("compressor", "motor_kvar"), ("compressor", "start_kva"), ("proportioner", "heaters_kw"),
     ("proportioner", "hose_heat_kw"), ("drum_heater", "power_at_voltage"), ("air_dryer", "kvar")],
)  # fmt: skip
def test_on_a_worksheet_each_field_stands_under_its_own_name(small, slot, name):
    one = small[slot].one(0)
    with recording() as calls:
        value = getattr(one, name)
    outer = calls[-1]
    assert (outer.name, outer.depth, outer.result) == (DERIVED[name], 0, value)
    for argument, given in outer.arguments.items():
        fields = FIELDS.get(argument, (argument,))
        assert given in [getattr(one, field) for field in fields if field in one.table.numbers], argument


def test_derived_figures_of_resistance_loads(small):
    """On 208 V a 240 V element gives 0.751 of its rating; P tan(arccos 0.75) is 0.882 P."""
    by_volts = {float(v): j for j, v in enumerate(small["proportioner"].voltage)}
    assert small["proportioner"].hose_heat_kw[by_volts[208.0]] == pytest.approx(4000 * 0.7511, rel=1e-4)
    heater = small["body_heater"]
    assert heater.power_at_voltage[heater.choices.index("208 V three-phase")] == pytest.approx(3000 * 0.7511, rel=1e-4)
    assert small["drum_mixer"].kvar[0] == pytest.approx(700 * 0.8819, rel=1e-4)


def test_drum_heaters_in_words_count_and_figures(small):
    table = small["drum_heater"]
    pairs = [(table.choices[j], table.counts[j], float(table.heated_drums[j])) for j in range(len(table))]
    assert ("2 drums, 240 V single-phase", 2, 2.0) in pairs
    assert ("4 drums, 208 V three-phase", 4, 4.0) in pairs
    assert pairs[-1] == ("", 0, 0.0)
    assert table.numbers["count"].tolist() == [float(count) for _, count, _ in pairs]


def test_an_odd_number_of_drums_leaves_one_out(tmp_path):
    items = [sample("drum_heater", most_drums="3", connections="[3-phase]")]
    table = build_options(read_catalog(write_catalog(tmp_path, drum_heater=items)))["drum_heater"]
    assert (table.choices, table.counts) == (("2 drums, 208 V three-phase", ""), (2, 0))


def test_hoses_in_order_and_in_words(small):
    hose = small["hose"]
    assert hose.choices[:4] == (
        "1 x 25 ft + whip", "1 x 50 ft + whip", "1 x 50 ft + 1 x 25 ft + whip", "2 x 50 ft + whip",
    )  # fmt: skip
    assert hose.choices[-1] == "6 x 50 ft + 1 x 25 ft + whip"
    assert hose.counts[:4] == (1, 1, 2, 2)
    assert (len(hose), set(hose.items), set(hose.labels)) == (13, {"hose-1"}, {"A sample"})


def test_hitches_of_a_tow_vehicle(small):
    tow = small["tow_vehicle"]
    assert (tow.takes_conventional.tolist(), tow.takes_gooseneck.tolist()) == ([1.0, 0.0], [1.0, 0.0])


def test_two_items_of_a_class_stay_apart(tmp_path):
    """Figures, switches, words, tags and labels are those of the item's own row."""
    items = [
        sample("feed_pump", id="one", label="First", flow="1 gpm", temperature_gauge="false", features="[quiet]"),
        sample("feed_pump", id="two", label="Second", flow="2 gpm", kind="diaphragm", features="[light-alloy]"),
    ]
    table = build_options(read_catalog(write_catalog(tmp_path, feed_pump=items)))["feed_pump_b"]
    assert (table.items, table.labels, table.choices, table.counts) == (("one", "two"), ("First", "Second"), ("", ""), (1, 1))
    assert table.flow.tolist() == pytest.approx([parse("1 gpm", "volume_flow"), parse("2 gpm", "volume_flow")])
    assert table.temperature_gauge.tolist() == [0.0, 1.0]
    assert (table.is_("kind", "stick").tolist(), table.is_("kind", "diaphragm").tolist()) == ([1.0, 0.0], [0.0, 1.0])
    assert (table.has("quiet").tolist(), table.has("light-alloy").tolist()) == ([1.0, 0.0], [0.0, 1.0])
    assert table.has("no such tag").tolist() == [0.0, 0.0]
    assert table.among(frozenset({"two"})).tolist() == [0.0, 1.0]


def test_an_accessory_slot_takes_its_own_item_alone(tmp_path):
    items = [sample("tool", id="spade", price="1 USD"), sample("tool", id="rake", price="2 USD")]
    found = build_options(read_catalog(write_catalog(tmp_path, tool=items)))
    assert (found["rake"].items, found["rake"].price.tolist()) == (("rake", NONE), [2.0, 0.0])
    assert (found["spade"].items, found["spade"].price.tolist()) == (("spade", NONE), [1.0, 0.0])


def test_options_and_slots_are_not_to_be_changed(small):
    for thing, name in ((small["gun"], "items"), (small["gun"].one(0), "index"), (Slot("gun", "gun"), "optional"),
                        (UNWIRED, "voltage"), (Way(1), "row")):  # fmt: skip
        with pytest.raises(FrozenInstanceError, match=rf"^cannot assign to field '{name}'$"):
            setattr(thing, name, None)


# --- reading ----------------------------------------------------------------------------------------------------------
def test_special_names_of_python_are_no_fields(small):
    """Copying and pickling ask for them, and must be told no in Python's own way."""
    for view in (small["gun"], small["gun"].one(0)):
        with pytest.raises(AttributeError, match=r"^__deepcopy__$"):
            _ = view.__deepcopy__


def test_what_is_worked_out_is_kept(small):
    table = small["compressor"]
    assert table.motor_kw is table.motor_kw
    assert table.is_("alarm", "none") is table.is_("alarm", "none")
    assert table.motor_kw.shape == (len(table),)


def test_one_option_is_made_of_plain_floats(small):
    one = small["compressor"].one(1)
    kinds = {type(value) for value in (one.price, one.motor_kw, one.is_("alarm", "none"), one.has("quiet"), one.present)}
    assert kinds == {float}
    assert (one.has("quiet"), one.has("nothing"), one.is_("alarm", "none"), one.is_("alarm", "bell")) == (1.0, 0.0, 1.0, 0.0)
    assert (one.among(frozenset({one.item})), one.among(frozenset({"another"}))) == (1.0, 0.0)


def test_a_way_is_one_of_its_item_unless_it_says_more():
    assert Way(3) == Way(3, "", 1, {})
