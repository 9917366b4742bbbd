"""Values of a what-if from text: ranges, lists, units; and what is said of those that are none."""

from __future__ import annotations

import pytest

from solver.answers.whatif_values import axis_of, figure_of
from solver.errors import EntryError
from solver.quantities import parse
from tests.demo.demo import brief

FEET = "expected a length such as 50 ft."


@pytest.mark.parametrize(
    ("text", "figures"),
    [
        ("duty.hose_reach=100ft:300ft:50ft", ["100 ft", "150 ft", "200 ft", "250 ft", "300 ft"]),
        ("duty.hose_reach=100 ft:210 ft:50 ft", ["100 ft", "150 ft", "200 ft"]),
        ("duty.hose_reach=30m:50m:10m", ["98.425197 ft", "131.233596 ft", "164.041995 ft"]),
        ("limits.budget=60000USD,80000 USD", ["60,000 USD", "80,000 USD"]),
        ("limits.budget=$60000:$70000:$5000", ["60,000 USD", "65,000 USD", "70,000 USD"]),
        ("duty.coldest_air=30degF:40degF:5degF", ["30 degF", "35 degF", "40 degF"]),
        ("duty.coldest_air=0degC:10degC:5delta_degC", ["32 degF", "41 degF", "50 degF"]),
        ("margins.air_share=50%:60%:5%", ["50 %", "55 %", "60 %"]),
        ("margins.air_share=0.5,0.6", ["50 %", "60 %"]),
        ("margins.hose_margin=2delta_degF:6delta_degF:2delta_degF", ["2 delta_degF", "4 delta_degF", "6 delta_degF"]),
        ("crew.helpers=1:3:1", ["1", "2", "3"]),
        ("winter houses.altitude=0ft:1km:1000ft", ["0 ft", "1,000 ft", "2,000 ft", "3,000 ft"]),
    ],
)
def test_values(text, figures):
    axis = axis_of(text, brief("humid_coast"))
    assert [figure_of(axis.requirement, value) for value in axis.values] == figures


def test_a_stepped_value_is_the_one_that_would_be_typed():
    axis = axis_of("duty.hose_reach=100ft:300ft:10ft", brief("humid_coast"))
    assert axis.values == tuple(parse(f"{feet} ft", "length") for feet in range(100, 301, 10))
    axis = axis_of("duty.coldest_air=-5degF:60degF:5degF", brief("humid_coast"))
    assert axis.values == tuple(parse(f"{figure} degF", "temperature") for figure in range(-5, 61, 5))


def test_one_duty_or_all():
    assert axis_of("duty.altitude=0ft", brief("humid_coast")).duties == ("summer warehouse", "winter houses")
    assert axis_of("winter houses.altitude=0ft", brief("humid_coast")).duties == ("winter houses",)
    assert axis_of("budget=100000USD", brief("humid_coast")).duties == ()


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("duty.hose_reach=12 psi", f'found "12 psi", a pressure; {FEET}'),
        ("duty.hose_reach=1,200 ft", f'found "1", without a unit; {FEET} Try: a unit at each value, and no comma inside of '
                                     "a figure: 1200ft,1500ft"),
        ("duty.hose_reach=100:300ft:50ft", f'found "100", without a unit; {FEET} Try: 100 ft'),
        ("duty.hose_reach=100ft:300ft", 'found "duty.hose_reach=100ft:300ft"; expected a range of three figures, '
                                        "FROM:TO:STEP. Try: duty.hose_reach=25ft:45ft:5ft"),
        ("duty.hose_reach", 'found "duty.hose_reach"; expected PATH=FROM:TO:STEP or PATH=VALUE,VALUE. Try: '
                            "duty.hose_reach=100ft:300ft:50ft"),
        ("duty.hose_reach=300ft:100ft:50ft", 'found the range "duty.hose_reach=300ft:100ft:50ft"; expected first the lower '
                                             "end, then the higher one."),
        ("duty.hose_reach=100ft:300ft:0ft", 'found the step "0ft" in "duty.hose_reach=100ft:300ft:0ft"; expected a step '
                                            "above zero."),
        ("duty.hose_reach=1ft:10000ft:1in", 'found 119,989 values in "duty.hose_reach=1ft:10000ft:1in"; expected at most '
                                            "10,000. Try: a larger step"),
        ("duty.hose_reach=100ft,100ft", 'found 100 ft a second time in "duty.hose_reach"; expected each value once.'),
        ("crew.helpers=1.5", 'found "1.5"; expected a whole number for helpers. Try: 2'),
        ("duty.coldest_air=30degF:50degF:5", 'found "5", without a unit; expected a temperature difference such as 2 '
                                             "delta_degF. Try: 5 delta_degF"),
        ("hose_reech=1ft", 'found "hose_reech"; expected a requirement of the brief, such as duty.hose_reach or '
                           "limits.budget. Try: hose_reach"),
    ],
)  # fmt: skip
def test_what_is_no_value(text, sentence):
    with pytest.raises(EntryError) as caught:
        axis_of(text, brief("humid_coast"))
    assert str(caught.value) == sentence
