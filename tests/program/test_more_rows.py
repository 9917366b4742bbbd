"""One row at a time, worked out by hand: rounding, guards, what is read, and figures that cannot be counted."""

from __future__ import annotations

import numpy as np
import pytest

from solver.errors import InternalError
from solver.options.slots import Slot
from solver.options.table import SlotOptions
from solver.program.compile import compile_program, scale_of
from solver.program.matrix import BOUND, Program, RowTooLarge, TooLarge
from solver.rules.case import Case
from solver.rules.instances import Instance, Place, Setting
from solver.rules.record import ONCE, Basis, Guard, Rule, Term, Words, need, supply
from tests.rules.small import brief

WORDS = Words("fits", "fails", "binds")


def _table(name: str, **columns: list[float]) -> SlotOptions:
    size = len(next(iter(columns.values())))
    items = tuple(f"{name}-{j + 1}" for j in range(size))
    numbers = {key: np.array(values, float) for key, values in columns.items()}
    return SlotOptions(Slot(name, name), items, items, ("",) * size, (1,) * size, numbers, {}, {})


def _setting(**tables: dict[str, list[float]]) -> Setting:
    return Setting(brief(), {name: _table(name, **columns) for name, columns in tables.items()}, {})


def _program(setting: Setting, *terms: Term, unit: str = "USD", guard: Guard | None = None, background: bool = False,
             reads: frozenset[str] = frozenset()) -> Program:  # fmt: skip
    """The program of a single rule, "R-01, the title", over this setting."""
    rule = Rule("R-01", "the title", unit, Basis.PHYSICS, "none: invented", ONCE, WORDS, terms, background=background)
    instance = Instance(rule, Place("R-01"), setting.case(None, "", ""), terms, guard, reads)
    size = sum(len(table) for table in setting.slots.values())
    return compile_program(setting, (instance,), {"price": np.arange(size)})


A = need("a", "asked", lambda o, c: o.n)
B = supply("b", "given", lambda o, c: o.n)


def _told(what: str) -> str:
    return (
        f"found {what}; expected a figure that can be counted exactly. Try: a look at its unit and at how many digits it has"
    )


# --- rounding -------------------------------------------------------------------------------------------------------------
STEP = 0.01
"""Dollars are counted in cents."""


@pytest.mark.parametrize(
    ("unit", "steps"),
    [("1", 1.0), ("set", 1000.0), ("USD", 100.0), ("W", 1.0), ("kW", 1.0), ("lb", 100 / 0.45359237), ("ft", 100 / 0.3048)],
)
def test_steps_in_an_si_value_of_one(unit, steps):
    """Things are counted whole, sets of drums and kW in thousandths, dollars, pounds and feet in hundredths."""
    assert scale_of(unit) == pytest.approx(steps)


def test_needs_are_rounded_up_and_supplies_down():
    """Per slot, in steps of the unit; half a ten-millionth of a step is taken as noise."""
    figures = [k * STEP for k in (1.0, 1.2, 1.8, 1.00000004, 1.00000006)]
    program = _program(_setting(a={"n": figures}, b={"n": [k * STEP for k in (1.0, 1.8, 1.99999996, 1.99999994)]}), A, B)
    assert program.rows[0].tolist() == [1, 2, 2, 1, 2, -1, -1, -2, -1]
    assert program.rhs.tolist() == [0]


def test_figures_of_the_brief_stand_on_the_right_hand_side():
    """Supplies are rounded down, needs up: 7.6 - 2.2 becomes 7 - 3; with noise 7 - 3."""
    setting = _setting(a={"n": [STEP]})
    for has, asked, rhs in ((7.6, 2.2, 4), (6.99999996, 3.00000004, 4), (6.99999994, 3.0, 3), (7.0, 3.00000006, 3)):
        terms = (A, supply(None, "has", lambda o, c, n=has: n * STEP), need(None, "asks", lambda o, c, n=asked: n * STEP))
        assert _program(setting, *terms).rhs.tolist() == [rhs], (has, asked)


def test_terms_of_one_slot_are_added_before_rounding():
    half = need("a", "asked", lambda o, c: o.n * 0.5)
    assert _program(_setting(a={"n": [STEP, 3 * STEP]}), half, half).rows[0].tolist() == [1, 3]


# --- guards ---------------------------------------------------------------------------------------------------------------
GUARD = Guard("g", lambda o, c: o.inside, "inside")


def _guarded(limit: float):
    """Inside 0 or 1 in slot g, whose own needs are 5 and 4; needs up to 3 and up to 7 in the slots around it."""
    setting = _setting(
        first={"n": [1 * STEP, 3 * STEP]},
        g={"n": [5 * STEP, 4 * STEP], "inside": [1.0, 0.0]},
        last={"n": [7 * STEP, 2 * STEP]},
    )
    asked = need(("first", "g", "last"), "asked", lambda o, c: o.n)
    return _program(setting, asked, supply(None, "limit", lambda o, c: limit * STEP), guard=GUARD)


@pytest.mark.parametrize("limit", [0.0, 6.0, 9.0])
def test_outside_its_guard_a_row_is_just_switched_off(limit):
    """The other slots need 3 + 7 at the most: the option outside gets exactly what is missing to that."""
    program = _guarded(limit)
    assert program.rows[0].tolist() == [1, 3, 5, int(limit) - 10, 7, 2]
    assert program.fits(np.array([1, 3, 4]))


def test_outside_its_guard_an_option_is_no_help_where_there_is_room_already():
    assert _guarded(15.0).rows[0].tolist() == [1, 3, 5, 0, 7, 2]
    assert _guarded(10.0).rows[0].tolist() == [1, 3, 5, 0, 7, 2]


# --- names and reads ------------------------------------------------------------------------------------------------------
def test_what_a_row_read_is_that_of_its_terms_and_of_its_rule():
    setting = _setting(a={"n": [1.0]})
    terms = (
        need("a", "asked", lambda o, c: o.n * c.margin("power_margin")),
        supply(None, "given", lambda o, c: c.margin("engine_margin") * STEP),
    )
    program = _program(setting, *terms, reads=frozenset({"budget"}))
    assert program.reads == (frozenset({"budget", "power_margin", "engine_margin"}),)


def test_two_rows_of_one_case_each_read_what_is_theirs():
    """The term that both share is worked out once, and noted for both."""
    setting = _setting(a={"n": [1.0]})
    case: Case = setting.case(None, "", "")
    shared = need("a", "asked", lambda o, c: o.n * c.margin("power_margin"))
    own = supply(None, "given", lambda o, c: c.margin("engine_margin"))
    rule = Rule("R-01", "the title", "USD", Basis.PHYSICS, "none: invented", ONCE, WORDS, (shared,), background=True)
    pair = tuple(
        Instance(rule, Place("R-01", part=part), case, terms, None, frozenset())
        for part, terms in (("one", (shared, own)), ("two", (shared,)))
    )
    program = compile_program(setting, pair, {"price": np.zeros(1, np.int64)})
    assert program.reads == (frozenset({"power_margin", "engine_margin"}), frozenset({"power_margin"}))
    assert program.labels == (Place("R-01", part="one"), Place("R-01", part="two"))
    assert (program.groups, program.background) == (("R-01", "R-01"), frozenset({"R-01"}))


def test_a_rule_that_is_not_background_may_be_dropped():
    program = _program(_setting(a={"n": [1.0]}), A)
    assert (program.groups, program.background) == (("R-01",), frozenset())


# --- figures that cannot be counted ---------------------------------------------------------------------------------------
def test_the_item_whose_figure_cannot_be_counted_is_named():
    huge = BOUND * 1.01 / scale_of("USD")
    setting = _setting(a={"n": [1.0, 1.0]}, b={"n": [1.0, huge, 2.0]}, c={"n": [1.0]})
    for side in (need, supply):
        with pytest.raises(TooLarge) as caught:
            _program(setting, side("b", "asked", lambda o, c: o.n))
        assert caught.value.item == "b-2"
        assert str(caught.value) == _told('a figure of the item "b-2" that R-01 (the title) cannot count')


def test_the_first_item_of_a_slot_and_the_last_are_named_alike():
    huge = BOUND * 1.01 / scale_of("USD")
    for place in range(3):
        figures = [1.0, 1.0, 1.0]
        figures[place] = huge
        with pytest.raises(TooLarge) as caught:
            _program(_setting(a={"n": [1.0, 1.0]}, b={"n": figures}), need("b", "asked", lambda o, c: o.n))
        assert caught.value.item == f"b-{place + 1}"


@pytest.mark.parametrize("side", [need, supply])
def test_a_figure_of_the_brief_that_cannot_be_counted_names_no_item(side):
    huge = BOUND * 1.01 / scale_of("USD")
    for value in (huge, -huge, float("nan"), float("inf")):
        with pytest.raises(TooLarge) as caught:
            _program(_setting(a={"n": [1.0]}), A, side(None, "limit", lambda o, c, n=value: n))
        assert caught.value.item == ""
        assert str(caught.value) == _told("figures of the brief that R-01 (the title) cannot count")


def test_a_sum_over_slots_that_cannot_be_counted_names_the_item_with_the_largest_part():
    most = BOUND / scale_of("USD")
    setting = _setting(a={"n": [0.1 * most, 0.5 * most]}, b={"n": [0.6 * most, 0.0]})
    with pytest.raises(TooLarge) as caught:
        _program(setting, need(("a", "b"), "asked", lambda o, c: o.n))
    assert caught.value.item == "b-1"
    assert str(caught.value) == _told('a figure of the item "b-1" that R-01 (the title) cannot count')


# --- the matrix itself ----------------------------------------------------------------------------------------------------
def _matrix(rows, limits, **changes) -> Program:
    m = len(rows)
    given = {
        "rows": np.array(rows, np.int64), "rhs": np.array(limits, np.int64), "offsets": np.array([0, 2, 3]),
        "costs": {"price": np.array([1, 20, 300])}, "labels": tuple(f"row {i}" for i in range(m)), "groups": ("R",) * m,
    }  # fmt: skip
    return Program(**{**given, **changes})


def test_the_largest_sum_that_counts():
    """|row| at its largest in each slot, and the right-hand side: together 2^53 and no more."""
    half = BOUND // 2
    _matrix([[-half, 3, half - 5]], [-5])
    _matrix([[1, half, half - 5]], [5])
    with pytest.raises(RowTooLarge) as caught:
        _matrix([[1, 1, 1], [-half, half, half - 4]], [0, -6])
    assert (caught.value.row, caught.value.item) == (1, "")
    assert str(caught.value) == _told("figures that the balance row 1 cannot count")


@pytest.mark.parametrize(
    "changes",
    [{"rhs": np.zeros(2, np.int64)}, {"labels": ()}, {"groups": ("R", "R")}, {"offsets": np.array([0, 2])}],
    ids=["rhs", "labels", "groups", "offsets"],
)
def test_parts_that_do_not_belong_together(changes):
    words = r"^rows, right-hand sides and labels of the program do not belong together$"
    with pytest.raises(InternalError, match=words):
        _matrix([[1, 2, 3]], [4], **changes)


def test_a_program_without_rows_or_options_is_one():
    assert _matrix(np.zeros((0, 3)), np.zeros(0)).fits(np.array([0, 2]))
    empty = Program(np.zeros((1, 0), np.int64), np.array([-1]), np.array([0]), {}, ("row",), ("R",))
    assert (empty.slices, empty.slot_of.tolist()) == ((), [])
    assert not empty.fits(np.zeros(0, np.int64))


def test_slots_costs_and_what_fits():
    program = _matrix([[5, 1, 1], [0, 4, 4]], [6, 7])
    assert program.slices == ((0, 2), (2, 3))
    assert program.slot_of.tolist() == [0, 0, 1]
    assert (program.cost(np.array([1, 2]), "price"), program.cost(np.array([0, 2]), "price")) == (320, 301)
    assert program.fits(np.array([0, 2]))
    assert not program.fits(np.array([1, 2]))
    assert program.fits(np.array([1, 2]), np.array([True, False]))
    assert not program.fits(np.array([1, 2]), np.array([False, True]))


def test_programs_share_nothing_that_is_kept():
    one, two = _matrix([[1, 2, 3]], [4]), _matrix([[1, 2, 3]], [4])
    assert one.memo is not two.memo
    assert one.cores is not two.cores
    assert (one.background, one.reads, one.memo, one.cores) == (frozenset(), (), {}, {})
