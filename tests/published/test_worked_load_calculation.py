"""Two worked load calculations of the electrical code: a feeder of three motors, and one motor's branch.

The feeder: NFPA 70 (NEC), Informative Annex D, Example D8, from memory; of which edition the memory is, is not on
record. The branch: 430.22 and 430.52 as worked in three texts; read.
"""

from __future__ import annotations

import pytest

from solver.errors import OutsideRange
from solver.formulas.breakers import motor_feeder_current, motor_overload_current, rating_within
from solver.formulas.electricity import (
    breaker_size,
    conductor_size,
    motor_branch_breaker,
    motor_branch_current,
    motor_current,
)
from solver.formulas.electricity_tables import BREAKER_RATINGS
from solver.quantities import from_unit
from tests.published import documents as of
from tests.published.printed import MEMORY, READ, Figure, Passage, Worked, checked

FEEDER = Passage(of.NEC_EXAMPLES, "Annex D, Example D8", "feeder of three motors, A", MEMORY)
BRANCH = Passage(of.NEC, "430.22, 430.52, worked in three texts", "branch of a motor of 7.5 hp, 230 V, A and AWG", READ)


def _full_load(power: float, voltage: float) -> float:
    """Full-load current of a three-phase motor of so many hp."""
    return motor_current(from_unit(power, "hp"), voltage, 3)


def _feeder() -> float:
    """Ampacity of the feeder: one motor of 30 hp as the largest, the other, and that of 25 hp."""
    return motor_feeder_current(_full_load(30.0, 460.0), _full_load(30.0, 460.0) + _full_load(25.0, 460.0))


def _fuse() -> float:
    """Fuse of the 25 hp motor: 300 percent, Table 430.52, and the next standard rating up."""
    return breaker_size(3.0 * _full_load(25.0, 460.0))


def _device() -> float:
    """Largest branch device and the currents of the two other motors."""
    return _fuse() + 2.0 * _full_load(30.0, 460.0)


FEEDER_STEPS = [
    FEEDER.figure("25 hp, table", "34", lambda: _full_load(25.0, 460.0)),
    FEEDER.figure("30 hp, table", "40", lambda: _full_load(30.0, 460.0)),
    FEEDER.figure("25 hp, conductors", "42.5", lambda: motor_branch_current(_full_load(25.0, 460.0))),
    FEEDER.figure("30 hp, primary conductors", "50", lambda: motor_branch_current(_full_load(30.0, 460.0))),
    FEEDER.figure("30 hp, secondary conductors", "81.25", lambda: motor_branch_current(65.0)),
    FEEDER.figure("feeder conductors", "124", _feeder),
    FEEDER.figure("25 hp, overload", "40.0", lambda: motor_overload_current(32.0)),
    FEEDER.figure("30 hp, overload", "47.5", lambda: motor_overload_current(38.0)),
    FEEDER.figure("25 hp, 300 %", "102", lambda: 3.0 * _full_load(25.0, 460.0)),
    FEEDER.figure("25 hp, fuse", "110", _fuse),
    FEEDER.figure("30 hp, 150 %", "60", lambda: breaker_size(1.5 * _full_load(30.0, 460.0))),
    FEEDER.figure("feeder, sum", "190", _device),
    FEEDER.figure("feeder, fuse", "175", lambda: rating_within(_device(), BREAKER_RATINGS)),
]
BRANCH_STEPS = [
    BRANCH.figure("table", "22", lambda: _full_load(7.5, 230.0)),
    BRANCH.figure("conductors", "27.5", lambda: motor_branch_current(_full_load(7.5, 230.0))),
    BRANCH.figure("size at 60 degC, AWG", "10", lambda: float(_size())),
    BRANCH.figure("inverse-time breaker", "60", lambda: motor_branch_breaker(_full_load(7.5, 230.0))),
]


def _size() -> str:
    """Conductor of the branch."""
    return conductor_size(motor_branch_current(_full_load(7.5, 230.0)), from_unit(60.0, "degC"))


WORKED = (
    Worked(
        "Load calculation of a feeder with three motors", FEEDER,
        "480 V three-phase; one motor of 25 hp, 460 V, nameplate 32 A, service factor 1.15; two wound-rotor motors of 30 hp, "
        "460 V, nameplate 38 A, secondary 65 A, 40 degC rise.",
        "Currents from the table, 125 % for each branch, 125 % of the largest plus the others for the feeder, 125 % of the "
        "nameplate for the overload devices, 300 % and the next rating up for the fuse of the 25 hp motor, that fuse and the "
        "other motors' currents and the next rating down for the feeder.",
        FEEDER_STEPS,
    ),
    Worked(
        "Branch of one motor", BRANCH, "7.5 hp, 230 V, three-phase, terminals of 60 degC.",
        "Current from the table, 125 % for the conductors, their size, 250 % and the next rating up for the breaker.",
        BRANCH_STEPS,
    ),
)  # fmt: skip


@checked(FEEDER_STEPS + BRANCH_STEPS)
def test_load_calculation(figure: Figure) -> None:
    """Every printed step."""
    figure.check()


def test_a_current_below_every_rating_is_refused() -> None:
    """The whole message."""
    with pytest.raises(OutsideRange) as refused:
        rating_within(10.0, BREAKER_RATINGS)
    assert str(refused.value) == "current is 10 A; the formula holds from 15 A up"


@pytest.mark.parametrize(
    ("formula", "currents", "name"),
    [
        (motor_feeder_current, (-1.0, 5.0), "largest_current"),
        (motor_feeder_current, (5.0, -1.0), "other_current"),
        (motor_overload_current, (-1.0,), "current"),
    ],
)
def test_negative_currents_are_refused(formula, currents, name) -> None:
    """The whole message."""
    with pytest.raises(OutsideRange) as refused:
        formula(*currents)
    assert str(refused.value) == f"{name} is -1 A; the formula holds from 0 A up"


def test_a_rating_itself_is_within() -> None:
    """On a rating it is that rating; just below it the one before."""
    assert rating_within(175.0, BREAKER_RATINGS) == 175.0
    assert rating_within(174.9, BREAKER_RATINGS) == 150.0
