"""What is asked: work, sites, crew, limits, margins, what is owned and what is unwanted.

Contents: `read_brief`, `brief_of` (reading); `Brief`, `Duty`, `Crew`, `Margins`, `Money`, `Limits`, `Unwanted`,
`MaterialAboard`, `Assumption` (what the rules read); `output_of`. What one may change of a brief is in
`requirements.py`.
"""

from solver.brief.models import (
    Assumption,
    Brief,
    Crew,
    Duty,
    Limits,
    Margins,
    MaterialAboard,
    Money,
    Unwanted,
)
from solver.brief.output import output_of
from solver.brief.read import brief_of, read_brief

__all__ = [
    "Assumption", "Brief", "Crew", "Duty", "Limits", "Margins", "MaterialAboard", "Money", "Unwanted", "brief_of",
    "output_of", "read_brief",
]  # fmt: skip
