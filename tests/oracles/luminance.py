"""Luminance of colours by PyPI coloraide, whose luminance is Y of XYZ D65: luminance.py, pairs on standard input

Each line is a colour as `#rrggbb` and the luminance that the project gives it, 0 to 1.
"""

import sys

from coloraide import Color

count, faults = 0, 0
for line in sys.stdin:
    name, said = line.split()
    count += 1
    # WCAG 2.2 rounds its weights to four places.
    if abs(Color(name).luminance() - float(said)) > 0.0002:
        faults += 1
        print(f"{name}: {said}, by coloraide {Color(name).luminance()}")
print(f"{count} colours, {faults} faults")
sys.exit(bool(faults) or count == 0)
