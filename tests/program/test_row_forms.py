"""Every row form against a direct evaluator on random rigs: max, any, if, hypot."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from solver.program.compile import NOISE
from solver.rules.balance import RESOLUTION, Balance, balance_of, chosen
from solver.rules.instances import Place
from tests.demo.demo import asked
from tests.program.toy import SAFE, direct, toy


def rigs(found, rng, count=40):
    """Random rigs of a toy problem."""
    sizes = {name: len(table) for name, table in found.setting.slots.items()}
    for _ in range(count):
        yield {name: int(rng.integers(size)) for name, size in sizes.items()}


def integer_fit(found, rig):
    """Which rules the integer rows keep."""
    columns = np.array([start + j for start, j in zip(found.program.offsets[:-1].tolist(), rig.values(), strict=True)])
    kept = found.program.rows[:, columns].sum(axis=1) <= found.program.rhs
    return {
        rule: all(k for k, group in zip(kept, found.program.groups, strict=True) if group == rule)
        for rule in dict.fromkeys(found.program.groups)
    }


@pytest.mark.parametrize("seed", range(60))
def test_rows_equal_the_direct_evaluator(seed):
    found = toy(seed)
    steps = {i.rule.id: RESOLUTION[i.rule.unit] for i in found.instances}
    scale = {"SUM": 1.0, "PEAK": 1.0, "PROV": 1.0, "GUARD": 0.45359237, "LEG": 1000.0, "KVA": 1000.0}
    for rig in rigs(found, np.random.default_rng(seed)):
        fits, margins = integer_fit(found, rig), direct(found, rig)
        for rule, margin in margins.items():
            room = margin / scale[rule]
            slop = 2 * len(found.setting.slots) * steps[rule]
            if rule == "KVA":
                kva = found.setting.slots["source"].one(rig["source"]).kva / 1000
                assert not fits[rule] or room >= 0, (rule, rig)
                assert fits[rule] or room < (1 - SAFE) * kva + slop, (rule, rig)
            else:
                assert not fits[rule] or room >= -1e-9, (rule, rig)
                assert fits[rule] or room < slop, (rule, rig)


@pytest.mark.parametrize("seed", range(60))
def test_an_integer_fit_means_no_negative_margin(seed):
    found = toy(seed)
    for rig in rigs(found, np.random.default_rng(1000 + seed)):
        options = chosen(found.setting, rig)
        fits = integer_fit(found, rig)
        for instance in found.instances:
            balance = balance_of(found.setting, instance, options)
            if fits[instance.rule.id]:
                assert balance.holds and (not balance.applies or balance.margin >= 0.0)


def test_the_toy_trips_and_keeps_every_form():
    """Both outcomes of every rule are met, so the two tests above cannot pass for want of cases."""
    seen = set()
    for seed in range(60):
        found = toy(seed)
        for rig in itertools.islice(rigs(found, np.random.default_rng(seed)), 40):
            seen |= set(integer_fit(found, rig).items())
    assert seen == {(rule, kept) for rule in ("SUM", "PEAK", "PROV", "GUARD", "LEG", "KVA") for kept in (True, False)}


def test_what_all_slots_are_forgiven_is_forgiven_the_sum():
    """Figures a little above a step, in every slot and on both sides: a rig that keeps the row passes the re-check."""
    slots = len(asked("first_rig").program.offsets) - 1
    assert 2 * (slots + 1) * NOISE < 1e-5
    balance = Balance(Place("MONEY-01"), "USD", 10.0 + 0.01 * 2 * (slots + 1) * NOISE, 10.0)
    assert balance.margin == 0.0 and balance.holds
