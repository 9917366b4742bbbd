"""Pure functions of physics, regulation and money: plain floats or numpy arrays, in SI, knowing nothing of a rig.

    record.py              what a formula is: its docstring as data, its calls recorded for worksheets
    ranges.py              ranges of validity; nothing is clamped

    standard_air.py        constants: gas constants, the states at which flows are stated
    air.py                 the atmosphere, and what a compressor delivers from it
    receivers.py           air receivers
    compressed_air.py      lines, orifices, power of compression
    saturation.py          saturation of water vapour, dew points at any pressure
    moist_air.py           humidity, enthalpy, drying of compressed air
    hose_flow.py           liquids in hoses and pumps
    heat.py                heat of flows, drums, hoses and heaters
    body_heat.py           bodies and hoses as a whole: warming, coasting, losses, air
    drums.py               heat kept by drums, and whose it is
    breathing.py           air for respirators
    noise.py               noise of a working day

    electricity.py         power of electric loads
    motors.py              running motors (motor_lookup.py reads their tables, electricity_tables.py holds them)
    motor_starts.py        starting motors and voltage dip
    conductors.py          wires
    breakers.py            breakers, and feeders of several motors
    engine.py              what altitude and heat leave of an engine
    engine_methods.py      other published methods for the same
    fuel.py                fuel burnt, its mass and heat
    weight.py              supports, hitch, drums, floor
    vehicle_classes.py     weight classes, licences, axles
    foam.py                board feet and material
    money.py               loans and yearly cost

Every formula parameter is in docs/nomenclature.md: one name for one quantity, with its SI unit.
"""
