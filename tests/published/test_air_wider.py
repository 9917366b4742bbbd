"""Tables of air that our formulas meet less closely than they are printed: each with its distance, and none is counted.

All from memory. They are here so that what is counted is not only what fits.
"""

from __future__ import annotations

from solver.formulas import air
from solver.quantities import from_unit
from tests.published import documents as of
from tests.published.printed import MEMORY, Figure, Passage, checked, rows
from tests.published.test_air import CFM, PSI, leak

# Pressure in hPa at every geopotential kilometre from 1 to 11.
LEVELS = "898.746 794.952 701.085 616.402 540.199 471.810 410.607 355.998 307.424 264.363 226.321"
GEOPOTENTIAL = Passage(of.ISO_2533, "table by geopotential altitude", "pressure of the standard atmosphere, hPa", MEMORY)
# Kelvin, hPa and kg/m3 at 0 to 10 km.
TABLE_I = """
K        hPa      density
288.150  1013.25  1.2250
281.651   898.76  1.1117
275.154   795.01  1.0066
268.659   701.21  0.90925
262.166   616.60  0.81935
255.676   540.48  0.73643
249.187   472.17  0.66011
242.700   411.05  0.59002
236.215   356.51  0.52579
229.733   308.00  0.46706
223.252   264.99  0.41351
"""
ATMOSPHERE = Passage(of.US_ATMOSPHERE, "Part 4, Table I", "density of air, kg/m3", MEMORY)
# Discharge in scfm through a hole with coefficient 1, by diameter in in.
ORIFICES = """
psig   1/64   1/32  1/16   1/8   1/4  3/8  1/2     1
20    0.123  0.491  1.96  7.86  31.4 70.7  126   503
40    0.194  0.774  3.10  12.4  49.6  112  198   793
60    0.264   1.06  4.23  16.9  67.6  152  271  1082
80    0.335   1.34  5.36  21.4  85.7  193  343  1371
100   0.406   1.62  6.49  26.0   104  234  415  1661
125   0.494   1.98  7.90  31.6   126  284  506  2023
"""
DISCHARGE = Passage(of.CAGI, "discharge of air through an orifice", "flow at a gauge pressure, scfm", MEMORY)
# 100 scfm (60 degF, 14.7 psia) at 65 psig and 110 degF through 75 ft of 1 in. schedule 40 pipe, 1.049 in inside, of
# commercial steel, 0.00015 ft rough.
LINE = Passage(of.CRANE, "chapter 4, example of a compressed-air line", "pressure drop, psi", MEMORY)


def _line() -> float:
    """Drop of the line [psi], its end at the printed pressure."""
    sixty = air.air_density(14.7 * PSI, from_unit(60.0, "degF"), 0.0)
    standard_flow = 100.0 * CFM * sixty / air.STANDARD_AIR_DENSITY
    length, bore, roughness = from_unit(75.0, "ft"), from_unit(1.049, "in"), from_unit(0.00015, "ft")
    end, warm = (65.0 - 2.61) * PSI, from_unit(110.0, "degF")
    return air.line_pressure_drop(standard_flow, length, bore, end, warm, 14.7 * PSI, roughness) / PSI


FIGURES = [
    *(
        GEOPOTENTIAL.figure(f"{k} km", text, lambda k=k: air.atmosphere_pressure(1000.0 * k) / 100.0, share=1e-5,
                            reason="constants of the short formula have six digits")
        for k, text in enumerate(LEVELS.split(), 1)
    ),
    *(
        ATMOSPHERE.figure(f"{t} K", rho, lambda t=t, p=p: air.air_density(float(p) * 100.0, float(t), 0.0), share=1e-4,
                          reason="another gas constant of air in the fifth digit")
        for t, p, rho in (line.split() for line in TABLE_I.strip().splitlines()[1:])
    ),
    *(
        DISCHARGE.figure(f"{inches} in at {gauge} psig", text, lambda i=inches, g=gauge: leak(i, float(g)), share=6e-3,
                         reason="base not stated, some figures cut off")
        for gauge, inches, text in rows(ORIFICES)
    ),
    LINE.figure("1 in. pipe", "2.61", _line, share=0.025, reason="a table at 100 psig scaled; friction after Haaland"),
]  # fmt: skip


@checked(FIGURES)
def test_air_less_closely(figure: Figure) -> None:
    """Within the share stated with each."""
    figure.check()
