"""What is asked: work, sites, crew, limits, margins, what is owned and what is unwanted.

Contents: `read_brief`, `brief_of` (reading), `Brief`, `Duty` (what the rules read), `REQUIREMENTS` and the functions that
change one requirement.
"""

from solver.brief.models import Assumption, Brief, Crew, Duty
from solver.brief.read import brief_of, read_brief

__all__ = ["Assumption", "Brief", "Crew", "Duty", "brief_of", "read_brief"]
