"""Things laid on a part to give scale: the scale card as the program prints it, and a steel tape."""

import cv2
import numpy as np

from section import around

CARD_PX_PER_MM = 12
TAPE_PX_PER_MM = 8
TAPE_WIDTH_MM = 16.0
CARD_THICK_MM = 1.0


def card_picture(layout, seed):
    """The printed card, sRGB 0 … 1, a little dirty."""
    k = CARD_PX_PER_MM
    w, h = int(round(layout["widthMm"] * k)), int(round(layout["heightMm"] * k))
    card = np.full((h, w), 0.90, np.float32)
    for marker in layout["markers"]:
        side = marker["sideMm"] * k
        x, y = marker["leftMm"] * k, marker["topMm"] * k
        _fill(card, x, y, side, side, 0.07)
        cell = side / 6
        for row, cells in enumerate(marker["cells"]):
            for col, white in enumerate(cells):
                if white:
                    _fill(card, x + (col + 1) * cell, y + (row + 1) * cell, cell, cell, 0.90)
    grey = layout["grey"]
    # 18 % reflectance is 0.461 in sRGB values.
    _fill(card, grey["leftMm"] * k, grey["topMm"] * k, grey["widthMm"] * k, grey["heightMm"] * k, 0.461)
    for ruler in layout["rulers"]:
        _ruler(card, ruler, k)
    cv2.putText(card, "SCALE CARD  " + layout["name"].upper(), (int(0.27 * w), int(0.74 * h)), cv2.FONT_HERSHEY_SIMPLEX, 0.0075 * layout["widthMm"] * k / 12, 0.1, 2, cv2.LINE_AA)
    rng = np.random.default_rng(seed)
    dirt = cv2.resize(rng.random((h // 40, w // 40)).astype(np.float32), (w, h), interpolation=cv2.INTER_CUBIC)
    dirt += 0.5 * cv2.resize(rng.random((h // 8, w // 8)).astype(np.float32), (w, h), interpolation=cv2.INTER_CUBIC)
    mask = np.clip((dirt - 1.0) * 0.8, 0, 0.22)
    rgb = np.repeat(card[..., None], 3, axis=2)
    return rgb * (1 - mask[..., None]) + mask[..., None] * np.array([0.42, 0.34, 0.25], np.float32)


def _fill(image, x, y, w, h, value):
    image[int(round(y)) : int(round(y + h)), int(round(x)) : int(round(x + w))] = value


def _ruler(card, ruler, k):
    unit = 1.0 if ruler["unit"] == "mm" else 25.4 / 16
    count = int(round(ruler["length"] * (1 if ruler["unit"] == "mm" else 16)))
    for tick in range(count + 1):
        big = tick % (10 if ruler["unit"] == "mm" else 16) == 0
        mid = tick % (5 if ruler["unit"] == "mm" else 8) == 0
        tall = 4.5 if big else 3.2 if mid else 2.0
        x = (ruler["leftMm"] + tick * unit) * k
        _fill(card, x - 0.09 * k, ruler["topMm"] * k, 0.18 * k, tall * k, 0.07)


def flat_on(lathe, height_at, u, s, width_mm, height_mm, turn, lie):
    """A flat rectangle resting on the highest points under it: its four corners (top left, clockwise) in the rim
    frame, and the plane as (point, unit normal).

    `lie`: the angle of the card's normal in the section, degrees from straight out (90: along the axle to the gutter
    side); None: as the surface lies at s.
    """
    theta = float(lathe.theta(u))
    middle = lathe.profile.point(np.array(theta), np.array(s))
    n = lathe.profile.normal(np.array(theta), np.array(s))
    if lie is not None:
        out = np.array([0, np.sin(theta), np.cos(theta)])
        n = np.cos(np.radians(lie)) * out + np.sin(np.radians(lie)) * np.array([1.0, 0, 0])
    e_u = around(np.array(theta))
    e_s = np.cross(n, e_u)
    if np.dot(e_s, lathe.profile.along(np.array(theta), np.array(s))) < 0:
        e_s = -e_s
    x = np.cos(turn) * e_u + np.sin(turn) * e_s
    y = np.cross(x, n)
    reach = 0.75 * max(width_mm, height_mm)
    uu, ss = np.meshgrid(np.arange(u - reach, u + reach, 1.0), np.arange(s - 1.6 * reach, s + 1.6 * reach, 0.7))
    local = lathe.point(uu, ss, height_at(uu, ss)) - middle
    under = (np.abs(local @ x) < width_mm / 2) & (np.abs(local @ y) < height_mm / 2) & (np.abs(local @ n) < 60)
    rest = float((local @ n)[under].max()) + 0.05
    corners = [middle + sx * width_mm / 2 * x + sy * height_mm / 2 * y + (rest + CARD_THICK_MM) * n for sx, sy in ((-1, -1), (1, -1), (1, 1), (-1, 1))]
    return np.array(corners), (middle + (rest + CARD_THICK_MM) * n, n)


def card_points(corners, layout, points_mm):
    """Points given on the card (mm from its top left corner) in the frame of its corners."""
    across = (corners[1] - corners[0]) / layout["widthMm"]
    down = (corners[3] - corners[0]) / layout["heightMm"]
    points = np.asarray(points_mm, float)
    return corners[0] + points[..., :1] * across + points[..., 1:] * down


def tape_picture(length_mm, first_mm, seed):
    """A steel tape: ticks of 1, 5 and 10 mm along one edge, figures at the centimetres."""
    k = TAPE_PX_PER_MM
    w, h = int(length_mm * k), int(TAPE_WIDTH_MM * k)
    tape = np.empty((h, w, 3), np.float32)
    tape[:] = (0.90, 0.80, 0.22)
    for mm in range(int(np.ceil(first_mm)), int(first_mm + length_mm)):
        x = (mm - first_mm) * k
        tall = 7.5 if mm % 10 == 0 else 5.0 if mm % 5 == 0 else 3.4
        tape[: int(tall * k), int(round(x - 0.13 * k)) : int(round(x + 0.13 * k)) + 1] = 0.06
        if mm % 10 == 0 and mm > first_mm + 2:
            text = str(mm // 10)
            size = cv2.getTextSize(text, cv2.FONT_HERSHEY_DUPLEX, 1.35, 2)[0]
            cv2.putText(tape, text, (int(x - size[0] / 2), int(13.0 * k)), cv2.FONT_HERSHEY_DUPLEX, 1.35, (0.75, 0.07, 0.05) if mm % 100 == 0 else (0.05, 0.05, 0.05), 2, cv2.LINE_AA)
    rng = np.random.default_rng(seed)
    grime = cv2.resize(rng.random((8, max(8, w // 120))).astype(np.float32), (w, h), interpolation=cv2.INTER_CUBIC)
    mask = np.clip((grime - 0.5) * 0.6, 0, 0.25)[..., None]
    return tape * (1 - mask) + mask * np.array([0.25, 0.2, 0.14], np.float32)


def tape_along(lathe, height_at, u, s, side, steps=240):
    """A tape laid round the rim on what is under it. `u`: from, to; `s`: the edge with the ticks; `side`: +1 when the
    tape lies on the side of growing s. Gives points (rim frame) of shape (2, steps, 3): ticked edge, other edge."""
    across = np.linspace(0, TAPE_WIDTH_MM, 24)
    # Figures read the right way when the tape's upper side looks outwards.
    us = np.linspace(u[0], u[1], steps)[::-side]
    foot = float(s + side * TAPE_WIDTH_MM / 2)
    points = np.empty((2, steps, 3))
    probe = s + side * across
    highest = 0.0
    for one in (us[0], us[len(us) // 2], us[-1]):
        theta = float(lathe.theta(one))
        n = lathe.profile.normal(np.array(theta), np.array(foot))
        origin = lathe.profile.point(np.array(theta), np.array(foot))
        surface = lathe.point(np.full_like(probe, one), probe, height_at(np.full_like(probe, one), probe))
        highest = max(highest, float(((surface - origin) @ n).max()))
    theta = lathe.theta(us)
    n = lathe.profile.normal(theta, np.full(steps, foot))
    along = lathe.profile.along(theta, np.full(steps, foot))
    origin = lathe.profile.point(theta, np.full(steps, foot)) + (highest + 0.25) * n
    points[0] = origin - side * TAPE_WIDTH_MM / 2 * along
    points[1] = origin + side * TAPE_WIDTH_MM / 2 * along
    return points
