"""Names in a brief against a small catalog of one sample an item class, and that one mistake never hides another."""

from __future__ import annotations

from pathlib import Path

import pytest

from solver.brief import read_brief
from solver.catalog import Catalog, read_catalog
from solver.errors import InputError
from tests.catalog.samples import sample, write_catalog

START = """\
title: Small
materials: [{material: material-1}]
duties: [{name: job, output: 9 lb/min, hose_reach: 60 m, altitude: 0 ft, air_temperature: 60 degF}]
"""


@pytest.fixture(scope="module")
def stock(tmp_path_factory) -> Catalog:
    """The samples, with a second feed pump."""
    pumps = [sample("feed_pump"), sample("feed_pump", id="feed-pump-2")]
    return read_catalog(write_catalog(tmp_path_factory.mktemp("catalog"), feed_pump=pumps))


def said(folder: Path, stock: Catalog, text: str) -> list[str]:
    """Every mistake in the brief; none if it is right."""
    path = folder / "brief.yaml"
    path.write_text(text, encoding="utf-8")
    try:
        read_brief(path, stock)
    except InputError as error:
        return str(error).replace(f"{folder}/", "").splitlines()
    return []


@pytest.mark.parametrize(
    "line",
    [
        "owned: [feed-pump-1, feed-pump-1]",
        "owned: [feed-pump-1, feed-pump-2, vehicle-1]",
        "asked: {feed_pump_a: [used], vehicle: [new], proportioner: [electric]}",
        "asked: {gun: [sparkling]}",
        "unwanted: {features: [hydraulic, used, sparkling], classes: [receiver, winter_kit]}",
    ],
)
def test_names_that_may_stand(tmp_path, stock, line):
    assert said(tmp_path, stock, START + line + "\n") == []


@pytest.mark.parametrize(
    ("line", "sentence"),
    [
        ("owned: [gun-1, gun-1]", 'found "gun-1" once more; expected each item once.'),
        (
            "owned: [feed-pump-1, feed-pump-1, feed-pump-1]",
            'found "feed-pump-1" once more; expected at most twice, for two sides.',
        ),
        (
            "owned: [material-1]",
            'found "material-1", a material; expected an item that fills a slot. Try: the key materials for what is '
            "sprayed",
        ),
        ("owned: [Gun 1]", 'found owned 1 "Gun 1"; expected small letters, digits and hyphens. Try: gun-1'),
        ("owned: gun-1", 'found owned "gun-1"; expected a list.'),
        ("owned: [zzz]", 'found id "zzz"; expected an id of the catalog. Try: look the id up in the catalog'),
        (
            "unwanted: {classes: [hose]}",
            'found "hose", which no rig goes without; expected a class whose slot may stay empty.',
        ),
        ("unwanted: {classes: [recever]}", 'found "recever"; expected a class of the catalog. Try: receiver'),
        ("unwanted: {features: [usedd]}", 'found the feature "usedd"; expected a feature of some item. Try: used'),
        (
            "asked: {gun: [light-aloy]}",
            'found the feature "light-aloy"; expected a feature of some item. Try: light-alloy',
        ),
        (
            "asked: {feed_pump: [quiet]}",
            'found "feed_pump"; expected a slot of the rig. Try: feed_pump_a or feed_pump_b',
        ),
        ("asked: {tool: [quiet]}", 'found "tool"; expected a slot of the rig.'),
        ("asked: {material: [quiet]}", 'found "material"; expected a slot of the rig.'),
        (
            "asked: {gun: quiet}",
            'found asked gun "quiet"; expected a list of tags in small letters, digits and hyphens. Try: [quiet]',
        ),
    ],
)
def test_names_that_may_not(tmp_path, stock, line, sentence):
    told = said(tmp_path, stock, START + line + "\n")
    assert [one.removeprefix("brief.yaml:4: ") for one in told] == [sentence]


def test_owned_and_unwanted_at_once(tmp_path, stock):
    told = said(tmp_path, stock, START + "owned: [gun-1]\nunwanted: {items: [gun-1]}\n")
    assert told == [
        'brief.yaml:5: found "gun-1", which is owned too; expected an item that is not kept. Try: one of the two'
    ]


EVERYTHING = """\
title: Everything at once
by: prize
materials:
- {material: material-9, sets: 0}
- {material: material-1}
duties:
- name: barn
  output: 12 ft
  hose_reach: 120
  altitude: 100 ft
  air_temperature: {coldest: 95 degF, hottest: 40 degF}
  overnight: {parking: indoors}
- name: barn
  material: material-1
  hose_reach: {distance: 30 m, length: 40 m}
  altitude: 100 ft
  air_temperature: 20 degC
  hours: {spraying: 12 h}
- name: duty
  material: material-2
  output: 9 lb/min
  hose_reach: 60 m
  altitude: 100 ft
  air_temperature: 20 degC
margins: {body_floor: 90 degF, body_ceiling: 80 degF, air_share: 0 %}
waived: [air-07]
winter: maybe
"""
WHOLE = """\
brief.yaml:2: found by "prize"; expected one of price, weight, yearly-cost. Try: price
brief.yaml:4: found id "material-9"; expected the id of a material. Try: material-1
brief.yaml:4: found materials 1 sets "0"; expected a whole number from 1 to 1,000,000.
brief.yaml:7: found no material, with 2 aboard; expected one of material-9, material-1. Try: material: material-9
brief.yaml:8: found duties 1 output "12 ft", a length; expected a mass flow above 0 lb/min, such as 18 lb/min.
brief.yaml:9: found duties 1 hose_reach "120", without a unit; expected a length above 0 ft, such as 50 ft. Try: 120 ft
brief.yaml:11: found coldest 95.0 degF; expected at most hottest, which is 40.0 degF.
brief.yaml:12: found parking indoors without air; expected the air around it at night. Try: air: 55 degF
brief.yaml:13: found duty "barn" a second time; expected each name once.
brief.yaml:13: found no output; expected output or board_feet_a_day. Try: output: 12 lb/min
brief.yaml:15: found length beside distance; expected the whole length or its parts, not both.
brief.yaml:18: found 28 h in all; expected at most 24 h in a day. Try: a shorter night
brief.yaml:19: found a duty called "duty"; expected a name that is no word of the program's own.
brief.yaml:20: found material "material-2"; expected a material that is aboard: material-9, material-1. Try: material-9
brief.yaml:25: found body_floor 90.0 degF; expected at most body_ceiling, which is 80.0 degF.
brief.yaml:25: found margins air_share "0 %"; expected a share above 0 % and at most 100 %, such as 60 %.
brief.yaml:26: found "air-07"; expected the id of a practice rule, such as AIR-07. Try: AIR-07
brief.yaml:27: found winter "maybe"; expected one of auto, true, false.
"""


def test_one_mistake_hides_no_other(tmp_path, stock):
    assert said(tmp_path, stock, EVERYTHING) == WHOLE.splitlines()


@pytest.mark.parametrize(
    ("text", "sentences"),
    [
        (
            "title: A\nmaterials: []\nduties: []\n",
            [
                "brief.yaml:2: found no material; expected at least one. Try: - {material: material-01, sets: 1}",
                "brief.yaml:3: found no duty; expected at least one. Try: a list that begins with - name:",
            ],
        ),
        (
            "title: A\nmaterials: foam\nduties:\n- 3\nowned: {a: b}\n",
            [
                'brief.yaml:2: found materials "foam"; expected a list.',
                'brief.yaml:4: found duties 1 "3"; expected a mapping.',
                "brief.yaml:5: found owned a mapping; expected a list.",
            ],
        ),
    ],
)
def test_entries_of_another_shape(tmp_path, stock, text, sentences):
    assert said(tmp_path, stock, text) == sentences
