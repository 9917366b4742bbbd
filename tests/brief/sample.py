"""A right brief for the demo catalog, one key a line, and the writing of it with changes.

Contents: `TEXT`, `written`, `said`.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from solver.brief import read_brief
from solver.errors import InputError
from tests.demo.demo import stock

TEXT = """\
title: Two barns
by: price
materials:
- {material: material-01, sets: 2}
- {material: material-05, sets: 1}
crew: {sprayers: 1, helpers: 1, trimmers: 0, respirator: tight-fitting}
duties:
- name: barn
  material: material-01
  output: 12 lb/min
  hose_reach: 180 ft
  altitude: 900 ft
  air_temperature: {coldest: 50 degF, hottest: 92 degF}
  humidity: 55 %
  hours: {overnight: 14 h, warm-up: 1.5 h, spraying: 4 h, cleaning: 0.5 h}
  overnight: {parking: indoors, air: 58 degF, keep_warm: 60 degF, shore_power: 3 kW}
  resupply: 1
  tool_power: 0.8 kW
  site_supply: {system: split, power: 12 kVA}
- name: attic
  material: material-05
  board_feet_a_day: 3000 board_feet
  hose_reach: {distance: 110 ft, height: 12 ft, slack: 10 %}
  altitude: 900 ft
  air_temperature: {coldest: 70 degF, hottest: 70 degF}
  site_supply: {system: wye, power: 20 kVA}
outlets: 2
limits: {budget: 150000 USD, combined_rating: 26000 lb}
margins: {trigger_share: 50 %, aisle_width: 28 in}
money: {tax: 6 %}
asked: {generator: [quiet]}
owned: [vehicle-05]
unwanted: {items: [gun-01], classes: [body_cooler], features: [used]}
waived: [AIR-07]
interlocks: [drum-heat-after-hose]
"""


def written(folder: Path, *changes: tuple[str, str]) -> Path:
    """The brief in a file, each first text replaced by the second (which must be there once)."""
    text = TEXT
    for old, new in changes:
        assert text.count(old) == 1, f"{old} stands {text.count(old)} times"
        text = text.replace(old, new)
    path = folder / "brief.yaml"
    path.write_text(text, encoding="utf-8")
    return path


def said(folder: Path, *changes: tuple[str, str]) -> list[str]:
    """Every mistake that reading reports, without the folder."""
    with pytest.raises(InputError) as caught:
        read_brief(written(folder, *changes), stock())
    return str(caught.value).replace(f"{folder}/", "").splitlines()
