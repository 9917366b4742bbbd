"""Who takes compressed air, and how much: once, for every rule on flow, receivers and energy.

Contents: `AirUser`, `USERS`; terms of average flow (`average_terms`) and of the flow while all draw at once
(`peak_terms`).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any

from solver.formulas.receivers import receiver_flow_volume
from solver.formulas.standard_air import STANDARD_PRESSURE
from solver.rules.case import Case
from solver.rules.record import CLEANING, Term, TermFunction, need


@dataclass(frozen=True)
class AirUser:
    """One user: its row in the day's table, the slot whose option takes the air, its flow while it draws [m3/s]."""

    row: str
    slot: str
    what: str
    flow: TermFunction


def _feed_air(o: Any, c: Case) -> Any:
    return o.air_per_flow * c.side_flow


USERS: tuple[AirUser, ...] = (
    AirUser("gun_air", "gun", "purge air of the gun", lambda o, c: o.purge_air),
    AirUser("blow_gun", "gun", "air of the blow gun", lambda o, c: o.cleaning_air),
    AirUser("feed_air", "feed_pump_a", "air of feed pump A", _feed_air),
    AirUser("feed_air", "feed_pump_b", "air of feed pump B", _feed_air),
    AirUser("drive_air", "proportioner", "air that drives the proportioner", lambda o, c: o.air_per_output * c.output),
    AirUser("drum_mixer", "drum_mixer", "air of the drum mixer", lambda o, c: o.air_flow),
    AirUser("breathing_air", "breathing_air", "air of the respirators",
            lambda o, c: o.air_per_respirator * c.respirators),
    AirUser("air_dryer", "air_dryer", "purge of the air dryer", lambda o, c: o.purge_share * o.rated_flow),
)  # fmt: skip
"""Every user. Flows are standard flows."""


def _taken(c: Case) -> tuple[AirUser, ...]:
    return tuple(user for user in USERS if c.share(user.row) > 0.0)


@cache
def _average_term(user: AirUser) -> Term:
    def term(o: Any, c: Case) -> Any:
        return c.share(user.row) * c.average(user.row) * user.flow(o, c)

    return need(user.slot, user.what, term)


def average_terms(c: Case) -> tuple[Term, ...]:
    """Average flow of every user in the state of the case [m3/s]."""
    return tuple(_average_term(user) for user in _taken(c))


def peak_duration(c: Case) -> float:
    """How long the peak lasts in the state of the case [s]: the blow gun's in cleaning, that of all users otherwise."""
    return c.margin("blow_time" if c.state == CLEANING else "peak_time")


def volume_of(c: Case, flow: Any) -> Any:
    """Receiver volume that a standard flow takes up in a peak [m3]."""
    return receiver_flow_volume(peak_duration(c), flow, STANDARD_PRESSURE, c.margin("pressure_band"))


@cache
def _peak_term(user: AirUser) -> Term:
    return need(user.slot, user.what, lambda o, c: volume_of(c, user.flow(o, c)))


def peak_terms(c: Case) -> tuple[Term, ...]:
    """Receiver volume of every user while all of the state draw at once [m3]."""
    return tuple(_peak_term(user) for user in _taken(c))
