"""From items to options: how many ways each class has, and what a way changes."""

from __future__ import annotations

import numpy as np
import pytest

from solver.catalog import read_catalog
from solver.errors import InternalError
from solver.options import derived as _derived  # noqa: F401 (fills the register of derived columns)
from solver.options.build import FIXED_LEG, LONGEST_RUN_OF_LONG_SECTIONS, NONE_FIELDS, build_options
from solver.options.slots import ACCESSORY_CLASSES, FIXED_SLOTS, slots_of
from solver.options.table import NONE
from solver.quantities import parse
from tests.catalog.samples import sample, write_catalog
from tests.demo.demo import stock

FEET = 0.3048
POUND = 0.45359237


@pytest.fixture(scope="module")
def small(tmp_path_factory):
    """Options of the catalog of samples: one item of every class."""
    return build_options(read_catalog(write_catalog(tmp_path_factory.mktemp("catalog"))))


@pytest.fixture(scope="module")
def demo():
    """Options of the demo catalog."""
    return build_options(stock())


def test_slots_stand_in_their_fixed_order_then_one_for_each_accessory(demo):
    accessories = [item.id for name in ACCESSORY_CLASSES for item in stock().classes[name]]
    assert list(demo) == [slot.name for slot in FIXED_SLOTS] + accessories


def test_the_order_in_which_accessories_are_given_within_a_class_is_kept():
    names = [slot.name for slot in slots_of([("tool", "b"), ("safety_item", "z"), ("tool", "a")])][len(FIXED_SLOTS) :]
    assert names == ["z", "b", "a"]


def test_only_slots_that_may_stay_empty_have_none_as_their_last_option(demo):
    for table in demo.values():
        assert (table.items[-1] == NONE) == table.slot.optional
        assert NONE not in table.items[:-1]
        assert table.present.tolist() == [float(item != NONE) for item in table.items]


def test_an_accessory_is_taken_or_left(demo):
    for table in demo.values():
        if table.slot.item is not None:
            assert table.items == (table.slot.item, NONE)


def test_the_samples_have_as_many_ways_as_their_connections_give(small):
    """`240 V` and `3-phase` give one way on split, three and one on wye: 5, or 3 where one leg is fixed."""
    counts = {name: len(table) - table.slot.optional for name, table in small.items()}
    ways = {name: 3 if name in FIXED_LEG else 5 for name, table in small.items() if "voltage" in table.numbers}
    ways["drum_heater"] *= 2
    assert {name: counts[name] for name in ways} == ways
    assert (ways["proportioner"], ways["compressor"]) == (3, 5)
    assert counts["generator"] == 2
    assert counts["hose"] == 2 * (LONGEST_RUN_OF_LONG_SECTIONS + 1) - 1
    assert counts["vehicle"] == counts["gun"] == counts["fuel_tank"] == 1


def test_options_of_one_item_differ_in_the_words_of_their_choice(demo):
    for table in demo.values():
        ways = list(zip(table.items, table.choices, strict=True))
        assert len(set(ways)) == len(ways), table.slot.name


# --- hose -------------------------------------------------------------------------------------------------------------
def test_hose_sections_are_added_up_with_the_whip(small):
    """Sample: sections of 50 ft (1,200 USD, 100 lb) and 25 ft (700 USD, 31 lb), whip of 10 ft (330 USD, 8 lb)."""
    hose = small["hose"]
    j = hose.choices.index("3 x 50 ft + 1 x 25 ft + whip")
    assert hose.heated_length[j] == pytest.approx(175 * FEET)
    assert hose.hose_length[j] == pytest.approx(185 * FEET)
    assert hose.price[j] == pytest.approx(3 * 1200 + 700 + 330)
    assert hose.weight[j] == pytest.approx((3 * 100 + 31 + 8) * POUND)
    assert (hose.counts[j], hose.long_count[j], hose.short_count[j]) == (4, 3.0, 1.0)


def test_a_hose_may_be_one_short_section_but_never_none(small):
    hose = small["hose"]
    assert hose.choices[0] == "1 x 25 ft + whip"
    assert float(hose.heated_length.min()) == pytest.approx(25 * FEET)
    assert float(hose.heated_length.max()) == pytest.approx(325 * FEET)


def test_lengths_of_hose_between_the_ends_come_in_steps_of_a_short_section(small):
    lengths = np.sort(small["hose"].heated_length) / FEET
    assert lengths.round().tolist() == list(range(25, 326, 25))


# --- drum heaters, generators, tow vehicles ---------------------------------------------------------------------------
def test_drum_heaters_come_in_pairs_up_to_the_most(small):
    heater = small["drum_heater"]
    assert sorted({round(n) for n in heater.heated_drums}) == [0, 2, 4]
    for j, count in enumerate(heater.counts[:-1]):
        assert heater.power[j] == pytest.approx(count * 1200.0)
        assert heater.price[j] == pytest.approx(count * 1200.0)
        assert heater.weight[j] == pytest.approx(count * 100 * POUND)
        assert heater.choices[j].startswith(f"{count} drums, ")


def test_a_generator_output_is_an_option_with_its_own_ratings(small):
    generator = small["generator"]
    found = [
        (generator.choices[j], generator.power[j], generator.apparent_power[j], generator.system_split[j],
         generator.system_wye[j])
        for j in range(2)
    ]  # fmt: skip
    assert found == [
        ("single-phase 120/240 V", 20_000.0, 22_000.0, 1.0, 0.0),
        ("three-phase 208Y/120 V", 20_000.0, 25_000.0, 0.0, 1.0),
    ]


def test_a_tow_vehicle_takes_the_hitches_of_its_list(tmp_path):
    catalog = read_catalog(write_catalog(tmp_path, tow_vehicle=[sample("tow_vehicle", hitches="[gooseneck]")]))
    tow = build_options(catalog)["tow_vehicle"]
    assert (tow.takes_conventional.tolist(), tow.takes_gooseneck.tolist()) == ([0.0, 0.0], [1.0, 0.0])


# --- the option "none" ------------------------------------------------------------------------------------------------
def test_nothing_weighs_and_costs_nothing_and_has_the_figures_stated_for_it(demo):
    for table in demo.values():
        if table.slot.optional:
            for name, column in table.numbers.items():
                assert column[-1] == NONE_FIELDS.get(name, 0.0), (table.slot.name, name)
            assert all(column[-1] == 0.0 for column in table.tags.values())
            assert all(words[-1] == "" for words in table.words.values())
            assert table.counts[-1] == 0


def test_no_air_dryer_leaves_wet_air_and_takes_any_ambient(small):
    dryer = small["air_dryer"].one(len(small["air_dryer"]) - 1)
    assert dryer.item == NONE
    assert dryer.dew_point == pytest.approx(parse("100 degC", "temperature"))
    assert dryer.largest_ambient == 1000.0
    assert dryer.kvar == 0.0


# --- reading ----------------------------------------------------------------------------------------------------------
def test_one_option_reads_what_the_columns_hold(demo):
    for table in demo.values():
        for j in (0, len(table) - 1):
            one = table.one(j)
            assert (one.item, one.choice, one.label, one.count, one.slot) == (
                table.items[j], table.choices[j], table.labels[j], table.counts[j], table.slot,
            )  # fmt: skip
            for name in table.numbers:
                assert getattr(one, name) == getattr(table, name)[j]
            for word, found in table.words.items():
                assert one.is_(word, found[j]) == table.is_(word, found[j])[j] == 1.0
                assert one.is_(word, "nothing of the kind") == 0.0
            for tag in (*table.tags, "no such tag"):
                assert one.has(tag) == table.has(tag)[j]
            ids = frozenset({table.items[0]})
            assert one.among(ids) == table.among(ids)[j]


@pytest.mark.parametrize("name", ["motor_kw", "motor_kvar", "start_kva"])
def test_derived_columns_equal_the_same_figures_option_by_option(demo, name):
    table = demo["compressor"]
    column = getattr(table, name)
    assert column.tolist() == pytest.approx([getattr(table.one(j), name) for j in range(len(table))])
    assert float(column.min()) > 0.0


def test_a_heater_on_208_volt_gives_three_quarters(small):
    table = small["proportioner"]
    by_volts = {float(v): float(p) for v, p in zip(table.voltage, table.heaters_kw, strict=True)}
    assert by_volts[240.0] == pytest.approx(10_000.0)
    assert by_volts[208.0] == pytest.approx(10_000.0 * (208 / 240) ** 2)


def test_a_field_that_is_not_there_is_a_fault_of_the_program(small):
    with pytest.raises(InternalError, match=r"^slot gun has no field colour$"):
        _ = small["gun"].colour
    with pytest.raises(InternalError, match=r"^slot gun has no field colour$"):
        _ = small["gun"].one(0).colour
