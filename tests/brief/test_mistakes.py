"""Every mistake of a brief in its whole sentence with file and line, as `mistakes.txt` lists them."""

from __future__ import annotations

from pathlib import Path

import pytest

from solver.brief import brief_of, read_brief
from solver.errors import InputError
from tests.brief.sample import said, written
from tests.demo.demo import stock

Change = tuple[str, str]


def _blocks() -> list[tuple[list[Change], list[str]]]:
    blocks: list[tuple[list[Change], list[str]]] = []
    for line in Path(__file__).with_name("mistakes.txt").read_text(encoding="utf-8").splitlines():
        if line.startswith("    "):
            blocks[-1][1].append(line.strip())
        elif line and not line.startswith("#"):
            old, _, new = line.replace("\\n", "\n").partition(" -> ")
            if not blocks or blocks[-1][1]:
                blocks.append(([], []))
            blocks[-1][0].append((old, new))
    return blocks


BLOCKS = _blocks()


def test_the_sample_is_right(tmp_path):
    assert read_brief(written(tmp_path), stock()).title == "Two barns"


IDS = [" ".join(changes[0][1].split())[:40] for changes, _ in BLOCKS]


@pytest.mark.parametrize(("changes", "sentences"), BLOCKS, ids=IDS)
def test_a_mistake_is_reported_in_its_whole_sentence(tmp_path, changes, sentences):
    assert said(tmp_path, *changes) == sentences


def test_mistakes_are_sorted_by_line():
    for _, sentences in BLOCKS:
        lines = [int(sentence.split(":")[1]) for sentence in sentences]
        assert lines == sorted(lines)


def test_without_a_catalog_ids_are_not_looked_up(tmp_path):
    assert read_brief(written(tmp_path, ("owned: [vehicle-05]", "owned: [no-such-thing]"))).owned == ("no-such-thing",)


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("- a\n- b\n", "brief.yaml:1: found a list; expected a mapping with the keys of a brief. Try: title: ..."),
        ("", "brief.yaml:1: found an empty file; expected a mapping of keys."),
    ],
)
def test_a_file_of_another_shape(tmp_path, text, sentence):
    path = tmp_path / "brief.yaml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(InputError) as caught:
        read_brief(path, stock())
    assert str(caught.value).replace(f"{tmp_path}/", "") == sentence


def test_a_brief_from_data_reports_the_same_mistakes():
    data = {
        "title": "A",
        "materials": [{"material": "material-99"}],
        "duties": [{"name": "d", "output": "9 lb/min", "hose_reach": "100 ft", "altitude": "0 ft",
                    "air_temperature": "60 degF"}],
    }  # fmt: skip
    with pytest.raises(InputError, match=r'found id "material-99"; expected the id of a material\. Try: material-'):
        brief_of(data, stock())
