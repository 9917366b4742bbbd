"""One right item of every class, as text with units, and the writing of such items into files.

Contents: `SAMPLES`, `sample`, `write_class`, `write_catalog`, `line_of`.
"""

from __future__ import annotations

from pathlib import Path

COMMON = {
    "label": "A sample",
    "price": "1200 USD",
    "weight": "100 lb",
    "length": "36 in",
    "width": "24 in",
    "height": "4 ft",
    "mounting": "floor",
    "upkeep_time": "6 h",
    "upkeep_cost": "$80",
    "delivery": "2 week",
    "parts": "3 day",
    "features": "[quiet, light-alloy]",
    "condition": "new",
}
LOAD = {"connections": "[240 V, 3-phase]", "rated_voltage": "240 V"}
MOTOR = {"motor_power": "5 hp", "code_letter": "H", "start_share": "100 %"}

OWN: dict[str, dict[str, str]] = {
    "proportioner": LOAD
    | MOTOR
    | {
        "drive": "electric", "output": "18 lb/min", "pressure": "2000 psi", "heater_power": "10 kW",
        "longest_hose": "310 ft", "hose_heat": "4 kW", "air_per_output": "0 scfm/(lb/min)", "air_pressure": "0 psi",
        "body_heat": "0.5 kW",
    },
    "hose": {
        "section_length": "50 ft", "short_length": "25 ft", "short_price": "700 USD", "short_weight": "31 lb",
        "bore": "3/8 in", "pressure": "2000 psi", "loss": "0.18 W/ft/K", "heat_capacity": "0.6 kJ/ft/K",
        "gun_air_bore": "1/4 in", "whip_length": "10 ft", "whip_bore": "1/4 in", "whip_price": "330 USD",
        "whip_weight": "8 lb", "jacket": "false",
    },
    "gun": {
        "purge": "air", "purge_air": "4.5 scfm", "cleaning_air": "10 scfm", "air_pressure": "80 psi",
        "least_output": "3 lb/min", "largest_output": "16 lb/min", "pressure": "3000 psi",
    },
    "feed_pump": {
        "kind": "stick", "flow": "2.5 gpm", "half_flow_viscosity": "2200 mPa s", "air_per_flow": "2.6 scfm/gpm",
        "air_pressure": "80 psi", "outlet_pressure": "160 psi", "temperature_gauge": "true",
    },
    "drum_mixer": LOAD
    | {"drive": "electric", "air_flow": "0 scfm", "air_pressure": "0 psi", "power": "0.7 kW", "power_factor": "75 %"},
    "drum_dryer": {"drums": "2"},
    "circulation_set": {"flow": "1 gpm"},
    "compressor": LOAD
    | MOTOR
    | {
        "free_air": "18 scfm", "rating_pressure": "100 psi", "cut_in": "95 psi", "cut_out": "125 psi", "stages": "1",
        "unloaders": "false", "pressure_lubricated": "false", "oil_lubricated": "true", "alarm": "none",
        "receiver": "30 gal", "approach": "35 delta_degF", "duty_share": "60 %", "heat_share": "92 %",
    },
    "receiver": {"volume": "30 gal", "pressure": "200 psi"},
    "air_dryer": LOAD
    | {
        "kind": "refrigerated", "rated_flow": "25 scfm", "dew_point": "39 degF", "power": "0.32 kW",
        "power_factor": "75 %", "least_ambient": "45 degF", "largest_ambient": "105 degF", "purge_share": "0 %",
        "pressure_drop": "3 psi",
    },
    "generator": {
        "outputs": "[{system: split, power: 20 kW, apparent_power: 22 kVA}, "
        "{system: wye, power: 20 kW, apparent_power: 25 kVA}]",
        "aspiration": "natural", "altitude_free": "500 ft", "altitude_loss": "3 %/kft", "temperature_free": "77 degF",
        "temperature_loss": "1 %/(5 delta_degF)", "alternator_altitude_free": "3300 ft",
        "alternator_altitude_loss": "1 %/kft", "alternator_temperature_free": "104 degF",
        "alternator_temperature_loss": "0.25 %/delta_degF", "transient_reactance": "22 %", "idle_burn": "0.4 gal/h",
        "burn_per_energy": "0.07 gal/kWh", "tank": "15 gal", "cooling": "liquid", "speed": "1800 rpm",
        "sound": "68 dBA", "radiator_air": "1500 cfm", "body_heat": "0 kW",
    },
    "fuel_tank": {"volume": "15 gal"},
    "breathing_air": LOAD
    | MOTOR
    | {
        "kind": "ambient-pump", "respirators": "2", "air_per_respirator": "0 scfm", "air_pressure": "0 psi",
        "monoxide_alarm": "false", "hose_length": "150 ft",
    },
    "drum_heater": LOAD | {"kind": "band", "power": "1.2 kW", "skin_temperature": "150 degF", "most_drums": "4"},
    "body_heater": LOAD | {"kind": "electric", "heat": "3 kW", "power": "3 kW", "burn": "0 gal/h"},
    "body_cooler": LOAD | MOTOR | {"heat": "12 kBtu/h", "power": "1.1 kW", "power_factor": "88 %"},
    "ventilation_fan": LOAD | {"flow": "800 cfm", "power": "0.1 kW", "power_factor": "70 %"},
    "lighting": LOAD | {"power": "0.3 kW", "outlets": "4"},
    "fit_out": {"vehicle_kind": "truck"},
    "vehicle": {
        "weight": "8050 lb", "kind": "truck", "gvwr": "14000 lb", "payload": "5950 lb", "floor_length": "12 ft",
        "floor_width": "7 ft", "inside_height": "7 ft", "door_zone": "24 in", "ua": "135 W/K",
        "heat_capacity": "650 kJ/K", "air_changes": "2.5 1/h", "hitch": "none", "front_axle_rating": "6000 lb",
        "rear_axle_rating": "9500 lb", "wheelbase": "153 in",
    },
    "tow_vehicle": {
        "weight": "5350 lb", "gvwr": "7100 lb", "payload": "1600 lb", "tow_rating": "9000 lb", "gcwr": "15000 lb",
        "hitches": "[conventional, gooseneck]",
    },
    "material": {
        "weight": "1118 lb", "kind": "closed-cell", "density_a": "10.2 lb/gal", "density_b": "9.9 lb/gal",
        "viscosity_a": "[{temperature: 50 degF, viscosity: 480 mPa s}, {temperature: 77 degF, viscosity: 200 mPa s}]",
        "viscosity_b": "[{temperature: 50 degF, viscosity: 1300 cP}, {temperature: 77 degF, viscosity: 600 cP}]",
        "heat_capacity_a": "1.8 kJ/kg/K", "heat_capacity_b": "2.0 kJ/(kg K)", "spray_temperature": "120 degF",
        "least_feed_temperature": "60 degF", "storage_temperature": "50 degF", "gun_pressure": "1100 psi",
        "foam_density": "2 lb/ft3", "field_yield": "70 %", "resin_must_be_mixed": "false", "net_mass_a": "545 lb",
        "net_mass_b": "490 lb",
    },
    "safety_item": {"provides": "[eyewash, eyewash-frost-proof]"},
    "tool": {"provides": "[hand-tools]"},
    "spare_part": {"provides": "[fuses]"},
    "winter_kit": {"provides": "[antifreeze-wash]"},
}  # fmt: skip

SAMPLES: dict[str, dict[str, str]] = {
    name: {"id": f"{name.replace('_', '-')}-1"} | COMMON | own for name, own in OWN.items()
}
"""Per class the fields of one right item."""


def sample(item_class: str, **changes: str | None) -> dict[str, str]:
    """The sample of a class with some fields changed; None takes a field out."""
    fields = SAMPLES[item_class] | {name: text for name, text in changes.items() if text is not None}
    return {name: text for name, text in fields.items() if changes.get(name, "") is not None}


def write_class(path: Path, item_class: str, *items: dict[str, str]) -> Path:
    """A file of one class: `class` in line 1, `items` in line 2, then one field a line."""
    lines = [f"class: {item_class}", "items:"]
    for fields in items:
        for k, (name, text) in enumerate(fields.items()):
            lines.append(f"{'- ' if k == 0 else '  '}{name}: {text}")
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return path


def write_catalog(folder: Path, **replaced: list[dict[str, str]]) -> Path:
    """A whole catalog, one file a class; `replaced` gives other items for a class (an empty list: no file)."""
    for name in SAMPLES:
        items = replaced.get(name, [SAMPLES[name]])
        if items:
            write_class(folder / f"{name}.yaml", name, *items)
    return folder


def line_of(fields: dict[str, str], name: str) -> int:
    """Line of a field of the first item of such a file."""
    return 3 + list(fields).index(name)
