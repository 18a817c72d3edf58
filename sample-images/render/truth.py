"""The truth of a picture, from its geometry: what is where in px, and how large it is in mm."""

import math

import cv2
import numpy as np

CHORD_MM = 2.5
"""Cracks are measured along their trace with chords of this length on the surface."""
HIDDEN_M = 0.0035
"""A point counts as hidden when something stands this much before it."""
SPOT_MM, FLATTEST_DEGREES = 10, 75
"""Distance of the spots that pictures of one place share; how flat a surface may be seen for them."""


class Seen:
    """Brings addresses and points of the rim frame into the picture, and knows what hides what."""

    def __init__(self, picture, lens, depth, uv, index, margin):
        self.picture, self.lens = picture, lens
        self.depth, self.uv, self.index, self.margin = depth, uv, index, margin

    def px(self, points_rim):
        pinhole, depth = self.picture.camera.project(self.picture.placement.world(points_rim))
        return self.lens.distorted(pinhole), pinhole, depth

    def visible(self, pinhole, depth):
        col = np.round(pinhole[..., 0] + self.margin).astype(int)
        row = np.round(pinhole[..., 1] + self.margin).astype(int)
        inside = (col >= self.margin) & (row >= self.margin) & (col < self.depth.shape[1] - self.margin) & (row < self.depth.shape[0] - self.margin)
        shown = np.zeros(inside.shape, bool)
        at = self.depth[np.clip(row, 0, self.depth.shape[0] - 1), np.clip(col, 0, self.depth.shape[1] - 1)]
        shown[inside] = (depth < at + HIDDEN_M)[inside]
        return shown

    def flat(self, values):
        """A pass brought into the picture's own pixels, nearest neighbour."""
        col, row = self.lens.source(self.margin)
        return cv2.remap(values, col, row, cv2.INTER_NEAREST)

    def painted(self, surface, mask):
        """Where a mask over a surface's map shows in the picture."""
        f = surface.maps.field
        uv = self.flat(self.uv)
        here = np.abs(self.flat(self.index) - surface.lathe.index) < 0.5
        col = (uv[..., 0] * f.width - 0.5).astype(np.float32)
        row = ((1 - uv[..., 1]) * f.height - 0.5).astype(np.float32)
        values = cv2.remap(mask.astype(np.uint8), col, row, cv2.INTER_NEAREST, borderMode=cv2.BORDER_CONSTANT)
        return np.where(here, values, 0).astype(np.uint8)


def describe(picture, seen):
    """(truth as plain data, mask picture)."""
    shot = picture.shot
    defects, look_alikes = [], []
    mask = np.zeros((picture.height, picture.width), np.uint8)
    for surface in picture.surfaces.values():
        if surface.labels.any():
            shown = seen.painted(surface, surface.labels)
            mask[shown > 0] = shown[shown > 0]
        for truth in surface.truths:
            if "lookAlike" in truth:
                look_alikes.append(_look_alike(picture, seen, surface, truth))
            elif "runs" in truth:
                defects.append(_crack(picture, seen, surface, truth, mask))
            else:
                defects.append(_area(picture, seen, surface, truth))
    camera = picture.camera
    rotation = camera.axes.T * np.array([[1.0], [-1.0], [-1.0]])
    to_camera = rotation @ picture.placement.rotation
    translation = rotation @ (picture.placement.origin - camera.at) / 0.001
    lens = seen.lens
    return {
        "shows": shot["shows"],
        "wheel": shot["wheel"],
        "maker": "Quillmoor Rimworks",
        "series": shot["series"],
        "designation": shot["designation"],
        "construction": shot["construction"],
        "slot": shot["slot"],
        "zone": shot["zone"],
        "clock": shot["clock"],
        "daysAgo": shot.get("daysAgo"),
        "light": shot["light"],
        "camera": {
            "focalPx": _r(camera.focal_px, 3),
            "centrePx": [_r(lens.cx, 2), _r(lens.cy, 2)],
            "distortion": {"model": "Brown radial, as OpenCV", "k1": lens.k1, "k2": lens.k2},
            "rotation": [[_r(v, 8) for v in row] for row in to_camera],
            "translationMm": [_r(v, 4) for v in translation],
            "distanceMm": _r(camera.focus_m * 1000, 1),
            "mmPerPx": _r(camera.focus_m * 1000 / camera.focal_px, 4),
        },
        "scale": _scale(picture, seen),
        "defects": defects,
        "lookAlikes": look_alikes,
        "gapMm": shot.get("gapMm"),
        "wearMm": max([d["depthMm"] for d in defects if d["kind"] == "wear"], default=None),
    }, mask


def spots(picture, seen):
    """Where spots of the metal are in the picture: [mm round the rim, mm along the section, x px, y px].

    They lie on a lattice of addresses of the main part, so two pictures of one place share them. Heights of welds and of
    wear are those of the mesh. Only spots that are seen, and from no flatter than `FLATTEST_DEGREES`.
    """
    surface = picture.surfaces[picture.main.index]
    f = surface.maps.field
    lattice = lambda low, high: np.arange(math.ceil(low / SPOT_MM), math.floor(high / SPOT_MM) + 1) * SPOT_MM
    u, s = (one.ravel() for one in np.meshgrid(lattice(f.u0, f.u1), lattice(f.s0, f.s1)))
    points = surface.lathe.point(u, s, surface.ground_at(u, s))
    px, pinhole, depth = seen.px(points)
    round_by = surface.lathe.point(u + 0.5, s, surface.ground_at(u + 0.5, s)) - points
    along_by = surface.lathe.point(u, s + 0.5, surface.ground_at(u, s + 0.5)) - points
    normal = np.cross(round_by, along_by)
    eye = picture.placement.rotation.T @ (picture.camera.at - picture.placement.origin) / 0.001
    to_eye = eye - points
    facing = np.abs((normal * to_eye).sum(axis=1)) / (np.linalg.norm(normal, axis=1) * np.linalg.norm(to_eye, axis=1))
    inside = ((px >= 0) & (px < [picture.width, picture.height])).all(axis=1)
    col, row = (np.clip(np.round(px[:, i]), 0, size - 1).astype(int) for i, size in ((0, picture.width), (1, picture.height)))
    bare = np.abs(seen.flat(seen.index)[row, col] - surface.lathe.index) < 0.5
    kept = inside & bare & seen.visible(pinhole, depth) & (facing > math.cos(math.radians(FLATTEST_DEGREES)))
    return [[int(a), int(b), _r(x, 1), _r(y, 1)] for a, b, (x, y) in zip(u[kept], s[kept], px[kept])]


def _r(value, digits):
    return round(float(value), digits)


def _pairs(px):
    return [[_r(x, 1), _r(y, 1)] for x, y in np.asarray(px)]


def _clock(picture, surface, u):
    turned = (surface.lathe.angle + u / surface.lathe.reference_mm) / (2 * math.pi) * 12 % 12
    return _r(turned if turned > 0.005 else 12, 2)


def _chords(run, chord):
    at = np.concatenate([[0], np.cumsum(np.hypot(*np.diff(run, axis=0).T))])
    count = max(2, int(math.ceil(at[-1] / chord)) + 1)
    where = np.linspace(0, at[-1], count)
    return np.stack([np.interp(where, at, run[:, i]) for i in (0, 1)], axis=1)


def _crack(picture, seen, surface, truth, mask):
    branches, total, points_all, shown_share = [], 0.0, [], []
    for run in truth["runs"]:
        path = _chords(run, CHORD_MM)
        points = surface.lathe.point(path[:, 0], path[:, 1], surface.ground_at(path[:, 0], path[:, 1]))
        px, pinhole, depth = seen.px(points)
        shown = seen.visible(pinhole, depth)
        legs = np.linalg.norm(np.diff(points, axis=0), axis=1)
        total += legs.sum()
        points_all.append(points)
        shown_share.append((shown.mean(), legs.sum()))
        branches.append({"px": _pairs(px), "mm": _r(legs.sum(), 2), "rimMm": [[_r(v, 2) for v in p] for p in points]})
        for (a, b), seen_a, seen_b in zip(zip(px[:-1], px[1:]), shown[:-1], shown[1:]):
            if seen_a and seen_b:
                cv2.line(mask, tuple(int(round(v)) for v in a), tuple(int(round(v)) for v in b), 1, 2)
    points = np.vstack(points_all)
    main = points_all[0]
    first, last = main[0], main[-1]
    middle = truth["runs"][0][len(truth["runs"][0]) // 2]
    share = sum(s * n for s, n in shown_share) / sum(n for _, n in shown_share)
    return {
        "kind": "crack",
        "component": surface.lathe.name if surface.lathe.name != "disc" else "rim base",
        "zone": truth["zone"],
        "clock": _clock(picture, surface, middle[0]),
        "branches": branches,
        "lengthMm": _r(total, 2),
        "longestMm": _r(max(b["mm"] for b in branches), 2),
        "tipToTipMm": _r(np.linalg.norm(last - first), 2),
        "widthMm": truth["widthMm"],
        "depthMm": truth["depthMm"],
        "visibleShare": _r(share, 3),
        "outOfPlaneMm": _off_plane(picture, points),
    }


def _area(picture, seen, surface, truth):
    f = surface.maps.field
    mask = truth["mask"]
    stretch = np.interp(f.s, surface.profile.s, surface.profile.r) / surface.lathe.reference_mm
    area = float((mask.sum(axis=1) * stretch).sum() * f.res**2)
    rows, cols = np.nonzero(mask[:: max(1, int(1 / f.res)), :: max(1, int(1 / f.res))])
    pace = max(1, int(1 / f.res))
    u, s = f.u[np.minimum(cols * pace, f.width - 1)], f.s[np.minimum(rows * pace, f.height - 1)]
    shown_share, plane = 0.0, None
    if len(u):
        points = surface.lathe.point(u, s, surface.ground_at(u, s))
        _, pinhole, depth = seen.px(points)
        weight = np.interp(s, f.s, stretch)
        shown_share = float((seen.visible(pinhole, depth) * weight).sum() / weight.sum())
        plane = _off_plane(picture, points)
    shown = seen.painted(surface, mask)
    # Islands smaller than two pixels across are not outlined; the mask picture has them all.
    found, _ = cv2.findContours(cv2.morphologyEx(shown, cv2.MORPH_CLOSE, np.ones((3, 3), np.uint8)), cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    found = sorted((c for c in found if cv2.contourArea(c) > 40), key=cv2.contourArea, reverse=True)[:40]
    outlines = [_pairs(cv2.approxPolyDP(c, 0.8, True)[:, 0, :]) for c in found]
    middle = float(u.mean()) if len(u) else 0.0
    out = {
        "kind": truth["kind"],
        "component": surface.lathe.name if surface.lathe.name != "disc" else "rim base",
        "zone": truth["zone"],
        "clock": _clock(picture, surface, middle),
        "outlines": [one for one in outlines if len(one) >= 3],
        "areaMm2": _r(area, 1),
        "depthMm": truth["depthMm"],
        "visibleShare": _r(shown_share, 3),
        "outOfPlaneMm": plane,
    }
    if "pits" in truth:
        out["pits"] = truth["pits"]
    return out


def _look_alike(picture, seen, surface, truth):
    out = {"kind": truth["lookAlike"]}
    if truth["path"] is not None:
        path = _chords(np.asarray(truth["path"], float), CHORD_MM)
        px, _, _ = seen.px(surface.lathe.point(path[:, 0], path[:, 1], surface.ground_at(path[:, 0], path[:, 1])))
        out["px"] = _pairs(px)
    return out


def _off_plane(picture, points):
    """Distance of points from the card's plane, mm: negative behind it. Null without a card."""
    if picture.scale is None or picture.scale["what"] != "card":
        return None
    at, normal = picture.scale["plane"]
    away = (points - at) @ normal
    return {"least": _r(away.min(), 2), "mean": _r(away.mean(), 2), "most": _r(away.max(), 2)}


def _scale(picture, seen):
    import things

    scale = picture.scale
    if scale is None:
        return None
    if scale["what"] == "tape":
        marks = []
        for mm, point in scale["marks"]:
            px, pinhole, depth = seen.px(point[None])
            if seen.visible(pinhole, depth)[0]:
                marks.append((mm, px[0]))
        if len(marks) < 2:
            raise ValueError(f"{picture.shot['name']}: the tape shows fewer than two centimetre marks; lay it elsewhere")
        return {
            "source": "steel tape",
            "ends": _pairs([marks[0][1], marks[-1][1]]),
            "lengthMm": marks[-1][0] - marks[0][0],
            "marks": [{"mm": mm, "px": _pairs([px])[0]} for mm, px in marks],
        }
    layout, corners = scale["layout"], scale["corners"]
    markers = []
    for marker in layout["markers"]:
        x, y, side = marker["leftMm"], marker["topMm"], marker["sideMm"]
        flat = things.card_points(corners, layout, [[x, y], [x + side, y], [x + side, y + side], [x, y + side]])
        px, pinhole, depth = seen.px(flat)
        markers.append({"id": marker["id"], "corners": [[_r(v, 2) for v in p] for p in px], "visible": bool(seen.visible(pinhole, depth).all())})
    px, _, _ = seen.px(corners)
    return {
        "source": "scale card",
        "layout": layout["name"],
        "widthMm": layout["widthMm"],
        "heightMm": layout["heightMm"],
        "cardCorners": [[_r(v, 2) for v in p] for p in px],
        "markers": markers,
    }
