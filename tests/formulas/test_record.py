"""Marking, recording and describing formulas; ranges."""

from __future__ import annotations

import threading
import time

import numpy as np
import pytest

from solver.errors import OutsideRange
from solver.formulas.air import air_density, receiver_volume
from solver.formulas.heat import flow_heat, warm_up_power
from solver.formulas.ranges import Values, not_negative, positive, within
from solver.formulas.record import describe, formula, is_formula, recording
from solver.formulas.saturation import saturation_pressure


@formula
def doubled(length: Values, times: int = 2) -> Values:
    """Length taken several times.

    y = n x

    Parameters
    ----------
    length : float or array [m]
        The length,
        over two lines.
    times : int [-]
        How often.

    Returns
    -------
    float or array [m]
        The product.

    Notes
    -----
    Not above 100 m.

    Examples
    --------
    >>> doubled(2.0)
    4.0

    References
    ----------
    A book, third edition,
        page 7
    Another book
    """
    within("length", length, "m", 0.0, 100.0)
    return np.float64(times) * length


def test_a_call_is_recorded_with_units_and_source() -> None:
    with recording() as calls:
        assert doubled(3.0) == 6.0
    (call,) = calls
    assert (call.name, call.arguments, call.result, call.depth) == ("doubled", {"length": 3.0, "times": 2}, 6.0, 0)
    assert call.units == {"length": "m", "times": "-"}
    assert call.unit == "m"
    assert call.formula == "y = n x"
    assert call.source == "A book, third edition, page 7 | Another book"


def test_nested_calls_come_first_and_deeper() -> None:
    with recording() as calls:
        receiver_volume(60.0, 0.012, demand := 0.008, 1e5, 2e5)
        air_density(1e5, 293.15, 0.5)
    assert demand == 0.008
    assert [(call.name, call.depth) for call in calls] == [
        ("receiver_flow_volume", 1), ("receiver_volume", 0), ("saturation_pressure", 1), ("air_density", 0),
    ]  # fmt: skip


def test_recordings_nest() -> None:
    with recording() as outer:
        doubled(1.0)
        with recording() as inner:
            doubled(2.0)
        doubled(3.0)
    assert [call.arguments["length"] for call in outer] == [1.0, 2.0, 3.0]
    assert [call.arguments["length"] for call in inner] == [2.0]


def test_nothing_is_recorded_outside() -> None:
    with recording() as calls:
        pass
    doubled(1.0)
    assert calls == []


def test_a_call_that_raises_is_left_out_and_the_depth_is_right_again() -> None:
    with recording() as calls:
        with pytest.raises(OutsideRange):
            doubled(101.0)
        with pytest.raises(OutsideRange):
            air_density(1e5, 20.0, 0.5)
        doubled(1.0)
    assert [(call.name, call.depth) for call in calls] == [("doubled", 0)]


def test_a_recording_ends_when_its_block_raises() -> None:
    with pytest.raises(ZeroDivisionError), recording() as calls:
        doubled(1.0)
        _ = 1 / 0
    doubled(2.0)
    assert len(calls) == 1
    with recording() as again:
        doubled(3.0)
    assert len(again) == 1


def test_another_thread_is_not_recorded() -> None:
    with recording() as calls:
        thread = threading.Thread(target=doubled, args=(5.0,))
        thread.start()
        thread.join()
        doubled(1.0)
    assert [call.arguments["length"] for call in calls] == [1.0]


def test_floats_give_floats_and_arrays_give_arrays() -> None:
    assert type(doubled(1.0)) is float
    assert type(saturation_pressure(300.0)) is float
    assert type(warm_up_power(38.0, 60000.0, 1800.0, 322.0, 261.0, 261.0)) is float
    assert type(flow_heat(0.1, 1800.0, 30.0)) is float
    found = doubled(np.array([1.0, 2.0]))
    assert isinstance(found, np.ndarray)
    assert found.tolist() == [2.0, 4.0]
    with recording() as calls:
        assert type(doubled(1.0)) is float
    assert type(calls[0].result) is float


def test_an_unrecorded_call_costs_next_to_nothing() -> None:
    """Less than 0.3 microseconds on an idle machine; asserted at 2, as test machines are not idle."""

    def plain(length: Values) -> Values:
        return length

    marked = formula(plain)

    def best(function: object) -> float:
        def once() -> float:
            begin = time.perf_counter()
            for _ in range(20000):
                function(1.0)  # type: ignore[operator]
            return time.perf_counter() - begin

        return min(once() for _ in range(5)) / 20000

    assert best(marked) - best(plain) < 2e-6


def test_describe() -> None:
    doc = describe(doubled)
    assert doc.name == "doubled"
    assert doc.purpose == "Length taken several times."
    assert doc.parameters["length"].text == "The length, over two lines."
    assert doc.parameters["times"].kind == "int"
    assert doc.returns.unit == "m"
    assert doc.notes == "Not above 100 m."
    assert doc.references == ("A book, third edition, page 7", "Another book")
    assert is_formula(doubled)
    assert not is_formula(within)


def test_describe_says_what_is_wrong() -> None:
    def no_sections(length: float) -> float:
        """Nothing more."""
        return length

    with pytest.raises(ValueError, match=r"^no_sections: the docstring has the sections \(\); expected"):
        describe(no_sections)

    def no_unit(length: float) -> float:
        """X.

        Parameters
        ----------
        length : float
            No unit.

        Returns
        -------
        float [m]
            Y.

        Notes
        -----
        Z.

        Examples
        --------
        None.

        References
        ----------
        None.
        """
        return length

    with pytest.raises(ValueError, match=r"^no_unit: cannot read the docstring line 'length : float'; expected"):
        describe(no_unit)


@pytest.mark.parametrize("value", [-0.1, 100.1, float("nan"), np.array([1.0, -3.0]), np.array([1.0, np.nan])])
def test_within_raises_for_any_value_outside(value: Values) -> None:
    with pytest.raises(OutsideRange):
        within("length", value, "m", 0.0, 100.0)


def test_within_names_quantity_value_unit_and_range() -> None:
    with pytest.raises(OutsideRange) as caught:
        within("length", np.array([[1.0, 2.0], [300.0, 400.0]]), "m", 0.0, 100.0)
    assert str(caught.value) == "length is 300 m; the formula holds from 0 m to 100 m"


def test_positive_and_not_negative() -> None:
    positive("bore", 0.01, "m")
    not_negative("bore", 0.0, "m")
    not_negative("bore", np.array([]), "m")
    with pytest.raises(OutsideRange) as caught:
        positive("bore", 0.0, "m")
    assert str(caught.value) == "bore is 0 m; the formula holds above 0 m"
    with pytest.raises(OutsideRange) as caught:
        not_negative("time", float("inf"), "s")
    assert str(caught.value) == "time is inf s; the formula holds from 0 s up"
