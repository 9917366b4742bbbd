"""A worked example of statics: a truck that pulls a tanker, from its weights to the load on each axle.

Source: a statics textbook whose title is not on record; read. The tanker's hitch stands over the truck's rear axle.
"""

from __future__ import annotations

import numpy as np

from solver.formulas.weight import front_reaction, rear_reaction
from solver.quantities import from_unit, to_unit
from tests.published import documents as of
from tests.published.printed import READ, Figure, Passage, Worked, checked

PLACE = Passage(of.STATICS_TEXT, "worked problem", "loads on hitch and axles, lb", READ)


def lb(pounds: float) -> float:
    """Pounds in kg."""
    return from_unit(pounds, "lb")


def ft(feet: float) -> float:
    """Feet in m."""
    return from_unit(feet, "ft")


TANKER = (lb(20000.0), ft(10.0), ft(25.0))
"""Weight, its centre behind the hitch, the axle behind the hitch."""


def _truck() -> tuple[np.ndarray, np.ndarray, float]:
    """The truck with the hitch load that our formula found: weights, places behind the front axle, wheelbase."""
    return np.array([lb(8000.0), front_reaction(*TANKER)]), np.array([ft(14.0 - 9.0), ft(14.0)]), ft(14.0)


FIGURES = [
    PLACE.figure("tanker's axle", "8000", lambda: to_unit(rear_reaction(*TANKER), "lb")),
    PLACE.figure("hitch", "12000", lambda: to_unit(front_reaction(*TANKER), "lb")),
    PLACE.figure("truck's rear axle", "14857.1", lambda: to_unit(rear_reaction(*_truck()), "lb")),
    PLACE.figure("truck's front axle", "5142.9", lambda: to_unit(front_reaction(*_truck()), "lb")),
]
WORKED = (
    Worked(
        "Loads on the axles of a truck with a tanker", PLACE,
        "Truck of 8,000 lb with its centre 9 ft ahead of the rear axle, wheelbase 14 ft; tanker of 20,000 lb with its centre "
        "10 ft and its axle 25 ft behind the hitch; the hitch over the truck's rear axle.",
        "The tanker on its two supports gives the load of its axle and of the hitch; the hitch load goes into the truck's "
        "own balance, which gives its rear and its front axle.",
        FIGURES,
    ),
)  # fmt: skip


@checked(FIGURES)
def test_axle_loads(figure: Figure) -> None:
    """Every printed step."""
    figure.check()
