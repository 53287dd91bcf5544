"""Prints, as JSON, the cells of each workbook; with "bare" as the first word it instead
saves each workbook again without the values of its formulas, beside the first; with "set"
it saves FROM as TO with one cell changed: set FROM TO SHEET CELL NUMBER."""
import json
import sys

import openpyxl

if sys.argv[1] == "bare":
    for name in sys.argv[2:]:
        openpyxl.load_workbook(name).save(name[: -len(".xlsx")] + ".bare.xlsx")
    sys.exit(0)

if sys.argv[1] == "set":
    name, to, sheet, cell, number = sys.argv[2:]
    book = openpyxl.load_workbook(name)
    book[sheet][cell] = float(number)
    book.save(to)
    sys.exit(0)

out = {}
for name in sys.argv[1:]:
    values, formulas = openpyxl.load_workbook(name, data_only=True), openpyxl.load_workbook(name)
    out[name] = [
        {
            "title": s.title,
            "area": bool(s.print_area),
            "cells": {c.coordinate: [c.value, formulas[s.title][c.coordinate].value, c.number_format] for row in s.iter_rows() for c in row if isinstance(c.value, (int, float, str)) or formulas[s.title][c.coordinate].value is not None},
        }
        for s in values.worksheets
    ]
print(json.dumps(out))
