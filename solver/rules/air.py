"""Compressed air, subject by subject. Importing this file enters all AIR rules.

    air_supply.py    AIR-01 and 12 average flow, AIR-02 and 10 pressure, AIR-03, 09 and 13 receivers, AIR-07 compressor
    air_drying.py    AIR-04 capacity, AIR-05 and 11 air around the dryer, AIR-06 dew point, AIR-08 a dryer at all

Who takes air is in `air_users`, when in `day`.
"""

from solver.rules import air_drying, air_supply

__all__ = ["air_drying", "air_supply"]
