"""Electricity aboard, subject by subject. Importing this file enters all PWR rules.

    power_supply.py    PWR-01 apparent power, PWR-02 engine power, PWR-05 legs
    power_wiring.py    PWR-04 supply systems, PWR-08 kind of set, PWR-09 outlets
    power_start.py     PWR-03 voltage dip, PWR-10 engine while a motor starts
    power_night.py     PWR-12 shore power
    fuel.py            PWR-06 fuel, PWR-07 least load

The loads themselves are in `loads`, the day's table in `day`.
"""

from solver.rules import fuel, power_night, power_start, power_supply, power_wiring

__all__ = ["fuel", "power_night", "power_start", "power_supply", "power_wiring"]
