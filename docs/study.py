"""An example study: what altitude and reach do to the price of two rigs, and what must change for the hardest site.

Run: `python -m docs.study`. The manual shows this program and what it prints; both are checked.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from solver import read_brief, read_catalog, to_frame, whatif

DEMO = Path(__file__).resolve().parents[1] / "catalog_demo"
BRIEFS = ("owned_truck", "light_trailer")
VARY = ("duty.altitude=0ft:8000ft:4000ft", "duty.hose_reach=100ft:200ft:50ft")
ALTITUDE, REACH, PRICE = "duty.altitude (ft)", "duty.hose_reach (ft)", "price (USD)"
SLOTS = ("proportioner", "hose", "compressor", "generator", "vehicle")


def study() -> Iterator[str]:
    """The study, line by line."""
    catalog = read_catalog(DEMO / "catalog")
    for name in BRIEFS:
        brief = read_brief(DEMO / "briefs" / f"{name}.yaml", catalog)
        found = whatif(catalog, brief, VARY, by="price", binding="none", jobs=1)

        cells = to_frame(found).query("cell > 0").astype({ALTITUDE: int, REACH: int})  # cell 0 is the brief as it is
        prices = cells.pivot(index=ALTITUDE, columns=REACH, values=PRICE)
        yield f"{brief.title}: least price in USD over altitude and reach in ft"
        yield prices.to_string(float_format="{:,.0f}".format, na_rep="no rig", index_names=False)

        fits = [cell for cell in found.cells if cell.total is not None]
        hardest = max(fits, key=lambda cell: cell.total.price)
        site = cells.set_index("cell").loc[hardest.number]
        yield f"{len(fits)} of {len(cells)} sites can be served, by {len({cell.options for cell in fits})} rigs."
        yield f"The dearest, at {site[ALTITUDE]:,} ft with {site[REACH]} ft of reach, takes instead:"
        yield from (f"- {swap.after}" for swap in hardest.changed if swap.slot in SLOTS)
        yield ""


if __name__ == "__main__":
    print("\n".join(study()))
