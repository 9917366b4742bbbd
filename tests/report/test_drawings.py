"""Drawings: well-formed, true to the balances they come from, every symbol named in the docs."""

from __future__ import annotations

import re
from math import hypot
from pathlib import Path
from xml.etree import ElementTree

import pytest

from solver.quantities import to_unit
from solver.report.drawings import draw_all
from solver.report.drawings.canvas import Canvas, wrapped
from solver.report.drawings.flow_power import power_of
from solver.report.drawings.sheets import Sheets
from solver.report.drawings.symbols import STANDARDS
from solver.report.sheet.bundle import sheet_data
from tests.report.sheets import EVIL, at, hostile, quick

NAMES = ("first_rig", "mountain_winter")
SVG = "{http://www.w3.org/2000/svg}"


def of(name: str, rule: str, duty: str, state: str = "", end: str = "", part: str = ""):
    """The balance of this place on the picked rig."""
    wanted = (rule, duty, state, end, part)
    found = [b for b in quick(name).picked.balances
             if (b.place.rule, b.place.duty, b.place.state, b.place.end, b.place.part) == wanted]  # fmt: skip
    assert len(found) == 1
    return found[0]


@pytest.mark.parametrize("name", NAMES)
def test_one_of_each_kind_for_each_duty_and_all_well_formed(name):
    made = draw_all(quick(name).drawn, alone=True)
    count = len(quick(name).brief.duties)
    assert sorted(made) == sorted(f"{kind}-{k + 1}" for kind in ("air", "power", "material") for k in range(count))
    for text in made.values():
        root = ElementTree.fromstring(text)
        assert root.tag == f"{SVG}svg"
        assert root.find(f"{SVG}title").text and root.find(f"{SVG}desc").text
        assert "http" not in re.sub(r'xmlns="http://www.w3.org/2000/svg"', "", text)


@pytest.mark.parametrize("name", NAMES)
def test_every_figure_stands_in_the_json(name):
    data = sheet_data(quick(name))
    seen = 0
    for text in draw_all(quick(name).drawn, alone=True).values():
        for node in ElementTree.fromstring(text).iter():
            if "data-of" in node.attrib:
                assert float(node.attrib["data-value"]) == at(data, node.attrib["data-of"])
                seen += 1
    assert seen > 60


@pytest.mark.parametrize("units", ["us", "si"])
@pytest.mark.parametrize("name", NAMES)
def test_text_stays_inside_the_drawing(name, units):
    """Letters of 13 units are at most about 7.4 wide on average; a line that runs out would be cut."""
    for text in draw_all(quick(name).drawn, units, alone=True).values():
        root = ElementTree.fromstring(text)
        width, height = (float(root.attrib[side]) for side in ("width", "height"))
        for node in root.iter(f"{SVG}text"):
            look = node.attrib.get("class", "")
            long = len("".join(node.itertext())) * (5.6 if "small" in look else 6.3)
            x = float(node.attrib["x"])
            start = x - long if "end" in look else x - long / 2 if "middle" in look else x
            assert start >= -1.0 and start + long <= width + 12.0, "".join(node.itertext())
            assert 0.0 <= float(node.attrib["y"]) <= height


@pytest.mark.parametrize("name", NAMES)
def test_air_adds_up_to_the_average_balance(name):
    for duty in quick(name).drawn.duties:
        for state in ("spraying", "cleaning"):
            balance = of(name, "AIR-12", duty.duty, state, "hottest")
            assert sum(getattr(user, state) for user in duty.air.users) == pytest.approx(balance.need, rel=1e-9)
        gun = of(name, "AIR-02", duty.duty, part="gun")
        pressure = next(user.pressure for user in duty.air.users if user.slot == "gun")
        assert pressure + duty.air.line_drop + duty.air.dryer_drop + duty.air.filter_drop == pytest.approx(gun.need)
        assert duty.air.cut_in == pytest.approx(gun.supply)


@pytest.mark.parametrize("name", NAMES)
def test_power_is_the_root_of_kw_and_kvar_of_the_balances(name):
    for duty in quick(name).drawn.duties:
        states = [column.state for column in duty.power.columns]
        assert states == ["warm-up", "spraying"]
        for column in duty.power.columns:
            kw = of(name, "PWR-01", duty.duty, column.state, column.end, "0 degrees")
            kvar = of(name, "PWR-01", duty.duty, column.state, column.end, "90 degrees")
            engine = of(name, "PWR-02", duty.duty, column.state, column.end)
            saved = kw.need - column.kw
            assert column.kva == pytest.approx(hypot(column.kw, kvar.need))
            assert column.supply_kva == pytest.approx(kw.supply - saved)
            assert engine.need - saved == pytest.approx(column.kw)
            for leg in column.legs:
                balance = of(name, "PWR-05", duty.duty, column.state, column.end, leg.name)
                assert (leg.need, leg.supply) == (balance.need, balance.supply)


def test_the_end_of_the_air_shown_draws_at_least_as_much_as_the_other():
    for duty in quick("mountain_winter").drawn.duties:
        for column in duty.power.columns:
            other = {"coldest": "hottest", "hottest": "coldest"}[column.end]
            kw = of("mountain_winter", "PWR-01", duty.duty, column.state, other, "0 degrees")
            kvar = of("mountain_winter", "PWR-01", duty.duty, column.state, other, "90 degrees")
            saved = sum(e.value for s in quick("mountain_winter").facts.worksheets if s.balance.place == kw.place
                        for e in s.entries if e.slot == "drum_heater" and e.side.value == "supply")  # fmt: skip
            assert hypot(kw.need - saved, kvar.need) <= column.kva + 1e-9


@pytest.mark.parametrize("name", NAMES)
def test_pressures_add_up_to_what_the_machine_makes(name):
    for duty in quick(name).drawn.duties:
        for side in duty.material.sides:
            assert side.at_gun + side.in_whip + side.in_hose == pytest.approx(side.at_machine)
            balance = of(name, f"MAT-04{side.name}", duty.duty, "spraying", "coldest", "proportioner")
            assert side.at_machine == pytest.approx(balance.need)


def test_temperatures_are_those_of_brief_and_material():
    bundle = quick("first_rig")
    material = bundle.drawn.duties[0].material
    assert material.at_gun == pytest.approx(125.0)  # catalog_demo, material-02, spray_temperature
    assert material.least_in_hose == pytest.approx(material.at_gun - 5.0)  # less the hose margin
    assert material.drums == pytest.approx(float(to_unit(bundle.brief.margins.body_floor, "degF")))


def test_without_worksheets_there_is_no_power_to_draw():
    power = power_of(Sheets(()), "anywhere", {})
    assert (power.columns, power.branches, power.night, power.source) == ((), (), None, "")


def test_si_drawings_have_other_units_and_the_same_numbers():
    us, si = (draw_all(quick("first_rig").drawn, units)["material-1"] for units in ("us", "si"))
    assert "120.0 °F" in us and "48.9 °C" in si
    values = [re.findall(r'data-of="([^"]+)" data-value="([^"]+)"', text) for text in (us, si)]
    assert values[0] == values[1]


def test_hostile_labels_stay_text():
    for text in draw_all(hostile().drawn, alone=True).values():
        tags = {node.tag for node in ElementTree.fromstring(text).iter()}
        assert tags <= {f"{SVG}{tag}" for tag in ("svg", "title", "desc", "style", "rect", "path", "circle", "text", "tspan")}
    assert EVIL[:20].replace('"', "&quot;")[:10] in draw_all(hostile().drawn)["material-1"]


def test_a_canvas_escapes_and_scales():
    canvas = Canvas("a", "A & B", "<c>", 100.0, 50.0)
    canvas.text(1.0, 2.0, "<b>")
    assert canvas.svg() == (
        '<svg class="drawing" viewBox="0 0 100 50" role="img" aria-labelledby="a-t a-d"><title id="a-t">A &amp; B</title>'
        '<desc id="a-d">&lt;c&gt;</desc><text x="1" y="2">&lt;b&gt;</text></svg>'
    )
    assert wrapped("one two three four", 9, 2) == ["one two", "three …"]


def test_the_docs_name_the_standard_of_every_symbol():
    text = " ".join(Path(__file__).parents[2].joinpath("docs", "sheet.md").read_text(encoding="utf-8").split())
    for symbol, standard in STANDARDS.items():
        assert f"| {symbol} | {standard} |" in text
