"""`rigset schema`: valid for every demo file, strict about keys and words, never written over another file."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
import yaml

from solver.brief.models import BriefEntry
from solver.catalog import item_classes
from tests.cli.run import DEMO, brief, rigset
from tests.cli.small_validator import mistakes

FILES = ("catalog.schema.json", "brief.schema.json")


def schemas() -> dict[str, Any]:
    """What the command prints."""
    outcome = rigset("schema")
    assert (outcome.code, outcome.err) == (0, "")
    return outcome.data


def loaded(path: Path | str) -> Any:
    """A file as an editor reads it: numbers and booleans where YAML sees them."""
    return yaml.safe_load(Path(path).read_text("utf-8"))


def test_both_schemas_come_in_one_object():
    assert list(schemas()) == ["catalog", "brief"]


@pytest.mark.parametrize("path", sorted((DEMO / "catalog").glob("*.yaml")), ids=lambda path: path.stem)
def test_the_files_of_the_demo_catalog_are_valid(path):
    assert mistakes(loaded(path), schemas()["catalog"]) == []


@pytest.mark.parametrize("path", sorted((DEMO / "briefs").glob("*.yaml")), ids=lambda path: path.stem)
def test_the_demo_briefs_are_valid(path):
    assert mistakes(loaded(path), schemas()["brief"]) == []


def change(data: Any, place: str, value: Any) -> Any:
    """The data with the entry at `place` (keys and positions joined by dots) changed."""
    *way, last = [int(step) if step.isdigit() else step for step in place.split(".")]
    here = data
    for step in way:
        here = here[step]
    here[last] = value
    return data


@pytest.mark.parametrize(
    ("place", "value"),
    [
        ("titel", "x"), ("by", "prize"), ("outlets", "two"), ("outlets", -1), ("duties.0.altitude", 900),
        ("duties.0.hours.lunch", "1 h"), ("duties.0.hose_reach", 110), ("materials.0.sets", 0), ("winter", "maybe"),
        ("limits.budget", None), ("margins", {"air_share": 65}),
        ("owned", "vehicle-01"), ("interlocks", ["none"]),
    ],
)  # fmt: skip
def test_a_mistake_in_a_brief_is_seen(place, value):
    data = change(loaded(brief("first_rig")), place, value)
    assert len(mistakes(data, schemas()["brief"])) == 1


@pytest.mark.parametrize(
    ("place", "value"),
    [
        ("class", "gum"), ("item", []), ("items", []), ("items.0.purge", "water"), ("items.0.wieght", "4 lb"),
        ("items.0.price", 1400), ("items.0.features", ["a", "a"]), ("items.0.id", "Gun 1"),
    ],
)  # fmt: skip
def test_a_mistake_in_a_catalog_is_seen(place, value):
    data = change(loaded(DEMO / "catalog" / "gun.yaml"), place, value)
    assert mistakes(data, schemas()["catalog"]) != []


def test_plain_forms_and_unquoted_words_are_allowed():
    data = loaded(brief("first_rig"))
    change(data, "duties.0.hose_reach", "120 ft")
    change(data, "duties.0.air_temperature", "70 degF")
    change(data, "winter", True)
    assert mistakes(data, schemas()["brief"]) == []


def properties(model: type, defs: dict[str, Any]) -> dict[str, Any]:
    """Properties of a model in the definitions."""
    found = defs[model.__name__]
    return found.get("properties") or found["anyOf"][1]["properties"]


def test_every_field_of_every_class_is_described():
    defs = schemas()["catalog"]["$defs"]
    for model in item_classes().values():
        fields = properties(model, defs)
        assert list(fields) == [info.alias or name for name, info in model.model_fields.items()]
        for name, field in fields.items():
            assert field["description"] and not field["description"].startswith("Expected"), f"{model.__name__}.{name}"
    assert set(schemas()["brief"]["properties"]) == set(BriefEntry.model_fields)


def test_defaults_are_as_people_write_them():
    defs = schemas()["brief"]["$defs"]
    assert defs["HoursEntry"]["properties"]["warm-up"]["default"] == "1.5 h"
    assert defs["Margins"]["properties"]["body_floor"]["default"] == "60 degF"
    assert defs["Money"]["properties"]["first_material"]["default"] is False


def test_out_writes_both_files(tmp_path):
    outcome = rigset("schema", "--out", str(tmp_path))
    assert outcome.code == 0
    assert outcome.out == "".join(f"written: {tmp_path / name}\n" for name in FILES)
    assert {name: json.loads((tmp_path / name).read_text("utf-8")) for name in FILES} == {
        f"{name}.schema.json": schema for name, schema in schemas().items()
    }


def test_out_keeps_what_is_there_and_writes_nothing(tmp_path):
    (tmp_path / FILES[1]).write_text("mine", "utf-8")
    outcome = rigset("schema", "--out", str(tmp_path))
    assert (outcome.code, outcome.out) == (2, "")
    assert outcome.err == (
        f"{tmp_path / FILES[1]} exists already and was left as it is. Try: another name, or --force to replace it\n"
    )
    assert [path.name for path in tmp_path.iterdir()] == [FILES[1]]
    assert (tmp_path / FILES[1]).read_text("utf-8") == "mine"
    assert rigset("schema", "--out", str(tmp_path), "--force").code == 0
    assert json.loads((tmp_path / FILES[1]).read_text("utf-8")) == schemas()["brief"]


def test_out_into_a_folder_that_is_not_there(tmp_path):
    outcome = rigset("schema", "--out", str(tmp_path / "no"))
    assert (outcome.code, outcome.out) == (2, "")
    assert "could not be written (the folder is not there). Nothing was written." in outcome.err
