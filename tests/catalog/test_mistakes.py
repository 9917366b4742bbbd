"""Every mistake of an item in its whole sentence with file and line, as `mistakes.txt` lists them."""

from __future__ import annotations

import os
import re
from pathlib import Path

import pydantic
import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.catalog import item_classes, read_catalog
from solver.catalog.reading_errors import mistakes_of
from solver.errors import InputError
from solver.files import Document
from tests.catalog.samples import SAMPLES, sample, write_catalog


def _blocks() -> list[tuple[str, dict[str, str | None], list[str]]]:
    blocks: list[tuple[str, dict[str, str | None], list[str]]] = []
    for line in Path(__file__).with_name("mistakes.txt").read_text(encoding="utf-8").splitlines():
        if line.startswith("    "):
            blocks[-1][2].append(line.strip())
        elif line and not line.startswith("#"):
            item_class, *changes = line.split(" | ")
            blocks.append((item_class, dict(_change(change) for change in changes), []))
    return blocks


def _change(text: str) -> tuple[str, str | None]:
    if text.endswith(" -"):
        return text.removesuffix(" -"), None
    name, _, value = text.partition(": ")
    return name, value


BLOCKS = _blocks()


@pytest.mark.parametrize(
    ("item_class", "changes", "sentences"), BLOCKS, ids=[f"{block[0]}-{'-'.join(block[1])}" for block in BLOCKS]
)
def test_a_mistake_is_reported_in_its_whole_sentence(tmp_path, item_class, changes, sentences):
    write_catalog(tmp_path, **{item_class: [sample(item_class, **changes)]})
    with pytest.raises(InputError) as caught:
        read_catalog(tmp_path)
    assert str(caught.value).replace(f"{tmp_path}{os.sep}", "").splitlines() == sentences


def test_every_class_and_every_order_has_a_case():
    assert {block[0] for block in BLOCKS} == set(item_classes())
    said = "\n".join(sentence for block in BLOCKS for sentence in block[2])
    for name, item_class in item_classes().items():
        for order in item_class.orders:
            assert re.search(rf"{name}\.yaml:\d+: found {order.lesser} .+; expected .+ {order.greater}, which is", said)


PLAIN = st.recursive(
    st.text(max_size=12) | st.sampled_from(["12 kW", "5 ft", "true", "80 %", "240 V", "split", "1"]),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(st.sampled_from(["temperature", "viscosity", "system", "power", "odd"]), inner, max_size=3)
    ),
    max_leaves=6,
)


@given(st.sampled_from(sorted(SAMPLES)), st.data())
def test_whatever_stands_in_an_item_is_read_or_refused_in_words(item_class, data):
    """Entries of any shape at any field: mistakes with found and expected, never another error."""
    kind = item_classes()[item_class]
    entry = dict(SAMPLES[item_class]) | data.draw(
        st.dictionaries(st.sampled_from([*kind.model_fields, "odd-key"]), PLAIN, min_size=1, max_size=4)
    )
    try:
        kind.model_validate(entry)
    except pydantic.ValidationError as error:
        mistakes = mistakes_of(error, Document("a.yaml", entry, {}), (), kind, entry)
        assert mistakes
        assert all(mistake.found and mistake.expected for mistake in mistakes)
