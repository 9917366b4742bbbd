"""What each class makes of a right item: SI values, words, lists; its docstrings; how a new class is entered."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path
from typing import get_args

import pydantic
import pytest

import solver.catalog
from solver.catalog import Item, item_classes
from solver.catalog.base import ImpossiblePairs, checks_of
from solver.catalog.checks import Quantity
from solver.catalog.generator import Output
from solver.catalog.material import ViscosityPoint
from solver.catalog.notes import notes_of
from solver.errors import InternalError
from solver.quantities import parse
from tests.catalog.samples import SAMPLES

CLASSES = item_classes()
SPECIAL = {"outputs", "viscosity_a", "viscosity_b"}
each_class = pytest.mark.parametrize("name", CLASSES)


def item_of(name: str) -> Item:
    """The sample as a model; lists are split here by hand, not by the reader."""
    fields = {key: text for key, text in SAMPLES[name].items() if key not in SPECIAL}
    data = {key: text[1:-1].split(", ") if text.startswith("[") else text for key, text in fields.items()}
    for key in SPECIAL & SAMPLES[name].keys():
        entries = re.findall(r"\{(.*?)\}", SAMPLES[name][key])
        data[key] = [dict(part.split(": ") for part in entry.split(", ")) for entry in entries]
    return CLASSES[name].model_validate(data)


def test_the_classes_are_those_of_the_design():
    assert set(CLASSES) == set(SAMPLES)
    assert [name for name, kind in CLASSES.items() if kind.required] == [
        "compressor", "feed_pump", "fit_out", "gun", "hose", "lighting", "material", "proportioner", "vehicle",
    ]  # fmt: skip


@each_class
def test_every_figure_of_the_sample_is_read_in_si(name):
    item = item_of(name)
    for field, text in SAMPLES[name].items():
        quantity = CLASSES[name].quantity(field)
        if quantity is not None:
            assert getattr(item, field) == parse(text, quantity.dimension)


def test_some_figures_by_hand():
    """Worked out from the definitions of the units."""
    compressor, generator, material = item_of("compressor"), item_of("generator"), item_of("material")
    assert compressor.motor_power == pytest.approx(3728.49935791)
    assert compressor.free_air == pytest.approx(18 * 0.000471947443)
    assert compressor.approach == pytest.approx(35 * 5 / 9)
    assert compressor.connections == ("240 V", "3-phase")
    assert (compressor.stages, compressor.unloaders, compressor.oil_lubricated) == (1, False, True)
    assert generator.outputs[1] == Output(system="wye", power=20000.0, apparent_power=25000.0)
    assert generator.altitude_loss == pytest.approx(0.03 / 304.8)
    assert generator.temperature_loss == pytest.approx(0.0036)
    assert material.viscosity_b[0] == ViscosityPoint(temperature=parse("50 degF", "temperature"), viscosity=1.3)
    assert (material.field_yield, generator.transient_reactance) == (0.7, 0.22)


@each_class
def test_every_field_has_a_docstring_and_every_quantity_a_right_example(name):
    item_class = CLASSES[name]
    assert list(notes_of(item_class)) == list(item_class.model_fields)
    for field, info in item_class.model_fields.items():
        for check in checks_of(info):
            if isinstance(check, Quantity):
                assert check.checker()(check.example) == parse(check.example, check.dimension), field


@each_class
def test_an_item_is_frozen(name):
    item = item_of(name)
    with pytest.raises(pydantic.ValidationError, match="frozen"):
        item.price = 1.0


def test_a_python_float_is_taken_as_si_and_checked_like_text():
    data = {name: text for name, text in SAMPLES["receiver"].items() if name != "features"}
    receiver = CLASSES["receiver"].model_validate(data | {"volume": 0.1, "pressure": 1e6})
    assert (receiver.volume, receiver.features) == (0.1, ())
    for wrong in (float("nan"), float("inf"), -1.0, 0.0):
        with pytest.raises(pydantic.ValidationError, match="a volume above 0 gal, such as 30 gal"):
            CLASSES["receiver"].model_validate(data | {"volume": wrong})


def test_impossible_pairs_are_refused_in_code_too():
    with pytest.raises(pydantic.ValidationError) as caught:
        Output(system="split", power=2000.0, apparent_power=1000.0)
    cause = caught.value.errors()[0]["ctx"]["error"]
    assert isinstance(cause, ImpossiblePairs)
    assert str(cause) == "found power 2.00 kW, above apparent_power 1.00 kVA; expected at most as many kW as kVA."


@each_class
def test_the_json_schema_shows_units_and_words(name):
    schema = CLASSES[name].model_json_schema()
    assert schema["additionalProperties"] is False
    assert schema["properties"]["price"]["examples"] == ["3200 USD"]
    assert schema["properties"]["mounting"]["enum"] == ["floor", "wall", "outside"]


def test_a_class_is_added_by_one_file(tmp_path):
    """The recipe of `base.py`: a file in the folder of the classes is enough. Run apart: nothing stays known."""
    (tmp_path / "trailer_jack.py").write_text(
        '"""A jack."""\n\n'
        "from solver.catalog.base import Item\nfrom solver.catalog.fields import Mass\n\n\n"
        'class TrailerJack(Item):\n    """A jack."""\n\n    class_name = "trailer_jack"\n\n'
        '    load: Mass\n    """What it lifts."""\n'
    )
    script = (
        f"import solver.catalog; solver.catalog.__path__.append({str(tmp_path)!r})\n"
        "from solver.catalog import item_classes\n"
        "print(item_classes()['trailer_jack'].__name__, 'load' in item_classes()['trailer_jack'].model_fields)"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert done.stdout == "TrailerJack True\n"


def test_two_classes_of_one_name_are_a_fault_of_the_program():
    with pytest.raises(InternalError, match="two classes are called gun"):
        type("OtherGun", (Item,), {"class_name": "gun", "__module__": __name__})


def test_each_class_has_its_own_file():
    folder = Path(solver.catalog.__file__).parent
    assert [name for name in CLASSES if not (folder / f"{name}.py").is_file()] == []


def test_reading_a_catalog_imports_nothing_heavy():
    heavy = ("pint", "ortools", "pandas", "typer", "scipy")
    script = (
        "import sys; from solver.catalog import item_classes; item_classes();"
        f"print([name for name in {heavy} if name in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert done.stdout == "[]\n"


def test_words_of_a_field_are_those_of_its_type():
    assert get_args(CLASSES["generator"].model_fields["aspiration"].annotation) == ("natural", "turbocharged")
