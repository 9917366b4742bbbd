"""The columns of a class: numbers in SI, true and false, words, tags, lists; none of them can be written to."""

from __future__ import annotations

import numpy as np
import pytest

from solver.catalog import read_catalog
from solver.errors import InternalError
from tests.catalog.samples import sample, write_catalog


@pytest.fixture(scope="module")
def catalog(tmp_path_factory):
    folder = tmp_path_factory.mktemp("catalog")
    return read_catalog(
        write_catalog(
            folder,
            feed_pump=[
                sample("feed_pump", id="pump-2", kind="diaphragm", temperature_gauge="false", features="[]"),
                sample("feed_pump", id="pump-1", flow="5 gpm", features="[quiet]", label="First"),
                sample("feed_pump", id="pump-10", features="[light-alloy, quiet]"),
            ],
            safety_item=[
                sample("safety_item", features="[quiet]"),
                sample("safety_item", id="s-2", provides="[gloves]"),
            ],
        )
    )


def test_rows_follow_the_order_of_the_items(catalog):
    table = catalog.tables["feed_pump"]
    assert table.item_class == "feed_pump"
    assert table.ids == ("pump-1", "pump-2", "pump-10")
    assert table.labels == ("First", "A sample", "A sample")
    assert len(table) == 3
    assert table.index("pump-10") == 2


def test_numbers_are_floats_in_si(catalog):
    table = catalog.tables["feed_pump"]
    flow = table.numbers["flow"]
    assert flow.dtype == np.float64
    assert flow == pytest.approx(np.array([5.0, 2.5, 2.5]) * 0.003785411784 / 60)
    assert catalog.tables["compressor"].numbers["stages"].tolist() == [1.0]


def test_true_and_false(catalog):
    table = catalog.tables["feed_pump"]
    assert table.switches["temperature_gauge"].tolist() == [True, False, True]
    assert table.column("temperature_gauge").tolist() == [1.0, 0.0, 1.0]
    assert table.column("flow") is table.numbers["flow"]
    with pytest.raises(InternalError, match="class feed_pump has no field bore of numbers"):
        table.column("bore")


def test_words_are_small_codes_with_names(catalog):
    kind = catalog.tables["feed_pump"].words["kind"]
    assert kind.codes.dtype == np.int8
    assert kind.names == ("stick", "diaphragm")
    assert kind.texts() == ("stick", "diaphragm", "stick")
    assert (kind[1], len(kind)) == ("diaphragm", 3)
    assert kind.is_("stick").tolist() == [True, False, True]
    with pytest.raises(InternalError, match="piston is none of stick, diaphragm"):
        kind.is_("piston")


def test_tags_of_features_and_of_what_is_provided(catalog):
    pumps, safety = catalog.tables["feed_pump"], catalog.tables["safety_item"]
    assert {tag: flags.tolist() for tag, flags in pumps.tags.items()} == {
        "light-alloy": [False, False, True],
        "quiet": [True, False, True],
    }
    assert pumps.has("absent").tolist() == [False, False, False]
    assert safety.ids == ("s-2", "safety-item-1")
    assert safety.has("gloves").tolist() == [True, False]
    assert safety.has("eyewash").tolist() == [False, True]
    assert safety.has("quiet").tolist() == [True, True]


def test_lists_stay_tuples(catalog):
    assert catalog.tables["compressor"].lists["connections"] == (("240 V", "3-phase"),)
    (outputs,) = catalog.tables["generator"].lists["outputs"]
    assert [output.system for output in outputs] == ["split", "wye"]
    (points,) = catalog.tables["material"].lists["viscosity_a"]
    assert [point.viscosity for point in points] == [0.48, 0.2]


def test_columns_are_read_only(catalog):
    with pytest.raises(ValueError, match="read-only"):
        catalog.tables["feed_pump"].numbers["flow"][0] = 1.0


def test_every_field_of_every_class_has_its_column(catalog):
    for name, table in catalog.tables.items():
        fields = set(type(catalog.classes[name][0]).model_fields)
        held = {*table.numbers, *table.switches, *table.words, *table.lists, "id", "label"}
        assert held == fields
