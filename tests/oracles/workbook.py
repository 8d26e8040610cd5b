"""Workbooks as a spreadsheet library writes them (openpyxl), one for each case: workbook.py FOLDER"""

import datetime
import sys
from pathlib import Path

import openpyxl

HEADING = ["number", "name", "hand", "cut length", "ICE", "weight"]
ROWS = [["0104", "Bracket", "left", "12 1/2", "1", "0.4 lb"], ["KW-105", "Plate", "", "", "2", ""]]


def book(change=None, sheet="parts"):
    workbook = openpyxl.Workbook()
    page = workbook.active
    page.title = sheet
    for row in [HEADING, *ROWS]:
        page.append(row)
    workbook.create_sheet("hardware").append(["designation", "name"])
    if change:
        change(page)
    return workbook


def formula(page):
    # openpyxl writes a formula without the value that it comes to.
    page["E3"] = "=1+1"


def merged(page):
    page.merge_cells("E2:E3")


def number(page):
    page["A2"] = 104
    page["A2"].number_format = "0000"


def date(page):
    page["D2"] = datetime.date(2026, 1, 2)


def whole_numbers(page):
    page["E2"], page["E3"] = 1, 2


CASES = {
    "sound": book(),
    "whole-numbers": book(whole_numbers),
    "formula": book(formula),
    "merged": book(merged),
    "number": book(number),
    "date": book(date),
    "no-parts": book(sheet="Tabelle1"),
}


def main(folder):
    for name, workbook in CASES.items():
        workbook.save(Path(folder) / f"{name}.xlsx")


main(sys.argv[1])
