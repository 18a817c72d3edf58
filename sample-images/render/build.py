"""One picture: its parts, their looks, its defects, its camera; and the truth of all of them."""

import math

import numpy as np

import defects
import scene as stage
import things
from noise import Field
from paint import weather
from section import Profile, angle_of, part_of

PAINT = {
    "QX-25": (0.30, 0.31, 0.30),
    "QX-33": (0.62, 0.36, 0.03),
    "QX-45": (0.62, 0.36, 0.03),
    "QX-49": (0.58, 0.57, 0.53),
    "QX-57": (0.42, 0.44, 0.43),
}
KINDS = ("rim base", "disc", "lock ring", "side flange", "bead seat band", "O-ring")


def kind_of(slot):
    return next(kind for kind in KINDS if slot.endswith(kind))


def treatments(kind, profile, carries_seat):
    """Which surfaces of a part are rubbed by what, as (treatment, low s, high s)."""
    def zone(name, index=0, grow=0.0):
        low, high = profile.zone(name, index)
        return low - grow, high + grow

    return [
        (name, low + shift, high + shift)
        for name, low, high in _rubbed(kind, profile, carries_seat, zone)
        for shift in ((0, profile.length) if low < 0 else (0,))
    ]


def _rubbed(kind, profile, carries_seat, zone):
    if kind == "rim base":
        out = []
        for i in range(len(profile.zones["gutter groove"])):
            groove, seal = zone("gutter groove", i), zone("O-ring groove", i)
            out += [("groove", *groove), ("bare", *seal)]
            # The land that the band or flange slides over, on both sides of the O-ring groove.
            first, second = sorted([groove, seal])
            out.append(("fret", first[1], second[0]))
            out.append(("fret", seal[1], seal[1] + 22) if first is groove else ("fret", seal[0] - 22, seal[0]))
        for name in ("back bead seat", "back flange radius"):
            if name in profile.zones and carries_seat:
                out.append(("rubber", *zone(name)))
        if "mounting taper" in profile.zones:
            for i in range(len(profile.zones["mounting taper"])):
                out.append(("fret", *zone("mounting taper", i)))
        return out
    if kind == "bead seat band":
        return [("rubber", *zone("bead seat", 0, 3)), ("fret", *zone("band contact face"))]
    if kind == "side flange":
        out = [("fret", *zone("flange contact face"))]
        if carries_seat:
            out.append(("rubber", *zone("bead seat", 0, 3)))
        return out
    if kind == "lock ring":
        return [("fret", *zone("ring seat face", i)) for i in range(len(profile.zones["ring seat face"]))]
    return []


class _Even:
    """A section without bends, for flat ends."""

    s, bend = np.array([0.0, 1e4]), np.array([0.0, 0.0])


class Surface:
    """A part in the making: its maps, what has been drawn into them, and the truth of it."""

    def __init__(self, lathe, maps, base_down, seed):
        self.lathe, self.maps, self.down, self.seed = lathe, maps, base_down, seed
        self.truths = []
        self.profile = lathe.profile
        self.labels = np.zeros(maps.field.shape, np.uint8)
        self.cut = None
        self.gap_mm = 0.0
        self._ground = None

    # Addresses -------------------------------------------------------------------------------------------------

    def s(self, zone, share=0.5, index=0):
        low, high = self.profile.zone(zone, index)
        return low + share * (high - low)

    def height_at(self, u, s):
        return stage._sample(self.maps.height, self.maps.field, np.asarray(u, float), np.asarray(s, float))

    def keep_ground(self):
        """Remembers the surface without fine openings, on which lengths are taken."""
        import cv2

        self._ground = cv2.GaussianBlur(self.maps.height, (0, 0), 0.8 / self.maps.field.res)

    def ground_at(self, u, s):
        return stage._sample(self._ground, self.maps.field, np.asarray(u, float), np.asarray(s, float))

    # Defects ---------------------------------------------------------------------------------------------------

    def crack(self, zone, runs, opening_mm, depth_mm, rusty=0.6, bleed=0.4, nth=0):
        if self._ground is None:
            self.keep_ground()
        crack = defects.Crack(runs, opening_mm, depth_mm)
        mask = defects.draw_crack(self.maps, crack, self.down, self.seed + 1000 + nth, rusty, bleed)
        self.labels[mask] = LABEL["crack"]
        self.truths.append({"kind": "crack", "zone": zone, "runs": runs, "widthMm": opening_mm, "depthMm": depth_mm})

    def corrosion(self, zone, middle, size, seed, depth_mm=0.4, ragged=0.5):
        mask = defects.corrosion_mask(self.maps.field, middle, size, seed, ragged)
        defects.draw_corrosion(self.maps, mask, seed, depth_mm, self.down)
        self._area("corrosion", zone, mask > 0.5, depth_mm)

    def pits(self, zone, middle, size, seed, count, diameter_mm=(0.8, 4.0), depth_mm=(0.3, 1.4)):
        mask, pits = defects.draw_pits(self.maps, middle, size, seed, count, diameter_mm, depth_mm)
        self._area("pitting", zone, mask > 0.5, max(depth for *_, depth in pits))
        self.truths[-1]["pits"] = len(pits)

    def wear(self, zone, low, high, depth_mm, seed, **more):
        band = defects.draw_wear(self.maps, low, high, depth_mm, seed, **more)
        self._area("wear", zone, band > 0.5, depth_mm)

    def broken(self, zone, middle, half_u, s_low, s_high, depth_mm, seed):
        notch = defects.draw_broken(self.maps, middle, half_u, s_low, s_high, depth_mm, seed)
        self._area("broken", zone, notch > 0.5, depth_mm)

    def galling(self, zone, low, high, seed, strength=1.0):
        torn = defects.draw_galling(self.maps, low, high, seed, strength)
        self._area("galling", zone, torn > 0.5, 0.3 * strength)

    def _area(self, kind, zone, mask, depth_mm):
        self.labels[mask] = LABEL[kind]
        self.truths.append({"kind": kind, "zone": zone, "mask": mask, "depthMm": depth_mm})

    def gap(self, gap_mm):
        """The gap between the ends of a split ring, with parallel ends."""
        angle = self.lathe.angle
        out, along = np.array([0, math.sin(angle), math.cos(angle)]), np.array([0, math.cos(angle), -math.sin(angle)])
        self.gap_mm = gap_mm
        self.cut = lambda points: np.where(points @ out > 0, np.abs(points @ along) - gap_mm / 2, 99.0)

    def hole(self, shapes):
        """Holes through the wall: the least of signed distances, each from points of the rim frame."""
        self.cut = lambda points: np.min([shape(points) for shape in shapes], axis=0)

    # Look-alikes -----------------------------------------------------------------------------------------------

    def look_alike(self, kind, path=None, mask=None):
        self.truths.append({"lookAlike": kind, "path": path, "mask": mask})


LABEL = {"crack": 1, "corrosion": 2, "pitting": 3, "wear": 4, "broken": 5, "galling": 6, "nick": 7}


def default_look(series, seed, **more):
    look = {"paint": PAINT[series], "wear": 0.5, "rust": 0.42, "grease": 0.4, "dust": 0.35, "seed": seed}
    look.update(more)
    return look


def disc_profile(rim):
    """The disc welded into the rim base: a flat ring, schematic, with its zone of stud holes."""
    bore = rim["seatRadiusMm"] - rim["seatY"]
    middle, thick, hub = rim["widthMm"] * 0.62, 18.0, 0.48 * bore
    outline = [(middle + thick / 2, hub), (middle + thick / 2, bore - 1), (middle - thick / 2, bore - 1), (middle - thick / 2, hub)]
    pcd = 0.66 * bore
    zones = {"stud holes": [[(middle + thick / 2, pcd - 40), (middle + thick / 2, pcd + 40)]]}
    return Profile(outline, zones, 0.0, "stud holes")


def profile_of(rim, slot, zone, surface):
    return disc_profile(rim) if slot == "disc" else part_of(rim, slot, zone, surface)


class Picture:
    """Builds the scene of a shot. The shot (see shots.py) says what; this says how."""

    def __init__(self, shot, rims, scale, detail):
        self.shot, self.detail = shot, detail
        self.width, self.height = (int(round(v * scale)) for v in shot["px"])
        self.rim = rims.rim(shot["designation"], "three-piece" if shot["construction"].startswith("three-piece") else shot["construction"])
        self.cards = rims.cards
        self.seed = shot["seed"]
        self.surfaces = {}
        self.index = 0

    def build(self):
        shot = self.shot
        stage.reset()
        angle = angle_of(shot["clock"])
        main = shot.get("part", shot["slot"])
        profile = profile_of(self.rim, main, shot.get("look_at", shot["zone"]), shot.get("surface", 0))
        low, high = profile.zone(shot.get("look_at", shot["zone"]), shot.get("surface", 0))
        self.target_s = low + shot.get("share", 0.5) * (high - low)
        reference = float(profile.at(self.target_s)[1])
        self.main = stage.Lathe(main, profile, angle, reference, 1)
        self.placement = self._place(angle, profile, reference)
        self.camera = self._camera()
        mm_per_px = shot["view"]["dist"] / self.camera.focal_px
        res = max(0.09, 0.72 * mm_per_px) * self.detail
        half_u = 0.5 * self.width * mm_per_px * shot.get("spread", 1.15) + 25
        half_u = min(half_u, math.pi * reference * 0.9)
        s_range = shot.get("s_range")
        if s_range is None:
            reach = shot.get("reach", 0.75 * self.height * mm_per_px)
            s_range = (max(0.5, low - reach), min(profile.length - 0.5, high + reach))
        field = Field((-half_u, half_u), s_range, res)
        surface = self._part(self.main, field, shot.get("look", {}), self._down(self.main, self.target_s), shot.get("paint"))
        for more in shot.get("with", []):
            self._neighbour(more, angle, half_u, res)
        self._around(profile)
        self._scale(surface)
        kind = shot["light"]
        stage.lit(
            kind,
            self.seed,
            self.camera.at,
            self.target,
            shot.get("sun") if kind == "sun" else None,
            shot.get("torch", (-0.06, 0.0, 0.05)) if kind == "torch" else None,
        )
        return surface

    # Where things are --------------------------------------------------------------------------------------------

    def _place(self, angle, profile, reference):
        place = self.shot["place"]
        if place == "lying":
            return stage.lying(angle, float(profile.x.min()), self.shot.get("height", 0.12), True)
        if place == "turned over":
            return stage.lying(angle, float(profile.x.max()), self.shot.get("height", 0.12), False)
        outer = self.rim["seatRadiusMm"] + self.rim["flangeHeightMm"] + self.shot.get("tyre", 0)
        return stage.standing(angle, self.shot.get("roll", 0), outer)

    def _frame(self, s):
        theta = np.array(self.main.angle)
        turn = self.placement.turn
        return (
            turn(self.main.profile.normal(theta, np.array(s))),
            turn(stage.around(theta)),
            turn(self.main.profile.along(theta, np.array(s))),
        )

    def _camera(self):
        view = self.shot["view"]
        n, e_u, e_s = self._frame(self.target_s)
        lift, swing = math.radians(view.get("lift", 0)), math.radians(view.get("swing", 0))
        direction = n * math.cos(lift) * math.cos(swing) + e_s * math.sin(lift) + e_u * math.cos(lift) * math.sin(swing)
        aim_u, aim_s = view.get("aim", (0, 0))
        self.target = self.placement.world(self.main.point(aim_u, self.target_s + aim_s))
        at = self.target + direction / np.linalg.norm(direction) * view["dist"] * stage.MM
        up = np.array(view.get("up", (0, 0, 1)), float)
        focal = self.width * 0.75 * view.get("zoom", 1.0)
        return stage.Camera(at, self.target, self.width, self.height, focal, view.get("tilt", 0.0), up)

    def _down(self, lathe, s):
        theta = np.array(lathe.angle)
        down = np.array([0, 0, -1.0])
        along_s = float(self.placement.turn(lathe.profile.along(theta, np.array(s))) @ down)
        along_u = float(self.placement.turn(stage.around(theta)) @ down)
        return ("s", 1 if along_s >= 0 else -1) if abs(along_s) >= abs(along_u) else ("u", 1 if along_u >= 0 else -1)

    # Parts -------------------------------------------------------------------------------------------------------

    def _look(self, kind, profile, more, seed):
        look = default_look(self.shot["series"], seed)
        carries = "bead seat" in profile.zones or "back bead seat" in profile.zones and "back flange radius" in profile.zones
        look["zones"] = treatments(kind, profile, carries)
        look.update(more)
        return look

    def _part(self, lathe, field, more, down, paint):
        kind = kind_of(lathe.name)
        seed = self.seed * 17 + sum(map(ord, lathe.name)) % 97
        look = self._look(kind, lathe.profile, more, seed)
        maps = weather(field, lathe.profile, look, down)
        surface = Surface(lathe, maps, down, seed)
        if kind == "rim base":
            self._welds(surface)
        if paint is not None:
            paint(surface)
        if surface._ground is None:
            surface.keep_ground()
        lathe.wall_mm = self.shot.get("wall", 12.0)
        lathe.patch(self.placement, maps, max(0.6, 1.8 * field.res), surface.cut)
        wide = Field((field.u0, field.u1), (0.0, lathe.profile.length), max(0.7, 4 * field.res))
        coarse = weather(wide, lathe.profile, look, down)
        rough = Surface(lathe, coarse, down, seed)
        if kind == "rim base":
            self._welds(rough)
        continued = self.shot.get("everywhere")
        if continued is not None and lathe.name == self.main.name:
            continued(rough)
        arc = (0.0, 2 * math.pi)
        lathe.rest(self.placement, coarse, field, arc, 1.0, surface.cut)
        if surface.gap_mm:
            half = surface.gap_mm / 2
            lathe.ends(self.placement, [lathe.angle] * 2, [half, -half], self._end_material(look))
        self.surfaces[lathe.index] = surface
        return surface

    def _end_material(self, look):
        """Bare, rusty steel of a sawn end."""
        span = 80.0
        field = Field((0, span), (0, span), 0.2)
        sawn = dict(look, paint=None, rust=look["rust"] + 0.1, zones=[("bare", 0, span)])
        return stage.material_of("end", weather(field, _Even(), sawn, ("s", 1)), np.zeros(field.shape, np.float32))

    def _welds(self, surface):
        k = self.rim["seatY"] / 46
        for zone in ("gutter weld", "back weld"):
            for low, high in surface.profile.zones.get(zone, []):
                f = surface.maps.field
                middle = (low + high) / 2
                if f.s0 < middle < f.s1:
                    defects.weld_bead(surface.maps, middle, 1.15 * (high - low), 2.0 * k**0.5, self.seed * 7 + len(zone), 2.7 * k**0.5)

    def _neighbour(self, more, angle, half_u, res):
        slot = more["slot"]
        profile = part_of(self.rim, slot, more.get("far"))
        self.index += 1
        lathe = stage.Lathe(slot, profile, angle, float(profile.r.max()), 1 + self.index)
        scale = lathe.reference_mm / self.main.reference_mm
        if slot == "rim base":
            # The side that faces the viewer; the rest of a rim base is far away.
            middle = float(np.mean(profile.zone("gutter lip")))
            low, high = max(0.5, middle - 130), min(profile.length - 0.5, middle + 150)
        else:
            low, high = 0.5, profile.length - 0.5
        field = Field((-half_u * scale, half_u * scale), (low, high), res * more.get("coarser", 1.4))
        s = float(profile.s[np.argmax(profile.r)])
        surface = self._part(lathe, field, more.get("look", {}), self._down(lathe, s), more.get("paint"))
        return surface

    def _around(self, profile):
        ground = self.shot.get("ground", "brown_mud_rocks_01" if self.shot["light"] == "sun" else "asphalt_04")
        moved = self.shot.get("moved", 0.0)
        stage.floor(ground, 1.1, 0.0, self.shot.get("ground_tint", (0.75, 0.75, 0.75)), (0.37 * moved, 0.61 * moved))
        if self.shot["light"] in ("bay", "torch"):
            stage.wall(1.4 if self.shot["place"] == "standing" else 3.2)
        elif self.shot["place"] == "standing":
            stage.wall(1.4, 1.1)
        if self.shot["place"] != "standing" and self.shot.get("height", 0.12) > 0.03:
            tall = self.shot.get("height", 0.12)
            radius = float(np.median(profile.r)) * stage.MM
            for turn in (-0.9 + moved, 0.25 + moved, 1.3 + moved, 2.6 + moved, 3.9 + moved):
                centre = np.array([radius * math.sin(turn), -radius * math.cos(turn), tall / 2])
                stage.block(centre, np.array([0.11, 0.42, tall]), turn)
        if self.shot.get("tyre"):
            self._tyre()
        if self.shot.get("wire"):
            self._wire()

    def _wire(self):
        """A wire between the sun and the part: out of the picture, its shadow in it."""
        azimuth, elevation = map(math.radians, self.shot["sun"])
        to_sun = np.array([math.cos(elevation) * math.sin(azimuth), -math.cos(elevation) * math.cos(azimuth), math.sin(elevation)])
        n, e_u, e_s = self._frame(self.target_s)
        way = e_u * 0.93 + e_s * 0.36
        middle = self.target + to_sun * 0.34
        side = np.cross(way, to_sun)
        side /= np.linalg.norm(side)
        points = np.array([middle + way * end + side * edge for end in (-0.5, 0.5) for edge in (-0.0008, 0.0008)])
        stage.mesh_object("wire", points, [[0, 1, 3, 2]], np.zeros((4, 2)), stage.plain_material("wire", (0.02, 0.02, 0.02)), 0, smooth=False)

    def _tyre(self):
        """The side of a tyre beyond the flanges: dark rubber, so that an assembled wheel does not end in the air."""
        width, top = self.rim["widthMm"], self.rim["seatRadiusMm"] + self.rim["flangeHeightMm"]
        turn = np.linspace(0, 2 * np.pi, 120, endpoint=False)
        half, tall = 0.66 * width, 0.42 * width
        outline = [(width / 2 + half * np.cos(a), top - 12 + tall * (1 + np.sin(a))) for a in turn]
        profile = Profile(outline, {}, 0.0)
        lathe = stage.Lathe("tyre", profile, self.main.angle, top, 30)
        field = Field((-260, 260), (0, profile.length), 1.2)
        look = {"paint": None, "wear": 0, "rust": 0, "grease": 0, "dust": 0.55, "seed": self.seed, "zones": []}
        maps = weather(field, profile, look, ("s", 1))
        tread = np.array([0.030, 0.029, 0.027]) * (1 + 0.35 * field.fbm(30, 5, 5))[..., None] + 0.03 * field.fbm(60, 6, 5)[..., None].clip(0)
        maps.lay(np.ones(field.shape), tread, 0.75, 0.0)
        maps.height = (0.8 * field.fbm(25, 7, 4)).astype(np.float32)
        edge = Field((-260, -259), (0, 1), 1)
        lathe.rest(self.placement, maps, edge)

    # Scale -------------------------------------------------------------------------------------------------------

    def _scale(self, surface):
        self.scale = None
        wanted = self.shot.get("scale")
        if wanted is None:
            return
        if wanted["what"] == "tape":
            self._tape(surface, wanted)
            return
        layout = self.cards[wanted["what"]]
        u, s = wanted["at"]
        s = s(self.main.profile) if callable(s) else self.target_s + s
        corners, plane = things.flat_on(self.main, surface.height_at, u, s, layout["widthMm"], layout["heightMm"], math.radians(wanted.get("turn", 0)), wanted.get("lie"))
        image = stage.image_of("card", things.card_picture(layout, self.seed), True)
        stage.plate("card", self.placement.world(corners), things.CARD_THICK_MM * stage.MM, image, 200)
        self.scale = {"what": "card", "layout": layout, "corners": corners, "plane": plane}

    def _tape(self, surface, wanted):
        u0, u1 = wanted["u"]
        first = wanted["first"]
        s = wanted["s"]
        s = s(self.main.profile) if callable(s) else self.target_s + s
        points = things.tape_along(self.main, surface.height_at, (u0, u1), s, wanted["side"])
        legs = np.linalg.norm(np.diff(points[0], axis=0), axis=1)
        at = np.concatenate([[0], np.cumsum(legs)])
        image = stage.image_of("tape", things.tape_picture(at[-1], first, self.seed), True)
        world = self.placement.world(points)
        steps = points.shape[1]
        flat = np.vstack([world[0], world[1]])
        faces = np.stack([np.arange(steps - 1), np.arange(1, steps), steps + np.arange(1, steps), steps + np.arange(steps - 1)], axis=1)
        uv = np.vstack([np.stack([at / at[-1], np.ones(steps)], axis=1), np.stack([at / at[-1], np.zeros(steps)], axis=1)])
        material = stage.plain_material("tape", (1, 1, 1), 0.35, 0.0, image)
        stage.mesh_object("tape", flat, faces, uv, material, 201)
        marks = []
        for mm in range(int(math.ceil((first + 5) / 10)) * 10, int(first + at[-1] - 3), 10):
            edge = np.array([np.interp(mm - first, at, points[0][:, i]) for i in range(3)])
            marks.append((mm, edge))
        self.scale = {"what": "tape", "marks": marks}
