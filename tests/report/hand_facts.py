"""Facts of completed and mended rigs written by hand, and the block of money that stands under each.

Contents: `COMPLETED`, `NONE`, `MENDED`, `MONEY`, `SHORT` and the lines they are made of; `line`, `told`, `MONEY_TEXT`.
"""

from __future__ import annotations

from dataclasses import replace

from solver.answers.complete import Completed, Way
from solver.answers.facts import Clash, Conflict, Line, MoneyFacts, Totals
from solver.answers.mend import Mended, Swap
from solver.rules.balance import Balance
from solver.rules.cautions import Caution
from solver.rules.instances import Place

LB = 0.45359237


def line(slot, item, label, choice="", price=0.0, pounds=0.0, owned=False, count=1):
    """A line of a rig, its class named like its slot."""
    return Line(slot, slot, item, label, choice, count, price, pounds * LB, owned)


GUN = line("gun", "gun-02", "Air-purge gun", "", 2000.0, 5.0)
OLD_SET = line("generator", "generator-02", "Set of 15 kW", "single-phase 120/240 V", 8000.0, 900.0)
NEW_SET = line("generator", "generator-05", "Set of 20 kW", "single-phase 120/240 V", 9400.0, 1200.0)
DRYER = line("air_dryer", "air-dryer-01", "Air dryer", "120 V, leg A", 700.0, 60.0)
NO_DRYER = line("air_dryer", "none", "none", count=0)
HOSE = line("hose", "hose-01", "Heated hose", "3 x 50 ft + whip", 4500.0, 300.0, count=3)
LONGER = line("hose", "hose-01", "Heated hose", "4 x 50 ft + whip", 5500.0, 380.0, count=4)
TRUCK = line("vehicle", "vehicle-05", "Truck of 14 ft", "", 0.0, 9000.0, owned=True)
MONEY = MoneyFacts(
    start_up=20000.0, equipment=17000.0, tax_and_freight=1000.0, training=2000.0, first_material=0.0, own_money=4000.0,
    loan=16000.0, loan_payment=332.14, loan_months=60, delivery_time=10 * 7 * 86400.0, cash_until_delivery=4664.28,
    yearly_cost=5000.0, fixed_yearly_cost=4000.0, fuel_a_year=1000.0, board_feet_a_year=100000.0, days_a_year=100.0,
    material_per_board_foot=0.5, labour_per_board_foot=0.2, fuel_per_board_foot=0.01, cost_per_board_foot=0.75,
    foam_price=1.11, contribution_per_board_foot=0.4, break_even_board_feet=10000.0, break_even_days=10.0,
    break_even_share=0.1,
)  # fmt: skip
SHORT = Balance(Place("HOSE-01", "roofs"), "ft", 210.0, 160.0)
CAUTION = Caution("sizing-only", "This sizes; it certifies nothing.")
COMPLETED = Completed(
    title="A rig in parts", by="price", status="found", proven=True, named=("gun",), total=Totals(17000.0, 4500.0, 5000.0),
    rig=(GUN, NEW_SET, TRUCK), added=(NEW_SET, TRUCK), added_price=9400.0, balances=(replace(SHORT, supply=211.5),),
    conflicts=(), against=(), any_rig=True, ways=(), more_ways=False, cautions=(CAUTION,), assumptions=(), waived=(),
    money=MONEY,
)  # fmt: skip
MENDED = Mended(
    title="A rig to mend", fewest=False, status="mended", proven=True, failures=(SHORT,),
    swaps=(Swap(HOSE, LONGER, 1000.0), Swap(OLD_SET, NEW_SET, 9400.0), Swap(DRYER, NO_DRYER, 0.0)), rewired=(),
    spending=10400.0, before=Totals(15000.0, 4300.0, 4600.0), total=Totals(17000.0, 4500.0, 5000.0), rig=(GUN, LONGER),
    balances=(), conflicts=(), cautions=(CAUTION,), assumptions=(), waived=(), money=MONEY,
)  # fmt: skip

NONE = replace(
    COMPLETED, status="none", total=None, money=None, rig=(), added=(), balances=(),
    conflicts=(Conflict((Clash("HOSE-01", SHORT), Clash("MONEY-01", None)), False),),
    ways=(Way(("generator", "hose"), (OLD_SET, HOSE), (NEW_SET, LONGER), Totals(17000.0, 4500.0, 0.0)),
          Way(("air_dryer",), (DRYER,), (NO_DRYER,), Totals(17500.0, 4500.0, 0.0))),
    more_ways=True,
)  # fmt: skip

MONEY_TEXT = """\
to start                                                   USD
-----------------------------------------------  -------------
equipment, vehicle, safety, tools, spares              $17,000
tax and freight                                         $1,000
training                                                $2,000
first material                                   not asked for
start-up total                                         $20,000
of it own money, the down payment                       $4,000
loan payment a month (60 months on $16,000)               $332
cash until delivery (last of it after 10 weeks)         $4,664

100 days, 100,000 board feet a year    USD a year  a board foot
-------------------------------------  ----------  ------------
capital recovery and upkeep                $4,000        $0.040
fuel                                       $1,000        $0.010
yearly cost of the rig                     $5,000        $0.050
material                                  $50,000        $0.500
crew, at the brief's rate for an hour     $20,000        $0.200
all costs                                 $75,000        $0.750
price of the foam                        $111,000        $1.110

Breaks even at 10,000 board feet a year, 10 days of spraying (10% of the brief's
100): a board foot brings $0.400 over material, crew and fuel. Travel, rent,
insurance and idle wages are left out. Common practice, no source.
"""


def told(text):
    """The text with the block of money taken out."""
    assert text.count(MONEY_TEXT) <= 1
    return text.replace(MONEY_TEXT, "@@MONEY@@\n")
