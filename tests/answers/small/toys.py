"""Random toy worlds: a real brief with two duties, four slots, and rows that follow the brief's figures in whole numbers.

Contents: `World` (rules, rows and costs under any brief; trying every rig), `tight` (one that may have no rig), `ToyAsked` (a
question about one), `joined` (sets them in place of the rules, of laying and of compiling), `SHORT` (the requirements, on
short grids), `RULES`, `changed`.

Every rule is one row a duty, or one row in all. A row reads some requirements: raising one by its resolution changes each
option's entry by a slope and the right-hand side by a drift, of the signs that the rule declares; or it goes up and down in
waves where the rule declares neither. Two rules come into play at a figure only, and one has no value from some figure on.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass, replace
from types import SimpleNamespace

import numpy as np

from solver.answers import ask as ask_module
from solver.answers import beside, clashes, curve, reasons, repairs, steps, steps_rows
from solver.answers.ask import Asked
from solver.answers.facts import Line
from solver.brief.requirements import REQUIREMENTS, si, value_of, with_value
from solver.errors import EntryError, OutsideRange
from solver.options.slots import Slot
from solver.options.table import NONE, SlotOptions
from solver.program.matrix import Program
from solver.program.objectives import FUEL_RULE
from solver.quantities import to_unit
from solver.rules.instances import Place
from solver.rules.record import Basis, Effect
from solver.search import engine
from tests.answers.small.world import brief

DUTIES = ("attics", "porches")
EASES, TIGHTENS, BOTH = Effect.EASES, Effect.TIGHTENS, Effect.BOTH


def _short(name, least, most, **more):
    return replace(REQUIREMENTS[name], least=least, most=most, **more)


SHORT = {
    record.id: record
    for record in (
        _short("output", 7.5, 13.0),
        _short("warm_up_time", 0.25, 2.5),
        _short("spraying_time", 1.0, 9.5),
        _short("shore_power", 0.0, 5.0),
        _short("sprayers", 1.0, 4.0),
        _short("sets", 1.0, 4.0),
        _short("outlets", 0.0, 5.0),
        _short("budget", 148_000.0, 152_000.0, resolution=125.0),
        _short("voltage_dip", 10.0, 35.0),
        _short("altitude", 1200.0, 4200.0),
    )
}
"""Short grids on which both duties have a few values on either side; the day ends before the last spraying times."""


def rule(name, effects, duties=True, waves=(), since=None, ends=None, basis=Basis.PRACTICE, background=False):
    """A toy rule: what it reads with the effects, whether in each duty; what moves it in waves; from which figure on
    (requirement, level) it applies, and beyond which it has no value."""
    scope = SimpleNamespace(duties=duties)
    return SimpleNamespace(id=name, effects=effects, scope=scope, waves=waves, since=since, ends=ends, basis=basis,
                           background=background)  # fmt: skip


RULES = {
    one.id: one
    for one in (
        rule("TOY-00", {}, duties=False, background=True),
        rule("TOY-01", {"output": TIGHTENS, "warm_up_time": EASES}, basis=Basis.PHYSICS),
        rule("TOY-02", {"output": TIGHTENS, "spraying_time": BOTH}, waves=("spraying_time",), basis=Basis.RATING),
        rule("TOY-03", {"budget": EASES}, duties=False, basis=Basis.BRIEF),
        rule("TOY-04", {"outlets": TIGHTENS, "sprayers": TIGHTENS, "respirators": EASES}, duties=False),
        rule("TOY-05", {"shore_power": EASES, "altitude": TIGHTENS}, ends=("altitude", 26), basis=Basis.RATING),
        rule("TOY-06", {"output": TIGHTENS}, since=("output", 30), basis=Basis.REGULATION),
        rule("TOY-07", {"output": TIGHTENS, "voltage_dip": EASES}, duties=False, basis=Basis.PHYSICS),
        rule("TOY-08", {"sets": BOTH}, duties=False, waves=("sets",), basis=Basis.BRIEF),
        rule(FUEL_RULE, {"output": TIGHTENS, "warm_up_time": EASES}, basis=Basis.RATING),
        rule("TOY-09", {"spraying_time": BOTH}, waves=("spraying_time",), since=("spraying_time", 25)),
    )
}


_KEPT = {}
"""Changed briefs and figures, the same in all worlds: by the brief and what is asked of it. The briefs are kept with them."""


def _valued(of, record, value, duties=None):
    """The brief with one requirement at a value in SI, worked out once."""
    key = id(of), record.id, value, duties
    if key not in _KEPT:
        try:
            _KEPT[key] = of, with_value(of, record, value, duties)
        except EntryError as error:
            _KEPT[key] = of, error
    found = _KEPT[key][1]
    if isinstance(found, EntryError):
        raise found
    return found


def level(of, name, duty):
    """A figure of a brief in steps of its resolution; of a rule that is not about one duty the larger of the duties'."""
    key = id(of), name, duty
    if key not in _KEPT:
        _KEPT[key] = of, _level(of, name, duty)
    return _KEPT[key][1]


def _level(of, name, duty):
    record = SHORT.get(name)
    if record is None:
        return 0
    names = [duty] if duty else [each.name for each in of.duties] if record.duty else [None]
    values = [value_of(of, record, each) for each in names]
    return max(round((float(to_unit(value, record.unit)) - record.least) / record.resolution) for value in values)


def changed(of, record, value, duties=()):
    """The brief with one requirement at a value in some duties; None where a brief cannot say so."""
    try:
        return _valued(of, record, si(record, value), duties or None)
    except EntryError:
        return None


@dataclass(frozen=True, eq=False)
class ToySetting:
    """The slots and a brief."""

    world: World
    brief: object
    slots: dict

    def under(self, other):
        """The same slots under another brief."""
        return replace(self, brief=other)


class ToyAsked(Asked):
    """A question about a toy world: with lines, and no balances to check again."""

    def line(self, slot, option):
        """What an option puts into a slot."""
        table = self.setting.slots[slot]
        return Line(slot, slot, table.items[option], "", table.choices[option], 1, 0.0, 0.0, False)

    def balances(self, rig):
        """None."""
        return ()


class World:
    """Slots, the rows of every rule in every duty, and costs, drawn by a seed."""

    def __init__(self, seed, by="price", slack=(0, 160)):
        """`slack`: ends of what each row leaves to some rig of the middle, in its own figures; below 0 that rig breaks it."""
        rng = np.random.default_rng(seed)
        self.by, self.brief = by, brief("attics")
        sizes = rng.integers(3, 5, 4).tolist()
        self.offsets = np.concatenate([[0], np.cumsum(sizes)]).astype(np.int64)
        self.slots = {f"slot {s}": _table(f"slot {s}", size) for s, size in enumerate(sizes)}
        n = int(self.offsets[-1])
        each = {"price": 1, "weight": 10, "yearly-cost": 10}
        self.costs = {name: rng.integers(1, 9, n).astype(np.int64) * size for name, size in each.items()}
        self.rigs = np.array(list(itertools.product(*itertools.starmap(range, itertools.pairwise(self.offsets.tolist())))))
        self.fuel = rng.integers(0, 4, (len(DUTIES), n))
        middle = self.rigs[int(rng.integers(len(self.rigs)))]
        self.parts, self.rows = {}, {}
        for one in RULES.values():
            for duty in DUTIES if one.scope.duties else ("",):
                part = SimpleNamespace(table=rng.integers(0, 100, n), slopes={}, drifts={}, limit=0)
                self.parts[one.id, duty] = part
                for name, effect in one.effects.items():
                    sign = {EASES: -1, TIGHTENS: 1, BOTH: 0}[effect]
                    slope = rng.integers(0, 3, n) * sign if sign else rng.integers(-4, 5, n)
                    part.slopes[name] = slope * 0 if one.id == "TOY-03" else slope
                    part.drifts[name] = int(-sign * rng.integers(0, 3) if sign else rng.integers(-3, 4))
                row, rhs = self.row(self.brief, one, duty)
                part.limit = int(row[middle].sum()) - rhs + int(rng.integers(*slack))
        self.rows = {}

    def row(self, of, one, duty):
        """Row and right-hand side of a rule under a brief."""
        return self._row(one, duty, tuple(level(of, name, duty) for name in one.effects))[:2]

    def _row(self, one, duty, levels):
        """Row, right-hand side and which rigs keep it, where what the rule reads is at these levels."""
        key = one.id, duty, levels
        if key in self.rows:
            return self.rows[key]
        part = self.parts[one.id, duty]
        row, rhs = part.table.astype(np.int64), part.limit
        for name, at in zip(one.effects, levels, strict=True):
            if one.ends is not None and one.ends[0] == name and at > one.ends[1]:
                raise OutsideRange("a toy", float(at), "1", 0.0, float(one.ends[1]))
            at = abs((3 * at + 5) % 20 - 10) if name in one.waves else at
            row, rhs = row + at * part.slopes[name], rhs + at * part.drifts[name]
        self.rows[key] = row, rhs, row[self.rigs].sum(axis=1) <= rhs
        return self.rows[key]

    def instances(self, of, only=None):
        """Instances of all rules (or one) under a brief, in their order."""
        found = []
        for one in RULES.values() if only is None else (only,):
            names = [duty.name for duty in of.duties] if one.scope.duties else [""]
            names = [duty for duty in names if one.since is None or level(of, one.since[0], duty) >= one.since[1]]
            found += [SimpleNamespace(rule=one, place=Place(one.id, duty), reads=frozenset(one.effects)) for duty in names]
        return tuple(found)

    def compiled(self, setting, instances):
        """Rows, right-hand sides and reads."""
        return [(*self.row(setting.brief, i.rule, i.place.duty), frozenset(i.reads)) for i in instances]

    def yearly(self, setting, fuel):
        """Yearly cost of each option; the second duty's fuel counts otherwise than the first's."""
        rates = [(1 + k) * level(setting.brief, "output", i.place.duty) * self.fuel[k] for k, i in enumerate(fuel)]
        return np.sum([self.costs["yearly-cost"], *rates], axis=0).astype(np.int64)

    def asked(self, of=None):
        """The whole question under a brief."""
        setting = ToySetting(self, of if of is not None else self.brief, self.slots)
        instances = self.instances(setting.brief)
        rows, rhs, reads = zip(*self.compiled(setting, instances), strict=True)
        fuel = [i for i in instances if i.rule.id == FUEL_RULE]
        found = ToyAsked(None, setting.brief, setting, instances, self.by)
        costs = found.__dict__["costs"] = {**self.costs, "yearly-cost": self.yearly(setting, fuel)}
        groups = tuple(i.rule.id for i in instances)
        background = frozenset(one.id for one in RULES.values() if one.background)
        found.__dict__["program"] = Program(np.array(rows), np.array(rhs, np.int64), self.offsets, costs,
                                            tuple(i.place for i in instances), groups, background, reads)  # fmt: skip
        return found

    def laying(self, duties):
        """Lays rules over changed briefs, in some duties."""

        def laid(one, setting, cases, known):
            for instance in self.instances(setting.brief, one):
                away = duties is not None and one.scope.duties and instance.place.duty not in duties
                if instance.place not in known and not away:
                    yield instance

        return SimpleNamespace(instances=laid)

    def rig_told(self, lines):
        """Columns of a rig from its lines; a slot without one is empty."""
        held = {line.slot: (line.item, line.choice) for line in lines}
        found = []
        for (slot, table), start in zip(self.slots.items(), self.offsets, strict=False):
            ways = [None if item == NONE else (item, choice) for item, choice in zip(table.items, table.choices, strict=True)]
            found.append(int(start) + ways.index(held.get(slot)))
        return np.array(found)

    # --- trying every rig ---------------------------------------------------------------------------------------------
    def fitting(self, of):
        """Columns of every rig that fits under a brief, and what each costs."""
        instances, kept = self.instances(of), np.ones(len(self.rigs), bool)
        for instance in instances:
            rule, duty = instance.rule, instance.place.duty
            kept &= self._row(rule, duty, tuple(level(of, name, duty) for name in rule.effects))[2]
        good = self.rigs[kept]
        fuel = [i for i in instances if i.rule.id == FUEL_RULE]
        cost = self.yearly(ToySetting(self, of, self.slots), fuel) if self.by == "yearly-cost" else self.costs[self.by]
        return good, cost[good].sum(axis=1)

    def least(self, of):
        """Least cost under a brief; infinite where no rig fits, None where a brief cannot say so or a formula ends."""
        if of is None:
            return None
        try:
            costs = self.fitting(of)[1]
        except OutsideRange:
            return None
        return int(costs.min()) if len(costs) else float("inf")


def tight(seed):
    """A world that may have no rig."""
    return World(seed, slack=(-60, 120))


def _table(name, size):
    """Options of a slot: two ways of each item, the last one empty."""
    items = (*(f"{name} item {j // 2}" for j in range(size - 1)), NONE)
    choices = tuple("ab"[j % 2] for j in range(size))
    return SlotOptions(Slot(name, name, True), items, items, choices, (1,) * size, {}, {}, {})


def joined(patch):
    """The toy world in place of the rules and of what lays and compiles them; one process."""
    for module in (ask_module, clashes, reasons, repairs, steps_rows):
        patch.setattr(module, "RULES", RULES)
    for module in (repairs, steps):
        patch.setattr(module, "REQUIREMENTS", SHORT)
    patch.setattr(steps_rows, "with_value", _valued)
    patch.setattr(beside, "_of_use", lambda: False)
    patch.setattr(engine._Room, "directly", True)
    patch.setattr(steps_rows, "Laying", lambda asked, moved, duties: asked.setting.world.laying(duties))
    patch.setattr(steps_rows, "compile_moved", lambda asked, setting, some, _: asked.setting.world.compiled(setting, some))
    patch.setattr(steps_rows, "objective_columns", lambda setting, fuel: {setting.world.by: (setting, fuel)})
    patch.setattr(steps_rows, "cost_rows", lambda setting, of: {by: setting.world.yearly(*one) for by, one in of.items()})
    for module in (repairs, steps_rows):
        patch.setattr(module, "changed_brief", lambda asked, of, moved, duties=None: asked.setting.world.asked(of))
    patch.setattr(repairs, "declined", lambda asked, duty: asked.setting.world.asked(asked.brief.without_duty(duty)))
    patch.setattr(curve, "chosen", lambda setting, rig: rig)
