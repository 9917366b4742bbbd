"""A spreadsheet into a catalog, and a catalog into a spreadsheet.

Contents: `sheet.py` what a sheet is; `csv_in.py`, `guard.py`, `xlsx_in.py` and `merges.py` files to
sheets; `numbers.py`,
`units.py`, `values.py` cells to entries; `words.py`, `headings.py`, `columns.py`, `classes.py`
columns to fields; `understand.py` a
whole sheet; `rows.py` rows to items; `place.py` and `write.py` items to files; `put.py` and `exact.py` the way back.

Nothing is imported here: the classes of a catalog are found by importing this folder's neighbours, and a command that
reads no spreadsheet loads none of it.
"""
