"""Saddle cuts against a solid modeller, PyPI `manifold3d`: `saddle.py` reads cases on standard input.

A case is one line: main radius, branch outer and inner radius, angle between the axes in degrees, offset, then the
height of the cut along the branch's axis at equal steps around the branch. The branch is built with that cut, made
square to its wall; it must not overlap the main tube, and must touch it when it is moved on by .005 in.
Prints how many cases it looked at.
"""

import sys

import numpy as np
from manifold3d import CrossSection, Manifold, Mesh

LENGTH = 4.0


def branch(outer, inner, angle, offset, heights):
    """A tube whose lower end follows `heights`, upper end flat. Around it p = 0 is the obtuse side."""
    count = len(heights)
    p = np.arange(count) * 2 * np.pi / count
    t = np.radians(angle)
    axis = np.array([np.cos(t), 0.0, np.sin(t)])
    up = np.array([-np.sin(t), 0.0, np.cos(t)])
    side = np.array([0.0, 1.0, 0.0])
    around = np.cos(p)[:, None] * up + np.sin(p)[:, None] * side
    base = np.array([0.0, offset, 0.0])
    low = np.asarray(heights)[:, None] * axis
    rings = [
        base + outer * around + low,
        base + outer * around + LENGTH * axis,
        base + inner * around + LENGTH * axis,
        base + inner * around + low,
    ]
    points = np.concatenate(rings).astype(np.float32)
    triangles = []
    for ring in range(4):
        after = (ring + 1) % 4
        for i in range(count):
            j = (i + 1) % count
            a, b = ring * count + i, ring * count + j
            c, d = after * count + j, after * count + i
            triangles += [[a, c, b], [a, d, c]]
    solid = Manifold(Mesh(vert_properties=points, tri_verts=np.array(triangles, dtype=np.uint32)))
    if solid.volume() < 0 or solid.status().name != "NoError":
        solid = Manifold(Mesh(vert_properties=points, tri_verts=np.array(triangles, dtype=np.uint32)[:, ::-1].copy()))
    assert solid.status().name == "NoError" and solid.volume() > 0, solid.status()
    return solid, axis


def main_tube(radius, sides):
    """A prism inside the main tube's outside, along x."""
    prism = Manifold.extrude(CrossSection.circle(radius, sides), 12.0)
    return prism.translate([0, 0, -6]).rotate([0, 90, 0])


count = 0
for line in sys.stdin:
    radius, outer, inner, angle, offset, *heights = map(float, line.split())
    solid, axis = branch(outer, inner, angle, offset, heights)
    tube = main_tube(radius, 4096)
    overlap = (solid ^ tube).volume()
    assert overlap < 1e-6, ("overlap", line[:40], overlap)
    moved = (solid.translate((-0.005 * axis).tolist()) ^ tube).volume()
    assert moved > 1e-5, ("no touch", line[:40], moved)
    count += 1
print(count)
