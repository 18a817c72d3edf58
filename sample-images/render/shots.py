"""The pictures: what each shows, from where and in which light.

Angles of a view are taken at the place looked at: `lift` towards growing arc length (on the outer surface of a rim base:
towards the back side), `swing` towards growing clock positions; `dist` in mm; `zoom` 1 is a phone's main lens.
"""

import math

import numpy as np

import defects
from defects import centred, crack_path, keep_to_row, scaled_to
from paint import CHALK, GREASE, RUBBER, RUST_MID, STEEL

WHEELS = {
    "HT-01": ("49-19.50/4.0", "five-piece", "QX-49"),
    "HT-02": ("57-29.00/6.0", "five-piece", "QX-57"),
    "WL-03": ("45-36.00/4.5", "double-gutter seven-piece", "QX-45"),
    "WL-04": ("33-28.00/3.5", "five-piece", "QX-33"),
    "WC-05": ("25-22.00/3.0", "three-piece with disc", "QX-25"),
    "GR-06": ("25-13.00/2.5", "three-piece", "QX-25"),
}
SMALL, LARGE = (1600, 1200), (4000, 3000)
YELLOW_PEN, WHITE_PEN = np.array([0.75, 0.60, 0.05]), np.array([0.82, 0.82, 0.80])
SHOTS = []


def shot_of(name, wheel, slot, zone, clock, shows, view, **more):
    """One shot with what it does not say filled in."""
    designation, construction, series = WHEELS[wheel.split(" ")[0]]
    return {
        "name": name,
        "wheel": wheel,
        "designation": designation,
        "construction": construction,
        "series": series,
        "slot": slot,
        "zone": zone,
        "clock": clock,
        "shows": shows,
        "view": view,
        "px": more.pop("px", SMALL),
        "place": more.pop("place", "lying"),
        "light": more.pop("light", "bay"),
        "seed": more.pop("seed", 11 + sum(ord(c) * (i + 3) ** 2 for i, c in enumerate(name)) % 9973),
        **more,
    }


def shot(*what, **more):
    SHOTS.append(shot_of(*what, **more))


# Words of the list -------------------------------------------------------------------------------------------------


def card(u, s=0, turn=180, what="pocket card", lie=None):
    """A scale card `u` mm round from the middle; `s` mm along the section from it, or a place by the profile."""
    return {"what": what, "at": (u, s), "turn": turn, "lie": lie}


def on_land(profile):
    """The land beside the lock-ring groove, over the O-ring groove."""
    low, high = profile.zone("O-ring groove")
    return (low + high) / 2


def beyond_seal(profile):
    """The land inboard of the O-ring groove."""
    return profile.zone("O-ring groove")[1] + 4


def on_ledge(profile):
    """The ledge below the stop at the back."""
    return profile.zone("back flange radius")[0] - 2


def outside_contact(profile):
    """The outer side of a flange, beyond its contact face."""
    return profile.zone("flange contact face")[1] + 5


def tape(u, s, side=1, first=40):
    """A steel tape laid round the rim: from and to (mm round), its ticked edge (mm along), which side it lies on."""
    return {"what": "tape", "u": u, "s": s, "side": side, "first": first}


def round_run(s, length, seed, at_u=0.0, loose=0.3, wander=0.5, longest=None):
    """A run round the rim along a line of constant arc length; of the longest one, the part that is there yet."""
    path = keep_to_row(crack_path((0, 0), 0.0, longest or length, seed, wander), s, loose)
    path[:, 0] += at_u - path[:, 0].mean()
    if longest is not None:
        spare = len(path) - max(3, int(round(len(path) * length / longest)))
        path = path[int(spare * 0.45) : len(path) - (spare - int(spare * 0.45))]
    return scaled_to(path, length)


def free_run(u, s, direction_degrees, length, seed, wander=0.7):
    """A run through a middle point in a direction: 0 round the rim, 90 along the section."""
    path = crack_path((0, 0), math.radians(direction_degrees), length, seed, wander)
    return scaled_to(centred(path, (u, s)), length)


def from_point(u, s, direction_degrees, length, seed, wander=0.7):
    path = crack_path((u, s), math.radians(direction_degrees), length, seed, wander)
    return path[:1] + (path - path[:1]) * (length / np.hypot(*np.diff(path, axis=0).T).sum())


def stamped(zone, share, text, u, tall=8.0, turn=0, seed=8):
    """The maker's stamp in a zone, `u` mm round from the middle to its first letter."""

    def paint(x):
        defects.stamp_text(x.maps, text, u, x.s(zone, share), tall, seed, turn)

    return paint


def all_of(*paints):
    def paint(x):
        for each in paints:
            each(x)

    return paint


# The front left rim base of HT-02: one groove and one weld through four dates ---------------------------------------

DATES_A, DATES_B = (1040, 700, 330, 20), (980, 640, 300, 45)


def groove_paint(stage):
    wear, length = (0.8, 1.4, 2.2, 3.1)[stage], (0, 14, 46, 118)[stage]

    def paint(x):
        low, high = x.profile.zone("gutter groove")
        at = lambda share: low + share * (high - low)
        x.wear("gutter groove", at(0.37), at(0.60), wear, 301)
        if stage > 1:
            defects.pen_line(x.maps, [(-74, on_land(x.profile) - 8), (-74, at(0.98))], 2.5, 5, YELLOW_PEN)
        if length:
            run = round_run(at(0.715), length, 77, 8, 0.35, 0.6, 118)
            x.crack("gutter groove", [run], (0, 0.14, 0.3, 0.55)[stage], 3.0 * stage, 0.55, 0.35)

    return paint


GROOVE_SHOWS = (
    "Lock-ring groove of a rim base, floor worn 0.8 mm; no crack",
    "The same groove, floor worn 1.4 mm; a hairline crack of 14 mm has begun in the inner radius",
    "The same groove, floor worn 2.2 mm; the crack in the inner radius is 46 mm long",
    "The same groove, floor worn 3.1 mm; the crack in the inner radius is 118 mm long and open",
)
for n, days in enumerate(DATES_A):
    shot(
        f"groove-{n + 1}", "HT-02 front left", "rim base", "gutter groove", 5, GROOVE_SHOWS[n],
        {"lift": (-36, -30, -42, -33)[n], "swing": (8, -14, 16, 4)[n], "dist": (330, 300, 350, 290)[n], "zoom": 1.35, "aim": ((0, 6), (10, 4), (-6, 8), (4, 4))[n], "tilt": (2, -3, 4, -2)[n]},
        seed=501, daysAgo=days, paint=groove_paint(n), light=("bay", "shade", "bay", "bay")[n],
        look={"rust": 0.36 + 0.05 * n, "wear": 0.48 + 0.06 * n, "grease": (0.5, 0.42, 0.36, 0.32)[n]},
        scale=card((-52, -40, 30, -58)[n], on_land, (180, 184, 176, 182)[n], lie=0), orientation=(1, 1, 1, 3)[n],
    )


def toe_paint(stage, lengths, seed, opening):
    def paint(x):
        low, high = x.profile.zone("gutter weld")
        if lengths[stage]:
            run = round_run(high + 0.075 * (high - low), lengths[stage], seed, -6, 0.5, 0.8, max(lengths))
            x.crack("gutter weld", [run], opening[stage], 2.0 + stage, 0.7, 0.55)

    return paint


WELD_SHOWS = (
    "Round weld between gutter section and centre band; no crack",
    "The same weld; a crack of 22 mm at its toe",
    "The same weld; the toe crack is 61 mm long and bleeds rust",
    "The same weld; the toe crack is 95 mm long",
)
for n, days in enumerate(DATES_A):
    shot(
        f"weld-{n + 1}", "HT-02 front left", "rim base", "gutter weld", 8, WELD_SHOWS[n],
        {"lift": (-12, -22, 6, -16)[n], "swing": (14, -10, 20, -6)[n], "dist": (300, 330, 290, 310)[n], "zoom": 1.3, "aim": (0, 12), "tilt": (-3, 2, 3, -1)[n]},
        seed=502, daysAgo=days, paint=toe_paint(n, (0, 22, 61, 95), 83, (0, 0.16, 0.3, 0.45)), light=("bay", "bay", "shade", "bay")[n],
        look={"rust": 0.34 + 0.06 * n, "wear": 0.45 + 0.05 * n, "grease": 0.3},
        scale=card((30, -35, 25, -30)[n], 52, (180, 186, 175, 181)[n]),
    )


# The front right wheel of WL-04: a seat that rusts, a flange that wears ----------------------------------------------


def seat_paint(stage):
    def paint(x):
        s = x.s("bead seat", 0.55)
        grown = (1.0, 1.35, 1.75, 2.2)[stage]
        x.corrosion("bead seat", (12, s), (26 * grown, 15 * grown**0.8), 411, 0.25 + 0.12 * stage, 0.55)

    return paint


for n, days in enumerate(DATES_B):
    shot(
        f"seat-{n + 1}", "WL-04 front right", "bead seat band", "bead seat", 4,
        ("Bead seat of a band with a rust patch", "The same seat, the rust patch wider", "The same seat, wider still and scaling", "The same seat: a large scaling patch")[n],
        {"lift": (-22, -34, -16, -28)[n], "swing": (10, -16, 22, -4)[n], "dist": (330, 350, 320, 360)[n], "zoom": 1.15, "tilt": (2, -2, -4, 3)[n]},
        seed=503, daysAgo=days, paint=seat_paint(n), light=("bay", "shade", "bay", "bay")[n],
        look={"rust": 0.28 + 0.05 * n, "wear": 0.5, "grease": 0.25},
        scale=card((-74, -78, 96, -92)[n], 4, (180, 172, 186, 178)[n]),
    )


def step_paint(depth):
    def paint(x):
        low, high = x.profile.zone("flange contact face")
        x.wear("flange contact face", low + 0.52 * (high - low), low + 0.90 * (high - low), depth, 421, soft=0.35)

    return paint


for n, days in enumerate(DATES_B):
    depth = (0.4, 0.9, 1.5, 2.2)[n]
    shot(
        f"flange-{n + 1}", "WL-04 front right", "gutter side flange", "flange contact face", 10,
        f"Contact face of a side flange with a worn step of {depth} mm",
        {"lift": (-28, -36, -20, -32)[n], "swing": (18, -14, 8, -22)[n], "dist": (260, 280, 250, 270)[n], "zoom": 1.6, "aim": (0, 6), "tilt": (-2, 3, 2, -3)[n]},
        seed=504, share=0.75, daysAgo=days, paint=step_paint(depth), everywhere=step_paint(depth), light=("bay", "bay", "shade", "bay")[n],
        look={"rust": 0.32 + 0.05 * n, "wear": 0.5 + 0.04 * n, "grease": 0.35},
        scale=tape((-120, 120), outside_contact, 1, (120, 60, 200, 310)[n]),
    )


# Rim bases -----------------------------------------------------------------------------------------------------------


def hairline(x):
    low, high = x.profile.zone("gutter groove")
    x.crack("gutter groove", [round_run(low + 0.715 * (high - low), 8, 31, 4, 0.3, 0.5)], 0.10, 1.0, 0.35, 0.15)


def open_crack(x):
    low, high = x.profile.zone("gutter groove")
    run = round_run(low + 0.715 * (high - low), 200, 37, 0, 0.5, 0.9)
    branch = from_point(*run[len(run) * 2 // 3], 62, 17, 38, 0.9)
    x.crack("gutter groove", [run, branch], 1.3, 11.0, 0.65, 0.5)


def worn_floor(depth):
    def paint(x):
        low, high = x.profile.zone("gutter groove")
        x.wear("gutter groove", low + 0.36 * (high - low), low + 0.61 * (high - low), depth, 43)

    return paint


def full_of_grime(x):
    low, high = x.profile.zone("gutter groove")
    f = x.maps.field
    deep = f.between(low + 1, high - 1, 6) * np.clip(0.75 + 0.5 * f.fbm(26, 71, 5), 0, 1)
    x.maps.lay(deep, GREASE * (1.5 + 0.9 * f.fbm(4, 72, 4))[..., None] + 0.05 * np.array([0.36, 0.28, 0.2]), 0.62, 0.0)
    x.maps.height += deep * (3.2 + 1.1 * f.fbm(9, 73, 5))


shot(
    "groove-clean", "WC-05 front left", "rim base", "gutter groove", 12, "Lock-ring groove of a 25-inch rim base, brushed clean; no defect",
    {"lift": -34, "swing": 10, "dist": 250, "zoom": 1.4, "aim": (0, 8), "tilt": 2}, look={"rust": 0.2, "wear": 0.35, "grease": 0.15, "dust": 0.15}, light="shade",
)
shot(
    "groove-hairline", "HT-01 front right", "rim base", "gutter groove", 3, "Lock-ring groove with a hairline crack of 8 mm in its inner radius",
    {"lift": -31, "swing": -9, "dist": 240, "zoom": 1.2, "aim": (0, 8), "tilt": -2}, px=LARGE, paint=hairline,
    look={"rust": 0.3, "wear": 0.45, "grease": 0.25, "dust": 0.2}, scale=card(-50, on_land, 180, lie=0),
)
shot(
    "groove-open", "WL-03 front left", "rim base", "gutter groove", 6, "Lock-ring groove with an open crack of 200 mm and a branch, steel tape on the land",
    {"lift": -36, "swing": 6, "dist": 330, "zoom": 1.2, "aim": (0, 12), "tilt": 3}, px=LARGE, paint=open_crack,
    look={"rust": 0.5, "wear": 0.6, "grease": 0.3}, scale=tape((-150, 150), beyond_seal, 1, 60),
)
shot(
    "groove-worn", "HT-01 rear left outer", "rim base", "gutter groove", 9, "Lock-ring groove whose floor is worn 3.5 mm, steel tape on the land",
    {"lift": -26, "swing": -18, "dist": 270, "zoom": 1.35, "aim": (0, 8), "tilt": -2}, paint=worn_floor(3.5), everywhere=worn_floor(3.5),
    look={"rust": 0.42, "wear": 0.6, "grease": 0.3}, scale=tape((-130, 130), beyond_seal, 1, 20), light="sun", sun=(70, 38),
)
shot(
    "groove-grime", "GR-06 front left", "rim base", "gutter groove", 2, "Lock-ring groove full of grease and dirt; nothing can be judged before it is cleaned",
    {"lift": -36, "swing": 14, "dist": 240, "zoom": 1.3, "aim": (0, 8), "tilt": 3}, paint=full_of_grime, everywhere=full_of_grime, look={"rust": 0.4, "wear": 0.5, "grease": 0.85, "dust": 0.7},
)
shot(
    "lip-clean", "WL-04 front left", "rim base", "gutter lip", 1, "Gutter lip, paint worn off its edge; no defect",
    {"lift": 8, "swing": 24, "dist": 260, "zoom": 1.3, "tilt": -3}, look={"rust": 0.3, "wear": 0.5}, light="shade",
)


def chipped_lip(x):
    low, high = x.profile.zone("gutter lip")
    for middle, half, seed in ((-24, 13, 91), (31, 8, 92)):
        x.broken("gutter lip", middle, half, low + 0.30 * (high - low), high + 5, 8.5, seed)


def lip_crack(x):
    low, high = x.profile.zone("gutter lip")
    x.crack("gutter lip", [from_point(3, high + 2, -82, 18, 23, 0.6)], 0.35, 9.0, 0.6, 0.5)


shot(
    "lip-chipped", "HT-01 rear right outer", "rim base", "gutter lip", 11, "Gutter lip with two pieces broken out",
    {"lift": 30, "swing": 12, "dist": 270, "zoom": 1.35, "aim": (0, 6), "tilt": 2}, paint=chipped_lip, orientation=6, look={"rust": 0.4, "wear": 0.55}, scale=card(-86, on_land, 180, lie=0),
)
shot(
    "lip-crack", "WC-05 rear right", "rim base", "gutter lip", 7, "Gutter lip with a crack of 18 mm across it",
    {"lift": 2, "swing": -14, "dist": 200, "zoom": 1.5, "aim": (6, 2), "tilt": -3}, paint=lip_crack, look={"rust": 0.36, "wear": 0.45}, scale=card(58, on_land, 178, lie=0),
)


def pitted_seal_groove(x):
    low, high = x.profile.zone("O-ring groove")
    x.pits("O-ring groove", (-5, (low + high) / 2), (70, 0.42 * (high - low)), 61, 170, (0.7, 3.6), (0.2, 1.0))


shot(
    "seal-groove-pitted", "WL-04 rear left", "rim base", "O-ring groove", 4, "O-ring groove with pitting on its floor and walls",
    {"lift": -24, "swing": 12, "dist": 210, "zoom": 1.5, "tilt": 2}, paint=pitted_seal_groove, look={"rust": 0.5, "wear": 0.5, "grease": 0.2},
)
shot(
    "seal-groove-clean", "HT-02 front right", "rim base", "O-ring groove", 12, "O-ring groove wiped clean, a film of grease; no defect",
    {"lift": -28, "swing": -16, "dist": 240, "zoom": 1.4, "tilt": -2}, look={"rust": 0.2, "wear": 0.35, "grease": 0.45, "dust": 0.12}, light="torch", place="lying",
)
shot(
    "gutter-weld-clean", "HT-01 front left", "rim base", "gutter weld", 10, "Round weld by torchlight at night, chevron ripple and spatter; no defect",
    {"lift": -14, "swing": 14, "dist": 260, "zoom": 1.3, "tilt": 3}, light="torch", look={"rust": 0.36, "wear": 0.4}, paint=lambda x: x.look_alike("weld bead"),
)


def branching_toe(x):
    low, high = x.profile.zone("gutter weld")
    run = round_run(high + 0.05 * (high - low), 22, 45, 0, 0.5, 0.9)
    branch = from_point(*run[len(run) // 2], 38, 8, 46, 0.9)
    x.crack("gutter weld", [run, branch], 0.28, 3.0, 0.7, 0.55)


shot(
    "gutter-weld-crack", "WC-05 rear left", "rim base", "gutter weld", 3, "Crack of 30 mm with a branch at the toe of the round weld",
    {"lift": -10, "swing": -16, "dist": 210, "zoom": 1.5, "aim": (0, 8), "tilt": -2}, paint=branching_toe, look={"rust": 0.36, "wear": 0.42}, scale=card(10, 44, 183),
)


def butt(x, cracked):
    s0, s1 = x.profile.zone("centre band", len(x.profile.zones["centre band"]) - 1)
    edge = x.profile.zone("gutter weld")[1] + 6
    end = x.profile.zones["back weld"][0][0] - 6 if "back weld" in x.profile.zones else s1 + 60
    defects.weld_bead(x.maps, 0.0, 15, 1.6, x.seed + 3, 2.9, across_rim=(edge, end))
    if cracked:
        s = x.s("butt weld", 0.5, len(x.profile.zones["butt weld"]) - 1)
        x.crack("butt weld", [free_run(8.6, s, 88, 26, 29, 0.7)], 0.25, 4.0, 0.65, 0.5)


for name, wheel, clock, cracked, shows, swing in (
    ("butt-weld-crack", "WL-04 rear right", 5, True, "Weld across the band with a crack of 26 mm along its toe", -15),
    ("butt-weld-clean", "HT-02 rear left outer", 6, False, "Weld across the band under worn paint; no defect", 22),
):
    shot(
        name, wheel, "rim base", "butt weld", clock, shows, {"lift": -16, "swing": swing, "dist": 260, "zoom": 1.35, "tilt": 2}, surface=1,
        paint=lambda x, c=cracked: butt(x, c), look={"rust": 0.4, "wear": 0.5 if cracked else 0.35}, scale=card(62, 0, 177) if cracked else None, light="bay" if cracked else "shade",
    )


def centre_rust(x):
    s = x.s("centre band", 0.5, 1)
    x.corrosion("centre band", (18, s), (62, 38), 57, 0.5, 0.6)
    x.corrosion("centre band", (-96, s - 26), (24, 15), 58, 0.3, 0.5)


def chalk_and_drip(x):
    s = x.s("centre band", 0.35, 1)
    line = [(-70, s - 26), (-20, s - 21), (34, s - 24), (88, s - 19)]
    mask = defects.pen_line(x.maps, line, 3.4, 5, CHALK, 0.55, 0.7)
    x.look_alike("chalk line", np.array(line, float), mask)
    defects.pen_text(x.maps, "F 2", 40, s + 40, 34, 6, CHALK, 3.4, 0.5)
    drip = defects.draw_drip(x.maps, (-46, s + 6), 58, 5.0, 9, np.array([0.70, 0.69, 0.65]), x.down)
    x.look_alike("paint drip", np.array([(-46, s + 6), (-46, s + 64)], float), drip)


shot(
    "centre-rust", "HT-01 rear left inner", "rim base", "centre band", 8, "Centre band with two patches of scaling rust",
    {"lift": -12, "swing": 12, "dist": 330, "zoom": 1.15, "tilt": 2}, px=LARGE, surface=1, reach=140, paint=centre_rust, look={"rust": 0.33, "wear": 0.42}, scale=card(-86, 52, 176, "pocket card"),
)
shot(
    "centre-chalk", "WL-03 front right", "rim base", "centre band", 2, "Centre band with a chalk line, writing and a drip of paint; no defect",
    {"lift": -8, "swing": -14, "dist": 330, "zoom": 1.25, "tilt": -2}, surface=1, share=0.35, reach=20, paint=chalk_and_drip, look={"rust": 0.26, "wear": 0.36, "dust": 0.5},
)


def back_toe(x):
    low, high = x.profile.zone("back weld", len(x.profile.zones["back weld"]) - 1)
    x.crack("back weld", [round_run(low - 0.06 * (high - low), 75, 39, 0, 0.45, 0.8)], 0.4, 5.0, 0.7, 0.6)


def weld_scratch(x):
    low, high = x.profile.zone("back weld", 1)
    line = np.array([(-38, high + 8), (6, high + 14), (52, high + 5)], float)
    x.look_alike("scratch", line, defects.draw_scratch(x.maps, line, 4, 0.6))


shot(
    "back-weld-crack", "HT-02 rear right outer", "rim base", "back weld", 7, "Crack of 75 mm along the toe of the back weld, hard sun",
    {"lift": -24, "swing": 16, "dist": 280, "zoom": 1.3, "tilt": 2}, surface=1, light="sun", sun=(-55, 42), paint=back_toe, look={"rust": 0.38, "wear": 0.45}, scale=card(-20, -62, 182),
)
shot(
    "back-weld-scratch", "WL-04 front left", "rim base", "back weld", 9, "Back weld with a scratch beside it; no defect",
    {"lift": -20, "swing": -14, "dist": 270, "zoom": 1.35, "tilt": -3}, surface=1, paint=weld_scratch, look={"rust": 0.28, "wear": 0.38}, light="shade",
)


def seat_rust(x):
    x.corrosion("back bead seat", (8, x.s("back bead seat", 0.55)), (40, 21), 63, 0.4, 0.55)
    x.corrosion("back bead seat", (78, x.s("back bead seat", 0.3)), (11, 8), 64, 0.2, 0.5)


def rubber_streaks(x):
    low, high = x.profile.zone("back bead seat")
    mask = defects.draw_rubber_streaks(x.maps, low, high, 15)
    x.look_alike("rubber streaks", None, mask)


shot(
    "back-seat-rust", "WC-05 front right", "rim base", "back bead seat", 5, "Tapered seat at the back section with rust patches",
    {"lift": -34, "swing": 12, "dist": 280, "zoom": 1.3, "tilt": 2}, paint=seat_rust, look={"rust": 0.3, "wear": 0.45}, scale=card(-78, -2, 178),
)
shot(
    "back-seat-rubber", "GR-06 front right", "rim base", "back bead seat", 11, "Seat with streaks of rubber from the tyre; no defect",
    {"lift": -36, "swing": -12, "dist": 270, "zoom": 1.3, "tilt": -2}, paint=rubber_streaks, look={"rust": 0.18, "wear": 0.35, "grease": 0.2}, light="shade",
)


def radius_crack(x):
    s = x.s("back flange radius", 0.45)
    x.crack("back flange radius", [round_run(s, 140, 49, 6, 0.35, 0.7)], 0.55, 7.0, 0.6, 0.4)


def hair(x):
    s = x.s("back flange radius", 0.3)
    path = defects.draw_hair(x.maps, (-26, s - 6), 0.25, 62, 7)
    x.look_alike("hair", path)


shot(
    "back-radius-crack", "WC-05 rear right", "rim base", "back flange radius", 9, "Crack of 140 mm in the curve between bead seat and back flange",
    {"lift": -12, "swing": 10, "dist": 270, "zoom": 1.25, "aim": (0, -6), "tilt": 3}, px=LARGE, paint=radius_crack, look={"rust": 0.34, "wear": 0.45}, scale=card(-40, lambda p: sum(p.zone("back bead seat")) / 2 - 4, 180),
)
shot(
    "back-radius-hair", "GR-06 rear left", "rim base", "back flange radius", 3, "Curve between bead seat and back flange with a hair stuck to it; no defect",
    {"lift": -14, "swing": -12, "dist": 210, "zoom": 1.4, "aim": (0, -6), "tilt": -2}, paint=hair, look={"rust": 0.22, "wear": 0.4},
)


def fretted_stop(x):
    low, high = x.profile.zone("back flange")
    x.wear("back flange", low + 0.05 * (high - low), low + 0.34 * (high - low), 1.2, 55, soft=0.8)


shot(
    "back-flange-worn", "HT-01 rear right inner", "rim base", "back flange", 6, "Stop at the back section, face worn 1.2 mm by the flange; steel tape on the ledge",
    {"lift": 38, "swing": 16, "dist": 250, "zoom": 1.4, "tilt": 2}, share=0.2, paint=fretted_stop, everywhere=fretted_stop, look={"rust": 0.4, "wear": 0.5}, scale=tape((-120, 120), on_ledge, -1, 30),
)
shot(
    "back-flange-clean", "WC-05 front left", "rim base", "back flange", 12, "Fixed back flange with the maker's stamp; no defect",
    {"lift": -12, "swing": -10, "dist": 280, "zoom": 1.3, "tilt": -2}, share=0.3, paint=stamped("back flange", 0.30, "QUILLMOOR  QX-25  25-22.00/3.0  DEMO", 112), look={"rust": 0.22, "wear": 0.32}, light="shade",
)


def galled(x):
    low, high = x.profile.zone("mounting taper")
    x.galling("mounting taper", low + 1, high - 1, 23)


shot(
    "taper-galled", "HT-01 front right", "rim base", "mounting taper", 10, "Mounting taper torn by galling",
    {"lift": 32, "swing": 16, "dist": 230, "zoom": 1.5, "tilt": 2}, place="standing", roll=180, paint=galled, everywhere=galled, look={"rust": 0.34, "wear": 0.5},
)
shot(
    "taper-clean", "WL-04 front left", "rim base", "mounting taper", 4, "Mounting taper with even contact marks; no defect",
    {"lift": 30, "swing": -14, "dist": 230, "zoom": 1.5, "tilt": -2}, place="standing", roll=180, look={"rust": 0.25, "wear": 0.4}, light="shade",
)


def slot_hole(x, half_u, half_s, radius):
    angle, profile = x.lathe.angle, x.profile
    s = x.s("valve slot")
    middle = profile.point(np.array(angle), np.array(s))
    along = np.array([0, math.cos(angle), -math.sin(angle)])
    out = np.array([0, math.sin(angle), math.cos(angle)])

    def away(points):
        local = points - middle
        q = np.stack([np.abs(local @ along) - half_u + radius, np.abs(local[..., 0]) - half_s + radius], axis=-1)
        inside = np.minimum(q.max(axis=-1), 0)
        distance = np.hypot(*np.maximum(q, 0).T).T + inside - radius
        return np.where(points @ out > 0, distance, 99.0)

    x.hole([away])


def valve(x, cracked):
    slot_hole(x, 31, 11, 10)
    if cracked:
        s = x.s("valve slot")
        x.crack("valve slot", [from_point(29.2, s + 8.2, 38, 12, 19, 0.7)], 0.3, 12.0, 0.6, 0.5)


for name, wheel, cracked, shows, light in (
    ("valve-crack", "HT-02 rear left inner", True, "Valve slot with a crack of 12 mm from its corner", "bay"),
    ("valve-clean", "WL-03 rear left", False, "Valve slot with clean corners; no defect", "shade"),
):
    shot(
        name, wheel, "rim base", "valve slot", 12, shows, {"lift": -20, "swing": -12 if cracked else 14, "dist": 230, "zoom": 1.5, "tilt": 2},
        paint=lambda x, c=cracked: valve(x, c), look={"rust": 0.36, "wear": 0.42}, scale=card(10, 52, 180) if cracked else None, light=light, wall=20.0,
    )


def studs(x, cracked):
    profile = x.profile
    low, high = profile.zone("stud holes")
    s = (low + high) / 2
    pcd = float(profile.at(s)[1])
    face = float(profile.x.max())
    radius = 13.0
    count = int(2 * math.pi * pcd / 74)
    middles = []
    for k in range(count):
        turn = x.lathe.angle + 2 * math.pi * k / count
        middles.append((pcd * math.sin(turn), pcd * math.cos(turn)))

    def away(points):
        y, z = points[..., 1], points[..., 2]
        least = np.min([np.hypot(y - a, z - b) for a, b in middles], axis=0) - radius
        return np.where(np.abs(points[..., 0] - face) < 60, least, 99.0)

    x.hole([away])
    f = x.maps.field
    u, ss = f.grid()
    theta = u / x.lathe.reference_mm
    r = np.interp(ss, profile.s, profile.r)
    near = np.full(f.shape, 99.0, np.float32)
    for k in range(-3, 4):
        turn = 2 * math.pi * k / count
        near = np.minimum(near, np.hypot(r * np.sin(theta) - pcd * math.sin(turn), r * np.cos(theta) - pcd * math.cos(turn)))
    washer = np.clip(1 - np.abs(near - radius - 5.5) / 5.5, 0, 1) ** 0.4 * (near < radius + 11)
    x.maps.lay(0.8 * washer * (f.fbm(6, 12, 4, stretch=2) > -0.5), STEEL * 0.95, 0.38, 0.9)
    x.maps.height -= 0.25 * washer
    if cracked:
        x.crack("stud holes", [from_point(radius + 0.3, s, 12, 24, 51, 0.7)], 0.3, 18.0, 0.6, 0.5)
    else:
        streak = np.exp(-((np.abs(near - radius) / 1.5) ** 2)) * (f.fbm(5, 3, 3) > -0.3)
        runs = defects.run_down(streak * (np.abs(u) < 16), x.down, 42 / f.res) * np.clip(0.7 + 0.5 * f.fbm(2.5, 4, 4), 0, 1)
        x.maps.lay(np.clip(0.85 * runs, 0, 0.85), RUST_MID * 1.4, 0.8, 0.05)
        x.look_alike("rust streak", None, runs > 0.4)


for name, wheel, clock, cracked, shows in (
    ("stud-crack", "WC-05 rear left", 7, True, "Stud holes of the disc, a crack of 24 mm from one of them"),
    ("stud-clean", "WC-05 front left", 6, False, "Stud holes of the disc, a rust streak from one of them as a loose nut leaves it; no crack"),
):
    shot(
        name, wheel, "rim base", "stud holes", clock, shows, {"lift": -8, "swing": 14 if cracked else -12, "dist": 260, "zoom": 1.35, "tilt": -2}, part="disc", place="standing",
        roll=0, reach=60, spread=1.0, paint=lambda x, c=cracked: studs(x, c), look={"rust": 0.34, "wear": 0.42}, scale=card(4, 50, 180) if cracked else None, wall=18.0, light="bay" if cracked else "shade",
        **{"with": [{"slot": "rim base", "far": "gutter lip"}]},
    )


# Lock rings ------------------------------------------------------------------------------------------------------------


def fitted(wheel, front=""):
    """The parts round a fitted lock ring."""
    three = wheel.startswith(("WC", "GR"))
    parts = [{"slot": "rim base", "far": "gutter lip"}]
    if three:
        parts.append({"slot": "side flange", "far": "flange face"})
    else:
        parts += [{"slot": front + "bead seat band", "far": "bead seat"}, {"slot": ("front " if front else "gutter ") + "side flange", "far": "flange face"}]
    return parts


def gap(mm):
    def paint(x):
        if mm > 0.5:
            x.gap(mm)
            return
        f = x.maps.field
        u, _ = f.grid()
        joint = np.exp(-(((u + 0.35 * f.fbm(12, 5, 3)) / 0.42) ** 2))
        x.maps.height -= 1.1 * joint
        x.maps.lay(joint, [0.006, 0.005, 0.004], 0.9, 0.0)
        bruise = np.exp(-((u / 3.2) ** 2)) * (f.fbm(4, 6, 4) > -0.2)
        x.maps.lay(0.8 * bruise * (1 - joint), STEEL * 1.1, 0.32, 1.0)

    return paint


for name, wheel, clock, mm, px, scale, view, light, *mark in (
    ("gap-0", "HT-01 rear left outer", 6, 0.0, SMALL, None, {"lift": -14, "swing": 8, "dist": 270, "zoom": 1.4, "tilt": 2}, "bay"),
    ("gap-6", "WL-04 rear left", 5, 6.0, LARGE, card(-70, lambda p: sum(p.zone("ring body")) / 2, 180, lie=78), {"lift": -10, "swing": -12, "dist": 270, "zoom": 1.25, "tilt": -3}, "bay", stamped("ring body", 0.5, "QX-33  LR", 96, 7.0)),
    ("gap-14", "WC-05 front right", 7, 14.0, SMALL, tape((-90, 90), 1, -1, 12), {"lift": -6, "swing": 12, "dist": 230, "zoom": 1.5, "tilt": 3}, "shade"),
    ("gap-25", "HT-02 rear right inner", 6, 25.0, SMALL, card(82, lambda p: sum(p.zone("ring body")) / 2, 180, lie=78), {"lift": -12, "swing": -8, "dist": 300, "zoom": 1.3, "tilt": -2}, "bay", stamped("ring body", 0.5, "QX-57  LR", -20, 7.0)),
):
    shot(
        name, wheel, "lock ring", "ring ends", clock, f"Lock ring seated in its groove, gap of {mm:g} mm between its ends" if mm else "Lock ring seated in its groove, its ends touch: no gap",
        view, look_at="ring body", place="standing", roll=0, px=px, paint=all_of(*mark, gap(mm)), gapMm=mm, scale=scale, light=light, tyre=True,
        look={"rust": 0.34, "wear": 0.55, "grease": 0.3}, **{"with": fitted(wheel)},
    )


def ring_crack(zone, share, length, seed, opening, depth):
    def paint(x):
        x.crack(zone, [round_run(x.s(zone, share), length, seed, 4, 0.5, 0.8)], opening, depth, 0.6, 0.4)

    return paint


shot(
    "ring-crack", "WL-03 front left", "front lock ring", "ring body", 4, "Lock ring on blocks with a crack of 90 mm running round it",
    {"lift": 6, "swing": 12, "dist": 260, "zoom": 1.2, "aim": (0, 4), "tilt": -2}, px=LARGE, paint=all_of(stamped("ring body", 0.2, "QX-45  LR", 74, 6.0), ring_crack("ring body", 0.5, 90, 33, 0.4, 6.0)), look={"rust": 0.38, "wear": 0.6}, scale=card(-82, 0, 180, lie=78),
)
shot(
    "ring-hairline", "WC-05 rear left", "lock ring", "ring body", 8, "Lock ring with a hairline crack of 16 mm, by torchlight",
    {"lift": 4, "swing": -10, "dist": 180, "zoom": 1.5, "tilt": 3}, light="torch", paint=ring_crack("ring body", 0.55, 16, 35, 0.12, 1.5), look={"rust": 0.32, "wear": 0.6}, scale=card(66, 0, 180, lie=75),
)
shot(
    "ring-shadow", "GR-06 rear right", "lock ring", "ring body", 1, "Lock ring in hard sun, the shadow of a wire lies across it; no defect",
    {"lift": 2, "swing": 16, "dist": 220, "zoom": 1.4, "tilt": -2}, light="sun", sun=(40, 40), wire=True, look={"rust": 0.3, "wear": 0.55}, paint=lambda x: x.look_alike("shadow"),
)


def seat_face_worn(x):
    low, high = x.profile.zone("ring seat face")
    x.wear("ring seat face", low + 0.1 * (high - low), high - 0.1 * (high - low), 0.8, 65, soft=0.9)


shot(
    "ring-seat-worn", "HT-01 front left", "lock ring", "ring seat face", 3, "Face of a lock ring that bears on the band, worn and polished",
    {"lift": 10, "swing": -14, "dist": 200, "zoom": 1.6, "tilt": 2}, place="turned over", paint=seat_face_worn, everywhere=seat_face_worn, look={"rust": 0.32, "wear": 0.5},
)


def chipped_end(x):
    x.gap(46.0)
    low, high = x.profile.zone("ring ends")
    x.broken("ring ends", 27, 9, low - 7, high + 7, 6.5, 77)


shot(
    "ring-chipped", "WL-03 rear right", "rear lock ring", "ring ends", 6, "Free lock ring, a corner of one end broken off; steel tape along it",
    {"lift": -30, "swing": 14, "dist": 240, "zoom": 1.45, "tilt": -2}, paint=chipped_end, gapMm=46.0, look={"rust": 0.4, "wear": 0.6}, scale=tape((30, 170), 4, 1, 5), place="turned over", look_at="ring body",
)


# Side flanges -----------------------------------------------------------------------------------------------------------


def edge_crack(x):
    low, high = x.profile.zone("flange lip")
    x.crack("flange lip", [from_point(-4, high - 0.25 * (high - low), -84, 35, 53, 0.7)], 0.45, 12.0, 0.6, 0.55)


shot(
    "lip-flange-clean", "HT-01 front left", "gutter side flange", "flange lip", 2, "Lip of a side flange, paint rubbed off its edge; no defect",
    {"lift": 10, "swing": 18, "dist": 300, "zoom": 1.25, "tilt": -2}, light="shade", look={"rust": 0.25, "wear": 0.4}, paint=stamped("flange lip", 0.5, "QUILLMOOR  QX-49  SF  DEMO", 90),
)
shot(
    "lip-flange-crack", "WL-03 rear left", "front side flange", "flange lip", 9, "Lip of a side flange with a crack of 35 mm from its edge",
    {"lift": 6, "swing": -14, "dist": 250, "zoom": 1.35, "tilt": 2}, paint=edge_crack, look={"rust": 0.34, "wear": 0.45}, scale=card(66, 38, 178),
)


def face_rust(x):
    s = x.s("flange face", 0.55)
    x.corrosion("flange face", (-6, s), (70, 30), 67, 0.5, 0.65)
    x.corrosion("flange face", (98, s + 18), (20, 12), 68, 0.3, 0.5)


def face_scratches(x):
    s = x.s("flange face", 0.5)
    for k, (u0, s0, u1, s1) in enumerate(((-60, -14, 48, 6), (-30, 12, 70, 24), (-72, 6, -20, 18))):
        line = np.array([(u0, s + s0), ((u0 + u1) / 2, s + (s0 + s1) / 2 + 3), (u1, s + s1)], float)
        x.look_alike("scratch", line, defects.draw_scratch(x.maps, line, 14 + k, 0.5))


shot(
    "face-rust", "HT-02 rear left outer", "gutter side flange", "flange face", 6, "Tyre side of a side flange with scaling rust",
    {"lift": -8, "swing": 12, "dist": 340, "zoom": 1.2, "tilt": 2}, px=LARGE, place="turned over", paint=face_rust, look={"rust": 0.3, "wear": 0.42}, scale=card(-112, 0, 180),
)
shot(
    "face-scratch", "WL-04 rear right", "gutter side flange", "flange face", 8, "Tyre side of a side flange with scratches from a bar; no defect",
    {"lift": -6, "swing": -12, "dist": 270, "zoom": 1.35, "tilt": -3}, place="turned over", paint=face_scratches, look={"rust": 0.2, "wear": 0.34}, light="shade",
)
shot(
    "contact-clean", "HT-01 rear right outer", "gutter side flange", "flange contact face", 12, "Contact face of a side flange with even fretting marks; no step",
    {"lift": -26, "swing": 14, "dist": 250, "zoom": 1.5, "tilt": 2}, share=0.75, look={"rust": 0.28, "wear": 0.4},
)
shot(
    "contact-worn", "WL-03 front right", "front side flange", "flange contact face", 5, "Contact face of a side flange with a worn step of 2.6 mm",
    {"lift": -32, "swing": -16, "dist": 260, "zoom": 1.4, "aim": (0, 6), "tilt": -2}, share=0.75, px=LARGE, paint=step_paint(2.6), everywhere=step_paint(2.6), look={"rust": 0.42, "wear": 0.55}, scale=tape((-140, 140), outside_contact, 1, 80),
)



def flange_seat_rust(x):
    x.corrosion("bead seat", (10, x.s("bead seat", 0.45)), (34, 17), 79, 0.3, 0.55)


shot(
    "flange-seat-rust", "GR-06 rear left", "side flange", "bead seat", 8, "Bead seat of a three-piece rim's side flange with a patch of rust",
    {"lift": -14, "swing": 12, "dist": 270, "zoom": 1.3, "tilt": 2}, paint=flange_seat_rust, look={"rust": 0.28, "wear": 0.42}, scale=card(-78, 0, 181),
)

# Bead seat bands ----------------------------------------------------------------------------------------------------------


def seat_pits(x):
    s = x.s("bead seat", 0.5)
    x.corrosion("bead seat", (0, s), (46, 22), 73, 0.15, 0.5)
    x.pits("bead seat", (0, s), (44, 20), 74, 130, (0.9, 5.0), (0.3, 1.5))


def polish(x):
    x.look_alike("rubber polish", None, None)


shot(
    "band-seat-pitted", "HT-02 rear right outer", "bead seat band", "bead seat", 3, "Bead seat of a band, pitted where water stood under the tyre",
    {"lift": -24, "swing": 12, "dist": 290, "zoom": 1.3, "tilt": 2}, paint=seat_pits, look={"rust": 0.4, "wear": 0.45}, scale=card(-92, 0, 180),
)
shot(
    "band-seat-clean", "WL-03 rear right", "front bead seat band", "bead seat", 10, "Bead seat of a band, polished black by the tyre; no defect",
    {"lift": -20, "swing": -14, "dist": 300, "zoom": 1.25, "tilt": -2}, paint=polish, look={"rust": 0.15, "wear": 0.35, "dust": 0.2}, light="shade",
)


def band_contact_worn(x):
    low, high = x.profile.zone("band contact face")
    x.wear("band contact face", low + 0.18 * (high - low), low + 0.6 * (high - low), 1.1, 69, soft=0.9)


def band_contact_crack(x):
    x.crack("band contact face", [round_run(x.s("band contact face", 0.33), 50, 59, 0, 0.4, 0.8)], 0.5, 5.0, 0.6, 0.4)


shot(
    "band-contact-worn", "HT-01 rear left inner", "bead seat band", "band contact face", 4, "Face of a band that the lock ring bears on, worn 1.1 mm",
    {"lift": -18, "swing": 12, "dist": 240, "zoom": 1.45, "tilt": 2}, paint=band_contact_worn, everywhere=band_contact_worn, look={"rust": 0.36, "wear": 0.5}, scale=card(-74, -30, 180),
)
shot(
    "band-contact-crack", "WL-03 rear left", "rear bead seat band", "band contact face", 6, "Crack of 50 mm in the face of a band that the lock ring bears on",
    {"lift": 6, "swing": -12, "dist": 210, "zoom": 2.0, "aim": (0, 2), "tilt": -2}, place="turned over", paint=band_contact_crack, look={"rust": 0.34, "wear": 0.5},
)

# O-rings --------------------------------------------------------------------------------------------------------------------


def rubber(x, old, nick=False):
    f = x.maps.field
    whole = np.ones(f.shape)
    bloom = np.clip(0.4 + 0.6 * f.fbm(30, 3, 5), 0, 1)
    new = 0.0 if old else 1.0
    x.maps.lay(whole, RUBBER * (0.8 + 0.2 * f.fbm(2, 4, 3))[..., None] + (0.005 - 0.003 * new) * bloom[..., None], 0.42 - 0.16 * new, 0.0)
    x.maps.height = (0.02 * f.fbm(2, 5, 3)).astype(np.float32)
    low, high = x.profile.zone("seal body")
    seam = np.exp(-(((f.s[:, None] - 0.5 * x.profile.length) / 0.35) ** 2)) * whole
    x.maps.height += (0.10 * seam).astype(np.float32)
    dust = np.clip((0.14 if old else 0.03) * (f.fbm(40, 6, 5) + 0.3), 0, 0.2)
    x.maps.lay(dust, [0.36, 0.29, 0.2], 0.9, 0.0)
    if nick:
        u, s = f.grid()
        middle = x.s("seal body", 0.4)
        wedge = np.clip(1 - np.abs(u - 3 - 0.3 * (s - middle)) / 2.6, 0, 1) * np.exp(-(((s - middle) / 7.5) ** 4))
        cut = wedge > 0.15
        x.maps.height -= (3.0 * wedge).astype(np.float32)
        x.maps.lay(np.clip(wedge * 2, 0, 1), RUBBER * 0.5, 0.75, 0.0)
        torn = np.exp(-(((wedge - 0.08) / 0.07) ** 2)) * (wedge > 0.01)
        x.maps.lay(0.6 * torn, [0.10, 0.095, 0.085], 0.8, 0.0)
        x.maps.height += (0.5 * torn).astype(np.float32)
        x._area("nick", "seal body", cut, 2.4)


for name, wheel, clock, nick, shows in (
    ("seal-nicked", "WL-04 rear right", 2, True, "Old O-ring with a cut across it"),
    ("seal-new", "HT-02 front right", 12, False, "New O-ring laid out before assembly"),
):
    shot(
        name, wheel, "O-ring", "seal body", clock, shows, {"lift": -28, "swing": 16, "dist": 150, "zoom": 1.9, "tilt": 2}, height=0.0, share=0.4,
        paint=lambda x, n=nick: rubber(x, n, n), everywhere=lambda x, n=nick: rubber(x, n), look={"paint": None}, light="bay" if nick else "shade", ground="brushed_concrete", orientation=8 if nick else 1,
    )
