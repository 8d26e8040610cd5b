"""Templates measured in the PDF with pdfplumber: `templates.py OUT [ACROSSxDOWN]`, the output of a manual and what its
templates were scaled by.

The thick line of a sleeve is compared with the closed formulas of tube ends: for a branch of radius r on a main tube of
radius R, axes at t and e apart, s = (sqrt(R^2 - (e + r sin p)^2) - r cos p cos t) / sin t; for a mitre of a off square
h = r tan(a) (1 - cos p). The paper lies half its thickness outside of the tube. Sheets of one template are laid together
by their match lines. The check lines are 4 in and 2 in, or 100 mm and 50 mm. Nothing is drawn outside of the page.

The first mitre is rendered at 300 dots to the inch with pypdfium2, which pdfplumber brings along, and measured again in
dots.
"""

import math
import sys
from pathlib import Path

import numpy as np
import pypdfium2

from sleeves import END, ROW, THICK, joined, pooled, sheets

PAPER = 0.1 / 25.4
NEAR = 0.002
MM = 1 / 25.4
# Part and end, then what the manuals say of them, in inches and degrees.
SADDLES = {
    ("SK-101", "A"): (0.625, 0.625, 90, 0, 3),
    ("SK-111-L", "A"): (0.625, 0.5, 30, 0.125, 3),
    ("SK-111-R", "A"): (0.625, 0.5, 30, -0.125, 9),
    ("SK-204", "B"): (0.5, 0.5, 90, 0, 9),
    ("SK-111-L", "B"): (0.625, 0.5, 60, -0.125, 9),
    ("SK-210", "A"): (0.5, 0.5, 70, 0, 12),
    ("WT-1", "A"): (2, 1.5, 60, 5 * MM, 12),
}
MITRES = {("SK-201-L", "A"): (0.5, 45, 3), ("SK-201-L", "B"): (0.5, 45, 9), ("WT-3", "A"): (1.25, 70, 3)}
# Places of holes, inches from their end.
ROWS = {
    ("SK-630", "B"): [3 + 36 * i / 7 for i in range(8)],
    ("WT-2", "A"): [(20 + 480 * i / 7) * MM for i in range(8)],
}


def saddle(R, r, t, e, p):
    t, p = math.radians(t), math.radians(p)
    return (math.sqrt(max(R * R - (e + r * math.sin(p)) ** 2, 0)) - r * math.cos(p) * math.cos(t)) / math.sin(t)


def mitre(r, a, p):
    return r * math.tan(math.radians(a)) * (1 - math.cos(math.radians(p)))


def around(key, part):
    """Height of the cut above some level, at this part of the way from the left edge of a sleeve."""
    clock = 180 - 360 * part
    if key in SADDLES:
        R, r, t, e, hour = SADDLES[key]
        return -saddle(R, r, t, e, hour % 12 * 30 - clock)
    r, a, hour = MITRES[key]
    return mitre(r, a, 180 + clock - hour * 30)


def sleeve(path, key, group, at, scale):
    points = [(x * scale[0], y * scale[1]) for x, y in pooled(group, at, THICK, 5)]
    left, width = points[0][0], points[-1][0] - points[0][0]
    r = SADDLES[key][1] if key in SADDLES else MITRES[key][0]
    assert abs(width - math.pi * (2 * r + PAPER)) < NEAR, (path, key, width)
    raw = [around(key, (x - left) / width) for x, _ in points]
    lowest = max(y for _, y in points)
    least = min(raw)
    worst = max(abs(lowest - y - (value - least)) for (_, y), value in zip(points, raw))
    assert worst < NEAR, (path, key, worst)


def strip(path, key, group, at, scale):
    upright = []
    for sheet, (dx, _) in zip(group, at):
        upright += [(l["x0"] + dx) / 72 * scale[0] for l in sheet.lines if abs(l["linewidth"] - THICK) < 0.05 and abs(l["x0"] - l["x1"]) < 0.01]
    places = sorted(x - min(upright) for x in upright)
    distinct = [x for i, x in enumerate(places) if i == 0 or x - places[i - 1] > NEAR]
    expected = [0.0, *ROWS[key]]
    assert len(distinct) == len(expected) and all(abs(a - b) < NEAR for a, b in zip(distinct, expected)), (path, key, distinct)


def rendered(path, key):
    """A mitre's sheet at 300 dots to the inch: its check lines, and the lower edge of its thick line."""
    r, _, _ = MITRES[key]
    sheet = next(s for s in sheets(path) if s.part == key[0] and END.search(s.what) and END.search(s.what)[1] == key[1])
    dark = pypdfium2.PdfDocument(path)[sheet.page.page_number - 1].render(scale=300 / 72, grayscale=True).to_numpy()
    dark = dark.reshape(dark.shape[0], dark.shape[1]) < 128
    dot = lambda points: int(round(points * 300 / 72))

    def longest(line):
        edges = np.flatnonzero(np.diff(np.concatenate([[0], line.astype(np.int8), [0]])))
        return max(edges[1::2] - edges[::2], default=0)

    foot, end = dot(sheet.foot()), dot(sheet.bottom)
    across = max(longest(dark[y]) for y in range(foot, end))
    upright = sheet.upright()
    rows = slice(dot(upright["top"]) - 20, dot(upright["bottom"]) + 20)
    down = max(longest(dark[rows, x]) for x in range(dot(upright["x0"]) - 3, dot(upright["x0"]) + 4))
    # A line of 0.25 mm is three dots wide and its ends are round.
    assert abs(across - 1200) <= 4 and abs(down - 600) <= 4, (path, key, across, down)
    curve = next(c for c in sheet.curves if abs(c["linewidth"] - THICK) < 0.05 and len(c["pts"]) > 300)
    xs, ys = [p[0] for p in curve["pts"]], [p[1] for p in curve["pts"]]
    left, width, lowest = min(xs), max(xs) - min(xs), max(ys)
    least = min(mitre(*MITRES[key][:2], p) for p in range(360))
    seen = 0
    for part in [i / 48 + 1 / 96 for i in range(48)]:
        column = dot(left + part * width)
        # Where the middle of these dots is, not where they were wanted.
        part = ((column + 0.5) / 300 * 72 - left) / width
        expected = (lowest / 72 - (around(key, part) - least)) * 300
        # From the side that is kept: the first dark dots belong to the thick line, half a millimetre wide.
        y = int(expected) + 40
        while not dark[y, column] and y > expected - 40:
            y -= 1
        edge = y + 1 - 0.25 / 25.4 * 300 / math.cos(math.atan(slope(key, part, width / 72)))
        if abs(y - expected) < 39:
            assert abs(edge - expected) < 2, (path, key, part, edge, expected)
            seen += 1
    assert seen > 40, (path, key, seen)


def slope(key, part, width):
    step = 1e-4
    return (around(key, part + step) - around(key, part - step)) / (2 * step * width)


def main(out, scale):
    found = set()
    for path in sorted(Path(out).glob("*/templates.pdf")):
        for group, at in joined(path):
            first = group[0]
            for sheet in group:
                across, down = sheet.check_lines()
                size = (across / 72 * scale[0], down / 72 * scale[1])
                good = [(4, 2), (100 * MM, 50 * MM)]
                assert any(abs(size[0] - a) < NEAR and abs(size[1] - b) < NEAR for a, b in good), (path, first.part, sheet.number, size)
                for item in sheet.curves + sheet.lines + sheet.words:
                    inside = 20 < item["x0"] and item["x1"] < sheet.page.width - 20 and 20 < item["top"] and item["bottom"] < sheet.page.height - 20
                    assert inside, (path, first.part, sheet.number, item["x0"], item["x1"], item["top"], item["bottom"])
            if row := ROW.search(first.what):
                if (key := (first.part, row[2])) in ROWS:
                    strip(path, key, group, at, scale)
                    found.add((*key, "row"))
            elif (key := (first.part, END.search(first.what)[1])) in SADDLES or key in MITRES:
                sleeve(path, key, group, at, scale)
                if len(group) == 1 and key in MITRES and scale == (1, 1) and key not in found:
                    rendered(path, key)
                found.add(key)
    wanted = {("WT-1", "A"), ("WT-3", "A"), ("WT-2", "A", "row")}
    if not wanted <= found:
        wanted = {("SK-101", "A"), ("SK-111-L", "A"), ("SK-201-L", "A"), ("SK-210", "A"), ("SK-630", "B", "row")}
    assert wanted <= found, found
    print(f"{len(found)} templates within {NEAR} in")


main(sys.argv[1], tuple(float(x) / 100 for x in sys.argv[2].split("x")) if len(sys.argv) > 2 else (1, 1))
