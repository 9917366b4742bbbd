"""The tree of errors: what each says, how mistakes are sorted, that all survive a trip between processes."""

from __future__ import annotations

import pickle
import re
import sys

import pytest

from solver import errors
from solver.errors import (
    CannotWrite,
    InputError,
    InternalError,
    Mistake,
    NotANumber,
    NotProven,
    OutputExists,
    OutsideRange,
    QuantityError,
    RigsetError,
    UnitForgotten,
    UnknownUnit,
    WrongDimension,
)


def test_a_mistake_says_where_what_was_found_expected_and_advised():
    assert str(Mistake("gun.yaml", 12, 'weight "12 ft"', "a mass", "12 lb")) == (
        'gun.yaml:12: found weight "12 ft"; expected a mass. Try: 12 lb'
    )
    assert str(Mistake("catalog", 0, "no YAML files", "files")) == "catalog: found no YAML files; expected files."


def test_mistakes_come_sorted_by_file_and_line_each_once():
    later = Mistake("b.yaml", 2, "x", "y")
    first = Mistake("a.yaml", 10, "x", "y")
    second = Mistake("b.yaml", 1, "x", "y")
    error = InputError([later, first, second, later])
    assert error.mistakes == (first, second, later)
    assert str(error).splitlines() == [str(first), str(second), str(later)]


@pytest.mark.parametrize(
    ("low", "high", "sentence"),
    [
        (-500.0, 11000.0, "altitude is 12000 m; the formula holds from -500 m to 11000 m"),
        (sys.float_info.min, sys.float_info.max, "altitude is 12000 m; the formula holds above 0 m"),
        (sys.float_info.min, 9.0, "altitude is 12000 m; the formula holds above 0 m to 9 m"),
        (20000.0, sys.float_info.max, "altitude is 12000 m; the formula holds from 20000 m up"),
    ],
)
def test_outside_range_names_quantity_value_unit_and_range(low, high, sentence):
    assert str(OutsideRange("altitude", 12000.0, "m", low, high)) == sentence


def test_a_pure_number_outside_its_range_has_no_unit():
    assert str(OutsideRange("share", 1.5, "-", 0.0, 1.0)) == "share is 1.5; the formula holds from 0 to 1"


def test_a_mistake_can_be_made_of_a_quantity_error():
    error = UnknownUnit('"12 lbz"', "a mass", "12 lb")
    assert error.at("a.yaml", 3, "weight") == Mistake("a.yaml", 3, 'weight "12 lbz"', "a mass", "12 lb")


@pytest.mark.parametrize("kind", [NotANumber, UnitForgotten, UnknownUnit, WrongDimension])
def test_quantity_errors_are_rigset_errors_and_value_errors(kind):
    error = kind("this", "that", "those")
    assert isinstance(error, QuantityError)
    assert isinstance(error, RigsetError)
    assert isinstance(error, ValueError)
    assert str(error) == "found this; expected that. Try: those"


@pytest.mark.parametrize(
    "error",
    [
        InputError([Mistake("a.yaml", 1, "x", "y", "z")]),
        OutsideRange("altitude", 1.0, "m", 2.0, 3.0),
        UnknownUnit("x", "y", "z"),
        OutputExists("out.html"),
        CannotWrite("out.html", "permission denied"),
        NotProven("the limit of work was reached"),
        InternalError("a row is missing"),
    ],
)
def test_errors_survive_pickling(error):
    again = pickle.loads(pickle.dumps(error))
    assert type(again) is type(error)
    assert str(again) == str(error)


def test_outputs_say_what_to_try():
    assert str(OutputExists("out.html")) == (
        "out.html exists already and was left as it is. Try: another name, or --force to replace it"
    )
    assert str(CannotWrite("a/out.html", "the folder is not there")) == (
        "a/out.html could not be written (the folder is not there). Nothing was written. Try: another folder"
    )


def test_the_tree_at_the_top_of_the_file_is_the_tree_of_the_classes():
    drawn = re.findall(r"^[│├└─ ]*([A-Z]\w+)", errors.__doc__, re.MULTILINE)[1:]
    classes = {
        name: kind for name, kind in vars(errors).items() if isinstance(kind, type) and issubclass(kind, RigsetError)
    }
    assert sorted(set(drawn)) == sorted(classes)
