"""Defects and what looks like one, painted into the maps of a surface, each with its truth in addresses.

Truth is kept in (u, s): mm round the rim at the zone's reference radius, mm along the section.
"""

import cv2
import numpy as np

from noise import step
from paint import CHALK, GREASE, RUBBER, RUST_DARK, RUST_LIGHT, RUST_MID, STEEL, run_down, rust_colour


class Crack:
    """A crack: one or more runs of (u, s) points, the opening at each, its depth."""

    def __init__(self, runs, opening_mm, depth_mm):
        self.runs = runs
        self.opening_mm = opening_mm
        self.depth_mm = depth_mm


def crack_path(start, direction, length, seed, wander=0.5, step_mm=1.0):
    """A run that keeps to a direction (radians in the u, s plane) and wanders as fatigue cracks do.

    The length along the run is exactly `length`.
    """
    rng = np.random.default_rng(seed)
    count = max(4, int(round(length / step_mm)))
    heading = np.zeros(count)
    drift = 0.0
    for i in range(count):
        drift = 0.86 * drift + rng.normal(0, 0.16 * wander)
        heading[i] = drift + (rng.normal(0, 0.35 * wander) if rng.random() < 0.25 else 0)
    heading -= np.linspace(heading[: max(1, count // 6)].mean(), heading.mean(), count) * 0.3
    heading -= heading.mean()
    leg = length / count
    du, ds = leg * np.cos(direction + heading), leg * np.sin(direction + heading)
    path = np.vstack([[0, 0], np.cumsum(np.stack([du, ds], axis=1), axis=0)])
    return path + np.asarray(start, float)


def centred(path, middle):
    """The run shifted so that its middle point lies at an address."""
    return path + (np.asarray(middle, float) - path[len(path) // 2])


def keep_to_row(path, s, loose=0.25):
    """Pulls a run to a line of constant s, as a crack in a fillet or a weld toe keeps to it; restores the spacing."""
    out = path.copy()
    out[:, 1] = s + (path[:, 1] - path[:, 1].mean()) * loose
    return out


def scaled_to(path, length):
    """Stretches a run round its middle until its length is right."""
    now = np.hypot(*np.diff(path, axis=0).T).sum()
    middle = path[len(path) // 2]
    return middle + (path - middle) * (length / now)


def draw_crack(maps, crack, down, seed, rusty=0.6, bleed=0.4):
    """Draws the opening with ragged walls, its dark inside, broken paint edges and rust that bleeds downhill."""
    f = maps.field
    near = np.zeros(f.shape, np.float32)
    rng = np.random.default_rng(seed)
    for run in crack.runs:
        at = np.concatenate([[0], np.cumsum(np.hypot(*np.diff(run, axis=0).T))])
        fine = np.arange(0, at[-1], 0.2)
        u, s = np.interp(fine, at, run[:, 0]), np.interp(fine, at, run[:, 1])
        # The opening closes towards the tips and varies on the way.
        taper = np.sqrt(np.clip(np.minimum(fine, at[-1] - fine) / max(0.22 * at[-1], 2.0), 0.03, 1))
        vary = np.interp(fine, np.arange(0, at[-1] + 3, 3), rng.lognormal(0, 0.28, int(at[-1] // 3) + 2)[: len(np.arange(0, at[-1] + 3, 3))])
        jag = np.interp(fine, np.arange(0, at[-1] + 0.7, 0.7), rng.normal(0, 0.10, len(np.arange(0, at[-1] + 0.7, 0.7))))
        width = crack.opening_mm * taper * vary
        col, row = f.px(u, s + jag * min(1.0, 2 * crack.opening_mm + 0.3))
        _stamp(near, col, row, np.maximum(width / 2 / f.res, 0.18))
    opening = np.clip(near, 0, 1)
    spread = cv2.GaussianBlur(opening, (0, 0), 0.7 / f.res)
    flank = np.clip(spread * 2.2, 0, 1) * (1 - opening)
    stain = np.clip(cv2.GaussianBlur(opening, (0, 0), 2.2 / f.res) * (3.0 + 1.2 * f.fbm(4, seed + 5, 3)), 0, 1)
    runs = run_down(np.clip(cv2.GaussianBlur(opening, (0, 0), 0.5 / f.res) * 2, 0, 1) * step(f.fbm(6, seed + 6, 3), -0.1, 0.6), down, 26 / f.res)
    runs = np.clip(cv2.GaussianBlur(runs, (0, 0), 0.5 / f.res) * np.clip(0.6 + 0.5 * f.fbm(1.6, seed + 7, 3), 0, 1), 0, 1)
    maps.lay(0.55 * rusty * stain, RUST_MID * 0.9, 0.82, 0.1)
    maps.lay(bleed * runs, RUST_MID * 1.1, 0.8, 0.05)
    maps.lay(0.75 * rusty * flank * np.clip(0.6 + 0.7 * f.fbm(2, seed + 8, 3), 0, 1), RUST_DARK * 1.3, 0.85, 0.1)
    bright = np.clip(spread * 1.5, 0, 1) * (1 - opening) * step(f.fbm(3, seed + 9, 3), 0.35, 0.8)
    maps.lay(0.5 * (1 - rusty) * bright, STEEL * 1.15, 0.3, 1.0)
    maps.lay(opening, [0.004, 0.003, 0.0025], 0.9, 0.0)
    maps.height -= opening * min(crack.depth_mm, 1.2) * np.clip(crack.opening_mm * 2.2, 0.25, 1)
    return opening > 0.35


def _stamp(image, col, row, radius):
    """Soft discs along a path, greatest value kept: coverage of a band of varying width."""
    height, width = image.shape
    for c, r, q in zip(col, row, radius):
        reach = int(np.ceil(q + 1.5))
        c0, r0 = int(round(c)), int(round(r))
        if c0 < reach or r0 < reach or c0 >= width - reach or r0 >= height - reach:
            continue
        y, x = np.mgrid[r0 - reach : r0 + reach + 1, c0 - reach : c0 + reach + 1]
        cover = np.clip(q + 0.5 - np.hypot(x - c, y - r), 0, 1) * min(1.0, 2.2 * q)
        window = image[r0 - reach : r0 + reach + 1, c0 - reach : c0 + reach + 1]
        np.maximum(window, cover, out=window)


def corrosion_mask(f, middle, size, seed, ragged=0.5):
    """A patch with a ragged edge and islands: `size` (half width, half height) in mm."""
    u, s = f.grid()
    reach = np.hypot((u - middle[0]) / size[0], (s - middle[1]) / size[1])
    field = 1 - reach + ragged * (0.6 * f.fbm(max(size) * 0.55, seed + 1, 7, gain=0.62) + 0.25 * f.fbm(5, seed + 2, 4, gain=0.7))
    return step(field, -0.01, 0.02)


def draw_corrosion(maps, mask, seed, depth_mm=0.4, down=("s", 1)):
    """Scaling rust: dark scale, light bloom at the rim, blisters, loss of metal, a stain around and below."""
    f = maps.field
    stain = cv2.GaussianBlur(mask, (0, 0), 3.5 / f.res)
    below = run_down(mask * step(f.fbm(5, seed + 3, 4), 0.0, 0.7), down, 40 / f.res) * np.clip(0.45 + 0.6 * f.fbm(2.5, seed + 4, 3), 0, 1)
    maps.lay(0.55 * np.clip(stain * 1.5, 0, 1) * (1 - mask), RUST_MID * 1.2, 0.8, 0.1)
    maps.lay(0.40 * np.clip(below, 0, 1) * (1 - mask), RUST_MID * 1.3, 0.8, 0.05)
    edge = np.clip(cv2.GaussianBlur(mask, (0, 0), 1.2 / f.res), 0, 1)
    rim = mask * (1 - step(edge, 0.75, 0.98))
    colour = rust_colour(f, seed) * (0.95 + 0.55 * f.fbm(1.8, seed + 5, 3))[..., None]
    maps.lay(mask, colour, 0.9, 0.0)
    maps.lay(0.55 * rim, RUST_LIGHT * 1.05, 0.9)
    scale = step(f.fbm(6, seed + 6, 5, gain=0.6), 0.1, 0.28)
    maps.lay(0.75 * mask * scale, RUST_DARK * 0.85, 0.8)
    maps.height += mask * (-depth_mm + 0.28 * depth_mm * scale + 0.4 * depth_mm * f.fbm(3.2, seed + 7, 5, gain=0.6))


def draw_pits(maps, middle, size, seed, count, diameter_mm=(0.8, 4.0), depth_mm=(0.3, 1.4)):
    """Pits in a patch: bowls with dark bottoms and rusty rims. Gives the mask and the pits (u, s, diameter, depth)."""
    f = maps.field
    rng = np.random.default_rng(seed)
    mask = np.zeros(f.shape, np.float32)
    pits = []
    while len(pits) < count:
        u = middle[0] + rng.normal(0, 0.45) * size[0]
        s = middle[1] + rng.normal(0, 0.45) * size[1]
        diameter = float(np.clip(rng.lognormal(np.log(diameter_mm[0] * 1.6), 0.55), *diameter_mm))
        depth = float(np.clip(diameter * rng.uniform(0.22, 0.42), *depth_mm))
        pits.append((u, s, diameter, depth))
        col, row = f.px(u, s)
        reach = int(np.ceil(diameter / f.res)) + 2
        c0, r0 = int(round(float(col))), int(round(float(row)))
        if c0 < reach or r0 < reach or c0 >= f.width - reach or r0 >= f.height - reach:
            pits.pop()
            continue
        y, x = np.mgrid[r0 - reach : r0 + reach + 1, c0 - reach : c0 + reach + 1]
        turn = np.arctan2(y - row, x - col)
        wobble = 1 + 0.16 * np.sin(2 * turn + rng.uniform(0, 6)) + 0.10 * np.sin(3 * turn + rng.uniform(0, 6))
        ratio = np.hypot(x - col, y - row) * f.res / (diameter / 2 * wobble)
        window = (slice(r0 - reach, r0 + reach + 1), slice(c0 - reach, c0 + reach + 1))
        maps.height[window] -= (depth * np.clip(1 - ratio**2, 0, 1) ** 0.7).astype(np.float32)
        inside = step(-ratio, -1.08, -0.86).astype(np.float32)
        mask[window] = np.maximum(mask[window], inside)
        dark = (inside * (0.35 + 0.6 * np.clip(1 - ratio, 0, 1)))[..., None]
        maps.colour[window] += dark * (RUST_DARK * 0.9 - maps.colour[window])
        ring = (step(ratio, 0.8, 1.0) * step(-ratio, -1.7, -1.05) * 0.5).astype(np.float32)
        maps.colour[window] += ring[..., None] * (RUST_MID * 1.1 - maps.colour[window])
        maps.rough[window] += inside * (0.9 - maps.rough[window])
        maps.metal[window] *= 1 - inside
    return mask, pits


def draw_wear(maps, low, high, depth_mm, seed, soft=1.2, bright=0.85, ridges=0.06):
    """A worn band: metal gone between two arc lengths, rubbed bright, a burr at its edge."""
    f = maps.field
    edge = 0.5 * f.fbm(30, seed + 1, 4)
    s = f.s[:, None] + edge
    band = step(s, low - soft, low + soft) * step(-s, -high - soft, -high + soft)
    depth = depth_mm * (1 + 0.05 * f.fbm(60, seed + 2, 3))
    streaks = f.noise(0.6, seed + 3, 50) + 0.7 * f.noise(2.2, seed + 4, 30)
    maps.height -= band * (depth + ridges * streaks)
    for at, side in ((low, -1), (high, 1)):
        burr = np.exp(-(((s - at - side * soft * 1.1) / 0.7) ** 2))
        maps.height += burr * min(0.12 * depth_mm, 0.25)
        maps.lay(0.8 * burr, STEEL * 1.1, 0.32, 1.0)
    patchy = step(f.fbm(14, seed + 5, 5, stretch=4), -0.9, 0.0)
    maps.lay(bright * band * patchy, STEEL * (1.05 + 0.13 * streaks)[..., None], np.clip(0.31 + 0.07 * streaks, 0.2, 0.5), 1.0)
    corner = band * np.clip(np.exp(-(((s - low - soft) / 2.2) ** 2)) + np.exp(-(((s - high + soft) / 2.2) ** 2)), 0, 1)
    maps.lay(0.7 * corner * np.clip(0.5 + 0.6 * f.fbm(6, seed + 6, 4), 0, 1), GREASE * 1.6, 0.7, 0.0)
    return band


def draw_broken(maps, middle, half_u, s_low, s_high, depth_mm, seed):
    """A piece broken out of an edge: a shell-shaped notch, deepest off its middle, with a crystalline floor and rust."""
    f = maps.field
    u, s = f.grid()
    lean = 0.22 if seed % 2 else -0.22
    off = (u - middle + 1.9 * f.fbm(7, seed + 1, 4)) / half_u
    side = np.where(off < lean, (lean - off) / (1 + lean), (off - lean) / (1 - lean))
    across = step(s, s_low - 1, s_low + 3) * step(-s, -s_high - 1, -s_high + 3)
    notch = step(-side, -1.0, -0.90) * across
    shell = np.clip(1 - np.clip(side, 0, 1) ** 1.7, 0, 1)
    rough = 0.7 * f.fbm(3.0, seed + 2, 5, gain=0.65)
    maps.height -= notch * (depth_mm * (0.12 + 0.88 * shell) + rough * np.clip(0.3 + shell, 0, 1))
    maps.lay(notch, np.array([0.20, 0.19, 0.18]) * (1 + 0.4 * f.fbm(0.8, seed + 3, 2) + 0.3 * f.fbm(4, seed + 4, 4))[..., None], 0.55, 0.75)
    maps.lay(0.8 * notch * step(f.fbm(10, seed + 5, 5), 0.0, 0.6), rust_colour(f, seed), 0.85, 0.1)
    return notch


def draw_galling(maps, s_low, s_high, seed, strength=1.0):
    """Metal torn and smeared along the way the parts slid: gouges with raised ends."""
    f = maps.field
    band = f.between(s_low, s_high, 4)
    torn = step(f.fbm(9, seed + 1, 6, gain=0.65, stretch=0.35) + 0.4 * f.fbm(40, seed + 2, 3), 0.18, 0.5) * band
    smear = f.noise(0.7, seed + 3, 0.06) + f.noise(1.8, seed + 4, 0.12)
    maps.height += torn * strength * (0.28 * smear - 0.18)
    maps.lay(0.95 * torn, STEEL * (0.95 + 0.28 * smear)[..., None], np.clip(0.36 + 0.1 * smear, 0.2, 0.6), 1.0)
    maps.lay(0.5 * torn * step(-smear, 0.4, 1.2), RUST_DARK * 1.4, 0.8, 0.2)
    return torn


def weld_bead(maps, middle, width_mm, crown_mm, seed, pitch_mm=2.6, across_rim=None):
    """A machine weld: crown, chevron ripples, undercut toes with dirt, a little spatter.

    Runs round the rim at arc length `middle`; or across it at `middle` mm round, between two arc lengths (`across_rim`).
    """
    f = maps.field
    u, s = f.grid()
    if across_rim is not None:
        u, s = s, u
    wander = 0.7 * f.noise(90, seed + 1) + 0.25 * f.noise(18, seed + 2)
    across = (s - middle - wander) / (width_mm / 2 * (1 + 0.05 * f.noise(40, seed + 3)))
    inside = np.clip(1 - across**2, 0, 1)
    if across_rim is not None:
        inside = inside * step(u, across_rim[0] - 4, across_rim[0] + 4) * step(-u, -across_rim[1] - 4, -across_rim[1] + 4)
    bead = np.sqrt(inside)
    ripple = (u - 2.4 * across**2 * pitch_mm + 0.7 * f.noise(14, seed + 4)) / pitch_mm
    wave = 0.5 - 0.5 * np.cos(2 * np.pi * (ripple - np.floor(ripple)) ** 0.75)
    maps.height += bead * crown_mm + step(bead, 0.15, 0.6) * 0.16 * crown_mm**0.5 * (wave - 0.5)
    toe = np.exp(-(((np.abs(across) - 1.02) / 0.07) ** 2))
    if across_rim is not None:
        toe = toe * f.between(across_rim[0], across_rim[1], 6)
    maps.height -= 0.22 * toe
    maps.lay(0.55 * toe * np.clip(0.7 + 0.5 * f.fbm(5, seed + 5, 4), 0, 1), [0.035, 0.022, 0.014], 0.85, 0.0)
    maps.lay(0.28 * step(bead, 0.2, 0.5) * (1 - wave), [0.05, 0.035, 0.025], 0.8)
    rng = np.random.default_rng(seed)
    for _ in range(int(f.width * f.res / 9)):
        beside = middle + rng.choice([-1, 1]) * (width_mm / 2 + rng.exponential(9) + 1)
        at = (rng.uniform(f.u0, f.u1), beside) if across_rim is None else (beside, rng.uniform(*across_rim))
        _drop(maps, *at, rng.uniform(0.5, 1.6), 0.6)
    return bead


def _drop(maps, u, s, radius, tall):
    f = maps.field
    col, row = f.px(u, s)
    reach = int(np.ceil(radius / f.res)) + 1
    c0, r0 = int(round(float(col))), int(round(float(row)))
    if c0 < reach or r0 < reach or c0 >= f.width - reach or r0 >= f.height - reach:
        return
    y, x = np.mgrid[r0 - reach : r0 + reach + 1, c0 - reach : c0 + reach + 1]
    bulge = np.sqrt(np.clip(1 - (np.hypot(x - col, y - row) * f.res / radius) ** 2, 0, 1))
    maps.height[r0 - reach : r0 + reach + 1, c0 - reach : c0 + reach + 1] += (tall * radius * bulge).astype(np.float32)


def stamp_text(maps, text, u, s, tall_mm, seed, turn=0, deep_mm=0.55):
    """Stamped characters, one blow each: uneven depth and a little out of line."""
    f = maps.field
    rng = np.random.default_rng(seed)
    image = np.zeros(f.shape, np.float32)
    pen = max(1, int(round(0.11 * tall_mm / f.res)))
    scale = tall_mm / f.res / 21.0
    advance = 0
    for letter in text:
        size = cv2.getTextSize(letter, cv2.FONT_HERSHEY_SIMPLEX, scale, pen)[0]
        cell = np.zeros((int(size[1] * 2.2) + 8, size[0] + 8), np.uint8)
        cv2.putText(cell, letter, (3, int(size[1] * 1.5) + 3), cv2.FONT_HERSHEY_SIMPLEX, scale, 255, pen, cv2.LINE_AA)
        tilt = cv2.getRotationMatrix2D((cell.shape[1] / 2, cell.shape[0] / 2), rng.normal(0, 1.8), 1)
        cell = cv2.warpAffine(cell, tilt, cell.shape[::-1]).astype(np.float32) / 255 * rng.uniform(0.7, 1.1)
        # Seen from outside, u runs to the left when s runs down: letters are painted as in a mirror.
        cell = cell[:, ::-1] if turn == 0 else cell[::-1]
        shift = -advance - cell.shape[1] if turn == 0 else advance
        col, row = f.px(u, s)
        c0, r0 = int(col) + shift, int(row) - cell.shape[0] // 2 + int(rng.normal(0, 0.03) * tall_mm / f.res)
        if c0 >= 0 and r0 >= 0 and c0 + cell.shape[1] < f.width and r0 + cell.shape[0] < f.height:
            window = image[r0 : r0 + cell.shape[0], c0 : c0 + cell.shape[1]]
            np.maximum(window, cell, out=window)
        advance += int(size[0] * 1.12 + 0.10 * tall_mm / f.res)
    rim = np.clip(cv2.GaussianBlur(image, (0, 0), 0.5 / f.res) - image, 0, 1)
    maps.height -= image * deep_mm
    maps.height += rim * 0.35 * deep_mm
    maps.lay(0.75 * image, np.array([0.05, 0.03, 0.02]), 0.85, 0.1)
    return image


def pen_line(maps, points, width_mm, seed, colour=CHALK, dry=0.5, grain_mm=0.5, sheen=0.95):
    """A line of chalk or paint pen that skips on the rough places."""
    f = maps.field
    image = np.zeros(f.shape, np.uint8)
    path = np.stack(f.px(*np.asarray(points, float).T), axis=1)
    cv2.polylines(image, [np.round(path * 16).astype(np.int32)], False, 255, max(1, int(round(width_mm / f.res))), cv2.LINE_AA, 4)
    line = cv2.GaussianBlur(image.astype(np.float32) / 255, (0, 0), 0.25 / f.res)
    grain = f.fbm(grain_mm * 3, seed, 3) + 0.5 * f.noise(grain_mm, seed + 1)
    drawn = line * step(grain, -1.1 + 1.2 * dry, -0.3 + 1.2 * dry)
    maps.lay(0.9 * drawn, colour, sheen, 0.0, 0.03)
    return line > 0.4


def pen_text(maps, text, u, s, tall_mm, seed, colour=CHALK, width_mm=2.2, dry=0.4, flip=False):
    """Handwriting in chalk or paint pen."""
    f = maps.field
    image = np.zeros(f.shape, np.uint8)
    pen = max(1, int(round(width_mm / f.res)))
    scale = tall_mm / f.res / 21.0
    size = cv2.getTextSize(text, cv2.FONT_HERSHEY_DUPLEX, scale, pen)[0]
    cell = np.zeros((int(size[1] * 2.4), size[0] + 20), np.uint8)
    cv2.putText(cell, text, (8, int(size[1] * 1.6)), cv2.FONT_HERSHEY_DUPLEX, scale, 255, pen, cv2.LINE_AA)
    cell = cell[::-1] if flip else cell[:, ::-1]
    col, row = f.px(u, s)
    c0, r0 = int(col) - cell.shape[1] // 2, int(row) - cell.shape[0] // 2
    c1, r1 = max(0, c0), max(0, r0)
    part = cell[r1 - r0 : r1 - r0 + f.height - r1, c1 - c0 : c1 - c0 + f.width - c1]
    image[r1 : r1 + part.shape[0], c1 : c1 + part.shape[1]] = part
    grain = f.fbm(1.6, seed, 3) + 0.5 * f.noise(0.5, seed + 1)
    drawn = cv2.GaussianBlur(image.astype(np.float32) / 255, (0, 0), 0.25 / f.res) * step(grain, -1.1 + 1.2 * dry, -0.3 + 1.2 * dry)
    maps.lay(0.9 * drawn, colour, 0.95, 0.0, 0.03)


def draw_scratch(maps, points, seed, width_mm=0.5, fresh=0.8):
    """A scratch through the paint: bright, of even width, with straight ends; no depth to speak of."""
    line = pen_line(maps, points, width_mm, seed, STEEL * 1.2, 0.15, 0.6, 0.3)
    f = maps.field
    soft = cv2.GaussianBlur(line.astype(np.float32), (0, 0), 0.2 / f.res)
    maps.metal = np.maximum(maps.metal, fresh * soft)
    maps.height -= 0.06 * soft
    return line


def draw_drip(maps, start, length_mm, width_mm, seed, colour, down):
    """A run of paint: raised, rounded, thicker at its end."""
    f = maps.field
    axis, sign = down
    t = np.linspace(0, 1, 30)
    way = np.stack([0 * t, t * length_mm * sign], axis=1) if axis == "s" else np.stack([t * length_mm * sign, 0 * t], axis=1)
    cover = np.zeros(f.shape, np.float32)
    rng = np.random.default_rng(seed)
    bow = np.cumsum(rng.normal(0, 0.06, 30))
    points = np.asarray(start) + way + (np.stack([bow, 0 * bow], axis=1) if axis == "s" else np.stack([0 * bow, bow], axis=1))
    fine = np.linspace(0, 1, int(length_mm / 0.3))
    u, s = np.interp(fine, t, points[:, 0]), np.interp(fine, t, points[:, 1])
    radius = width_mm / 2 * (0.75 + 0.1 * np.sin(9 * fine) + 0.55 * fine**6)
    _stamp(cover, *f.px(u, s), radius / f.res)
    round_top = cv2.GaussianBlur(cover, (0, 0), 0.35 * width_mm / f.res)
    maps.lay(cover, colour, 0.3, 0.0)
    maps.height += cover * round_top * 0.45
    return cover > 0.5


def draw_hair(maps, start, direction, length_mm, seed):
    """A hair stuck to the surface: thin, dark, curved more smoothly than any crack."""
    rng = np.random.default_rng(seed)
    count = int(length_mm / 0.5)
    heading = direction + np.cumsum(rng.normal(0, 0.004, count)) + np.linspace(0, rng.uniform(0.9, 1.6), count) * rng.choice([-1, 1])
    path = np.asarray(start) + np.cumsum(np.stack([np.cos(heading), np.sin(heading)], axis=1) * 0.5, axis=0)
    f = maps.field
    cover = np.zeros(f.shape, np.float32)
    fine = np.linspace(0, count - 1, count * 3)
    u, s = np.interp(fine, np.arange(count), path[:, 0]), np.interp(fine, np.arange(count), path[:, 1])
    _stamp(cover, *f.px(u, s), np.full(len(fine), max(0.10 / f.res, 0.42)))
    maps.lay(0.95 * cover, [0.010, 0.008, 0.007], 0.35, 0.0, 0.12)
    return path


def draw_rubber_streaks(maps, s_low, s_high, seed):
    """Streaks that the tyre bead leaves: black, drawn out round the rim, soft ends."""
    f = maps.field
    band = f.between(s_low, s_high, 6)
    streak = band * step(f.noise(1.4, seed, 40) + 0.6 * f.fbm(25, seed + 1, 4, stretch=4), 0.55, 1.0)
    maps.lay(0.9 * streak, RUBBER * 1.2, 0.42, 0.0, 0.04)
    return streak > 0.5
