"""Luminance, lightness and contrast of colours by PyPI coloraide: luminance.py, lines on standard input

Each line is a colour as `#rrggbb`, the luminance (Y of XYZ D65, 0 to 1) and the CIE L* (0 to 100) that the project gives
its grey, another colour, and the contrast ratio of the two after WCAG 2.2.
"""

import sys

from coloraide import Color

count, faults = 0, 0
for line in sys.stdin:
    name, luminance, lightness, other, contrast = line.split()
    count += 1
    color = Color(name)
    # L* of the luminance alone, against the white of D65.
    grey = Color("xyz-d65", [color.luminance() * v for v in Color("white").convert("xyz-d65").coords()])
    # WCAG 2.2 rounds its weights to four places.
    for said, by, most in (
        (luminance, color.luminance(), 0.0002),
        (lightness, grey.convert("lab-d65")["lightness"], 0.03),
        (contrast, color.contrast(other, method="wcag21"), 0.02),
    ):
        if abs(by - float(said)) > most:
            faults += 1
            print(f"{name} and {other}: {said}, by coloraide {by}")
print(f"{count} colours, {faults} faults")
sys.exit(bool(faults) or count == 0)
