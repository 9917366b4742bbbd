"""Two worked examples of compressed air: what the leaks of a plant cost, and the work of four ways to compress.

The leaks: US DOE, Compressed Air Tip Sheet 3, from memory (104 cfm of its table was read). The work: Cengel and Boles,
Example 7-13, from memory.
"""

from __future__ import annotations

from solver.formulas.compressed_air import compression_power
from tests.published import documents as of
from tests.published.printed import MEMORY, Figure, Passage, Worked, checked
from tests.published.test_air import leak

# --- leaks ------------------------------------------------------------------------------------------------------------

LEAKS = Passage(of.TIP_SHEET_3, "Example", "leaks of a plant: cfm each, USD a year", MEMORY)
SHARP, KW_PER_CFM, HOURS, PRICE = 0.61, 0.18, 7000.0, 0.05
"""Given: coefficient of sharp-edged holes, kW for each cfm, hours a year, USD for each kWh."""
HOLES = (("1/32", 90.0, 100, 1), ("1/16", 90.0, 50, 1), ("1/4", 100.0, 10, 0))
"""Given: diameter in in, psig, number of leaks; and the decimals to which the sheet takes the leak."""


def _cost(inches: str, gauge: float, count: int, decimals: int) -> float:
    """What so many leaks cost a year, the leak rounded as the sheet rounds it."""
    return count * round(leak(inches, gauge), decimals) * SHARP * KW_PER_CFM * HOURS * PRICE


def _total() -> float:
    """All leaks together."""
    return sum(_cost(*hole) for hole in HOLES)


LEAK_STEPS = [
    LEAKS.figure("1/32 in at 90 psig, cfm", "1.5", lambda: leak("1/32", 90.0)),
    LEAKS.figure("1/16 in at 90 psig, cfm", "5.9", lambda: leak("1/16", 90.0)),
    LEAKS.figure("1/4 in at 100 psig, cfm", "104", lambda: leak("1/4", 100.0)),
    LEAKS.figure("100 of 1/32 in, USD", "5,765", lambda: _cost(*HOLES[0])),
    LEAKS.figure("50 of 1/16 in, USD", "11,337", lambda: _cost(*HOLES[1])),
    LEAKS.figure("10 of 1/4 in, USD", "39,967", lambda: _cost(*HOLES[2])),
    LEAKS.figure("the ten largest, % of all", "70", lambda: 100.0 * _cost(*HOLES[2]) / _total()),
    LEAKS.figure("total, USD", "57,069", _total),
]

# --- compression ------------------------------------------------------------------------------------------------------

WORK = Passage(of.THERMODYNAMICS, "Example 7-13", "work to compress air from 100 to 900 kPa, kJ/kg", MEMORY)
FLOW = 0.287 * 300.0 / 100.0
"""Given: 0.287 kPa m3/(kg K) and 300 K; the volume of each kilogram at the inlet [m3]."""


def _work(outlet: float, exponent: float) -> float:
    """Work for each kilogram [kJ]."""
    return compression_power(FLOW, 100e3, outlet, exponent, 1.0) / 1e3


WORK_STEPS = [
    WORK.figure("isentropic, 1.4", "263.2", lambda: _work(900e3, 1.4)),
    WORK.figure("polytropic, 1.3", "246.4", lambda: _work(900e3, 1.3)),
    WORK.figure("isothermal, the limit of 1", "189.2", lambda: _work(900e3, 1.0 + 1e-5)),
    WORK.figure("two stages with cooling between, 1.3", "215.3", lambda: 2.0 * _work(300e3, 1.3)),
]
WORKED = (
    Worked(
        "What the leaks of a compressed-air system cost", LEAKS,
        "100 leaks of 1/32 in and 50 of 1/16 in at 90 psig, 10 of 1/4 in at 100 psig, sharp-edged (0.61); 18 kW for each "
        "100 cfm, 7,000 h a year, 0.05 USD/kWh.",
        "The leak of each hole from choked flow, taken to the digits of the sheet; times number, coefficient, power, hours "
        "and price; the sum.",
        LEAK_STEPS,
    ),
    Worked(
        "Work of compression", WORK, "Air at 100 kPa and 300 K to 900 kPa, no losses; the two stages meet at 300 kPa.",
        "The same formula with the exponent of each way; the two stages are two calls of it.", WORK_STEPS,
    ),
)  # fmt: skip


@checked(LEAK_STEPS + WORK_STEPS)
def test_compressed_air(figure: Figure) -> None:
    """Every printed step."""
    figure.check()
