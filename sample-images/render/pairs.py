"""Pairs of pictures of one place, months apart, with which laying photos over each other is measured.

NAME-1 and NAME-2 show the same metal, aged, from two places drawn by a seed: nobody chose them to be easy. Those called
`try` were looked at while the method was made. Those called `held` were held out of it until a first figure was taken, and
looked at after it. Those called `fresh` were rendered after that, and held out; they lie at another spot of the floor at
the second date.
"""

import numpy as np

from shots import SMALL, card, on_land, round_run, shot_of, step_paint

PAIRS = []


def pair(name, wheel, slot, zone, clock, view, grown, px=SMALL, scale=None, moved=0.0, **more):
    """Two shots of a place. `grown(stage)`: what it has been through; `scale(n)`: a card, laid elsewhere each time."""
    seed = 3000 + sum(ord(c) * (i + 5) ** 2 for i, c in enumerate(name)) % 9000
    rng = np.random.default_rng(seed)
    rust, wear, grease = rng.uniform(0.22, 0.42), rng.uniform(0.4, 0.55), rng.uniform(0.2, 0.4)
    for n in (0, 1):
        lift, swing, near, tilt, aim_u, aim_s = rng.uniform((-9, -18, 0.88, -4, -10, -5), (9, 18, 1.14, 4, 10, 5))
        around = {"lift": view["lift"] + lift, "swing": swing, "dist": view["dist"] * near, "zoom": view["zoom"], "tilt": tilt}
        around["aim"] = (aim_u, view.get("aim", 0) + aim_s)
        PAIRS.append(
            shot_of(
                f"{name}-{n + 1}", wheel, slot, zone, clock, "One place at two dates", around,
                px=px, seed=seed, daysAgo=(700, 60)[n], light=("bay", "shade")[int(rng.integers(2))],
                paint=grown(n), look={"rust": rust + 0.07 * n, "wear": wear + 0.05 * n, "grease": grease},
                scale=None if scale is None else scale(n), moved=n * moved, **more,
            )
        )


def crack_grown(zone, share, lengths, seed):
    def grown(n):
        def paint(x):
            if lengths[n]:
                run = round_run(x.s(zone, share), lengths[n], seed, 4, 0.5, 0.7, max(lengths))
                x.crack(zone, [run], (0.15, 0.3)[n], 3.0, 0.6, 0.45)

        return paint

    return grown


def rust_grown(zone, share, size, seed, surface=0):
    def grown(n):
        def paint(x):
            x.corrosion(zone, (14, x.s(zone, share, surface)), (size * (1, 1.5)[n], 0.5 * size * (1, 1.4)[n]), seed, (0.3, 0.45)[n], 0.55)

        return paint

    return grown


def worn(zone, low_share, high_share, depths, seed):
    def grown(n):
        def paint(x):
            low, high = x.profile.zone(zone)
            x.wear(zone, low + low_share * (high - low), low + high_share * (high - low), depths[n], seed)

        return paint

    return grown


def seen_from(lift, dist, zoom, aim=0):
    return {"lift": lift, "dist": dist, "zoom": zoom, "aim": aim}


# Looked at while the method was made ---------------------------------------------------------------------------------

pair("try-groove", "WC-05 rear left", "rim base", "gutter groove", 4, seen_from(-33, 280, 1.35, 6), worn("gutter groove", 0.37, 0.6, (0.6, 1.5), 701))
pair("try-weld", "HT-01 front right", "rim base", "gutter weld", 6, seen_from(-12, 290, 1.3, 10), crack_grown("gutter weld", 1.06, (12, 48), 702))
pair("try-seat", "WL-03 front left", "front bead seat band", "bead seat", 2, seen_from(-24, 320, 1.2), rust_grown("bead seat", 0.5, 24, 703), scale=lambda n: card((-80, 88)[n], 2, (178, 186)[n]))
pair("try-contact", "HT-02 rear left outer", "gutter side flange", "flange contact face", 8, seen_from(-28, 260, 1.5, 4), lambda n: step_paint((0.5, 1.3)[n]), share=0.75)
pair("try-centre", "WC-05 front right", "rim base", "centre band", 10, seen_from(-10, 320, 1.2), rust_grown("centre band", 0.5, 30, 705))
pair("try-face", "WL-04 front left", "gutter side flange", "flange face", 3, seen_from(-7, 280, 1.3), rust_grown("flange face", 0.5, 22, 706), place="turned over")
pair("try-back-seat", "GR-06 front left", "rim base", "back bead seat", 7, seen_from(-20, 290, 1.3), rust_grown("back bead seat", 0.5, 24, 707))
pair("try-band-face", "HT-01 rear right inner", "bead seat band", "band contact face", 9, seen_from(-16, 240, 1.45), worn("band contact face", 0.18, 0.6, (0.4, 1.0), 708), scale=lambda n: card((-70, 64)[n], -30, (182, 177)[n]))

# Held out ------------------------------------------------------------------------------------------------------------

pair("held-groove", "HT-01 rear left inner", "rim base", "gutter groove", 2, seen_from(-34, 300, 1.35, 6), worn("gutter groove", 0.37, 0.6, (0.9, 1.6), 721))
pair("held-groove-crack", "GR-06 rear right", "rim base", "gutter groove", 8, seen_from(-32, 270, 1.35, 6), crack_grown("gutter groove", 0.715, (16, 52), 722))
pair("held-weld", "WL-03 rear left", "rim base", "gutter weld", 11, seen_from(-14, 300, 1.3, 10), crack_grown("gutter weld", 1.06, (0, 40), 723))
pair("held-weld-small", "WC-05 front left", "rim base", "gutter weld", 5, seen_from(-12, 260, 1.4, 8), crack_grown("gutter weld", 1.06, (10, 28), 724))
pair("held-seat", "HT-02 rear right inner", "bead seat band", "bead seat", 7, seen_from(-24, 320, 1.2), rust_grown("bead seat", 0.5, 26, 725))
pair("held-seat-flange", "GR-06 front right", "side flange", "bead seat", 4, seen_from(-14, 270, 1.3), rust_grown("bead seat", 0.45, 20, 726))
pair("held-contact", "HT-01 front left", "gutter side flange", "flange contact face", 5, seen_from(-27, 260, 1.5, 4), lambda n: step_paint((0.7, 1.4)[n]), share=0.75)
pair("held-face", "WL-03 rear right", "front side flange", "flange face", 1, seen_from(-7, 290, 1.25), rust_grown("flange face", 0.5, 28, 728), place="turned over")
pair("held-centre", "HT-01 rear right outer", "rim base", "centre band", 3, seen_from(-10, 320, 1.2), rust_grown("centre band", 0.5, 32, 730, 1), surface=1)
pair("held-back-seat", "WC-05 rear right", "rim base", "back bead seat", 12, seen_from(-20, 300, 1.25), rust_grown("back bead seat", 0.5, 26, 731))
pair("held-back-weld", "WL-04 rear left", "rim base", "back weld", 6, seen_from(-22, 280, 1.3), crack_grown("back weld", -0.06, (20, 55), 732))
pair("held-band-face", "WL-04 rear right", "bead seat band", "band contact face", 10, seen_from(-16, 240, 1.45), worn("band contact face", 0.18, 0.6, (0.5, 0.9), 733))
pair("held-seal-groove", "HT-02 rear left inner", "rim base", "O-ring groove", 8, seen_from(-26, 230, 1.45), rust_grown("O-ring groove", 0.5, 16, 734))
pair("held-lip", "HT-02 front right", "rim base", "gutter lip", 4, seen_from(5, 270, 1.3), rust_grown("gutter lip", 0.5, 14, 735))
pair("held-ring", "WL-03 front right", "front lock ring", "ring body", 7, seen_from(5, 250, 1.2, 3), crack_grown("ring body", 0.5, (20, 60), 736))
pair("held-card-groove", "WL-04 front right", "rim base", "gutter groove", 10, seen_from(-33, 310, 1.3, 6), worn("gutter groove", 0.37, 0.6, (0.7, 1.4), 737), scale=lambda n: card((-50, 44)[n], on_land, (181, 177)[n], lie=0))
pair("held-card-weld", "GR-06 front left", "rim base", "gutter weld", 1, seen_from(-13, 290, 1.3, 10), crack_grown("gutter weld", 1.06, (14, 44), 738), scale=lambda n: card((32, -36)[n], 48, (183, 178)[n]))
pair("held-card-centre", "WL-03 rear left", "rim base", "centre band", 9, seen_from(-10, 330, 1.2), rust_grown("centre band", 0.5, 30, 740, 1), surface=1, scale=lambda n: card((-84, 80)[n], 40, (182, 176)[n]))

# Held out, of a second drawing ---------------------------------------------------------------------------------------


def fresh(name, *what, **more):
    pair(f"fresh-{name}", *what, moved=1.0, **more)


fresh("groove", "WL-03 front right", "rim base", "gutter groove", 11, seen_from(-33, 300, 1.35, 6), worn("gutter groove", 0.37, 0.6, (0.8, 1.3), 751))
fresh("groove-crack", "HT-02 rear right outer", "rim base", "gutter groove", 1, seen_from(-34, 310, 1.35, 6), crack_grown("gutter groove", 0.715, (20, 60), 752))
fresh("weld", "GR-06 rear left", "rim base", "gutter weld", 9, seen_from(-12, 280, 1.3, 10), crack_grown("gutter weld", 1.06, (8, 36), 753))
fresh("weld-wide", "HT-02 front right", "rim base", "gutter weld", 3, seen_from(-13, 300, 1.3, 10), crack_grown("gutter weld", 1.06, (15, 50), 754))
fresh("seat", "WL-04 rear right", "bead seat band", "bead seat", 5, seen_from(-23, 320, 1.2), rust_grown("bead seat", 0.5, 24, 755))
fresh("seat-flange", "WC-05 front left", "side flange", "bead seat", 10, seen_from(-14, 270, 1.3), rust_grown("bead seat", 0.45, 22, 756))
fresh("contact", "WL-03 rear left", "front side flange", "flange contact face", 7, seen_from(-28, 260, 1.5, 4), lambda n: step_paint((0.6, 1.2)[n]), share=0.75)
fresh("face", "HT-01 rear left outer", "gutter side flange", "flange face", 12, seen_from(-7, 290, 1.25), rust_grown("flange face", 0.5, 26, 758), place="turned over")
fresh("centre", "HT-02 rear left outer", "rim base", "centre band", 6, seen_from(-10, 320, 1.2), rust_grown("centre band", 0.5, 30, 759, 1), surface=1)
fresh("back-seat", "WL-04 front right", "rim base", "back bead seat", 2, seen_from(-20, 300, 1.25), rust_grown("back bead seat", 0.5, 25, 760))
fresh("back-weld", "HT-01 front left", "rim base", "back weld", 8, seen_from(-22, 280, 1.3), crack_grown("back weld", -0.06, (18, 50), 761), surface=1)
fresh("band-face", "HT-02 rear right inner", "bead seat band", "band contact face", 6, seen_from(-16, 250, 1.4), worn("band contact face", 0.18, 0.6, (0.5, 1.0), 762))
fresh("seal-groove", "WC-05 rear left", "rim base", "O-ring groove", 1, seen_from(-26, 230, 1.45), rust_grown("O-ring groove", 0.5, 15, 763))
fresh("radius", "WC-05 front right", "rim base", "back flange radius", 9, seen_from(-18, 280, 1.3), rust_grown("back flange radius", 0.5, 18, 764))
fresh("card-groove", "HT-01 rear right outer", "rim base", "gutter groove", 6, seen_from(-33, 300, 1.3, 6), worn("gutter groove", 0.37, 0.6, (0.7, 1.5), 765), scale=lambda n: card((-48, 46)[n], on_land, (182, 178)[n], lie=0))
fresh("card-weld", "WL-04 front left", "rim base", "gutter weld", 2, seen_from(-13, 290, 1.3, 10), crack_grown("gutter weld", 1.06, (12, 40), 766), scale=lambda n: card((34, -34)[n], 46, (177, 182)[n]))
fresh("card-seat", "HT-01 rear left inner", "bead seat band", "bead seat", 3, seen_from(-22, 330, 1.2), rust_grown("bead seat", 0.5, 25, 767), scale=lambda n: card((-84, 86)[n], 3, (183, 178)[n]))
fresh("card-back-seat", "HT-02 front left", "rim base", "back bead seat", 5, seen_from(-18, 310, 1.25), rust_grown("back bead seat", 0.5, 28, 768), scale=lambda n: card((-80, 82)[n], 2, (178, 183)[n]))
