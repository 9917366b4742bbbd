"""The usual cautions, each shown where the figures give cause for it.

Contents: `Caution` (id and text), `Shown` (what an answer shows), `CAUTIONS` (every caution with its condition),
`cautions`.

The tool sizes; it never certifies. What regulations say is named, and deferred to; so are local code, the authority
having jurisdiction, licensed practice, and the data sheets of the actual equipment and material.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from solver.brief.models import Brief
from solver.formulas.vehicle_classes import Licence, licence_needed
from solver.options.table import OneOption
from solver.rules.balance import Balance
from solver.rules.record import RULES, Basis


@dataclass(frozen=True)
class Caution:
    """One caution, ready to be printed."""

    id: str
    text: str


@dataclass(frozen=True)
class Shown:
    """What an answer shows: the brief, the chosen options (None where no rig fits), the balances."""

    brief: Brief
    options: Mapping[str, OneOption] | None
    balances: tuple[Balance, ...]

    def figure(self, slot: str, name: str) -> float:
        """A figure of the chosen option of a slot; 0 where there is no rig or no such slot."""
        option = self.options.get(slot) if self.options is not None else None
        return float(getattr(option, name)) if option is not None else 0.0

    def word(self, slot: str, name: str, word: str) -> bool:
        """Whether the chosen option has this word in a field."""
        option = self.options.get(slot) if self.options is not None else None
        return option is not None and bool(option.is_(name, word) > 0.5)

    @property
    def rig(self) -> bool:
        """Whether a rig is shown."""
        return self.options is not None

    @property
    def trailer(self) -> bool:
        """Whether the rig is a trailer."""
        return self.word("vehicle", "kind", "trailer")

    @property
    def licence(self) -> Licence:
        """What the ratings ask of the driver."""
        own = self.figure("vehicle", "gvwr")
        towing = self.figure("tow_vehicle", "gvwr")
        return licence_needed(towing, own) if self.trailer else licence_needed(own, 0.0)


@dataclass(frozen=True)
class CautionRecord:
    """A caution and the condition under which it belongs to an answer."""

    id: str
    text: str
    when: Callable[[Shown], bool]


def _always(shown: Shown) -> bool:
    return True


def _rig(shown: Shown) -> bool:
    return shown.rig


def _regulated(shown: Shown) -> bool:
    """Whether the answer leans on a regulation; without a rig the conflict may."""
    return not shown.rig or any(RULES[balance.place.rule].basis is Basis.REGULATION for balance in shown.balances)


def _electric(shown: Shown) -> bool:
    supplied = any(duty.shore_power > 0.0 or duty.site_power > 0.0 for duty in shown.brief.duties)
    return shown.rig and (supplied or shown.figure("generator", "present") > 0.5)


def _burns(shown: Shown) -> bool:
    return shown.figure("generator", "present") > 0.5 or shown.word("body_heater", "kind", "fuel")


CAUTIONS: tuple[CautionRecord, ...] = (
    CautionRecord(
        "sizing-only",
        "The tool sizes; it never certifies. Local code, the authority having jurisdiction, licensed electricians "
        "and engineers, and the data sheets of the actual equipment and material come before every figure here.",
        _always,
    ),
    CautionRecord(
        "isocyanates",
        "Isocyanates can harm the lungs and the skin for life, and a person once sensitised reacts to traces. Near "
        "the spray wear supplied air (29 CFR 1910.134), gloves and coveralls; the ceiling for MDI is 0.02 ppm (29 "
        "CFR 1910.1000). Keep others out until the material's data sheet lets them in.",
        _always,
    ),
    CautionRecord(
        "material-data",
        "The material's own technical and safety data sheets decide on temperatures, pressures, passes, cure and "
        "storage.",
        _always,
    ),
    CautionRecord(
        "general-industry",
        "Most regulations named here are general-industry text (29 CFR 1910). Spray foam is construction work, so "
        "29 CFR 1926 may apply instead. Read the edition in force.",
        _regulated,
    ),
    CautionRecord(
        "breathing-panel",
        "Breathing air from the rig's compressor must be Grade D (29 CFR 1910.134(i)): tested, filtered, alarmed, "
        "with its inlet away from exhaust and spray.",
        lambda shown: shown.word("breathing_air", "kind", "compressor-panel"),
    ),
    CautionRecord(
        "high-pressure",
        "Liquid stands at well over 1,000 psi. A jet goes through skin; a small wound may need surgery at once. "
        "Take the pressure off before opening anything, and never feel for a leak by hand.",
        lambda shown: shown.figure("proportioner", "present") > 0.5,
    ),
    CautionRecord(
        "hot-hose",
        "Hose, whip and heaters run at spray temperature and burn. Never heat a hose that is coiled or kinked, and "
        "bleed it before parting a coupling.",
        lambda shown: shown.figure("hose", "present") > 0.5,
    ),
    CautionRecord(
        "mains-voltage",
        "Mains voltage kills. Panel, grounding, bonding, ground-fault protection and the changeover between "
        "generator, shore and site supply are a licensed electrician's work. The NEC leaves most vehicle wiring "
        "out, so its tables serve here as practice; the authority having jurisdiction decides.",
        _electric,
    ),
    CautionRecord(
        "carbon-monoxide",
        "Engines and fuel-fired heaters give off carbon monoxide (50 ppm over a day in 29 CFR 1910.1000; NIOSH 35 "
        "ppm, never above 200). Lead exhaust outside, away from doors and air inlets, put an alarm in the body, "
        "and never sleep or idle in a closed place.",
        _burns,
    ),
    CautionRecord(
        "overload",
        "Weights are sums of catalog figures. Loads on each axle, on the hitch and from side to side are not "
        "checked until there is a floor plan. Weigh the loaded rig, axle by axle and at the hitch, before its "
        "first trip.",
        _rig,
    ),
    CautionRecord(
        "securement",
        "Drums, machines and tanks must be held against 0.8 g forward and 0.5 g rearward and sideways (49 CFR "
        "393.102); the fit-out's anchors are not checked here.",
        _rig,
    ),
    CautionRecord(
        "hazardous-load",
        "Whether drums, fuel and solvent are a hazardous load stands in section 14 of their safety data sheets. "
        "The relief for materials of trade ends at 440 lb in all (49 CFR 173.6).",
        _rig,
    ),
    CautionRecord(
        "licence-commercial",
        "By its ratings this is a commercial motor vehicle: from 10,001 lb, alone or combined, 49 CFR 390 asks for "
        "a USDOT number, inspections and records. The current rule also compares actual weights; state law may "
        "differ.",
        lambda shown: shown.licence is not Licence.NONE,
    ),
    CautionRecord(
        "licence-group-b",
        "By its rating a vehicle of 26,001 lb or more needs a group B commercial licence (49 CFR 383.91).",
        lambda shown: shown.licence is Licence.GROUP_B,
    ),
    CautionRecord(
        "licence-group-a",
        "By its ratings a combination of 26,001 lb or more with a trailer over 10,000 lb needs a group A "
        "commercial licence (49 CFR 383.91).",
        lambda shown: shown.licence is Licence.GROUP_A,
    ),
)
"""Every caution, in the order in which they are shown."""


def cautions(
    brief: Brief, options: Mapping[str, OneOption] | None, balances: tuple[Balance, ...]
) -> tuple[Caution, ...]:
    """The cautions that belong to an answer: always some, more by what the rig holds.

    Parameters
    ----------
    brief : Brief
        What was asked.
    options : mapping of slot to OneOption, or None
        The rig shown; None where none fits.
    balances : tuple of Balance
        The balances shown.

    Returns
    -------
    tuple of Caution
        In the order of `CAUTIONS`.
    """
    shown = Shown(brief, options, balances)
    return tuple(Caution(record.id, record.text) for record in CAUTIONS if record.when(shown))
