"""Renders sample pictures with their truth.

blender -b --factory-startup -P render.py -- --geometry FILE --out FOLDER [--scale 1] [--detail 1] [--samples 96] [--missing] [NAME ...]

Writes NAME.jpg, NAME.json and NAME-mask.png into the folder. Without names, or with `--missing`: those shots that are
not there yet. `--pairs`: of the pairs in pairs.py instead. `--spots`: no picture, only where spots of the metal are in the
pictures that are there, as spots/NAME.json. Several processes may work on one folder: each claims its next shot by a lock file.
"""

import argparse
import hashlib
import json
import os
import sys
import tempfile
import time
import traceback

os.environ["OPENCV_IO_ENABLE_OPENEXR"] = "1"
sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))

import bpy
import cv2
import numpy as np

import develop
import scene as stage
import truth
from build import Picture
from pairs import PAIRS
from section import Rims
from shots import SHOTS


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--geometry", required=True)
    parser.add_argument("--out", required=True)
    parser.add_argument("--scale", type=float, default=1.0)
    parser.add_argument("--detail", type=float, default=1.0)
    parser.add_argument("--samples", type=int, default=96)
    parser.add_argument("--threads", type=int, default=0)
    parser.add_argument("--samples-large", type=int, default=48, help="samples for the pictures of 12 megapixels")
    parser.add_argument("--small-first", action="store_true")
    parser.add_argument("--missing", action="store_true", help="of the shots named, only those not there yet")
    parser.add_argument("--pairs", action="store_true", help="pairs.py instead of shots.py")
    parser.add_argument("--spots", action="store_true", help="only the spots of pictures that are there")
    parser.add_argument("names", nargs="*")
    options = parser.parse_args(sys.argv[sys.argv.index("--") + 1 :])
    os.makedirs(os.path.join(options.out, "spots"), exist_ok=True)
    rims = Rims(options.geometry)
    shots = PAIRS if options.pairs else SHOTS
    known = {shot["name"] for shot in shots}
    for name in options.names:
        if name not in known:
            raise SystemExit(f"no shot is called {name}; the shots are: {', '.join(sorted(known))}")
    failed = []
    for shot in sorted(shots, key=lambda one: one["px"][0] * (1 if options.small_first else -1)):
        if options.names and shot["name"] not in options.names:
            continue
        if (options.missing or not options.names) and os.path.exists(os.path.join(options.out, "spots" if options.spots else "", shot["name"] + ".json")):
            continue
        if not claimed(os.path.join(options.out, shot["name"] + ".lock")):
            continue
        started = time.time()
        try:
            make(shot, rims, options)
        except Exception:
            failed.append(shot["name"])
            traceback.print_exc()
            continue
        print(f"{shot['name']}: {time.time() - started:.0f} s", flush=True)
    if failed:
        raise SystemExit(f"not rendered: {', '.join(failed)}")


def claimed(path):
    try:
        os.close(os.open(path, os.O_CREAT | os.O_EXCL))
    except FileExistsError:
        return False
    return True


def make(shot, rims, options):
    samples = options.samples_large if shot["px"][0] > 2600 else options.samples
    picture = Picture(shot, rims, options.scale, options.detail)
    started = time.time()
    picture.build()
    built = time.time() - started
    margin = int(round(0.008 * picture.width))
    camera_data = picture.camera.add(margin)
    rng = np.random.default_rng(shot["seed"] + 5)
    lens = develop.Lens(picture.width, picture.height, picture.camera.focal_px, float(np.round(rng.uniform(0.020, 0.055), 4)), float(np.round(rng.uniform(-0.030, -0.010), 4)))
    with tempfile.TemporaryDirectory() as folder:
        stage.render(bpy.context.scene, folder, "p", 1 if options.spots else samples, camera_data, options.threads)
        read = lambda label: cv2.imread(os.path.join(folder, f"p-{label}-0001.exr"), cv2.IMREAD_UNCHANGED)
        # A sample that is no number would spread to a black square.
        rgb = lambda label: np.nan_to_num(np.ascontiguousarray(read(label)[:, :, 2::-1]).astype(np.float32), posinf=0.0, neginf=0.0)
        single = lambda label: (lambda image: image if image.ndim == 2 else image[:, :, 0])(read(label)).astype(np.float32)
        light, diffuse, glossy, normal = rgb("light"), rgb("diffuse"), rgb("glossy"), rgb("normal")
        depth, index, uv = single("depth"), single("index"), rgb("uv")
    rendered = time.time() - started - built
    seen = truth.Seen(picture, lens, depth, uv, index, margin)
    name = shot["name"]
    if options.spots or options.pairs:
        with open(os.path.join(options.out, "spots", name + ".json"), "w", encoding="utf-8") as file:
            json.dump(truth.spots(picture, seen), file, separators=(",", ":"))
            file.write("\n")
    if options.spots:
        os.remove(os.path.join(options.out, name + ".lock"))
        return
    light = develop.filtered(light, diffuse, glossy, normal)
    col, row = lens.source(margin)
    light = np.maximum(cv2.remap(light, col, row, cv2.INTER_CUBIC), 0)
    rim = (seen.flat(index) > 0) & (seen.flat(index) < 190)
    blur = shot.get("blur", 0.6) * max(1.0, picture.width / 2600)
    developed = develop.developed(light, rim, shot["light"], shot["seed"], blur, shot.get("exposure", 1.0))
    told, mask = truth.describe(picture, seen)
    quality = shot.get("quality", 84 if picture.width > 3000 else 88)
    focal35 = picture.camera.focal_px / np.hypot(picture.width, picture.height) * 43.27
    content = develop.jpeg(developed, quality, focal35, shot.get("orientation", 1))
    head = {
        "file": name + ".jpg",
        "sha256": hashlib.sha256(content).hexdigest(),
        "bytes": len(content),
        "widthPx": picture.width,
        "heightPx": picture.height,
        "orientation": shot.get("orientation", 1),
        "focal35Mm": int(round(focal35)),
        "mask": name + "-mask.png" if mask.any() else None,
    }
    if mask.any():
        cv2.imwrite(os.path.join(options.out, name + "-mask.png"), mask, [cv2.IMWRITE_PNG_COMPRESSION, 9])
    with open(os.path.join(options.out, name + ".jpg"), "wb") as file:
        file.write(content)
    with open(os.path.join(options.out, name + ".json"), "w", encoding="utf-8") as file:
        json.dump({**head, **told}, file, separators=(",", ":"))
        file.write("\n")
    os.remove(os.path.join(options.out, name + ".lock"))
    print(f"  built {built:.0f} s, rendered {rendered:.0f} s, {len(content) // 1024} kB", flush=True)


if __name__ == "__main__":
    main()
