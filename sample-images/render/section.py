"""Sections of rims as lathe profiles: every surface point has an address (angle, arc length along the section).

Rim frame, mm: x along the axle towards the gutter side, z up, y to the right as seen from the gutter side. Angles run
clockwise as seen from the gutter side, 0 at the valve (12 o'clock).
"""

import json
import math

import numpy as np

STEP_MM = 0.5
"""Distance of the points of a profile."""
EDGE_MM = 0.45
"""Standard deviation of the smoothing that breaks sharp edges, as use does."""


class Rims:
    """The sections and card layouts that geometry.ts writes."""

    def __init__(self, path):
        with open(path, encoding="utf-8") as file:
            content = json.load(file)
        self.rims = {(rim["designation"], rim["construction"]): rim for rim in content["rims"]}
        self.cards = {card["name"]: card for card in content["cards"]}

    def rim(self, designation, construction):
        return self.rims[(designation, construction)]


class Profile:
    """The closed outline of one part, resampled, with outward normals and curvature.

    `x`, `r` (distance from the axle), `s` (arc length), `nx`, `nr`, `bend` (1/mm, positive on convex edges) are arrays
    over the points of the outline; `length` is its whole length.
    """

    def __init__(self, outline, zones, bore_radius, far_from=None, surface=0):
        line = np.array(outline, float)
        if np.allclose(line[0], line[-1]):
            line = line[:-1]
        line[:, 1] += bore_radius
        # Counter-clockwise in (x, r), so that the outward normal lies to the right of the way.
        area = np.sum(line[:, 0] * np.roll(line[:, 1], -1) - np.roll(line[:, 0], -1) * line[:, 1])
        if area < 0:
            line = line[::-1]
        self._dense(line)
        self.zones = {}
        if far_from is not None:
            facing = np.array(zones[far_from][surface], float) + [0, bore_radius]
            middle = facing.mean(axis=0) if len(facing) == 2 else facing[len(facing) // 2]
            self._turn(self._nearest([middle])[0] + len(self.x) // 2)
        for zone, lines in zones.items():
            self.zones[zone] = [self._range(np.array(one, float) + [0, bore_radius]) for one in lines]

    def _dense(self, line):
        closed = np.vstack([line, line[:1]])
        at = np.concatenate([[0], np.cumsum(np.hypot(*np.diff(closed, axis=0).T))])
        count = max(16, int(round(at[-1] / STEP_MM)))
        even = np.linspace(0, at[-1], count, endpoint=False)
        points = np.stack([np.interp(even, at, closed[:, i]) for i in (0, 1)], axis=1)
        points = _smooth(points, EDGE_MM / (at[-1] / count))
        self._set(points[:, 0], points[:, 1])

    def _set(self, x, r):
        self.x, self.r = x, r
        dx, dr = _central(x), _central(r)
        size = np.hypot(dx, dr)
        self.nx, self.nr = dr / size, -dx / size
        legs = np.hypot(np.diff(np.append(x, x[0])), np.diff(np.append(r, r[0])))
        self.s = np.concatenate([[0], np.cumsum(legs)[:-1]])
        self.length = float(legs.sum())
        turn = np.unwrap(np.arctan2(dr, dx))
        bend = (np.roll(turn, -1) - np.roll(turn, 1)) / (2 * self.length / len(x))
        bend[0], bend[-1] = bend[1], bend[-2]
        self.bend = bend

    def _turn(self, first):
        self._set(np.roll(self.x, -first), np.roll(self.r, -first))

    def _nearest(self, points):
        return [int(np.argmin((self.x - px) ** 2 + (self.r - pr) ** 2)) for px, pr in points]

    def _range(self, line):
        """Range of arc length that a line covers; it starts below 0 where it runs over the outline's first point."""
        found = np.unique(self.s[self._nearest(line)])
        holes = np.diff(np.append(found, found[0] + self.length))
        after = int(np.argmax(holes))
        low, high = float(found[(after + 1) % len(found)]), float(found[after])
        return (low - self.length if low > high else low), high

    def zone(self, name, index=0):
        """Range of arc length of a zone; `index` where it has several surfaces."""
        return self.zones[name][index]

    def at(self, s):
        """(x, r, nx, nr) at arc lengths s."""
        s = np.asarray(s, float)
        whole = np.append(self.s, self.length)
        close = lambda values: np.append(values, values[0])
        return tuple(np.interp(s, whole, close(values)) for values in (self.x, self.r, self.nx, self.nr))

    def point(self, angle, s, height=0.0):
        """Points of the surface in the rim frame, mm: arrays of shape (..., 3)."""
        x, r, nx, nr = self.at(s)
        out = r + height * nr
        return np.stack(np.broadcast_arrays(x + height * nx, out * np.sin(angle), out * np.cos(angle)), axis=-1)

    def normal(self, angle, s):
        """Outward unit normals in the rim frame."""
        _, _, nx, nr = self.at(s)
        return np.stack(np.broadcast_arrays(nx, nr * np.sin(angle), nr * np.cos(angle)), axis=-1)

    def along(self, angle, s):
        """Unit tangents in the direction of growing arc length."""
        _, _, nx, nr = self.at(s)
        return np.stack(np.broadcast_arrays(-nr, nx * np.sin(angle), nx * np.cos(angle)), axis=-1)


def angle_of(clock):
    """Angle of a clock position, radians."""
    return clock / 12 * 2 * math.pi


def around(angle):
    """Unit tangents in the direction of growing angle."""
    angle = np.asarray(angle, float)
    return np.stack([np.zeros_like(angle), np.cos(angle), -np.sin(angle)], axis=-1)


def part_of(rim, slot, far_from=None, surface=0):
    """The profile of a part of a rim; its first point lies opposite to a surface of the zone `far_from`."""
    part = next(one for one in rim["parts"] if one["slot"] == slot)
    return Profile(part["outline"], part["zones"], rim["seatRadiusMm"] - rim["seatY"], far_from, surface)


def _central(values):
    return np.roll(values, -1) - np.roll(values, 1)


def _smooth(points, sigma):
    reach = max(1, int(math.ceil(3 * sigma)))
    weights = np.exp(-0.5 * (np.arange(-reach, reach + 1) / sigma) ** 2)
    weights /= weights.sum()
    padded = np.vstack([points[-reach:], points, points[:reach]])
    return np.stack([np.convolve(padded[:, i], weights, mode="valid") for i in (0, 1)], axis=1)
