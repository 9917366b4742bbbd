"""Noise of a day. Figures of the regulation are in tests/published."""

from __future__ import annotations

import numpy as np
import pytest

from solver.errors import OutsideRange
from solver.formulas import noise

HOUR = 3600.0


def test_five_decibels_halve_the_time() -> None:
    times = noise.allowed_time(np.array([90.0, 95.0, 100.0]))
    assert isinstance(times, np.ndarray)
    assert times.tolist() == [8 * HOUR, 4 * HOUR, 2 * HOUR]


def test_quiet_pieces_do_not_count() -> None:
    assert noise.noise_dose([79.9, 60.0], [8 * HOUR, 2 * HOUR]) == 0.0
    assert noise.noise_dose([80.0], [32 * HOUR]) == pytest.approx(1.0)


def test_pieces_add_up() -> None:
    whole = noise.noise_dose([95.0], [4 * HOUR])
    assert noise.noise_dose([95.0, 95.0], [1 * HOUR, 3 * HOUR]) == pytest.approx(whole)


def test_a_steady_level_for_eight_hours_is_its_own_average() -> None:
    """Within 0.005 dB: 16.61 is 5 over log10 of 2, rounded."""
    for level in (85.0, 90.0, 97.0, 110.0):
        assert noise.time_weighted_average(noise.noise_dose([level], [8 * HOUR])) == pytest.approx(level, abs=5e-3)


@pytest.mark.parametrize("level", [79.0, 131.0])
def test_level_outside(level: float) -> None:
    with pytest.raises(OutsideRange) as caught:
        noise.allowed_time(level)
    assert str(caught.value) == f"sound level is {level:.6g} dBA; the formula holds from 80 dBA to 130 dBA"


def test_loud_or_negative_pieces() -> None:
    with pytest.raises(OutsideRange) as caught:
        noise.noise_dose([140.0], [1.0])
    assert str(caught.value) == "sound level is 140 dBA; the formula holds from 0 dBA to 130 dBA"
    with pytest.raises(OutsideRange) as caught:
        noise.noise_dose([90.0], [-1.0])
    assert str(caught.value) == "time is -1 s; the formula holds from 0 s up"


def test_average_of_silence() -> None:
    with pytest.raises(OutsideRange) as caught:
        noise.time_weighted_average(0.0)
    assert str(caught.value) == "noise dose is 0; the formula holds above 0"
