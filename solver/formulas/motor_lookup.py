"""How the motors' tables are read: exact on rows and columns, log-log between rows, scaled between columns.

Contents: `table_current`, `check_phases`, `check_power`.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from solver.errors import OutsideRange
from solver.formulas.electricity_tables import HORSEPOWER, MotorTable
from solver.formulas.ranges import Values, not_negative

_SAME = 1e-9
"""Relative difference below which a power is taken to be a row of a table: conversion noise."""
_BANDS: tuple[tuple[float, float], ...] = ((110.0, 120.0), (200.0, 240.0), (440.0, 480.0))
"""System voltages that the columns of the tables stand for [V]."""


def table_current(tables: Mapping[int, MotorTable], motor_power: Values, voltage: Values, phases: Values) -> Values:
    """Current from the table of each number of phases; exact on rows and columns, 0 for no motor."""
    power, volts, phase = np.broadcast_arrays(
        np.asarray(motor_power, float) / HORSEPOWER, np.asarray(voltage, float), np.asarray(phases, float)
    )
    check_phases(power, phase)
    result = np.zeros(power.shape)
    for count, table in tables.items():
        here = (power != 0.0) & (phase == count)
        if here.any():
            result[here] = _one_table(table, power[here], volts[here])
    return result


def _one_table(table: MotorTable, power: NDArray[np.float64], volts: NDArray[np.float64]) -> NDArray[np.float64]:
    """Currents of motors that all belong to one table."""
    check_power(power, table.powers)
    for value in sorted(set(volts.tolist())):
        _check_voltage(value, table)
    columns = np.array(table.voltages)
    nearest = np.abs(volts[:, None] - columns).argmin(axis=1)
    row = np.abs(power[:, None] - table.powers).argmin(axis=1)
    on_row = np.abs(power - table.powers[row]) <= _SAME * power
    current = table.currents[nearest, row]
    for column in sorted(set(nearest[~on_row].tolist())):
        between = ~on_row & (nearest == column)
        logs = np.interp(np.log(power[between]), np.log(table.powers), np.log(table.currents[column]))
        current[between] = np.exp(logs)
    scaled: NDArray[np.float64] = current * (columns[nearest] / volts)
    return scaled


def check_phases(power: NDArray[np.float64], phases: NDArray[np.float64]) -> None:
    """Refuse any number of phases but 1 and 3, and a negative or undefined power."""
    wrong = (phases != 1.0) & (phases != 3.0)
    if wrong.any():
        raise OutsideRange("phases (1 or 3)", float(phases[wrong].flat[0]), "-", 1.0, 3.0)
    not_negative("motor_power", power, "hp")


def check_power(power: NDArray[np.float64], rows: NDArray[np.float64]) -> None:
    """Refuse a power that the table does not reach."""
    low, high = float(rows[0]), float(rows[-1])
    outside = (power < low * (1.0 - _SAME)) | (power > high * (1.0 + _SAME))
    if outside.any():
        kind = "single-phase" if high <= 10.0 else "three-phase"
        raise OutsideRange(f"motor_power ({kind})", float(power[outside].flat[0]), "hp", low, high)


def _check_voltage(voltage: float, table: MotorTable) -> None:
    """Refuse a voltage that no column of the table stands for; name the nearest range."""
    bands = [band for band in _BANDS if any(band[0] <= column <= band[1] for column in table.voltages)]
    if not any(low <= voltage <= high for low, high in bands):
        low, high = min(bands, key=lambda band: min(abs(voltage - band[0]), abs(voltage - band[1])))
        kind = "single-phase" if table.phases == 1 else "three-phase"
        raise OutsideRange(f"voltage ({kind})", voltage, "V", low, high)
