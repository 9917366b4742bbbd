"""FIT-01 .. FIT-03: floor, height and fit-out, areas added up by hand."""

from __future__ import annotations

from typing import Any

import pytest

from solver.rules.instances import Setting
from tests.rules.small import (
    RuleCase,
    assert_case,
    assert_effects,
    assert_rows_agree,
    brief,
    judge,
    margins,
    setting,
    table,
)

BODY = {
    "kind": "truck", "floor_length": "16 ft", "floor_width": "7.5 ft", "inside_height": "6 ft", "door_zone": "2 ft",
    "mounting": "outside", "length": "30 ft", "width": "8 ft", "height": "11 ft",
}  # fmt: skip
PROPORTIONER = {"length": "48 in", "width": "30 in", "height": "50 in", "mounting": "floor"}
GENERATOR = {"length": "72 in", "width": "36 in", "height": "40 in", "mounting": "floor"}
COMPRESSOR = {"length": "60 in", "width": "48 in", "height": "60 in", "mounting": "floor"}
WALL_HUNG = {"length": "60 in", "width": "48 in", "height": "90 in", "mounting": "wall"}


def body(compressor: dict[str, Any], fit_out: str = "truck") -> tuple[Setting, dict[str, int]]:
    """A 16 ft truck body with proportioner, generator, two sets of drums and this compressor."""
    case = setting(
        brief(),
        table("proportioner", PROPORTIONER),
        table("compressor", compressor),
        table("generator", GENERATOR),
        table("fit_out", {"vehicle_kind": fit_out}),
        table("vehicle", BODY),
    )
    return case, {}


CASES: dict[str, RuleCase] = {
    case.rule: case
    for case in (
        # Floor 120 ft2. Aisle 16 x 28/12 = 37.33, door 15, drums 2 x 8 x 1.15 = 18.4, proportioner 10 x 1.15 = 11.5,
        # generator 18 x 1.15 = 20.7: 102.93 ft2. The compressor on the floor adds 20 x 1.15 = 23.
        RuleCase(
            "FIT-01",
            body(WALL_HUNG),
            body(COMPRESSOR),
            "Items, drums, aisle and door zone take 125.9 ft2, the floor has 120.0 ft2: 5.9 ft2 short.",
        ),
        RuleCase(
            "FIT-02",
            body(COMPRESSOR),
            body({**COMPRESSOR, "height": "75 in"}),
            "The compressor is 75 in high, the ceiling is at 72 in: 3 in short.",
        ),
        RuleCase(
            "FIT-03",
            body(COMPRESSOR),
            body(COMPRESSOR, "trailer"),
            "The fit-out is made for a trailer, but the vehicle is not one.",
        ),
    )
}


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_passes_and_trips(case: RuleCase) -> None:
    assert_case(case)


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_effects(case: RuleCase) -> None:
    assert_effects(case)


def test_floor_by_hand() -> None:
    case, _ = body(WALL_HUNG)
    assert margins("FIT-01", case)["///"] == pytest.approx(120 - 102.9333, abs=1e-3)


def test_height_is_judged_only_for_what_can_stand_on_the_floor() -> None:
    assert [balance.place.part for balance in judge("FIT-02", body(WALL_HUNG)[0])] == ["proportioner", "generator"]


def test_what_hangs_on_the_wall_is_not_measured() -> None:
    case = setting(brief(), table("compressor", COMPRESSOR, WALL_HUNG), table("vehicle", BODY))
    assert [balance.applies for balance in judge("FIT-02", case, {"compressor": 0})] == [True]
    assert [balance.applies for balance in judge("FIT-02", case, {"compressor": 1})] == [False]
    assert_rows_agree("FIT-02", case, {"compressor": 1})
