"""What a brief comes to when it is read: SI figures, stated practice, the same from US and SI units."""

from __future__ import annotations

from dataclasses import fields

import pytest

from solver.brief import Brief, brief_of, read_brief
from solver.quantities import from_unit
from tests.brief.sample import TEXT, written
from tests.demo.demo import BRIEFS, brief, brief_path, stock
from tests.laws.smaller import in_si


@pytest.fixture
def sample(tmp_path) -> Brief:
    """The right brief."""
    return read_brief(written(tmp_path), stock())


def test_figures_are_in_si(sample):
    barn = sample.duty("barn")
    assert barn.output == pytest.approx(from_unit(12.0, "lb/min"))
    assert barn.hose_reach == pytest.approx(180 * 0.3048)
    assert barn.altitude == pytest.approx(900 * 0.3048)
    assert (barn.coldest_air, barn.hottest_air) == pytest.approx((283.15, 306.4833333))
    assert barn.humidity == pytest.approx(0.55)
    assert (barn.overnight_time, barn.warm_up_time, barn.spraying_time, barn.cleaning_time) == (
        14 * 3600.0, 5400.0, 14400.0, 1800.0,
    )  # fmt: skip
    assert barn.keep_warm == pytest.approx(288.7055556)
    assert (barn.parking, barn.hose_inside, barn.resupply) == ("indoors", True, 1)
    assert (barn.shore_power, barn.tool_power, barn.site_power, barn.site_system) == (3000.0, 800.0, 12_000.0, "split")


def test_reach_is_distance_and_height_with_slack(sample):
    attic = sample.duty("attic")
    assert attic.hose_reach == pytest.approx(122 * 1.1 * 0.3048)
    assert attic.reach_parts == pytest.approx((110 * 0.3048, 12 * 0.3048, 0.1))
    assert sample.duty("barn").reach_parts is None


def test_a_duty_sprays_the_one_material_aboard_if_it_names_none(sample):
    assert [duty.material for duty in sample.duties] == ["material-01", "material-05"]
    assert [duty.material for duty in brief("owned_truck").duties] == [brief("owned_truck").materials[0].material]


def test_one_temperature_is_the_coldest_and_the_hottest_and_that_of_the_night(sample, tmp_path):
    attic = sample.duty("attic")
    assert attic.coldest_air == attic.hottest_air == attic.overnight_air == pytest.approx(294.2611111)
    plain = read_brief(written(tmp_path, ("{coldest: 70 degF, hottest: 70 degF}", "70 degF")), stock())
    assert plain.duty("attic") == attic


def test_what_is_not_said_is_stated_practice_and_listed(sample):
    assert sample.margins.air_share == pytest.approx(0.65)
    listed = {assumption.name for assumption in sample.assumed()}
    assert "air share" in listed
    assert "freight" in listed
    assert "trigger share" not in listed
    assert "tax" not in listed
    assert all(a.value and a.why for a in sample.assumed())


def test_lists_of_the_brief(sample):
    assert sample.asked == {"generator": ("quiet",)}
    assert sample.owned == ("vehicle-05",)
    assert (sample.unwanted.items, sample.unwanted.classes, sample.unwanted.features) == (
        ("gun-01",), ("body_cooler",), ("used",),
    )  # fmt: skip
    assert (sample.waived, sample.interlocks) == (("AIR-07",), ("drum-heat-after-hose",))


@pytest.mark.parametrize(("coldest", "night", "frost"), [("33 degF", "33 degF", False), ("33 degF", "31 degF", True),
                                                        ("31 degF", "33 degF", True)])  # fmt: skip
def test_winter_is_frost_by_day_or_night(coldest, night, frost):
    data = {
        "title": "A", "materials": [{"material": "m"}],
        "duties": [{"name": "d", "output": "9 lb/min", "hose_reach": "100 ft", "altitude": "0 ft",
                    "air_temperature": {"coldest": coldest, "hottest": "60 degF"}, "overnight": {"air": night}}],
    }  # fmt: skip
    assert brief_of(data).winter is frost
    assert brief_of({**data, "winter": "true"}).winter is True
    assert brief_of({**data, "winter": "false"}).winter is False


def near(one: object, other: object) -> bool:
    """Equal, figures but for the last digits."""
    if isinstance(one, float) and isinstance(other, float):
        return one == pytest.approx(other, rel=1e-12, abs=1e-9)
    if isinstance(one, tuple) and isinstance(other, tuple):
        return len(one) == len(other) and all(near(a, b) for a, b in zip(one, other, strict=True))
    return one == other


def assert_same(one: Brief, other: Brief) -> None:
    """Two briefs are the same in every figure and word."""
    for a, b in zip(one.duties, other.duties, strict=True):
        for field in fields(a):
            assert near(getattr(a, field.name), getattr(b, field.name)), field.name
    for part in ("limits", "margins", "money"):
        for name, value in getattr(one, part).model_dump().items():
            assert near(value, getattr(getattr(other, part), name)), name
    for name in ("story", "by", "materials", "crew", "outlets", "asked", "owned", "unwanted", "waived", "interlocks",
                 "unheated_air_line", "winter"):  # fmt: skip
        assert getattr(one, name) == getattr(other, name), name
    assert [a.name for a in one.assumed()] == [a.name for a in other.assumed()]


@pytest.mark.parametrize("name", BRIEFS)
def test_si_and_us_units_give_the_same_demo_brief(name, tmp_path):
    text = brief_path(name).read_text(encoding="utf-8")
    changed = in_si(text)
    assert changed != text
    path = tmp_path / "brief.yaml"
    path.write_text(changed, encoding="utf-8")
    assert_same(read_brief(path, stock()), brief(name))


def test_si_and_us_units_give_the_same_sample(sample, tmp_path):
    path = tmp_path / "si.yaml"
    path.write_text(in_si(TEXT).replace("aisle_width: 28 in", "aisle_width: 711.2 mm"), encoding="utf-8")
    assert_same(read_brief(path, stock()), sample)
