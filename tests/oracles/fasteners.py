"""Drills and metric hardware against the tables of the PyPI package `bd-warehouse`: `fasteners.py` reads the project's
values on standard input and prints how many it compared.

The package is a wheel with plain CSV files; they are read without importing it or what it depends on. Its drill table
rounds some sizes to thousandths of an inch, and its washers have their greatest thickness.
"""

import csv
import importlib.util
import sys
from fractions import Fraction
from pathlib import Path


def table(name, key="Size"):
    found = importlib.util.find_spec("bd_warehouse")
    folder = Path(next(iter(found.submodule_search_locations)))
    with open(folder / "data" / name, newline="", encoding="utf-8-sig") as file:
        return {row[key].strip(): row for row in csv.DictReader(file, skipinitialspace=True)}


DRILLS = table("drill_sizes.csv")
CLEARANCE = table("clearance_hole_sizes.csv")
WASHERS = table("plain_washer_parameters.csv")
NUTS = table("hex_nut_parameters.csv")
TAPS = table("tap_hole_sizes.csv")
HEADS = {
    standard: {size: {key.strip(): cell for key, cell in row.items()} for size, row in table(name).items()}
    for standard, name in [
        ("iso4014", "hex_head_parameters.csv"),
        ("iso4017", "hex_head_parameters.csv"),
        ("iso4762", "socket_head_cap_parameters.csv"),
        ("iso10642", "countersunk_head_parameters.csv"),
        ("iso7380", "button_head_parameters.csv"),
    ]
}
LENGTHS = {
    name: {Fraction(n) for n in row["Nominal_Sizes"].split(",")}
    for name, row in table("nominal_screw_lengths.csv", "Screw_Type").items()
}
LENGTHS["iso7380"] = LENGTHS["iso7380_1"]


def drill(size, inches):
    assert abs(Fraction(DRILLS[size]["Diameter"]) - inches) <= Fraction(5, 10000), (size, inches)


def clearance(size, fine, medium):
    row = CLEARANCE[size]
    # Above M10 its normal fits are whole millimetres.
    allowed = Fraction(1, 2) if int(size[1:]) > 10 else 0
    assert Fraction(row["Close"]) == fine, (size, fine)
    assert 0 <= Fraction(row["Normal"]) - medium <= allowed, (size, medium)


def washer(size, bore, rim, thickness):
    row = WASHERS[size]
    assert (Fraction(row["iso7089:d1"]), Fraction(row["iso7089:d2"])) == (bore, rim), (size, bore, rim)
    assert thickness < Fraction(row["iso7089:h"]) <= thickness + Fraction(35, 100), (size, thickness)


def nut(standard, size, pitch, height):
    """The size is found with its pitch, so that a wrong coarse pitch finds no row."""
    row = NUTS[f"{size}-{float(pitch):g}"]
    assert Fraction(row[f"{standard}:m"]) == height, (standard, size, height)


def tap(size, pitch, drill):
    """The library's drill for soft metal; it rounds to tenths and twentieths of a millimetre."""
    assert abs(Fraction(TAPS[f"{size}-{float(pitch):g}"]["Soft"]) - drill) <= Fraction(1, 10), (size, drill)


def tap_inch(thread, inches):
    """Named drills; a neighbouring gauge is let pass, for tables differ in the share of thread they leave."""
    name = "#" + thread[1:] if "/" not in thread else thread[1:]
    drill = TAPS[name]["Soft"]
    size = Fraction(DRILLS[drill]["Diameter"]) if drill in DRILLS else Fraction(drill)
    assert abs(size - inches) <= Fraction(6, 1000), (thread, drill, float(inches))


def length(standard, size, pitch, millimetres):
    """A listed length, within what the standard lists for the size."""
    assert millimetres in LENGTHS[standard], (standard, millimetres)
    key = "iso7380_1" if standard == "iso7380" else standard
    row = HEADS[standard][f"{size}-{float(pitch):g}"]
    shortest, longest = (Fraction(row[f"{key}:{end}"]) for end in ("short", "long"))
    assert shortest <= millimetres <= longest, (standard, size, millimetres)


THIN_NUTS = []


def thin_nut(size, pitch, height):
    # The package leaves out what its source does not list.
    listed = NUTS[f"{size}-{float(pitch):g}"]["iso4035:m"]
    if listed:
        assert Fraction(listed) == height, (size, height)
        THIN_NUTS.append(size)


def wide_washer(size, bore, rim, thickness):
    row = WASHERS[size]
    assert (Fraction(row["iso7093:d1"]), Fraction(row["iso7093:d2"])) == (bore, rim), (size, bore, rim)
    assert thickness < Fraction(row["iso7093:h"]) <= thickness + Fraction(6, 10), (size, thickness)


CHECKS = {
    "drill": drill,
    "clearance": clearance,
    "washer": washer,
    "nut": nut,
    "tap": tap,
    "tapinch": tap_inch,
    "length": length,
    "thinnut": thin_nut,
    "widewasher": wide_washer,
}

count = 0
for line in sys.stdin:
    kind, *values = line.split()
    CHECKS[kind](*(v if v[0] in "#MABCDEFGHIJKLMNOPQRSTUVWXYZi" else Fraction(v) for v in values))
    count += 1
assert THIN_NUTS, "no thin nut was compared"
print(count)
