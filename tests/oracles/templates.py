"""Templates measured in the PDF with pdfplumber: `templates.py OUT`, the demonstration manual's output.

The thick line of a sleeve is compared with the closed formulas of tube ends: for a branch of radius r on a main tube of
radius R, axes at t and e apart, s = (sqrt(R^2 - (e + r sin p)^2) - r cos p cos t) / sin t; for a mitre of a off square
h = r tan(a) (1 - cos p). The paper lies half its thickness outside of the tube. The check lines are 4 in and 2 in.
"""

import math
import re
import sys
from pathlib import Path

import pdfplumber

PAPER = 0.1 / 25.4
NEAR = 0.002
# Part and end, then what the demonstration manual says of them, in inches and degrees.
SADDLES = {
    ("SK-101", "A"): (0.625, 0.625, 90, 0, 3),
    ("SK-111-L", "A"): (0.625, 0.5, 30, 0.125, 3),
    ("SK-111-R", "A"): (0.625, 0.5, 30, -0.125, 9),
    ("SK-204", "B"): (0.5, 0.5, 90, 0, 9),
    ("SK-111-L", "B"): (0.625, 0.5, 60, -0.125, 9),
}
MITRES = {("SK-201-L", "A"): (0.5, 45, 3), ("SK-201-L", "B"): (0.5, 45, 9)}


def saddle(R, r, t, e, p):
    t, p = math.radians(t), math.radians(p)
    return (math.sqrt(max(R * R - (e + r * math.sin(p)) ** 2, 0)) - r * math.cos(p) * math.cos(t)) / math.sin(t)


def main(out):
    found = set()
    for path in sorted(Path(out).glob("*/templates.pdf")):
        with pdfplumber.open(path) as pdf:
            for page in pdf.pages:
                titles = re.findall(r"^(SK-\S+) .*end ([AB])$", page.extract_text(), re.M)
                thick = [c for c in page.curves if len(c["pts"]) > 300 and abs(c["linewidth"] - 0.5 / 25.4 * 72) < 0.02]
                thick.sort(key=lambda c: c["top"])
                assert len(titles) == len(thick), (path, page.page_number, titles, len(thick))
                lines = [(l["x1"] - l["x0"], l["bottom"] - l["top"]) for l in page.lines]
                across = sum(abs(w - 288) < NEAR * 72 and h < 0.01 for w, h in lines)
                down = sum(abs(h - 144) < NEAR * 72 and w < 0.01 for w, h in lines)
                assert across >= len(titles) and down >= len(titles), (path, page.page_number, across, down)
                for key, curve in zip(titles, thick):
                    xs = [x / 72 for x, _ in curve["pts"]]
                    ys = [y / 72 for _, y in curve["pts"]]
                    left, width = min(xs), max(xs) - min(xs)
                    ups = [max(ys) - y for y in ys]
                    if key in SADDLES:
                        R, r, t, e, clock = SADDLES[key]
                        raw = [-saddle(R, r, t, e, clock % 12 * 30 - (180 - 360 * (x - left) / width)) for x in xs]
                    elif key in MITRES:
                        r, a, clock = MITRES[key]
                        height = lambda p: r * math.tan(math.radians(a)) * (1 - math.cos(math.radians(p)))
                        raw = [height(180 + 180 - 360 * (x - left) / width - clock * 30) for x in xs]
                    else:
                        continue
                    assert abs(width - math.pi * (2 * r + PAPER)) < NEAR, (path, key, width)
                    low = min(raw)
                    worst = max(abs(up - (value - low)) for up, value in zip(ups, raw))
                    assert worst < NEAR, (path, key, worst)
                    found.add(key)
    assert {("SK-101", "A"), ("SK-111-L", "A"), ("SK-201-L", "A")} <= found, found
    print(f"{len(found)} ends within {NEAR} in")


main(sys.argv[1])
