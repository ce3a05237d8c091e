"""Fills in the workbook of a kit as a person would, knowing nothing of how it was made: fill_kit.py FROM TO"""
import datetime
import sys

import openpyxl

book = openpyxl.load_workbook(sys.argv[1])
places, holes, about = book.worksheets[1:4]

# two places
places["A5"], places["B5"], places["C5"], places["D5"] = "Südbeet, an der Mauer", 53.31025, -7.51, 10
places["F5"], places["G5"] = places["F4"].value, places["G4"].value
places["A6"], places["B6"], places["C6"], places["E6"] = "kühler Ort", 53.4, -7.55, places["E4"].value
cold = places["A6"].value

# a hole with both bags, one whose second bag is lost, one still in the ground; weights in g
lost = None
for rule in holes.data_validations.dataValidation:
    if "G5" in rule.sqref:
        sheet, cells = rule.formula1.replace("'", "").rsplit("!", 1)
        lost = [row[0].value for row in book[sheet][cells.replace("$", "")]][3]
for row, values in enumerate([
    ("Südbeet, an der Mauer", datetime.date(2025, 4, 14), datetime.date(2025, 7, 10), 3.84, 1.92, None, 4.74, 3.90, None),
    (cold, datetime.date(2025, 4, 14), datetime.date(2025, 7, 10), 3.80, 2.10, None, 4.70, None, lost),
    (cold, datetime.date(2025, 4, 15), None, 3.81, None, None, 4.72, None, None),
], start=5):
    for column, value in enumerate(values, start=2):
        if value is not None:
            holes.cell(row, column).value = value
about["B3"], about["B4"] = "The science room", "science@example.org"
book.save(sys.argv[2])
