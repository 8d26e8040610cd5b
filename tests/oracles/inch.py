"""A ruled inch, measured in the PDF with pdfplumber: inch.py PDF

The document shows a drawing with one horizontal and one vertical line of 1 inch (96 user units of SVG are 1 inch,
CSS Values 3), to be printed at its own size. 1 inch is 72 points (ISO 32000-1, 8.3.2.3).
"""

import sys

import pdfplumber


def strokes(pdf):
    for page in pdf.pages:
        for line in (*page.lines, *page.curves):
            xs, ys = zip(*line["pts"])
            yield max(xs) - min(xs), max(ys) - min(ys)


def main(path):
    with pdfplumber.open(path) as pdf:
        found = list(strokes(pdf))
    # A fiftieth of a millimetre.
    near = 0.02 / 25.4 * 72
    across = [w for w, h in found if abs(w - 72) < near and h < near]
    down = [h for w, h in found if abs(h - 72) < near and w < near]
    print(f"{len(across)} lines of one inch across, {len(down)} down, of {len(found)}")
    if len(across) != 1 or len(down) != 1:
        print(*sorted(found), sep="\n")
        sys.exit(1)


main(sys.argv[1])
