"""Seeded noise over the address plane of a surface. The same place has the same value on every map."""

import math
import os

import cv2
import numpy as np

TEXTURES = os.path.join(os.path.dirname(os.path.abspath(__file__)), "textures")


class Field:
    """A map over u (mm round the rim) and s (mm along the section) with `res` mm per pixel; rows are s."""

    def __init__(self, u_range, s_range, res):
        self.u0, self.u1 = u_range
        self.s0, self.s1 = s_range
        self.res = res
        self.width = int(round((self.u1 - self.u0) / res)) + 1
        self.height = int(round((self.s1 - self.s0) / res)) + 1
        self.u = (self.u0 + np.arange(self.width) * res).astype(np.float32)
        self.s = (self.s0 + np.arange(self.height) * res).astype(np.float32)
        self.shape = (self.height, self.width)

    def grid(self):
        return np.meshgrid(self.u, self.s)

    def px(self, u, s):
        """Map pixel (column, row) of an address."""
        return (np.asarray(u) - self.u0) / self.res, (np.asarray(s) - self.s0) / self.res

    def noise(self, size, seed, stretch=1.0):
        """Smooth noise, about -1 … 1, with features of `size` mm; `stretch` > 1 draws them out round the rim."""
        cell_u, cell_s = size * stretch, size
        if min(cell_u, cell_s) < 1.2 * self.res:
            return np.zeros(self.shape, np.float32)
        # Slow noise is worked out on every n-th point and drawn out: ten points a cell are plenty.
        every = 2 ** max(0, int(math.log2(max(1.0, min(cell_u, cell_s) / (10 * self.res)))))
        u, s = self.u[::every], self.s[::every]
        first_u, first_s = int(math.floor(self.u0 / cell_u)) - 2, int(math.floor(self.s0 / cell_s)) - 2
        count_u = int(math.ceil(self.u1 / cell_u)) + 3 - first_u
        count_s = int(math.ceil(self.s1 / cell_s)) + 3 - first_s
        lattice = _hashed(first_u, first_s, count_u, count_s, seed)
        place = np.array(
            [[every * self.res / cell_u, 0, self.u0 / cell_u - first_u], [0, every * self.res / cell_s, self.s0 / cell_s - first_s]]
        )
        few = cv2.warpAffine(lattice, place, (len(u), len(s)), flags=cv2.INTER_CUBIC | cv2.WARP_INVERSE_MAP, borderMode=cv2.BORDER_REPLICATE)
        if every == 1:
            return few
        draw_out = np.array([[every, 0, 0], [0, every, 0]], np.float32)
        return cv2.warpAffine(few, draw_out, (self.width, self.height), flags=cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)

    def fbm(self, size, seed, octaves=5, gain=0.55, stretch=1.0):
        """Sum of noises, each half the size of the one before; about -1 … 1."""
        total = np.zeros(self.shape, np.float32)
        weight, sum_of_squares = 1.0, 0.0
        for octave in range(octaves):
            total += weight * self.noise(size / 2**octave, seed * 31 + octave, stretch)
            sum_of_squares += weight * weight
            weight *= gain
        return total / math.sqrt(sum_of_squares)

    def between(self, low, high, soft=1.0):
        """1 where arc length lies between two values, with soft ends, as a column that broadcasts over u."""
        rise = 1 / (1 + np.exp(-np.clip((self.s - low) / (soft / 4), -40, 40)))
        fall = 1 / (1 + np.exp(-np.clip((high - self.s) / (soft / 4), -40, 40)))
        return (rise * fall).astype(np.float32)[:, None]

    def scan(self, name, tile_mm, offset=(0.0, 0.0)):
        """A scanned texture laid over the surface, linear RGB; mirrored at its edges."""
        image = _texture(name)
        size = image.shape[0]
        place = lambda values, shift: _mirror((values + shift) / tile_mm * size, size)
        col, row = np.meshgrid(place(self.u, offset[0]), place(self.s, offset[1]))
        if tile_mm / size < self.res:
            image = cv2.GaussianBlur(image, (0, 0), 0.5 * self.res * size / tile_mm)
        return cv2.remap(image, col.astype(np.float32), row.astype(np.float32), cv2.INTER_LINEAR)


def _hashed(first_u, first_s, count_u, count_s, seed):
    iu = (np.arange(count_u, dtype=np.int64) + first_u)[None, :]
    js = (np.arange(count_s, dtype=np.int64) + first_s)[:, None]
    key = (iu * 73856093) ^ (js * 19349663) ^ (int(seed) * 83492791 + 12345)
    key &= 0xFFFFFFFF
    for multiplier in (0x85EBCA6B, 0xC2B2AE35):
        key ^= key >> 15
        key = (key * multiplier) & 0xFFFFFFFF
    key ^= key >> 16
    return (key.astype(np.float64) / 0xFFFFFFFF * 2.4 - 1.2).astype(np.float32)


_loaded = {}


def _texture(name):
    if name not in _loaded:
        image = cv2.imread(os.path.join(TEXTURES, name + ".jpg"))
        if image is None:
            raise FileNotFoundError(f"texture {name}.jpg is not in {TEXTURES}")
        _loaded[name] = linear(image[:, :, ::-1].astype(np.float32) / 255)
    return _loaded[name]


def _mirror(values, size):
    turn = np.mod(values, 2 * size)
    return np.clip(np.where(turn < size, turn, 2 * size - 1 - turn), 0, size - 1)


def linear(srgb):
    """sRGB 0 … 1 to linear light."""
    return np.where(srgb <= 0.04045, srgb / 12.92, ((srgb + 0.055) / 1.055) ** 2.4).astype(np.float32)


def step(values, low, high):
    """0 below low, 1 above high, smooth between."""
    t = np.clip((values - low) / (high - low), 0, 1)
    return t * t * (3 - 2 * t)
