"""The types of a brief's fields that no catalog item has, each with the example that the reference page shows."""

from __future__ import annotations

from typing import Annotated

from pydantic import BeforeValidator

from solver.catalog.fields import Count, Quantity

Altitude = Annotated[float, Quantity("length", "7500 ft", least=-450.0, most=11000.0, above=False)]
AirTemperature = Annotated[float, Quantity("temperature", "35 degF", least=213.15, most=333.15, above=False)]
InsideTemperature = Annotated[float, Quantity("temperature", "60 degF", least=233.15, most=373.15, above=False)]
Humidity = Annotated[float, Quantity("share", "60 %", most=1.0)]
BoardFeet = Annotated[float, Quantity("board_feet", "3000 board_feet")]
HeightOrNone = Annotated[float, Quantity("length", "20 ft", above=False)]
DayHours = Annotated[float, Quantity("time", "5 h", most=86400.0)]
DayHoursOrNone = Annotated[float, Quantity("time", "0.5 h", most=86400.0, above=False)]
Minutes = Annotated[float, Quantity("time", "1 min", most=7200.0, above=False)]
SupplyPower = Annotated[float, Quantity("apparent_power", "12 kVA")]

Budget = Annotated[float, Quantity("money", "120000 USD", most=1e8)]
HoursAYear = Annotated[float, Quantity("time", "120 h")]
WaitInDays = Annotated[float, Quantity("time", "10 day", above=False)]
WaitInWeeks = Annotated[float, Quantity("time", "8 week", above=False)]

Factor = Annotated[float, Quantity("share", "115 %", least=1.0, most=3.0, above=False)]
Overload = Annotated[float, Quantity("share", "110 %", least=0.5, most=2.0, above=False)]
Dip = Annotated[float, Quantity("share", "20 %", most=0.9)]
ShareBelowAll = Annotated[float, Quantity("share", "10 %", most=0.9, above=False)]

MoneyPerFoam = Annotated[float, Quantity("money_per_board_feet", "1.35 USD/board_feet", above=False)]
MoneyPerVolume = Annotated[float, Quantity("money_per_volume", "4.20 USD/gal", above=False)]
MoneyPerTime = Annotated[float, Quantity("money_per_time", "35 USD/h", above=False)]
Years = Annotated[int, Count(1, 100)]
Months = Annotated[int, Count(1, 1200)]
DaysAYear = Annotated[int, Count(1, 366)]


def _word(entry: object) -> object:
    return str(entry).lower() if isinstance(entry, bool) else entry


BoolAsWord = BeforeValidator(_word)
"""Takes Python's True and False for the words of a file."""
