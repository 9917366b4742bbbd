"""What every item of the catalog has, and how its class makes itself known.

Contents: `Record` (frozen, unknown keys forbidden), `Item`, the mixins `ElectricLoad` and `Motor`, `Order` and
`Finding` (figures that cannot go together), `item_classes` (all classes by name).

Add a class by adding one file in this folder: a subclass of `Item` with a `class_name`, whether a catalog must have it
(`required`), the fields with a docstring each, `orders` and `findings` for what cannot be. Nothing else is touched: the
files of this folder are imported when the first catalog is read, and each subclass with a `class_name` is entered.
"""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any, ClassVar, Literal, NamedTuple, get_args

from pydantic import BaseModel, ConfigDict, model_validator
from pydantic.fields import FieldInfo

from solver.catalog.fields import (
    Connections,
    Days,
    Hours,
    Identifier,
    Label,
    LengthOrNone,
    Mass,
    Money,
    MotorPower,
    Quantity,
    ShareAboveNone,
    TagList,
    Voltage,
    Weeks,
)
from solver.errors import EntryError, InternalError
from solver.quantities import show


class Finding(NamedTuple):
    """A figure that cannot stand beside another: at which field, what is found, expected and advised."""

    field: str
    found: str
    expected: str
    advice: str = ""


class Order(NamedTuple):
    """Two fields of one dimension of which the first may not be above the second (nor equal to it, if `strict`)."""

    lesser: str
    greater: str
    strict: bool = False

    def finding(self, values: Mapping[str, Any], shown: type[Record]) -> Finding | None:
        """What is wrong with the pair, if both are known and it is."""
        low, high = values.get(self.lesser), values.get(self.greater)
        if low is None or high is None or low < high or (low == high and not self.strict):
            return None
        word = "below" if self.strict else "at most"
        return Finding(
            self.lesser,
            f"{self.lesser} {shown.figure(self.lesser, low)}",
            f"{word} {self.greater}, which is {shown.figure(self.greater, high)}",
        )


class ImpossiblePairs(EntryError):  # noqa: N818 (named by what went wrong)
    """One or several findings about an item whose fields are right one by one."""

    def __init__(self, findings: tuple[Finding, ...]) -> None:
        self.findings = findings
        first = findings[0]
        super().__init__(first.found, first.expected, first.advice)


class Record(BaseModel):
    """A mapping of the catalog: frozen, with no other keys than its fields."""

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)

    orders: ClassVar[tuple[Order, ...]] = ()
    """Pairs of fields that have an order."""

    def findings(self) -> Iterator[Finding]:
        """Further things that cannot be, each as a finding."""
        return iter(())

    @model_validator(mode="after")
    def _possible(self) -> Any:
        wrong = [w for order in self.orders if (w := order.finding(self.__dict__, type(self)))]
        wrong.extend(self.findings())
        if wrong:
            raise ImpossiblePairs(tuple(wrong))
        return self

    @classmethod
    def quantity(cls, name: str) -> Quantity | None:
        """What is known of a field that holds a quantity."""
        info = cls.model_fields.get(name)
        return next((c for c in checks_of(info) if isinstance(c, Quantity)), None) if info else None

    @classmethod
    def figure(cls, name: str, value: Any) -> str:
        """A value of a field as a message shows it."""
        quantity = cls.quantity(name)
        return show(value, quantity.unit) if quantity else str(value)


def checks_of(info: FieldInfo) -> list[Any]:
    """The checks of a field, also those inside of an optional type."""
    inner = [m for part in get_args(info.annotation) for m in getattr(part, "__metadata__", ())]
    return [*info.metadata, *inner]


class Item(Record):
    """One thing that can be bought. Its class is a subclass with a `class_name`."""

    class_name: ClassVar[str] = ""
    """Name of the class, as in `class: compressor`."""
    required: ClassVar[bool] = False
    """Whether a catalog without items of this class is a mistake: its slot may not stay empty."""

    id: Identifier
    """Short name, unique in the whole catalog."""
    label: Label
    """What people call it."""
    price: Money
    """Price as bought."""
    weight: Mass
    """Weight as it is mounted, empty of fuel; material gross."""
    length: LengthOrNone
    """Length of its footprint; `0 ft` takes no floor."""
    width: LengthOrNone
    """Width of its footprint."""
    height: LengthOrNone
    """Height over the floor."""
    mounting: Literal["floor", "wall", "outside"]
    """Where it sits: on the floor, hung up (also in a rack or in a drum), or outside the body."""
    upkeep_time: Hours
    """Work to keep it up, in a year."""
    upkeep_cost: Money
    """Money to keep it up, in a year."""
    delivery: Weeks
    """Time until it is delivered."""
    parts: Days
    """Time until its spare parts arrive."""
    features: TagList = ()
    """Tags that a brief can ask for or leave out."""
    condition: Literal["new", "used"] = "new"
    """Bought new or used."""

    @classmethod
    def __pydantic_init_subclass__(cls, **kwargs: Any) -> None:
        super().__pydantic_init_subclass__(**kwargs)
        name = cls.__dict__.get("class_name")
        if name:
            if name in _CLASSES and _CLASSES[name].__qualname__ != cls.__qualname__:
                raise InternalError(f"two classes are called {name}")
            _CLASSES[name] = cls


class ElectricLoad(Record):
    """An item that may draw electricity."""

    connections: Connections
    """What it may be wired to: `120 V`, `240 V` (single-phase, made for 208 to 240 V), `3-phase` (likewise). With an
    empty list it draws no electricity."""
    rated_voltage: Voltage
    """Voltage at which its heaters have their rating; a motor ignores it."""


class Motor(Record):
    """An item with an electric motor."""

    motor_power: MotorPower
    """Shaft power of the largest motor; `0 hp` for none."""
    code_letter: Literal["A", "B", "C", "D", "E", "F", "G", "H", "J", "K", "L", "M", "N", "P", "R", "S", "T", "U", "V"]
    """Locked-rotor code letter: apparent power that the starting motor takes for its shaft power."""
    start_share: ShareAboveNone
    """Share of that apparent power left by its starter: 100 % across the line, 50 % with a soft starter."""


def wired_if(power: float, connections: tuple[str, ...], field: str, shown: str) -> Iterator[Finding]:
    """A load that draws power must be wired to something."""
    if power > 0.0 and not connections:
        yield Finding(
            "connections", f"no connections, with {field} {shown}", "at least one of 120 V, 240 V, 3-phase",
            "[240 V], or a power of nothing",
        )  # fmt: skip


_CLASSES: dict[str, type[Item]] = {}


@cache
def item_classes() -> Mapping[str, type[Item]]:
    """All classes by name, in alphabetical order. Imports every file of this folder."""
    package = importlib.import_module("solver.catalog")
    for module in pkgutil.iter_modules(package.__path__):
        importlib.import_module(f"solver.catalog.{module.name}")
    return {name: _CLASSES[name] for name in sorted(_CLASSES)}
