"""What a term sees of the brief: the figures of one duty, in one state, at one end of the day's air.

Contents: `Case`. (`noting.py` has `derived`, the decorator of figures worked out from others.)

Each figure that is a requirement is read through `Case`, which notes its name: so the program knows which requirements
a rule reads without anyone keeping a list. Figures worked out from others (air pressure from altitude) hand their own
reads on.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from solver.brief.models import Brief, Duty
from solver.errors import InternalError
from solver.formulas import air, breathing, foam, heat, hose_flow, moist_air
from solver.rules import day
from solver.rules.noting import derived
from solver.rules.record import HOTTEST


class Case:
    """One place where a rule is judged. All figures in SI; see each property."""

    def __init__(self, brief: Brief, materials: dict[str, Any], duty: Duty | None, state: str = "", end: str = "",
                 pumps: frozenset[str] = frozenset()):
        self.brief, self._materials = brief, materials
        self._pumps = pumps
        self._duty, self.state, self.end = duty, state, end
        self._memo: dict[str, tuple[Any, frozenset[str]]] = {}
        self._reads: set[str] = set()

    def __repr__(self) -> str:
        return f"Case({self.duty_name!r}, {self.state!r}, {self.end!r})"

    # --- reading and noting -------------------------------------------------------------------------------------------
    def start_noting(self) -> None:
        """Forget what was read so far."""
        self._reads = set()

    @property
    def reads(self) -> frozenset[str]:
        """Ids of the requirements read since `start_noting`."""
        return frozenset(self._reads)

    def note(self, *names: str) -> None:
        """Note that these requirements were read."""
        self._reads |= set(names)

    @property
    def duty(self) -> Duty:
        """The duty; an error where the rule applies once for the rig."""
        if self._duty is None:
            raise InternalError("a rule that applies once asked for a duty")
        return self._duty

    @property
    def duty_or_none(self) -> Duty | None:
        """The duty, or None where the rule applies once for the rig."""
        return self._duty

    @property
    def duty_name(self) -> str:
        """Name of the duty, or ""."""
        return self._duty.name if self._duty is not None else ""

    def of_duty(self, name: str) -> float:
        """A requirement of the duty, noted."""
        self._reads.add(name)
        return float(getattr(self.duty, name))

    def margin(self, name: str) -> float:
        """A margin of the brief, noted."""
        self._reads.add(name)
        return float(getattr(self.brief.margins, name))

    def limit(self, name: str) -> float:
        """A limit of the brief, noted; infinite where none is set."""
        self._reads.add(name)
        found = getattr(self.brief.limits, name)
        return float("inf") if found is None else float(found)

    def has_limit(self, name: str) -> bool:
        """Whether the brief sets this limit."""
        return getattr(self.brief.limits, name) is not None

    # --- material -----------------------------------------------------------------------------------------------------
    @property
    def material(self) -> Any:
        """The catalog's record of the material that the duty sprays."""
        return self._materials[self.duty.material or self.brief.materials[0].material]

    @property
    def materials_aboard(self) -> Iterable[tuple[Any, int]]:
        """Every material aboard with its number of sets."""
        self.note("sets")
        return tuple((self._materials[m.material], m.sets) for m in self.brief.materials)

    @derived
    def sets_of_material(self) -> float:
        """Sets aboard of the material that the duty sprays."""
        self.note("sets")
        return float(sum(m.sets for m in self.brief.materials if m.material == self.material.id))

    @derived
    def material_weight(self) -> float:
        """Gross weight of all full drums aboard [kg]."""
        return float(sum(item.weight * sets for item, sets in self.materials_aboard))

    @derived
    def material_price(self) -> float:
        """Price of the first material aboard [USD]."""
        return float(sum(item.price * sets for item, sets in self.materials_aboard))

    @derived
    def drum_capacity(self) -> float:
        """Heat capacity of all liquid aboard [J/K]."""
        return float(
            sum(
                sets * (item.net_mass_a * item.heat_capacity_a + item.net_mass_b * item.heat_capacity_b)
                for item, sets in self.materials_aboard
            )
        )

    @derived
    def set_mass(self) -> float:
        """Liquid in one set of the duty's material [kg]."""
        return float(self.material.net_mass_a + self.material.net_mass_b)

    # --- flow ---------------------------------------------------------------------------------------------------------
    @derived
    def output(self) -> float:
        """Mass flow while the gun is open, both sides [kg/s]."""
        self.note("output")
        if self.duty.output is not None:
            return float(self.duty.output)
        return float(
            foam.output_for_board_feet(
                self.duty.board_feet_a_day or 0.0,
                self.material.foam_density,
                self.material.field_yield,
                self.of_duty("spraying_time"),
                self.margin("trigger_share"),
            )
        )

    @derived
    def side_flow(self) -> float:
        """Volume flow of each side [m3/s]."""
        return float(hose_flow.side_flow(self.output, self.material.density_a, self.material.density_b))

    @derived
    def heat_capacity(self) -> float:
        """Heat capacity of the mixed flow [J/(kg K)], weighted by the masses at 1:1 volume."""
        m = self.material
        return float(heat.mean_heat_capacity(m.density_a, m.heat_capacity_a, m.density_b, m.heat_capacity_b))

    @derived
    def material_used(self) -> float:
        """Liquid sprayed in the day [kg]."""
        return float(foam.material_mass(self.output, self.of_duty("spraying_time"), self.margin("trigger_share")))

    @derived
    def sets_used(self) -> float:
        """Sets opened in the day, whole drums."""
        used = self.material_used / self.set_mass
        return float(-(-used // 1))

    def viscosity(self, side: str, temperature: float) -> float:
        """Viscosity of side "a" or "b" at a temperature [Pa s]."""
        points = getattr(self.material, f"viscosity_{side}")
        return float(
            hose_flow.viscosity(temperature, [p.temperature for p in points], [p.viscosity for p in points])
        )

    # --- air ----------------------------------------------------------------------------------------------------------
    @derived
    def air_pressure(self) -> float:
        """Pressure of the atmosphere at the site [Pa]."""
        return float(air.atmosphere_pressure(self.of_duty("altitude")))

    @derived
    def air_temperature(self) -> float:
        """Outdoor air at this end of the day [K]; in the overnight state the night's air."""
        if self.state == "overnight":
            return self.of_duty("overnight_air")
        return self.of_duty("coldest_air" if self.end != HOTTEST else "hottest_air")

    @derived
    def body_temperature(self) -> float:
        """Air inside the body while working [K]: never below its floor in the cold, at its ceiling in the heat."""
        if self.end == HOTTEST:
            return max(self.margin("body_ceiling"), self.of_duty("hottest_air"))
        return max(self.margin("body_floor"), self.of_duty("coldest_air"))

    @derived
    def outdoor_air_density(self) -> float:
        """Density of outdoor air [kg/m3]."""
        return float(air.air_density(self.air_pressure, self.air_temperature, self.of_duty("humidity")))

    @derived
    def body_humidity(self) -> float:
        """Relative humidity of the air that the compressor draws inside the body: the outdoor moisture, warmed.

        In the heat the body is at its ceiling with the moisture of the hottest outdoor air; at most 1.
        """
        vapour = self.of_duty("humidity") * moist_air.saturation_pressure(self.air_temperature)
        return min(1.0, float(vapour / moist_air.saturation_pressure(self.body_temperature)))

    @derived
    def respirator_flow(self) -> float:
        """Air that regulation asks for each respirator [standard m3/s]."""
        return float(breathing.respirator_flow(self.brief.crew.respirator))

    @derived
    def respirators(self) -> float:
        """Respirators in use at once."""
        self.note("respirators")
        crew = self.brief.crew
        if crew.respirators is not None:
            return float(crew.respirators)
        return self.people

    @derived
    def people(self) -> float:
        """People in the crew."""
        self.note("sprayers", "helpers", "trimmers")
        crew = self.brief.crew
        return float(crew.sprayers + crew.helpers + crew.trimmers)

    # --- heat ---------------------------------------------------------------------------------------------------------
    @derived
    def hose_temperature(self) -> float:
        """Coldest temperature that the hose heat guarantees [K]: spray temperature less the allowed sag."""
        return float(self.material.spray_temperature) - self.margin("hose_margin")

    @derived
    def hose_start(self) -> float:
        """Temperature of the hose when it is switched on [K]: the night's, outside or as the body coasted to."""
        if self.duty.hose_inside and self.duty.keep_warm is not None:
            return float(self.duty.keep_warm)
        return self.of_duty("overnight_air")

    @derived
    def flow_rise(self) -> float:
        """Temperature rise from a drum at body temperature to spray temperature [K]."""
        return max(0.0, float(self.material.spray_temperature) - self.body_temperature)

    @derived
    def flow_heat(self) -> float:
        """Heat into the flow from body temperature to spray temperature [W]."""
        return float(heat.flow_heat(self.output, self.heat_capacity, self.flow_rise))

    @derived
    def set_heat_capacity(self) -> float:
        """Heat capacity of the liquid in a set, by the masses in its drums [J/(kg K)]."""
        m = self.material
        return float(heat.mean_heat_capacity(m.net_mass_a, m.heat_capacity_a, m.net_mass_b, m.heat_capacity_b))

    @derived
    def sets_opened(self) -> float:
        """Sets opened in the day that stood in the rig at night; what is brought during the day comes warm."""
        return min(self.sets_used, self.sets_of_material)

    @derived
    def mass_opened(self) -> float:
        """Liquid in these sets [kg]."""
        return self.sets_opened * self.set_mass

    @derived
    def storage_temperature(self) -> float:
        """Coldest at which every material aboard may be stored [K]."""
        return max(float(item.storage_temperature) for item, _ in self.materials_aboard)

    @derived
    def night_air_density(self) -> float:
        """Density of the air around the rig at night [kg/m3]."""
        return float(air.air_density(self.air_pressure, self.of_duty("overnight_air"), self.of_duty("humidity")))

    # --- the day ------------------------------------------------------------------------------------------------------
    def share(self, load: str, phase: str = "") -> float:
        """Share at which a load of the day's table runs in a phase (in this state where none is named)."""
        share = day.share_of(load, self.brief.interlocks, phase or self.state, self.end)
        return self.margin(share) if isinstance(share, str) else share

    def average(self, load: str) -> float:
        """Mean share of a load over the time that it runs: open time of the gun, running share of the compressor."""
        average = day.DAY[load].average
        return self.margin(average) if isinstance(average, str) else average

    def heating_time(self, load: str) -> float:
        """How long a load heats in warm-up [s]: each half counts with its share."""
        half = 0.5 * self.of_duty("warm_up_time")
        return half * sum(self.share(load, phase) for phase in day.WARM_UP_PHASES)

    # --- ownership ----------------------------------------------------------------------------------------------------
    def owned_in(self, slot: str, item_class: str) -> frozenset[str]:
        """Items of the owner's that fill this slot; one owned feed pump fills side A, a second side B."""
        if item_class == "feed_pump":
            pumps = [item for item in self.brief.owned if item in self._pumps]
            return frozenset(pumps[:1] if slot == "feed_pump_a" else pumps[1:2])
        return frozenset(self.brief.owned)

    def paid(self, options: Any) -> Any:
        """Price of an option as the owner pays it: nothing for what is owned [USD]."""
        slot = options.slot
        return options.price * (1.0 - options.among(self.owned_in(slot.name, slot.item_class)))
