"""Which set of equipment does the work, at the least cost, and what exactly holds it there.

Floors, each importing only from those below it: errors, quantities, files, formulas, catalog, brief, options, rules,
program, search, answers, report, cli.
"""

__version__ = "0.1.0"
