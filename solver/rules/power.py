"""Electricity aboard, subject by subject. Importing this file enters all PWR rules.

Contents: `power_supply` (PWR-01 apparent power, PWR-02 engine power, PWR-05 legs, PWR-04 systems, PWR-08 kind of set,
PWR-09 outlets), `power_start` (PWR-03 voltage dip, PWR-10 engine while a motor starts), `fuel` (PWR-06 fuel, PWR-07
least load). The loads themselves are in `loads`, the day's table in `day`.
"""

from solver.rules import power_supply, power_start, fuel  # noqa: I001  the order of the register is that of the reports

__all__ = ["fuel", "power_start", "power_supply"]
