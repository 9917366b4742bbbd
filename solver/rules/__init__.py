"""What fits."""
import importlib, pathlib
for n in ("materials","hose","heat","air","breathing","power","weight","fit","cover","asks","money","owned"):
    if (pathlib.Path(__file__).parent/f"{n}.py").exists():
        importlib.import_module(f"solver.rules.{n}")
from solver.rules.record import RULES
