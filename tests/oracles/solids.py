"""Saddles as the templates print them, in a solid modeller, PyPI `manifold3d`: `solids.py OUT`, the demonstration
manual's output.

The line to cut along and the edge of the bore are read from the PDF. A tube is made of them whose end is cut square to
its wall along the higher of the two. A radial cut follows the highest over the wall, which is by a little higher than both
edges (.0007 in at most where the axes meet); what the closed formula gives for that is added, under .002 in, and
.0005 in for the rounding of places in the file. The tube is set up as the craft has it: right is x, forward y, up z, its datum
line up (the hoop's to the front), clock positions as seen looking at its end. It must not overlap the tube it meets,
and must touch it when it is moved on by .005 in: a hand that is swapped, an offset to the wrong side or a long point at
the wrong hour does.
"""

import math
import sys
from pathlib import Path

import numpy as np
from manifold3d import CrossSection, Manifold, Mesh

from sleeves import END, THICK, THIN, joined, pooled

ROUNDING = 0.0005
LENGTH = 5.0
COUNT = 1440
s, c = lambda d: math.sin(math.radians(d)), lambda d: math.cos(math.radians(d))

# Part and end: main radius, outside and wall; the way from the main tube along the branch, the way of the datum line,
# the main tube's way, and where the branch's axis passes, seen from the main tube's.
UP, ALONG, ACROSS = (0, 0, 1), (0, 1, 0), (1, 0, 0)
PLACES = {
    ("SK-101", "A"): (0.625, 0.625, 0.058, ALONG, UP, ACROSS, (0, 0, 0)),
    ("SK-111-L", "A"): (0.625, 0.5, 0.058, (-s(30), -c(30), 0), UP, ALONG, (0, 0, 0.125)),
    ("SK-111-R", "A"): (0.625, 0.5, 0.058, (s(30), -c(30), 0), UP, ALONG, (0, 0, 0.125)),
    ("SK-111-L", "B"): (0.625, 0.5, 0.058, (s(30), c(30), 0), UP, ACROSS, (0, 0, 0.125)),
    ("SK-111-R", "B"): (0.625, 0.5, 0.058, (-s(30), c(30), 0), UP, ACROSS, (0, 0, 0.125)),
    ("SK-204", "A"): (0.5, 0.5, 0.058, ACROSS, UP, ALONG, (0, 0, 0)),
    ("SK-204", "B"): (0.5, 0.5, 0.058, (-1, 0, 0), UP, ALONG, (0, 0, 0)),
    ("SK-210", "A"): (0.5, 0.5, 0.058, (0, -s(20), c(20)), (0, c(20), s(20)), ALONG, (0, 0, 0)),
    ("SK-210", "B"): (0.5, 0.5, 0.058, (0, -s(20), c(20)), (0, c(20), s(20)), ALONG, (0, 0, 0)),
}


def deepest(R, r, way, main, at):
    """The highest point of the outer curve along the branch, by the closed formula: what the paper's lowest line is."""
    cos = abs(np.dot(way, main))
    e = abs(np.dot(at, np.cross(way, main)) / np.linalg.norm(np.cross(way, main)))
    p = np.radians(np.arange(0, 360, 0.01))
    return float(np.max((np.sqrt(np.maximum(R * R - (e + r * np.sin(p)) ** 2, 0)) - r * np.cos(p) * cos) / math.sqrt(1 - cos * cos)))


def over_the_wall(R, r, wall, way, main, at):
    """How much the closed formula is higher within the wall than at both of its edges, at most."""
    cos = abs(np.dot(way, main))
    e = abs(np.dot(at, np.cross(way, main)) / np.linalg.norm(np.cross(way, main)))
    p = np.radians(np.arange(0, 360, 0.5))[:, None]
    q = np.linspace(r - wall, r, 59)[None, :]
    height = (np.sqrt(np.maximum(R * R - (e + q * np.sin(p)) ** 2, 0)) - q * np.cos(p) * cos) / math.sqrt(1 - cos * cos)
    return float(np.max(height.max(1) - np.maximum(height[:, 0], height[:, -1]))) + 1e-5


def tube(key, outer, inner, level):
    R, r, wall, way, datum, main, at = PLACES[key]
    way, datum, at = np.array(way, float), np.array(datum, float), np.array(at, float)
    right = np.cross(way, datum)
    left, width = outer[0][0], outer[-1][0] - outer[0][0]
    low = max(y for _, y in outer)
    part = np.arange(COUNT) / COUNT
    xs = left + part * width
    edge = np.interp(xs, [x for x, _ in outer], [y for _, y in outer])
    bore = np.interp(xs, [x for x, _ in inner], [y for _, y in inner])
    # On the paper down is more taken off: the lower of the two lines is the higher along the branch.
    more = over_the_wall(R, r, wall, way, np.array(main, float), at)
    assert more < 0.002, (key, more)
    height = np.maximum(edge, bore) - low + level + more + ROUNDING
    clock = np.radians(180 - 360 * part)
    around = np.cos(clock)[:, None] * datum + np.sin(clock)[:, None] * right
    rings = [
        at + r * around + height[:, None] * way,
        at + r * around + LENGTH * way,
        at + (r - wall) * around + LENGTH * way,
        at + (r - wall) * around + height[:, None] * way,
    ]
    i = np.arange(COUNT)
    j = (i + 1) % COUNT
    triangles = []
    for ring in range(4):
        after = (ring + 1) % 4 * COUNT
        triangles += [np.stack([ring * COUNT + i, after + j, ring * COUNT + j], 1), np.stack([ring * COUNT + i, after + i, after + j], 1)]
    triangles = np.concatenate(triangles).astype(np.uint32)
    points = np.concatenate(rings).astype(np.float32)
    solid = Manifold(Mesh(vert_properties=points, tri_verts=triangles))
    if solid.status().name != "NoError" or solid.volume() < 0:
        solid = Manifold(Mesh(vert_properties=points, tri_verts=np.ascontiguousarray(triangles[:, ::-1])))
    assert solid.status().name == "NoError" and solid.volume() > 0, (key, solid.status())
    return solid, way


def main_tube(radius, way):
    prism = Manifold.extrude(CrossSection.circle(radius, 4096), 14.0).translate([0, 0, -7])
    return prism.rotate([0, 90, 0]) if way == ACROSS else prism.rotate([90, 0, 0])


def main(out):
    found = set()
    path = Path(out) / "SAND+brake" / "templates.pdf"
    for group, at in joined(path):
        end = END.search(group[0].what)
        key = (group[0].part, end and end[1])
        if key not in PLACES:
            continue
        outer = pooled(group, at, THICK, 100)
        left, right = outer[0][0], outer[-1][0]
        inner = [(x, y) for x, y in dashes(group, at) if left - 1e-6 <= x <= right + 1e-6]
        # Once around: what is missing between the last dash and the seam lies between it and the first.
        inner = [(inner[-1][0] - (right - left), inner[-1][1]), *inner, (inner[0][0] + right - left, inner[0][1])]
        R, r, wall, way, datum, main_way, offset = PLACES[key]
        solid, along = tube(key, outer, inner, deepest(R, r, np.array(way), np.array(main_way), np.array(offset)))
        met = main_tube(R, main_way)
        overlap = (solid ^ met).volume()
        assert overlap < 1e-6, ("overlap", key, overlap)
        moved = (solid.translate((-0.005 * along).tolist()) ^ met).volume()
        assert moved > 1e-5, ("no touch", key, moved)
        found.add(key)
    assert found == set(PLACES), set(PLACES) - found
    print(f"{len(found)} ends close on the tubes they meet")


def dashes(group, at):
    """Points of the dashed edge of the bore. Other thin lines are straight and have two points, or are level or upright."""
    points = []
    for sheet, (dx, dy) in zip(group, at):
        for item in sheet.curves + sheet.lines:
            if abs(item["linewidth"] - THIN) > 0.05 or len(item["pts"]) < 2:
                continue
            (x0, y0), (x1, y1) = item["pts"][0], item["pts"][-1]
            # The hatch rises at 45 degrees; a dash of the bore is short and never longer than 12 line widths.
            short = math.hypot(x1 - x0, y1 - y0) < 12.5 * THIN
            hatch = len(item["pts"]) == 2 and abs(abs(y1 - y0) - abs(x1 - x0)) < 0.03
            if short and not hatch and x0 != x1 and (len(item["pts"]) > 2 or abs(y1 - y0) > 1e-4):
                points += [((x + dx) / 72, (y + dy) / 72) for x, y in item["pts"]]
    points.sort()
    return points


main(sys.argv[1])
