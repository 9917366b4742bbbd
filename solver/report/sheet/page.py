"""The page of a picked rig, or of the conflict where none fits: one self-contained HTML file without any script.

Contents: `page`, `render` (a template with what it shows).
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from solver.errors import EntryError
from solver.report.drawings import draw_all
from solver.report.pick_text import titled
from solver.report.sheet.alternatives import alternative_rows, slots_words
from solver.report.sheet.balances import balance_rows
from solver.report.sheet.bundle import Bundle, sheet_data
from solver.report.sheet.curves import curve_view
from solver.report.sheet.figures import typeset
from solver.report.sheet.fronts import front_rows, front_svg
from solver.report.sheet.mending import other_clashes, repair_rows
from solver.report.sheet.overview import duty_rows, even, lede, totals
from solver.report.sheet.shares import money_shares, weight_shares
from solver.report.sheet.views import (
    bars,
    binding_rows,
    foot_rows,
    kit_groups,
    list_rows,
    start_rows,
    year_rows,
)
from solver.report.sheet.working import workings
from solver.rules import RULES

if TYPE_CHECKING:
    from jinja2 import Environment

BEST = {"price": "cheapest rig", "weight": "lightest rig", "yearly-cost": "rig of least yearly cost"}
TEMPLATES = Path(__file__).parent / "templates"


def page(bundle: Bundle, units: str = "us") -> str:
    """The whole page."""
    picked = bundle.picked
    data = sheet_data(bundle, units)
    shown: dict[str, Any] = {
        "title": picked.title,
        "picked": picked,
        "cautions": picked.cautions,
        "assumptions": picked.assumptions,
        "stated": bundle.brief.stated(),
        "waived": [(rule, titled(RULES[rule])) for rule in picked.waived],
        "conflicts": data["pick"]["conflicts"],
    }
    if picked.total is None or picked.money is None or bundle.facts is None or bundle.drawn is None:
        shown |= {
            "repairs": repair_rows(bundle.why, data["repairs"], units),
            "others": other_clashes(bundle.why, picked.conflicts),
        }
        return render("conflict.html", shown | {"tried": bundle.why is not None, "best": BEST[picked.by]})
    facts = bundle.facts
    duties = duty_rows(bundle.brief, picked, bundle.labels, units)
    shown |= {
        "lede": lede(picked, picked.total, picked.money, duties, units),
        "duties": duties,
        "rows": list_rows(picked, facts, units),
        "kit": kit_groups(picked, facts, units),
        "total": totals(picked, picked.total, units),
        "money_bars": bars(money_shares(picked), "money_shares", units),
        "weight_bars": bars(weight_shares(facts), "weight_shares", units),
        "subjects": balance_rows(picked.balances, units),
        "yes_or_no": sum(b.applies and b.unit == "1" for b in picked.balances),
        "drawings": drawing_sets(bundle, units),
        "binding": binding_rows(picked, units),
        "curves": [
            curve_view(curve, told, f"curve-{k + 1}", f"curves.{k}", units)
            for k, (curve, told) in enumerate(zip(bundle.curves, data["curves"], strict=True))
        ],
        **front_shown(bundle, units),
        "start": start_rows(picked.money, data),
        "year": year_rows(picked.money),
        "foot": foot_rows(picked.money),
        "alternatives": alternative_rows(bundle.rivals, units),
        "differ": slots_words(bundle.rivals.differ) if bundle.rivals else "",
        "exhausted": bundle.rivals is not None and bundle.rivals.exhausted,
        "even": even(data["pick"]["money"]),
        "workings": workings(facts.worksheets, picked.balances, units),
    }
    return render("rig.html", shown)


def drawing_sets(bundle: Bundle, units: str) -> list[dict[str, Any]]:
    """The drawings of each duty, as SVG that is safe to stand in the page."""
    from markupsafe import Markup

    if bundle.drawn is None:
        return []
    made = draw_all(bundle.drawn, units)
    return [
        {"duty": duty.duty, **{kind: Markup(made[f"{kind}-{k}"]) for kind in ("air", "power", "material")}}
        for k, duty in enumerate(bundle.drawn.duties, 1)
    ]


def front_shown(bundle: Bundle, units: str) -> dict[str, Any]:
    """The front as a picture and its points."""
    from markupsafe import Markup

    front = bundle.front
    if front is None or len(front.points) < 2:
        return {"front_svg": None, "trades": (), "front_count": len(front.points) if front else 0}
    return {
        "front_svg": Markup(front_svg(front, "front-chart", units)),
        "trades": front_rows(front, range(len(front.points)), units),
        "front_count": len(front.points),
    }


# --- templates --------------------------------------------------------------------------------------------------------
def render(name: str, shown: dict[str, Any]) -> str:
    """A template of the folder, filled; every text is escaped."""
    from markupsafe import Markup

    style = (TEMPLATES / "style.css").read_text(encoding="utf-8")
    return _environment().get_template(name).render(style=Markup(style), **shown)


@cache
def _environment() -> Environment:
    try:
        from jinja2 import Environment, FileSystemLoader, StrictUndefined
    except ModuleNotFoundError:
        raise EntryError("no template library (jinja2)", "an installation with the extra `sheet`",
                         "pip install 'rigset[sheet]'") from None  # fmt: skip
    made = Environment(
        loader=FileSystemLoader(TEMPLATES), autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True
    )
    made.filters["typeset"] = typeset
    return made
