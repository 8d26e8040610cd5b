#!/usr/bin/env python3
"""Renders the shaded pictures of the manual from a plain model of the yacht.

    python3 render.py [name ...]        # needs numpy and Pillow

A small ray tracer: cylinders, blocks, balls, rings, plates and curved sheets, one sun with soft shadows, and a sky
that fills the shadows. Lengths are inches: x forward from the axle beam, y to the left, z up from the keel.
The random numbers are seeded, so the same model gives the same picture.
"""
import os
import sys

import numpy as np
from PIL import Image

WIDE, TALL = (1280, 960), (960, 1280)
GROUND = -11.0
SUN = np.array([0.35, 0.55, 0.76]) / np.linalg.norm([0.35, 0.55, 0.76])
FAR = 1e9

STEEL = dict(color=(0.07, 0.25, 0.28), gloss=0.35, power=40)
BARE = dict(color=(0.42, 0.44, 0.46), gloss=0.9, power=90)
BLADE = dict(color=(0.20, 0.22, 0.24), gloss=0.9, power=90)
DARK = dict(color=(0.025, 0.025, 0.03), gloss=0.12, power=15)
PLATE = dict(color=(0.12, 0.34, 0.37), gloss=0.35, power=40)
CLOTH = dict(color=(0.80, 0.30, 0.07), gloss=0.03, power=8)
SAILCLOTH = dict(color=(0.93, 0.92, 0.88), gloss=0.02, power=6, thin=0.45)
CORD = dict(color=(0.85, 0.82, 0.72), gloss=0.02, power=6)
BRASS = dict(color=(0.78, 0.62, 0.30), gloss=0.7, power=70)


def unit(v):
    v = np.asarray(v, float)
    return v / np.linalg.norm(v)


def dot(a, b):
    """Row by row."""
    return np.einsum("ij,ij->i", a, b)


class Cylinder:
    """A round bar from `a` to `b`, ends closed; `bore` leaves the ends open to that radius."""

    def __init__(self, a, b, radius, look, bore=0.0):
        self.a, self.b = np.array(a, float), np.array(b, float)
        self.axis = unit(self.b - self.a)
        self.length = np.linalg.norm(self.b - self.a)
        self.r, self.bore, self.look = radius, bore, look
        self.centre = (self.a + self.b) / 2
        self.bound = self.length / 2 + radius

    def hit(self, o, d):
        oc = o - self.a
        da, oa = d @ self.axis, oc @ self.axis
        dp, op = d - da[:, None] * self.axis, oc - oa[:, None] * self.axis
        a = np.maximum(dot(dp, dp), 1e-12)
        b = dot(dp, op)
        t = np.full(len(d), FAR)
        n = np.zeros_like(d)
        shells = [(self.r, 1.0)] + ([(self.bore, -1.0)] if self.bore else [])
        for radius, facing in shells:
            disc = b * b - a * (dot(op, op) - radius * radius)
            root = np.sqrt(np.maximum(disc, 0))
            for s in (-1, 1):
                tt = (-b + s * root) / a
                along = oa + tt * da
                ok = (disc > 0) & (tt > 1e-4) & (along > 0) & (along < self.length) & (tt < t)
                t = np.where(ok, tt, t)
                n[ok] = facing * (op + tt[:, None] * dp)[ok] / radius
        safe = np.where(np.abs(da) < 1e-9, 1e-9, da)
        for end, facing in ((0.0, -1.0), (self.length, 1.0)):
            tt = (end - oa) / safe
            q = op + tt[:, None] * dp
            r2 = dot(q, q)
            ok = (tt > 1e-4) & (r2 < self.r**2) & (r2 > self.bore**2) & (tt < t)
            t = np.where(ok, tt, t)
            n[ok] = facing * self.axis
        return t, n


class Sphere:
    def __init__(self, centre, radius, look):
        self.centre, self.bound, self.r, self.look = np.array(centre, float), radius, radius, look

    def hit(self, o, d):
        oc = o - self.centre
        b = dot(oc, d)
        disc = b * b - (dot(oc, oc) - self.r**2)
        t = -b - np.sqrt(np.maximum(disc, 0))
        t = np.where((disc > 0) & (t > 1e-4), t, FAR)
        return t, (oc + np.where(t < FAR, t, 0)[:, None] * d) / self.r


class Box:
    """A block with centre, three axes at right angles and half sizes along them."""

    def __init__(self, centre, axes, half, look):
        self.centre, self.look = np.array(centre, float), look
        self.m = np.array([unit(a) for a in axes])
        self.h = np.array(half, float)
        self.bound = np.linalg.norm(self.h)

    def hit(self, o, d):
        oo, dd = (o - self.centre) @ self.m.T, d @ self.m.T
        dd = np.where(np.abs(dd) < 1e-9, 1e-9, dd)
        t1, t2 = (-self.h - oo) / dd, (self.h - oo) / dd
        lo, hi = np.minimum(t1, t2), np.maximum(t1, t2)
        near, far = lo.max(1), hi.min(1)
        ok = (near < far) & (near > 1e-4)
        k = lo.argmax(1)
        n = -np.sign(dd[np.arange(len(d)), k])[:, None] * self.m[k]
        return np.where(ok, near, FAR), n


class Ring:
    """A torus: a tyre, found by stepping along its distance field."""

    def __init__(self, centre, axis, major, minor, look):
        self.centre, self.axis, self.look = np.array(centre, float), unit(axis), look
        self.major, self.minor, self.bound = major, minor, major + minor

    def dist(self, p):
        q = p - self.centre
        h = q @ self.axis
        radial = np.sqrt(np.maximum(dot(q, q) - h * h, 0)) - self.major
        return np.sqrt(radial**2 + h**2) - self.minor

    def hit(self, o, d):
        t = np.maximum(-dot(o - self.centre, d) - self.bound, 1e-3)
        alive = np.ones(len(d), bool)
        for _ in range(70):
            step = self.dist(o + t[:, None] * d)
            t = np.where(alive, t + step, t)
            alive &= (step > 1e-3) & (t < 2000)
        p = o + t[:, None] * d
        ok = self.dist(p) < 4e-3
        q = p - self.centre
        h = q @ self.axis
        flat = q - h[:, None] * self.axis
        flat = flat / np.maximum(np.linalg.norm(flat, axis=1), 1e-9)[:, None] * self.major
        n = (q - flat) / self.minor
        return np.where(ok, t, FAR), n


class Patch:
    """Triangles of a curved sheet with a normal at each corner."""

    def __init__(self, tri, nrm, look):
        self.tri, self.nrm, self.look = np.array(tri), np.array(nrm), look
        flat = self.tri.reshape(-1, 3)
        self.centre = (flat.min(0) + flat.max(0)) / 2
        self.bound = np.linalg.norm(flat - self.centre, axis=1).max()

    def hit(self, o, d):
        t = np.full(len(d), FAR)
        n = np.zeros_like(d)
        for (p0, p1, p2), (n0, n1, n2) in zip(self.tri, self.nrm):
            c = (p0 + p1 + p2) / 3
            r = max(np.linalg.norm(p - c) for p in (p0, p1, p2))
            oc = c - o
            along = dot(oc, d)
            near = np.nonzero(dot(oc, oc) - along**2 <= r * r)[0]
            if not len(near):
                continue
            dd, oo = d[near], o[near]
            e1, e2 = p1 - p0, p2 - p0
            pv = np.cross(dd, e2)
            det = pv @ e1
            det = np.where(np.abs(det) < 1e-12, 1e-12, det)
            tv = oo - p0
            u = dot(tv, pv) / det
            qv = np.cross(tv, e1)
            v = dot(dd, qv) / det
            tt = (qv @ e2) / det
            ok = (u >= 0) & (v >= 0) & (u + v <= 1) & (tt > 1e-3) & (tt < t[near])
            hit = near[ok]
            t[hit] = tt[ok]
            w = (1 - u - v)[ok][:, None]
            n[hit] = w * n0 + u[ok][:, None] * n1 + v[ok][:, None] * n2
        return t, n


class Plate:
    """A flat plate of any outline: `points` around its middle plane, and a thickness."""

    def __init__(self, points, thickness, look):
        p = np.array(points, float)
        self.look, self.t = look, thickness / 2
        self.n = unit(sum(np.cross(p[k] - p[0], p[k + 1] - p[0]) for k in range(1, len(p) - 1)))
        self.u = unit(p[1] - p[0])
        self.v = np.cross(self.n, self.u)
        self.p0 = p[0]
        self.flat = np.stack([(p - p[0]) @ self.u, (p - p[0]) @ self.v], 1)
        self.centre = (p.min(0) + p.max(0)) / 2
        self.bound = np.linalg.norm(p - self.centre, axis=1).max() + thickness

    def inside(self, x, y):
        odd = np.zeros(len(x), bool)
        for (ax, ay), (bx, by) in zip(self.flat, np.roll(self.flat, -1, 0)):
            if ay != by:
                odd ^= ((ay > y) != (by > y)) & (x < (bx - ax) * (y - ay) / (by - ay) + ax)
        return odd

    def hit(self, o, d):
        oo = o - self.p0
        ox, oy, oz = oo @ self.u, oo @ self.v, oo @ self.n
        dx, dy, dz = d @ self.u, d @ self.v, d @ self.n
        t = np.full(len(d), FAR)
        n = np.zeros_like(d)
        safe = np.where(np.abs(dz) < 1e-9, 1e-9, dz)
        for side in (self.t, -self.t):
            tt = (side - oz) / safe
            ok = (tt > 1e-3) & (tt < t)
            k = np.nonzero(ok)[0]
            k = k[self.inside(ox[k] + tt[k] * dx[k], oy[k] + tt[k] * dy[k])]
            t[k] = tt[k]
            n[k] = np.sign(side) * self.n
        for (ax, ay), (bx, by) in zip(self.flat, np.roll(self.flat, -1, 0)):
            ex, ey = bx - ax, by - ay
            length = np.hypot(ex, ey)
            if length < 1e-9:
                continue
            nx, ny = ey / length, -ex / length
            across = dx * nx + dy * ny
            across = np.where(np.abs(across) < 1e-9, 1e-9, across)
            tt = ((ax - ox) * nx + (ay - oy) * ny) / across
            along = ((ox + tt * dx - ax) * ex + (oy + tt * dy - ay) * ey) / length
            ok = (tt > 1e-3) & (tt < t) & (along >= 0) & (along <= length) & (np.abs(oz + tt * dz) <= self.t)
            t = np.where(ok, tt, t)
            n[ok] = nx * self.u + ny * self.v
        return t, n


def plate(points, thickness, look):
    return [Plate(points, thickness, look)]


def sheet(grid, look, cells=3):
    """A curved sheet over a grid of points, cut into small patches that are quick to rule out."""
    g = np.asarray(grid, float)
    nn = np.cross(np.gradient(g, axis=0), np.gradient(g, axis=1))
    nn /= np.maximum(np.linalg.norm(nn, axis=2), 1e-9)[..., None]
    out = []
    for i0 in range(0, g.shape[0] - 1, cells):
        for j0 in range(0, g.shape[1] - 1, cells):
            tri, nrm = [], []
            for i in range(i0, min(i0 + cells, g.shape[0] - 1)):
                for j in range(j0, min(j0 + cells, g.shape[1] - 1)):
                    for k in (((0, 0), (1, 0), (1, 1)), ((0, 0), (1, 1), (0, 1))):
                        tri.append([g[i + a, j + b] for a, b in k])
                        nrm.append([nn[i + a, j + b] for a, b in k])
            out.append(Patch(tri, nrm, look))
    return out


# ---- light -------------------------------------------------------------------------------------------


def bounding_ball(p):
    c = (p.min(0) + p.max(0)) / 2
    return c, np.sqrt(((p - c) ** 2).sum(1).max())


def near_bundle(things, o, d):
    """The things that a bundle of rays may meet: origins in a ball, directions in a cone."""
    c, r = bounding_ball(o)
    axis = d.mean(0)
    size = np.linalg.norm(axis)
    if size < 0.2:
        return list(range(len(things)))
    axis /= size
    cosine = min(max((d @ axis).min(), 0.0), 1.0)
    sine = np.sqrt(1 - cosine * cosine)
    keep = []
    for k, thing in enumerate(things):
        v = thing.centre - c
        reach = thing.bound + r
        along = v @ axis
        across = np.sqrt(max(v @ v - along * along, 0))
        if v @ v <= reach * reach or (across * cosine - along * sine <= reach and (along > -reach or cosine < 0.2)):
            keep.append(k)
    return keep


def candidates(thing, o, d):
    """Rays that may meet the ball around a thing."""
    oc = thing.centre - o
    along = dot(oc, d)
    gap = dot(oc, oc) - along * along
    return np.nonzero((gap <= thing.bound**2) & (along > -thing.bound))[0]


def nearest(things, o, d):
    t = np.full(len(d), FAR)
    n = np.zeros_like(d)
    which = np.full(len(d), -1)
    for k in near_bundle(things, o, d):
        i = candidates(things[k], o, d)
        if len(i):
            tt, nn = things[k].hit(o[i], d[i])
            closer = tt < t[i]
            j = i[closer]
            t[j], n[j], which[j] = tt[closer], nn[closer], k
    return t, n, which


def blocked(things, o, d, reach):
    dark = np.zeros(len(d), bool)
    if not len(d):
        return dark
    if reach < FAR:
        c, r = bounding_ball(o)
        near = [k for k, x in enumerate(things) if np.linalg.norm(x.centre - c) < r + x.bound + reach]
    else:
        near = near_bundle(things, o, d)
    for k in near:
        open_rays = np.nonzero(~dark)[0]
        if not len(open_rays):
            break
        i = open_rays[candidates(things[k], o[open_rays], d[open_rays])]
        if len(i):
            dark[i] |= things[k].hit(o[i], d[i])[0] < reach
    return dark


def sky(d, mood):
    up = np.clip(d[:, 2], 0, 1)[:, None] ** 0.6
    return mood["horizon"] * (1 - up) + mood["zenith"] * up


def noise(x, y, seed):
    """Smooth value noise on the plane, 0 to 1."""
    xi, yi = np.floor(x).astype(np.int64), np.floor(y).astype(np.int64)
    xf, yf = x - xi, y - yi
    xf, yf = xf * xf * (3 - 2 * xf), yf * yf * (3 - 2 * yf)

    def grain(i, j):
        h = (i * 374761393 + j * 668265263 + seed * 974711) & 0xFFFFFFFF
        h = ((h ^ (h >> 13)) * 1274126177) & 0xFFFFFFFF
        return ((h ^ (h >> 16)) & 0xFFFF) / 65535.0

    top = grain(xi, yi) * (1 - xf) + grain(xi + 1, yi) * xf
    low = grain(xi, yi + 1) * (1 - xf) + grain(xi + 1, yi + 1) * xf
    return top * (1 - yf) + low * yf


def sand(p):
    x, y = p[:, 0], p[:, 1]
    wave = np.sin(x * 0.55 + 2.2 * noise(x / 14, y / 14, 3) * 3 + y * 0.12)
    tone = 0.86 + 0.10 * noise(x / 40, y / 40, 1) + 0.05 * noise(x * 2.2, y * 2.2, 2) + 0.025 * wave
    return np.array([0.62, 0.51, 0.35]) * tone[:, None], 0.0


def ice(p):
    x, y = p[:, 0], p[:, 1]
    cloud = noise(x / 30, y / 30, 5) * 0.6 + noise(x / 9, y / 9, 6) * 0.4
    warp = 6 * noise(x / 25, y / 25, 8)
    crack = np.minimum(np.abs(np.sin(x * 0.035 + y * 0.021 + warp * 0.35)), np.abs(np.sin(x * 0.017 - y * 0.041 + warp * 0.3)))
    line = np.clip(1 - crack / 0.012, 0, 1)[:, None]
    base = np.array([0.50, 0.62, 0.70]) * (0.86 + 0.16 * cloud[:, None])
    return base * (1 - 0.5 * line) + 0.5 * line * np.array([0.97, 0.98, 1.0]), 0.22


def floor(p):
    tone = 0.93 + 0.04 * noise(p[:, 0] * 1.5, p[:, 1] * 1.5, 9)
    return np.array([0.50, 0.51, 0.52]) * tone[:, None], 0.04


def shade(things, scene, o, d, rng, bounce=True):
    t, n, which = nearest(things, o, d)
    out = sky(d, scene["mood"])
    ground = np.full(len(d), FAR)
    down = d[:, 2] < -1e-6
    ground[down] = (scene["ground"] - o[down, 2]) / d[down, 2]
    on_ground = down & (ground < t) & (ground > 0)
    t = np.where(on_ground, ground, t)
    which[on_ground] = -2
    n[on_ground] = (0, 0, 1)
    i = np.nonzero(which != -1)[0]
    if not len(i):
        return out
    p, nn, dd = o[i] + t[i][:, None] * d[i], n[i], d[i]
    nn = nn / np.maximum(np.linalg.norm(nn, axis=1), 1e-9)[:, None]
    nn = np.where((dot(nn, dd) > 0)[:, None], -nn, nn)
    color, gloss, power, thin = (np.zeros((len(i), 3)), np.zeros(len(i)), np.ones(len(i)) * 20, np.zeros(len(i)))
    for k, thing in enumerate(things):
        m = which[i] == k
        if m.any():
            color[m] = thing.look["color"]
            gloss[m], power[m] = thing.look["gloss"], thing.look["power"]
            thin[m] = thing.look.get("thin", 0)
    g = which[i] == -2
    mirror = np.zeros(len(i))
    if g.any():
        color[g], mirror_ground = scene["floor"](p[g])
        mirror[g] = mirror_ground
    lift = p + nn * 2e-3
    # the sun, its edge softened
    l = SUN + rng.normal(0, 0.014, (len(i), 3))
    l /= np.linalg.norm(l, axis=1)[:, None]
    cosine = dot(nn, l)
    facing = np.maximum(cosine, 0)
    lit = np.zeros(len(i), bool)
    f = np.nonzero(facing > 0)[0]
    lit[f] = ~blocked(scene["shadow"], lift[f], l[f], FAR)
    # the sky, one direction a sample
    a = rng.normal(0, 1, (len(i), 3))
    a = nn + a / np.linalg.norm(a, axis=1)[:, None]
    a /= np.maximum(np.linalg.norm(a, axis=1), 1e-9)[:, None]
    closed = blocked(scene["shadow"], lift, a, 16)
    from_below = np.clip(-a[:, 2], 0, 1)[:, None]
    fill = sky(a, scene["mood"]) * (1 - from_below) + np.array(scene["mood"]["ground"]) * from_below
    fill = fill * np.where(closed, 0.25, 1.0)[:, None] * 0.55
    sun = (facing * lit + np.maximum(-cosine, 0) * thin)[:, None] * np.array(scene["mood"]["sun"])
    result = color * (fill + sun)
    r = dd - 2 * dot(dd, nn)[:, None] * nn
    shine = np.maximum(dot(r, l), 0) ** power * gloss * lit
    rim = (1 - np.abs(dot(dd, nn))) ** 4 * gloss
    result += shine[:, None] * 0.9 + (rim * 0.5 + gloss * 0.12)[:, None] * sky(r, scene["mood"]) * (~closed)[:, None]
    if bounce:
        m = np.nonzero(mirror > 0)[0]
        if len(m):
            wobble = r[m] + rng.normal(0, 0.03, (len(m), 3))
            seen = shade(things, scene, lift[m], wobble / np.linalg.norm(wobble, axis=1)[:, None], rng, bounce=False)
            k = mirror[m] + (1 - mirror[m]) * (1 - np.abs(dd[m, 2])) ** 5 * 0.8
            result[m] = result[m] * (1 - k)[:, None] + seen * k[:, None]
    haze = (1 - np.exp(-((np.maximum(t[i] - scene["clear"], 0)) / scene["haze"]) ** 1.3))[:, None]
    out[i] = result * (1 - haze) + sky(dd * [1, 1, 0] + [0, 0, 0.02], scene["mood"]) * haze
    return out


def render(name, scene, samples=4):
    width, height = scene["size"]
    rng = np.random.default_rng(7)
    eye, look = np.array(scene["eye"], float), np.array(scene["at"], float)
    fwd = unit(look - eye)
    right = unit(np.cross(fwd, [0, 0, 1]))
    up = np.cross(right, fwd)
    scale = np.tan(np.radians(scene["angle"]) / 2)
    side = int(round(samples**0.5))
    total = np.zeros((height, width, 3))
    tile = 48
    for y0 in range(0, height, tile):
        for x0 in range(0, width, tile):
            x, y, k = np.meshgrid(np.arange(x0, min(x0 + tile, width)), np.arange(y0, min(y0 + tile, height)), np.arange(samples), indexing="ij")
            shape = x.shape
            x, y, k = x.ravel(), y.ravel(), k.ravel()
            px = (x + (k % side + rng.random(len(x))) / side) / width * 2 - 1
            py = (y + (k // side + rng.random(len(x))) / side) / height * 2 - 1
            d = fwd + px[:, None] * scale * right - py[:, None] * scale * height / width * up
            d /= np.linalg.norm(d, axis=1)[:, None]
            o = np.broadcast_to(eye, d.shape)
            c = np.clip(shade(scene["things"], scene, o, d, rng), 0, 1.6).reshape(shape + (3,)).mean(2)
            total[y0 : y0 + c.shape[1], x0 : x0 + c.shape[0]] = c.transpose(1, 0, 2)
    c = total
    c = c / (1 + 0.18 * c)
    c = np.clip(c, 0, 1) ** (1 / 2.0)
    img = Image.fromarray((c.reshape(height, width, 3) * 255 + 0.5).astype(np.uint8))
    path = os.path.join(os.path.dirname(os.path.abspath(__file__)), name)
    if name.endswith(".png"):
        # few enough tones to keep the file small; the dither is the library's own
        img.quantize(256, method=Image.Quantize.MEDIANCUT, dither=Image.Dither.FLOYDSTEINBERG).save(path, optimize=True)
    else:
        img.save(path, quality=88, subsampling=0)


# ---- the yacht ---------------------------------------------------------------------------------------


def bolt(at, axis, span, size=0.25):
    """Head and nut of a bolt whose shank is hidden."""
    a, at = unit(axis), np.array(at, float)
    e, h = a * span / 2, a * size * 0.7
    return [
        Cylinder(at + e, at + e + h, size * 0.85, BARE),
        Cylinder(at - e, at - e - h * 1.5, size * 0.85, BARE),
        Cylinder(at - e - h * 1.5, at - e - h * 2.1, size * 0.5, BARE),
    ]


def frame():
    out = [
        Cylinder((0.5, 0, 0), (92, 0, 0), 0.625, STEEL),
        Cylinder((0, -30, 0), (0, 30, 0), 0.625, STEEL),
    ]
    for s in (1, -1):
        out.append(Cylinder((41.57, 0, 0.125), (0, 24 * s, 0.125), 0.5, STEEL))
        out += plate([(-0.55, 20 * s, 0.68), (0.55, 20 * s, 0.68), (5.5, 19.6 * s, 0.68), (6.6, 20.6 * s, 0.68), (0.55, 25.5 * s, 0.68), (-0.55, 25.5 * s, 0.68)], 0.09, PLATE)
        out += bolt((0, 21.5 * s, 0), (0, 0, 1), 1.45) + bolt((0, 24.6 * s, 0), (0, 0, 1), 1.45)
        out += bolt((3.2, 22.1 * s, 0.1), (0, 0, 1), 1.3)
        # shroud tang and mast step
        out += plate([(-0.5, 14.1 * s, 0.70), (-0.5, 17.9 * s, 0.70), (0.6, 17.9 * s, 0.70), (3.0, 15.3 * s, 1.5), (2.2, 14.2 * s, 1.4), (0.6, 14.1 * s, 0.70)], 0.09, PLATE)
        y = 0.735 * s
        out += plate([(67, y, -0.45), (73, y, -0.45), (73, y, 0.5), (71, y, 2.6), (70.4, y, 3.2), (69.6, y, 3.2), (69, y, 2.6), (67, y, 0.5)], 0.09, PLATE)
    for x in (67.8, 70, 72.2):
        out += bolt((x, 0, 0), (0, 1, 0), 1.6)
    out += bolt((70, 0, 2.5), (0, 1, 0), 1.6, 0.375)
    tee = [(-0.55, -4.3, 0.67), (0.55, -4.3, 0.67), (2.1, -0.9, 0.67), (4.6, -0.55, 0.67), (4.6, 0.55, 0.67), (2.1, 0.9, 0.67), (0.55, 4.3, 0.67), (-0.55, 4.3, 0.67)]
    out += plate(tee, 0.09, PLATE)
    for x, y in ((1.3, 0), (2.6, 0), (3.9, 0), (0, 2.2), (0, 3.6), (0, -2.2), (0, -3.6)):
        out += bolt((x, y, 0), (0, 0, 1), 1.45)
    arrow = [(43, 0.5, 0.67), (43, -0.5, 0.67), (37.6, -3.2, 0.67), (36.8, -2.4, 0.67), (38.6, -0.5, 0.67), (38.6, 0.5, 0.67), (36.8, 2.4, 0.67), (37.6, 3.2, 0.67)]
    out += plate(arrow, 0.09, PLATE)
    return out


AXIS = np.array([-np.cos(np.radians(30)), 0, np.sin(np.radians(30))])  # steering axis, upward


def head():
    c = np.array([94.0, 0, 0])
    out = [
        Cylinder(c - AXIS * 3.25, c + AXIS * 3.25, 0.625, STEEL),
        Cylinder((86, 0, 0), (93.6, 0, 0), 0.56, STEEL),
        Cylinder(c - AXIS * 3.6, c + AXIS * 4.9, 0.5, BARE),
        Cylinder(c + AXIS * 3.25, c + AXIS * 3.36, 0.8, BRASS),
        Cylinder(c - AXIS * 3.36, c - AXIS * 3.25, 0.8, BRASS),
        Cylinder(c + AXIS * 3.42, c + AXIS * 4.75, 0.5625, STEEL),
    ]
    fwd = np.cross([0, 1, 0], AXIS)
    a = c + AXIS * 3.9
    arm = [a + fwd * f + np.array([0, y, 0]) for f, y in ((0.6, -0.7), (0.45, -4.6), (-0.35, -4.6), (-0.6, -0.7), (-0.6, 0.7), (-0.35, 4.6), (0.45, 4.6), (0.6, 0.7))]
    out += plate(arm, 0.14, PLATE)
    for s in (1, -1):
        e = a + np.array([0, 4.1 * s, 0])
        out.append(Cylinder(e - AXIS * 0.3, e + AXIS * 0.3, 0.14, BARE))
        b = np.array([53.9, 9.6 * s, 1.4])
        u = unit(b - e)
        out += [Cylinder(e, b, 0.075, BARE), Cylinder(e + u * 1.1, e + u * 2.2, 0.16, BRASS), Cylinder(b - u * 6, b - u * 1.5, 0.2, BARE), Cylinder(b - u * 8, b - u * 7, 0.16, BRASS)]
    out += bolt(c + AXIS * 4.35, fwd, 1.2)
    for x in (84.8, 86.8):
        out += bolt((x, 0, 0), (0, 0, 1), 1.3)
    return out


def wheel(centre, axis=(0, 1, 0), disc=0):
    c, a = np.array(centre, float), unit(axis)
    out = [Ring(c, a, 8.9, 1.15, DARK), Cylinder(c - a * 0.62, c + a * 0.62, 8.15, BARE, bore=7.45), Cylinder(c - a * 1.4, c + a * 1.4, 1.15, DARK)]
    e1 = unit(np.cross(a, (0.0, 0.13, 1.0)))
    e2 = np.cross(a, e1)
    for k in range(9):
        th = 2 * np.pi * k / 9
        for s in (1, -1):
            h = e1 * np.cos(th + 0.14 * s) + e2 * np.sin(th + 0.14 * s)
            rim = e1 * np.cos(th) + e2 * np.sin(th)
            out.append(Cylinder(c + h * 1.0 + a * 0.9 * s, c + rim * 7.6, 0.14, BARE))
    if disc:
        out.append(Cylinder(c - a * (disc * 1.75 - 0.06), c - a * (disc * 1.75 + 0.06), 3.1, BARE, bore=1.4))
    return out


def front_wheel():
    c = np.array([94.0, 0, 0])
    crown, axle = c - AXIS * 3.75, np.array([111.0, 0, -1.0])
    out = [Box(crown, (AXIS, (0, 1, 0), np.cross(AXIS, (0, 1, 0))), (0.16, 2.75, 0.75), STEEL)]
    for s in (1, -1):
        y = np.array([0, 2.4 * s, 0])
        out += [Cylinder(crown + y - AXIS * 0.1, axle + y, 0.5, STEEL), Sphere(axle + y, 0.62, STEEL), Cylinder(axle + y, axle + y * 1.35, 0.34, BARE), Cylinder(axle + y * 1.2, axle + y * 1.3, 0.55, BARE)]
    return out + wheel(axle)


def back_wheels():
    out = []
    for s in (1, -1):
        out += [Cylinder((0, 29.9 * s, 0), (0, 30.4 * s, 0), 0.95, STEEL), Cylinder((0, 30 * s, 0), (0, 35.2 * s, -0.27), 0.32, BARE)]
        out += wheel((0, 33 * s, -1 + 0.83), (0, s, -0.052), disc=1)
        out.append(Cylinder((0, 34.6 * s, -0.24), (0, 35.1 * s, -0.27), 0.5, BARE))
    return out


def blade(pivot, look=BLADE):
    x, y, z = pivot
    side = [(13, 0.35), (11, -1.3), (3, -2.75), (-6, -2.75), (-10.5, -1.4), (-11.5, 0.2), (-9, 1.3), (-3, 2.0), (4, 2.0), (10, 1.2)]
    return plate([(x + a, y, z + b) for a, b in side], 0.25, look)


def runners():
    out = []
    z = GROUND + 2.75
    for s in (1, -1):
        y = 31.6 * s
        out += [Cylinder((0, 29.9 * s, 0), (0, y, 0), 0.56, STEEL), Cylinder((0, y, -5.2), (0, y, 0.75), 0.5, STEEL), Box((0, y, -5.3), ((1, 0, 0), (0, 1, 0), (0, 0, 1)), (0.75, 0.55, 0.1), STEEL)]
        for k in (1, -1):
            out += plate([(-0.7, y + 0.19 * k, -5.3), (0.7, y + 0.19 * k, -5.3), (0.5, y + 0.19 * k, z - 0.6), (-0.5, y + 0.19 * k, z - 0.6)], 0.125, PLATE)
        out += blade((0, y, z)) + bolt((0, y, z), (0, s, 0), 0.55, 0.375)
    c = np.array([94.0, 0, 0])
    crown = c - AXIS * 3.75
    out += [Box(crown, (AXIS, (0, 1, 0), np.cross(AXIS, (0, 1, 0))), (0.16, 0.8, 0.75), STEEL), Cylinder(crown, (107, 0, -2.2), 0.55, STEEL), Cylinder((107, 0, -1.7), (107, 0, -5.2), 0.55, STEEL)]
    for k in (1, -1):
        out += plate([(106.3, 0.19 * k, -5.1), (107.7, 0.19 * k, -5.1), (107.5, 0.19 * k, z - 0.6), (106.5, 0.19 * k, z - 0.6)], 0.125, PLATE)
    return out + blade((107, 0, z)) + bolt((107, 0, z), (0, 1, 0), 0.55, 0.375)


def seat():
    z = 1.25
    out = []
    for s in (1, -1):
        out.append(Cylinder((6.5, 8.5 * s, z), (26.5, 8.5 * s, z), 0.5, BARE))
        out += [Sphere((x, 8.5 * s, z), 0.5, BARE) for x in (6.5, 26.5)]
        for x, e in ((26.5, -1), (6.5, 1)):
            out += plate([(x - 0.3 * e * -1, 8.8 * s, z + 0.53), (x + 2.6 * e, 8.8 * s, z + 0.53), (x + 2.6 * e, 8.2 * s, z + 0.53), (x + 0.3 * e, 5.9 * s, z + 0.53), (x - 0.3 * e, 5.9 * s, z + 0.53)], 0.063, PLATE)
            for k in (1.1, 2.2):
                out += [Sphere((x + k * e, 8.5 * s, z + 0.54), 0.13, BARE), Sphere((x, (8.5 - k) * s, z + 0.54), 0.13, BARE)]
    for x in (6.5, 26.5):
        out.append(Cylinder((x, -8.5, z), (x, 8.5, z), 0.5, BARE))
    for x in (11, 21):
        out.append(Cylinder((x, -8.5, z), (x, 8.5, z), 0.5, BARE))
        out.append(Box((x, 0, z - 0.56), ((1, 0, 0), (0, 1, 0), (0, 0, 1)), (0.9, 0.9, 0.06), CORD))
    lean = np.array([-np.sin(np.radians(20)), 0, np.cos(np.radians(20))])
    foot, top, r = np.array([9.6, 0, z]), 19.5, 4.0
    pts = []
    for s in (1, -1):
        y = np.array([0, 8.5 * s, 0])
        out.append(Cylinder(foot + y, foot + y + lean * (top - r), 0.5, BARE))
        out += plate([(6.9, 9.05 * s, z - 0.4), (11.9, 9.05 * s, z - 0.4), (11.9, 9.05 * s, z + 0.4), tuple(foot + np.array([0.4, 9.05 * s, 0.3]) + lean * 3.6), tuple(foot + np.array([-0.5, 9.05 * s, 0]) + lean * 3.6), (6.9, 9.05 * s, z + 0.4)], 0.063, PLATE)
        bend = [foot + lean * (top - r + r * np.sin(a)) + np.array([0, s * (8.5 - r + r * np.cos(a)), 0]) for a in np.radians(np.arange(0, 91, 10))]
        for p, q in zip(bend, bend[1:]):
            out += [Cylinder(p, q, 0.5, BARE), Sphere(q, 0.5, BARE)]
    t = foot + lean * top
    out.append(Cylinder(t + [0, -4.5, 0], t + [0, 4.5, 0], 0.5, BARE))
    # the sling: from the crossbar down and forward to the front tube
    grid = []
    for u in np.linspace(0, 1, 15):
        if u < 0.55:
            k = u / 0.55
            base = t * (1 - k) + np.array([11.0, 0, z + 1.1]) * k
            sag = np.array([-1.6, 0, -0.4]) * np.sin(np.pi * k)
        else:
            k = (u - 0.55) / 0.45
            base = np.array([11.0, 0, z + 1.1]) * (1 - k) + np.array([26.4, 0, z + 0.75]) * k
            sag = np.array([0, 0, -0.2]) * np.sin(np.pi * k)
        half = 7.6 if u > 0.12 else 4.6 + 3.0 * u / 0.12
        grid.append([base + sag * (1 - v * v) + np.array([0, half * v, 0.25 * v * v]) for v in np.linspace(-1, 1, 9)])
    out += sheet(grid, CLOTH)
    for row in grid[2:-1:2]:
        for e, s in ((row[0], -1), (row[-1], 1)):
            e = np.array(e)
            rail = np.array([max(e[0], 7.2), 8.6 * s, z]) if e[2] < 4 else foot + np.array([0, 8.5 * s, 0]) + lean * ((e[2] - z) / lean[2])
            out.append(Cylinder(e + [0, -0.35 * s, 0.03], rail + np.array([0, 0.3 * s, 0.45]), 0.09, CORD))
            out.append(Cylinder(e + np.array([0, -0.35 * s, -0.02]), e + np.array([0, -0.35 * s, 0.07]), 0.2, BRASS))
    belt = [np.array([12.6, y, z + 1.0 + 0.75 * (1 - (y / 8.2) ** 2)]) for y in np.linspace(-7.6, 7.6, 9)]
    out += sheet([[p + [0.95, 0, 0.02], p - [0.95, 0, 0.02]] for p in belt], DARK)
    out.append(Box((12.6, 0, z + 1.85), ((1, 0, 0), (0, 1, 0), (0, 0, 1)), (1.1, 1.2, 0.14), BARE))
    return out


def feet():
    out = []
    z = 0.78
    out.append(Box((49, 0, z), ((1, 0, 0), (0, 1, 0), (0, 0, 1)), (4, 11, 0.04), PLATE))
    for s in (1, -1):
        out.append(Box((49, 11 * s, z + 0.5), ((1, 0, 0), (0, 1, 0), (0, 0, 1)), (4, 0.04, 0.5), PLATE))
    out.append(Cylinder((53.9, -11, 1.3), (53.9, 11, 1.3), 0.5, STEEL))
    out.append(Cylinder((53.9, 0, 1.8), (53.9, 0, 2.05), 0.32, BARE))
    return out


def mast_point(h):
    k = np.radians(3)
    return np.array([70 - h * np.sin(k), 0, 2.5 + h * np.cos(k)])


def rig():
    out = [Cylinder(mast_point(0), mast_point(4), 0.6875, STEEL), Cylinder(mast_point(3), mast_point(87), 0.75, BARE), Cylinder(mast_point(86), mast_point(156), 0.6875, BARE)]
    top = mast_point(149)
    out += [Cylinder(top, (86, 0, 1.6), 0.1, BARE)]
    out += [Cylinder(top, (2.4, 15 * s, 1.4), 0.1, BARE) for s in (1, -1)]
    boom_end = np.array([-15, -7.0, 39.0])
    jaw = mast_point(34) - [0.8, 0, 0]
    out.append(Cylinder(jaw, boom_end, 0.75, BARE))
    grid = []
    for u in np.linspace(0, 1, 19):
        luff = mast_point(38 + u * 112) - [0.9, 0, 0]
        chord = 76 * (1 - u) ** 0.82 + 3
        roach = 7 * np.sin(np.pi * u) ** 1.2
        tip = np.array([luff[0] - chord - roach, -7.5 * (1 - u) ** 0.6 - 3 * u * (1 - u), luff[2] - (chord * 0.0) + 3.5 * (1 - u)])
        row = []
        for v in np.linspace(0, 1, 13):
            p = luff * (1 - v) + tip * v
            p = p + np.array([0, -8.5 * np.sin(np.pi * v**0.8) * (1 - u) ** 0.5 * (0.25 + u * 0.9 if u < 0.35 else 0.565 + (u - 0.35) * 0.2), 0])
            row.append(p)
        grid.append(row)
    out += sheet(grid, SAILCLOTH)
    for u in (4, 8, 12):
        row = grid[u]
        for p, q in zip(row[5:], row[6:]):
            out.append(Cylinder(p, q, 0.28, CLOTH))
    out.append(Cylinder(boom_end * 0.95 + jaw * 0.05, (1, 0, 1.2), 0.12, CORD))
    return out


# ---- the pictures ------------------------------------------------------------------------------------

BEACH = dict(horizon=np.array([0.93, 0.91, 0.86]), zenith=np.array([0.28, 0.50, 0.78]), ground=(0.50, 0.44, 0.34), sun=(0.98, 0.92, 0.80))
WINTER = dict(horizon=np.array([0.92, 0.94, 0.96]), zenith=np.array([0.36, 0.55, 0.78]), ground=(0.55, 0.62, 0.68), sun=(0.90, 0.88, 0.82))
SHOP = dict(horizon=np.array([0.97, 0.97, 0.97]), zenith=np.array([0.80, 0.84, 0.88]), ground=(0.55, 0.55, 0.55), sun=(0.72, 0.71, 0.68))


def scene(things, mood, floor_look, eye, at, angle, size, clear=700.0, haze=900.0):
    return dict(size=size, things=things, shadow=things, mood=mood, floor=floor_look, eye=eye, at=at, angle=angle, ground=GROUND, clear=clear, haze=haze)


def whole_sand():
    return scene(frame() + head() + front_wheel() + back_wheels() + seat() + feet() + rig(), BEACH, sand, (268, 205, 70), (42, -6, 66), 30, TALL)


def whole_ice():
    return scene(frame() + head() + runners() + seat() + feet() + rig(), WINTER, ice, (262, 215, 52), (42, -6, 66), 30, TALL)


def front_end():
    return scene(frame() + feet() + head() + front_wheel(), SHOP, floor, (150, 38, 27), (101, -1, -1.5), 33, WIDE, clear=2000)


def seat_sling():
    return scene(frame() + seat() + feet() + back_wheels(), SHOP, floor, (62, 44, 40), (15, -1, 6.5), 37, WIDE, clear=2000)


PICTURES = {"whole-sand.jpg": whole_sand, "whole-ice.jpg": whole_ice, "front-end.png": front_end, "seat-sling.png": seat_sling}

if __name__ == "__main__":
    for name in sys.argv[1:] or PICTURES:
        render(name, PICTURES[name]())
