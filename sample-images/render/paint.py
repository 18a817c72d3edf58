"""What a steel surface has been through, painted into maps: colour, roughness, metalness and height over its addresses.

Layers from below: bare steel, rust, primer, paint, then rubber, grease, dust and what people wrote on it.
"""

import cv2
import numpy as np

from noise import step

STEEL = np.array([0.40, 0.39, 0.375], np.float32)
RUST_DARK = np.array([0.060, 0.026, 0.014], np.float32)
RUST_MID = np.array([0.165, 0.062, 0.023], np.float32)
RUST_LIGHT = np.array([0.36, 0.165, 0.062], np.float32)
PRIMER = np.array([0.20, 0.075, 0.055], np.float32)
RUBBER = np.array([0.018, 0.017, 0.016], np.float32)
GREASE = np.array([0.030, 0.022, 0.015], np.float32)
DUST = np.array([0.36, 0.285, 0.20], np.float32)
CHALK = np.array([0.80, 0.80, 0.76], np.float32)


class Maps:
    """Colour (linear RGB), roughness, metalness, height in mm; arrays over a field."""

    def __init__(self, field):
        self.field = field
        self.colour = np.broadcast_to(STEEL, field.shape + (3,)).astype(np.float32).copy()
        self.rough = np.full(field.shape, 0.4, np.float32)
        self.metal = np.ones(field.shape, np.float32)
        self.height = np.zeros(field.shape, np.float32)

    def lay(self, mask, colour=None, rough=None, metal=None, height=None):
        """Lays something over the surface where mask is 1; height is added."""
        mask = np.clip(mask, 0, 1).astype(np.float32)
        if colour is not None:
            self.colour += mask[..., None] * (np.asarray(colour, np.float32) - self.colour)
        if rough is not None:
            self.rough += mask * (rough - self.rough)
        if metal is not None:
            self.metal += mask * (metal - self.metal)
        if height is not None:
            self.height += mask * height


class Bends:
    """Curvature of the section along the rows of a field: hollow corners gather dirt, edges lose paint."""

    def __init__(self, field, profile):
        bend = np.interp(field.s, profile.s, profile.bend)
        spread = lambda sigma: cv2.GaussianBlur(
            np.ascontiguousarray(bend.reshape(-1, 1).astype(np.float32)), (0, 0), sigmaX=0.1, sigmaY=sigma / field.res
        )
        self.hollow = np.clip(-spread(2.5) * 6, 0, 1)
        self.edge = np.clip(spread(1.2) * 3.5, 0, 1)


def weather(field, profile, look, down):
    """The maps of a surface without its particular defects.

    `look`: paint (linear RGB), wear, rust, grease, dust (0 … 1), seed, zones: (treatment, low s, high s).
    `down`: the way water runs: ('s' or 'u', +1 or -1).
    """
    maps = Maps(field)
    bends = Bends(field, profile)
    seed = look["seed"]
    bands = {}
    for treatment, low, high in look["zones"]:
        edge = 1.6 * field.fbm(9, seed + 78, 4)
        s = field.s[:, None]
        band = step(s + edge, low - 0.7, low + 0.7) * step(-(s + edge), -high - 0.7, -high + 0.7)
        bands[treatment] = np.maximum(bands.get(treatment, 0), band * np.ones(field.shape, np.float32))
    none = np.zeros(field.shape, np.float32)
    polish, rubber = bands.get("polish", none), bands.get("rubber", none)
    fret, groove = bands.get("fret", none), bands.get("groove", none)
    raw = bands.get("bare", none)
    bare = np.clip(polish + rubber + fret + groove + raw, 0, 1)

    _steel(maps, seed)
    _rust(maps, bends, look, bare, polish, rubber, groove, fret)
    _paint(maps, bends, look, bare, down)
    _rubber(maps, rubber, seed)
    _fretting(maps, fret, seed)
    _polish(maps, polish, seed)
    _grease(maps, bends, look, groove)
    _dust(maps, bends, look, polish)
    return maps


def _steel(maps, seed):
    f = maps.field
    scan = f.scan("ambientcg_metal055a", 260, (seed * 37 % 200, seed * 91 % 200)).mean(axis=2)
    tone = 0.42 + 0.5 * (scan - scan.mean()) + 0.05 * f.fbm(5, seed + 1, 3, stretch=7)
    maps.colour[:] = STEEL * np.clip(tone / 0.42, 0.5, 1.5)[..., None]
    maps.rough[:] = np.clip(0.42 + 0.12 * f.fbm(20, seed + 2, 4) + 0.07 * f.noise(0.8, seed + 3, 12), 0.22, 0.75)
    maps.height[:] = 0.012 * f.fbm(1.4, seed + 4, 3, stretch=3)


def rust_colour(f, seed):
    """Colour of rust: a scan for its grain, mixed from dark scale to light bloom by slow noise."""
    scan = f.scan("rust_coarse_01", 170, (seed * 53 % 150, seed * 29 % 150))
    grain = scan / np.maximum(scan.mean(axis=(0, 1)), 1e-4)
    grain = np.clip(grain, 0.3, 2.4) ** 0.8
    slow = 0.5 + 0.5 * f.fbm(16, seed + 11, 5, gain=0.65)
    mix = np.clip(slow, 0, 1)[..., None]
    colour = np.where(mix < 0.5, RUST_DARK + (RUST_MID - RUST_DARK) * mix * 2, RUST_MID + (RUST_LIGHT - RUST_MID) * (mix - 0.5) * 1.5)
    return colour * grain


def _rust(maps, bends, look, bare, polish, rubber, groove, fret):
    f, seed = maps.field, look["seed"]
    field = 0.75 * f.fbm(38, seed + 21, 7, gain=0.62, stretch=1.5) + 0.3 * f.fbm(7, seed + 22, 4)
    bias = 1.9 * (look["rust"] - 0.5) + 0.5 * bends.hollow
    bias = bias - 1.1 * polish - 0.45 * rubber + 0.35 * groove
    mask = step(field + bias, -0.12, 0.22)
    scale = 0.05 * f.fbm(3.0, seed + 23, 4) + 0.02 * f.noise(0.6, seed + 24)
    maps.lay(mask, rust_colour(f, seed), 0.86, 0.0, 0.05 + scale)
    # A brown film of flash rust on what is bare and not rubbed.
    film = np.clip(0.35 + 0.4 * f.fbm(25, seed + 25, 5) + 0.5 * (look["rust"] - 0.4), 0, 0.75) * (1 - mask) * (1 - 0.85 * polish)
    maps.lay(film, rust_colour(f, seed + 5) * 1.1, 0.72, 0.12)


def _paint(maps, bends, look, bare, down):
    f, seed = maps.field, look["seed"]
    if look["paint"] is None:
        return
    field = 0.62 * f.fbm(55, seed + 31, 8, gain=0.6) + 0.38 * f.fbm(6, seed + 32, 5, gain=0.7)
    loss = 1.75 * (look["wear"] - 0.92) + 1.1 * bends.edge + 0.2 * bends.hollow * look["rust"]
    scratches = scratch_mask(f, seed + 33, int(f.width * f.height * f.res**2 / 1500 * look["wear"]))
    level = field + loss + 0.55 * scratches
    covered = step(-level, 0.0, 0.035) * (1 - step(bare, 0.35, 0.65))
    primed = step(-level + 0.055 + 0.05 * f.noise(2, seed + 34), 0.0, 0.03) * (1 - step(bare, 0.45, 0.75))
    halo = np.clip(cv2.GaussianBlur((1 - primed).astype(np.float32), (0, 0), 1.6 / f.res) * 1.6, 0, 1)
    bleed = run_down((1 - primed) * step(f.fbm(9, seed + 35, 3), 0.15, 0.7) * look["rust"] * (1 - bare), down, 45 / f.res)
    bleed *= np.clip(0.5 + 0.6 * f.fbm(2.2, seed + 36, 3), 0, 1)
    maps.lay(primed, PRIMER * (1 + 0.25 * f.fbm(4, seed + 37, 3))[..., None], 0.75, 0.0, 0.04)
    colour = np.asarray(look["paint"], np.float32) * (1 + 0.10 * f.fbm(90, seed + 38, 4) + 0.05 * f.fbm(3, seed + 39, 3))[..., None]
    faded = np.clip(0.22 + 0.25 * f.fbm(70, seed + 40, 4), 0, 0.5)[..., None]
    grey = colour.mean(axis=2, keepdims=True)
    colour = colour + faded * (0.5 * grey + 0.5 * colour + 0.05 - colour)
    maps.lay(covered, colour, np.clip(0.46 + 0.14 * f.fbm(25, seed + 41, 4), 0.28, 0.8), 0.0, 0.10)
    maps.height += covered * (0.018 * f.fbm(2.2, seed + 42, 2))
    stain = np.clip(0.75 * halo * look["rust"] * (0.55 + 0.5 * f.fbm(5, seed + 43, 4)), 0, 0.8)
    maps.lay(covered * stain, RUST_MID * 1.2, 0.8)
    maps.lay(covered * np.clip(bleed, 0, 0.75), RUST_MID * 1.35, 0.75)
    scuffs = 0.6 * step(f.fbm(11, seed + 44, 7, gain=0.68, stretch=1.7), 0.75, 1.5)
    maps.lay(covered * np.clip(scuffs, 0, 1), [0.10, 0.092, 0.08], 0.6)


def _rubber(maps, rubber, seed):
    f = maps.field
    if not rubber.any():
        return
    coat = step(f.fbm(30, seed + 51, 6, gain=0.6, stretch=3.0) + 0.35 * f.fbm(2.0, seed + 52, 3, stretch=14), -0.45, 0.5)
    coat = rubber * (0.25 + 0.70 * coat)
    maps.lay(coat, RUBBER * (1.5 + 0.9 * f.fbm(6, seed + 53, 4, stretch=5))[..., None], np.clip(0.40 + 0.12 * f.fbm(8, seed + 54, 3, stretch=6), 0.25, 0.7), 0.15, 0.02)
    worn = rubber * step(f.fbm(22, seed + 55, 6, stretch=5), 0.35, 0.8)
    maps.lay(0.75 * worn, STEEL * (0.75 + 0.2 * f.noise(1.0, seed + 56, 20))[..., None], 0.36, 0.95)


def _fretting(maps, fret, seed):
    f = maps.field
    if not fret.any():
        return
    powder = step(f.fbm(11, seed + 61, 6, gain=0.62, stretch=2.2), -0.5, 0.5)
    maps.lay(fret * (0.3 + 0.65 * powder), np.array([0.075, 0.034, 0.020]) * (1 + 0.5 * f.fbm(2.5, seed + 62, 4))[..., None], 0.7, 0.25, 0.02)
    bright = fret * step(f.fbm(7, seed + 63, 5, stretch=3.5), 0.12, 0.5)
    maps.lay(0.9 * bright, STEEL * (0.95 + 0.2 * f.noise(0.7, seed + 64, 16))[..., None], 0.30, 1.0, -0.03)
    maps.height += fret * 0.025 * f.fbm(1.6, seed + 65, 3, stretch=2)


def _polish(maps, polish, seed):
    f = maps.field
    if not polish.any():
        return
    shine = polish * step(f.fbm(16, seed + 71, 5, stretch=4), -0.95, -0.25)
    streaks = 0.5 * f.noise(0.5, seed + 72, 60) + 0.5 * f.noise(1.6, seed + 73, 40)
    maps.lay(0.92 * shine, STEEL * (1.12 + 0.12 * streaks)[..., None], np.clip(0.30 + 0.08 * streaks, 0.2, 0.5), 1.0)
    maps.height += polish * 0.010 * streaks


def _grease(maps, bends, look, groove):
    f, seed = maps.field, look["seed"]
    field = f.fbm(18, seed + 81, 6, gain=0.6, stretch=2) + 1.5 * bends.hollow + 0.5 * groove + 2.2 * (look["grease"] - 0.75)
    mask = step(field, 0.55, 1.05)
    wet = step(f.fbm(30, seed + 82, 4), 0.1, 0.6)
    maps.lay(0.92 * mask, GREASE * (1 + 0.45 * f.fbm(3, seed + 83, 4))[..., None] + 0.10 * DUST * step(f.fbm(5, seed + 84, 4), 0.0, 0.8)[..., None], 0.70 - 0.32 * wet, 0.0, 0.10 + 0.25 * bends.hollow)
    maps.height += mask * (0.06 * f.fbm(2.5, seed + 85, 4))


def _dust(maps, bends, look, polish):
    f, seed = maps.field, look["seed"]
    amount = look["dust"] * np.clip(0.55 + 0.5 * f.fbm(45, seed + 91, 6, gain=0.6) + 0.3 * bends.hollow + 0.15 * f.fbm(1.2, seed + 92, 2), 0, 1)
    maps.lay(0.62 * amount * (1 - 0.7 * polish), DUST * (1 + 0.15 * f.fbm(4, seed + 93, 3))[..., None], 0.9, None)
    maps.metal *= 1 - 0.5 * amount
    specks = step(f.noise(0.9, seed + 94), 0.95, 1.05) * step(f.fbm(30, seed + 95, 3), -0.2, 0.6)
    maps.lay(0.5 * specks * look["dust"], DUST * 0.8, 0.9, 0.0, 0.05)


def scratch_mask(f, seed, count):
    """Fine scratches of all directions, most of them round the rim."""
    rng = np.random.default_rng(seed)
    image = np.zeros(f.shape, np.uint8)
    for _ in range(min(count, 4000)):
        start = rng.uniform([f.u0, f.s0], [f.u1, f.s1])
        turn = rng.normal(0, 0.35) if rng.random() < 0.65 else rng.uniform(0, np.pi)
        length = rng.lognormal(2.2, 0.8)
        bow = rng.normal(0, 0.08) * length
        t = np.linspace(0, 1, 12)
        along = np.stack([np.cos(turn) * t * length, np.sin(turn) * t * length], axis=1)
        across = np.stack([-np.sin(turn) * bow * t * (1 - t), np.cos(turn) * bow * t * (1 - t)], axis=1)
        u, s = (start + along + across).T
        path = np.stack(f.px(u, s), axis=1)
        cv2.polylines(image, [np.round(path * 16).astype(np.int32)], False, int(rng.uniform(60, 255)), 1, cv2.LINE_AA, 4)
    return image.astype(np.float32) / 255


def run_down(source, down, reach):
    """What runs from a source down the surface: a smear that fades over `reach` pixels."""
    axis, sign = down
    image = np.ascontiguousarray(source if axis == "s" else source.T)
    if sign < 0:
        image = image[::-1]
    keep = float(np.exp(-1 / reach))
    out = np.empty_like(image)
    run = np.zeros(image.shape[1], np.float32)
    for row in range(image.shape[0]):
        run = np.maximum(image[row], run * keep)
        out[row] = run
    if sign < 0:
        out = out[::-1]
    return out if axis == "s" else out.T
