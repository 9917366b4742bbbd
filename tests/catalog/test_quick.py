"""The short way and pydantic's own give the same items, and the short way never takes what pydantic refuses."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from solver.catalog import item_classes
from solver.catalog.quick import quick_item
from solver.files import find_yaml, read_yaml

DEMO = Path(__file__).resolve().parents[2] / "catalog_demo" / "catalog"
ENTRIES = [
    (document.data["class"], entry)
    for document in (read_yaml(path) for path in find_yaml(DEMO))
    for entry in document.data["items"]
]


def test_every_item_of_the_demo_goes_the_short_way_and_is_the_same():
    for name, entry in ENTRIES:
        model = item_classes()[name]
        found = quick_item(model, entry)
        assert found is not None, entry["id"]
        validated = model.model_validate(entry)
        assert found == validated
        assert found.model_fields_set == validated.model_fields_set


ODD = st.sampled_from(
    ["", "12", "-3 lb", "nan lb", "1e99 lb", "12 kW", "yes", "true", "none", [], {}, ["240 V", "240 V"], None]
)


@settings(max_examples=400, deadline=None)
@given(st.sampled_from(range(len(ENTRIES))), st.data())
def test_what_pydantic_refuses_never_goes_the_short_way(number, data):
    name, entry = ENTRIES[number]
    model = item_classes()[name]
    changed = dict(entry)
    key = data.draw(st.sampled_from([*entry, "unknown_key"]))
    if data.draw(st.booleans()) and key in changed:
        del changed[key]
    else:
        changed[key] = data.draw(ODD)
    try:
        validated = model.model_validate(changed)
    except ValidationError:
        validated = None
    quick = quick_item(model, changed)
    assert quick is None or quick == validated


@pytest.mark.parametrize("entry", [None, [], "text", 3])
def test_what_is_no_mapping_is_left_to_pydantic(entry):
    assert quick_item(item_classes()["gun"], entry) is None
