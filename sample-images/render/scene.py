"""Builds a scene in Blender: parts lathed from their sections, with painted maps; card, tape, floor, light, camera.

World frame: metres, z up. The rim frame (mm) is brought into it by a `Placement`.
"""

import math
import os

import bpy
import cv2
import numpy as np

from noise import TEXTURES, Field, linear, step
from section import around

MM = 0.001


class Placement:
    """Where the rim stands: a rotation (3 x 3) and the place of the rim frame's origin, in metres."""

    def __init__(self, rotation, origin):
        self.rotation = np.asarray(rotation, float)
        self.origin = np.asarray(origin, float)

    def world(self, points_mm):
        return np.asarray(points_mm, float) * MM @ self.rotation.T + self.origin

    def turn(self, directions):
        return np.asarray(directions, float) @ self.rotation.T


def lying(angle, lowest_x_mm, height_m, gutter_up=True):
    """The axle upright; what lies at `angle` faces the viewer (world -y); its lowest point at a height."""
    sign = 1 if gutter_up else -1
    return _placement(angle, np.array([0, 0, sign]), np.array([0, -1, 0]), [0, 0, height_m - sign * lowest_x_mm * MM])


def standing(angle, roll_degrees, radius_mm, lean_degrees=0.0):
    """The axle level, gutter side towards the viewer; what lies at `angle` is turned to `roll` from the top."""
    roll, lean = math.radians(roll_degrees), math.radians(lean_degrees)
    axle = np.array([0, -math.cos(lean), math.sin(lean)])
    up = np.array([0, math.sin(lean), math.cos(lean)])
    right = np.array([1, 0, 0])
    return _placement(angle, axle, up * math.cos(roll) + right * math.sin(roll), [0, 0, radius_mm * MM + 0.01])


def _placement(angle, axle, radial, origin):
    axle, radial = np.asarray(axle, float), np.asarray(radial, float)
    tangent = np.cross(radial, axle)
    rim = np.array([[1, 0, 0], [0, math.sin(angle), math.cos(angle)], [0, math.cos(angle), -math.sin(angle)]])
    world = np.stack([axle, radial, tangent])
    return Placement(world.T @ rim, origin)


def reset():
    bpy.ops.wm.read_factory_settings(use_empty=True)
    scene = bpy.context.scene
    scene.render.engine = "CYCLES"
    scene.cycles.device = "CPU"
    scene.view_settings.view_transform = "Raw"
    return scene


def image_of(name, pixels, colour, bits="byte"):
    """A Blender image from an array (rows from the top); `colour`: sRGB colour rather than numbers."""
    height, width = pixels.shape[:2]
    image = bpy.data.images.new(name, width, height, alpha=False, float_buffer=bits == "float")
    image.colorspace_settings.name = "sRGB" if colour else "Non-Color"
    full = np.ones((height, width, 4), np.float32)
    if pixels.ndim == 2:
        full[..., :3] = pixels[..., None]
    else:
        full[..., : pixels.shape[2]] = pixels
    image.pixels.foreach_set(np.ascontiguousarray(full[::-1]).ravel())
    return image


def encoded(light):
    """Linear light to sRGB values."""
    light = np.clip(light, 0, 1)
    return np.where(light <= 0.0031308, light * 12.92, 1.055 * np.power(light, 1 / 2.4) - 0.055).astype(np.float32)


def material_of(name, maps, bump_height):
    """Principled surface from maps. `bump_height`: the height that the mesh does not carry, mm."""
    material = bpy.data.materials.new(name)
    material.use_nodes = True
    nodes, links = material.node_tree.nodes, material.node_tree.links
    shader = nodes["Principled BSDF"]
    shader.inputs["Specular"].default_value = 0.42
    place = nodes.new("ShaderNodeUVMap")

    def texture(image):
        node = nodes.new("ShaderNodeTexImage")
        node.image = image
        node.interpolation = "Linear"
        node.extension = "EXTEND"
        links.new(place.outputs["UV"], node.inputs["Vector"])
        return node

    colour = texture(image_of(name + " colour", encoded(maps.colour), True))
    links.new(colour.outputs["Color"], shader.inputs["Base Color"])
    packed = np.stack([maps.rough, maps.metal, np.zeros_like(maps.metal)], axis=-1)
    surface = texture(image_of(name + " surface", packed, False))
    split = nodes.new("ShaderNodeSeparateRGB")
    links.new(surface.outputs["Color"], split.inputs[0])
    links.new(split.outputs[0], shader.inputs["Roughness"])
    links.new(split.outputs[1], shader.inputs["Metallic"])
    relief = texture(image_of(name + " height", bump_height * MM, False, "float"))
    bump = nodes.new("ShaderNodeBump")
    bump.inputs["Distance"].default_value = 1.0
    bump.inputs["Strength"].default_value = 1.0
    links.new(relief.outputs["Color"], bump.inputs["Height"])
    links.new(bump.outputs["Normal"], shader.inputs["Normal"])
    return material


def plain_material(name, colour, rough=0.7, metal=0.0, image=None):
    material = bpy.data.materials.new(name)
    material.use_nodes = True
    nodes, links = material.node_tree.nodes, material.node_tree.links
    shader = nodes["Principled BSDF"]
    shader.inputs["Base Color"].default_value = (*colour, 1)
    shader.inputs["Roughness"].default_value = rough
    shader.inputs["Metallic"].default_value = metal
    if image is not None:
        node = nodes.new("ShaderNodeTexImage")
        node.image = image
        links.new(node.outputs["Color"], shader.inputs["Base Color"])
    return material


def mesh_object(name, points, faces, uv, material, index, smooth=True):
    """An object from arrays; `uv` per vertex."""
    mesh = bpy.data.meshes.new(name)
    points, faces = np.asarray(points, np.float32), np.asarray(faces, np.int32)
    sides = faces.shape[1]
    mesh.vertices.add(len(points))
    mesh.vertices.foreach_set("co", points.ravel())
    mesh.loops.add(faces.size)
    mesh.loops.foreach_set("vertex_index", faces.ravel())
    mesh.polygons.add(len(faces))
    mesh.polygons.foreach_set("loop_start", np.arange(0, faces.size, sides, dtype=np.int32))
    mesh.polygons.foreach_set("loop_total", np.full(len(faces), sides, np.int32))
    mesh.polygons.foreach_set("use_smooth", np.full(len(faces), smooth, bool))
    layer = mesh.uv_layers.new(name="address")
    layer.data.foreach_set("uv", np.asarray(uv, np.float32)[faces.ravel()].ravel())
    mesh.update()
    mesh.validate()
    mesh.materials.append(material)
    thing = bpy.data.objects.new(name, mesh)
    thing.pass_index = index
    bpy.context.scene.collection.objects.link(thing)
    return thing


def grid_faces(rows, columns):
    first = (np.arange(rows - 1)[:, None] * columns + np.arange(columns - 1)[None, :]).ravel()
    return np.stack([first, first + 1, first + columns + 1, first + columns], axis=1)


class Lathe:
    """A part turned from its profile: a finely painted patch round the place looked at, the rest coarse."""

    def __init__(self, name, profile, angle, reference_mm, index):
        self.name, self.profile, self.angle, self.reference_mm, self.index = name, profile, angle, reference_mm, index

    def theta(self, u):
        return self.angle + np.asarray(u, float) / self.reference_mm

    def point(self, u, s, height=0.0):
        return self.profile.point(self.theta(u), s, height)

    def patch(self, placement, maps, spacing_mm, cut=None):
        """The painted patch. `cut`: signed distance (mm) of points (rim frame), negative where metal is missing."""
        f = maps.field
        columns = max(2, int(math.ceil((f.u1 - f.u0) / spacing_mm)) + 1)
        rows = max(2, int(math.ceil((f.s1 - f.s0) / spacing_mm)) + 1)
        u, s = np.linspace(f.u0, f.u1, columns), np.linspace(f.s0, f.s1, rows)
        smooth = cv2.GaussianBlur(maps.height, (0, 0), max(0.45 * spacing_mm / f.res, 0.3))
        col, row = np.meshgrid(*f.px(u, s))
        carried = cv2.remap(smooth, col.astype(np.float32), row.astype(np.float32), cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
        everywhere = cv2.resize(carried, (f.width, f.height), interpolation=cv2.INTER_LINEAR)
        uu, ss = np.meshgrid(u, s)
        faces = grid_faces(rows, columns)
        if cut is not None:
            uu, ss, faces, edges = _cut(self, uu, ss, carried, faces, cut, spacing_mm)
        points = placement.world(self.point(uu, ss, carried)).reshape(-1, 3)
        uv = np.stack([(uu - f.u0 + f.res / 2) / (f.width * f.res), 1 - (ss - f.s0 + f.res / 2) / (f.height * f.res)], axis=-1).reshape(-1, 2)
        material = material_of(self.name + " fine", maps, maps.height - everywhere)
        thing = mesh_object(self.name + " fine", points, faces, uv, material, self.index)
        if cut is not None:
            self._walls(placement, uu, ss, carried, edges, uv, material)
        return thing

    def _walls(self, placement, uu, ss, carried, edges, uv, material):
        """Walls down from the edges of a cut, as deep as the part is thick there."""
        ids, inverse = np.unique(edges, return_inverse=True)
        u, s, h = uu.ravel()[ids], ss.ravel()[ids], carried.ravel()[ids]
        rings = [placement.world(self.point(u, s, h - self.wall_mm * part)) for part in (0, 0.08, 0.5, 1)]
        points = np.vstack(rings)
        local = inverse.reshape(-1, 2)
        count = len(ids)
        faces = np.vstack([np.stack([local[:, 0] + k * count, local[:, 1] + k * count, local[:, 1] + (k + 1) * count, local[:, 0] + (k + 1) * count], axis=1) for k in range(3)])
        shift = np.array([[0.0, 0.0], [0.0, 0.002], [0.0, 0.010], [0.0, 0.018]])
        coords = np.vstack([uv[ids] + move for move in shift])
        mesh_object(self.name + " wall", points, faces, coords, material, self.index + 50, smooth=False)

    wall_mm = 12.0

    def rest(self, placement, maps, fine, arc=(0.0, 2 * math.pi), every_degrees=1.0, cut=None):
        """Everything outside the patch, from a coarser map that is mirrored round the rim.

        `arc`: how far the part reaches round, as angles after the part's own start; `fine`: the patch's field.
        """
        f = maps.field
        s = _thinned(self.profile, (fine.s0, fine.s1))
        inner = self.theta(np.array([fine.u0, fine.u1]))
        turn = np.unique(np.concatenate([np.arange(arc[0], arc[1], math.radians(every_degrees)), [arc[1]]]))
        theta = np.unique(np.round(np.concatenate([turn + self.angle - math.pi, inner]), 9))
        theta = theta[(theta >= self.angle - math.pi + arc[0] - 1e-9) & (theta <= self.angle - math.pi + arc[1] + 1e-9)]
        uu, ss = np.meshgrid((theta - self.angle) * self.reference_mm, s)
        rows, columns = uu.shape
        faces = grid_faces(rows, columns)
        mid_u = uu.ravel()[faces].mean(axis=1)
        mid_s = ss.ravel()[faces].mean(axis=1)
        inside = (mid_u > fine.u0) & (mid_u < fine.u1) & (mid_s > fine.s0) & (mid_s < fine.s1)
        faces = faces[~inside]
        height = _sample(maps.height, f, _folded(uu, f.u0, f.u1), ss)
        flat = self.point(uu, ss, height)
        if cut is not None:
            gone = (cut(flat.reshape(-1, 3)) < 0)[faces].any(axis=1)
            faces = faces[~gone]
        points = placement.world(flat).reshape(-1, 3)
        uv = np.stack([(_folded(uu, f.u0, f.u1) - f.u0 + f.res / 2) / (f.width * f.res), 1 - (ss - f.s0 + f.res / 2) / (f.height * f.res)], axis=-1).reshape(-1, 2)
        material = material_of(self.name + " coarse", maps, maps.height)
        return mesh_object(self.name + " coarse", points, faces, uv, material, self.index + 25)

    def ends(self, placement, at_angles, offsets_mm, material):
        """Cut faces across a part at angles, moved along the way round by offsets (mm), as saw cuts are."""
        for angle, offset in zip(at_angles, offsets_mm):
            x, r = self.profile.x, self.profile.r
            along = around(np.array([angle]))[0]
            out = np.array([0, math.sin(angle), math.cos(angle)])
            flat = x[:, None] * np.array([1.0, 0, 0]) + np.sqrt(np.maximum(r**2 - offset**2, 0))[:, None] * out + offset * along
            middle = flat.mean(axis=0)
            points = placement.world(np.vstack([flat, middle]))
            count = len(x)
            ring = np.arange(count)
            faces = np.stack([ring, np.roll(ring, -1), np.full(count, count)], axis=1)
            span = max(np.ptp(x), np.ptp(r))
            uv = np.stack([(x - x.min()) / span, (r - r.min()) / span], axis=1)
            uv = np.vstack([uv, uv.mean(axis=0)])
            mesh_object(self.name + " end", points, faces, uv, material, self.index + 75, smooth=False)


def _folded(u, low, high):
    """Mirrors positions back and forth into low … high."""
    span = high - low
    turn = np.mod(u - low, 2 * span)
    return low + np.where(turn < span, turn, 2 * span - turn)


def _sample(image, f, u, s):
    col, row = f.px(u, s)
    flat = [np.atleast_2d(values).astype(np.float32) for values in (col, row)]
    return cv2.remap(image, *flat, cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE).reshape(np.shape(u))


def _thinned(profile, needed):
    """Arc lengths of the coarse mesh: dense where the section bends, with the patch's borders among them."""
    density = 0.22 + np.clip(np.abs(profile.bend) * 5, 0, 1.4)
    total = np.concatenate([[0], np.cumsum(density * profile.length / len(profile.s))])
    count = max(60, int(total[-1]))
    s = np.interp(np.linspace(0, total[-1], count), total, np.append(profile.s, profile.length))
    inside = [one for one in needed if 0 < one < profile.length]
    s = s[np.all([np.abs(s - one) > 0.25 for one in inside], axis=0)] if inside else s
    return np.unique(np.concatenate([s, inside]))


def _cut(lathe, uu, ss, carried, faces, cut, spacing):
    """Moves grid points near the edge of a cut onto it and drops the faces inside. Gives the edges of the cut too."""
    uu, ss = uu.copy(), ss.copy()
    for _ in range(3):
        distance = cut(lathe.point(uu, ss, carried).reshape(-1, 3)).reshape(uu.shape)
        e = 0.05
        slope_u = (cut(lathe.point(uu + e, ss, carried).reshape(-1, 3)).reshape(uu.shape) - distance) / e
        slope_s = (cut(lathe.point(uu, ss + e, carried).reshape(-1, 3)).reshape(uu.shape) - distance) / e
        near = np.abs(distance) < 0.62 * spacing
        size = np.maximum(slope_u**2 + slope_s**2, 1e-6)
        uu[near] -= (distance * slope_u / size)[near]
        ss[near] -= (distance * slope_s / size)[near]
    middle = lathe.point(uu, ss, carried).reshape(-1, 3)[faces].mean(axis=1)
    kept = faces[cut(middle) > 0]
    pairs = np.vstack([kept[:, [0, 1]], kept[:, [1, 2]], kept[:, [2, 3]], kept[:, [3, 0]]])
    key = np.sort(pairs, axis=1)
    _, first, counts = np.unique(key, axis=0, return_index=True, return_counts=True)
    border = pairs[first[counts == 1]]
    rows, columns = uu.shape
    r, c = np.divmod(border, columns)
    outer = ((r == 0).all(1)) | ((r == rows - 1).all(1)) | ((c == 0).all(1)) | ((c == columns - 1).all(1))
    return uu, ss, kept, border[~outer]


def plate(name, corners_m, thickness_m, image, index, rough=0.55):
    """A flat card: four corners (top left, clockwise), its picture on the front, white edges."""
    corners = np.asarray(corners_m, float)
    normal = np.cross(corners[1] - corners[0], corners[0] - corners[3])
    normal /= np.linalg.norm(normal)
    under = corners - normal * thickness_m
    points = np.vstack([corners, under])
    front = plain_material(name, (1, 1, 1), rough, 0.0, image)
    mesh_object(name, points, [[0, 3, 2, 1]], np.array([[0, 1], [1, 1], [1, 0], [0, 0]] * 2, float), front, index, smooth=False)
    side = plain_material(name + " side", (0.6, 0.6, 0.58), 0.7)
    faces = [[0, 1, 5, 4], [1, 2, 6, 5], [2, 3, 7, 6], [3, 0, 4, 7], [4, 5, 6, 7]]
    mesh_object(name + " side", points, faces, np.zeros((8, 2)), side, index, smooth=False)


def floor(texture, tile_m, height=0.0, tint=(1, 1, 1), shift_m=(0, 0)):
    path = os.path.join(TEXTURES, texture + ".jpg")
    pixels = cv2.imread(path)[:, :, ::-1].astype(np.float32) / 255
    image = image_of("floor", encoded(linear(pixels) * np.array(tint, np.float32)), True)
    half = 5.0
    corners = np.array([[-half, -half, height], [half, -half, height], [half, half, height], [-half, half, height]])
    uv = (corners[:, :2] + shift_m) / tile_m
    material = plain_material("floor", (1, 1, 1), 0.85, 0.0, image)
    mesh_object("floor", corners, [[0, 1, 2, 3]], uv, material, 0, smooth=False)


def block(centre, size, turn=0.0, colour=(0.20, 0.13, 0.075)):
    """A timber block."""
    signs = np.array([[x, y, z] for z in (-1, 1) for x, y in ((-1, -1), (1, -1), (1, 1), (-1, 1))], float) / 2
    spin = np.array([[math.cos(turn), -math.sin(turn), 0], [math.sin(turn), math.cos(turn), 0], [0, 0, 1]])
    points = signs * size @ spin.T + centre
    faces = [[3, 2, 1, 0], [4, 5, 6, 7], [0, 1, 5, 4], [1, 2, 6, 5], [2, 3, 7, 6], [3, 0, 4, 7]]
    grain = Field((0, 420), (0, 110), 0.8)
    rings = grain.noise(5, 3, 60) + 0.6 * grain.noise(1.8, 4, 90) + 0.7 * grain.fbm(60, 5, 4)
    wood = np.array(colour) * (1 + 0.28 * rings)[..., None] * (1 - 0.5 * step(grain.fbm(50, 6, 5), 0.5, 1.2))[..., None]
    image = image_of("timber", encoded(wood), True)
    uv = np.stack([signs[:, 1] + 0.5, signs[:, 0] + 0.5 + 0.3 * signs[:, 2]], axis=1)
    mesh_object("block", points, faces, uv, plain_material("timber", colour, 0.85, 0.0, image), 0, smooth=False)


def wall(away_m, tall_m=2.8):
    """A wall of the bay behind the part, so that the horizon is not open."""
    path = os.path.join(TEXTURES, "brushed_concrete.jpg")
    pixels = cv2.imread(path)[:, :, ::-1].astype(np.float32) / 255
    corners = np.array([[-6, away_m, 0], [6, away_m, 0], [6, away_m, tall_m], [-6, away_m, tall_m]])
    uv = corners[:, [0, 2]] / 1.6
    mesh_object("wall", corners, [[0, 1, 2, 3]], uv, plain_material("wall", (1, 1, 1), 0.9, 0.0, image_of("wall", pixels, True)), 0, smooth=False)


def surroundings(kind, seed):
    """Equirectangular light of the place, linear RGB, brightest where its lamps and openings are."""
    rng = np.random.default_rng(seed)
    height, width = 128, 256
    az = (np.arange(width) + 0.5) / width * 2 * math.pi - math.pi
    el = math.pi / 2 - (np.arange(height) + 0.5) / height * math.pi
    azimuth, elevation = np.meshgrid(az, el)
    sky = np.zeros((height, width, 3), np.float32)

    def area(a, e, half_a, half_e, colour, soft=0.06):
        away = np.abs(np.mod(azimuth - a + math.pi, 2 * math.pi) - math.pi)
        mask = step01((half_a - away) / soft) * step01((half_e - np.abs(elevation - e)) / soft)
        sky[:] += mask[..., None] * np.array(colour, np.float32)

    up = np.clip(np.sin(elevation), -1, 1)[..., None]
    if kind == "bay":
        sky[:] = np.where(up > 0, 0.16 + 0.10 * up, 0.10) * np.array([1.0, 0.98, 0.94])
        door = rng.uniform(-2.4, -0.6)
        area(door, 0.30, 0.60, 0.42, (2.3, 2.45, 2.6))
        for k in range(3):
            area(rng.uniform(-3, 3), rng.uniform(0.8, 1.25), 0.42, 0.05, (9.0, 9.2, 8.6), 0.03)
        area(door + 2.6, 0.1, 0.8, 0.5, (0.25, 0.22, 0.18), 0.3)
    elif kind == "shade":
        blue = np.array([0.88, 0.97, 1.12])
        sky[:] = np.where(up > 0, (0.35 + 0.55 * up) * blue, 0.22 * np.array([1.0, 0.92, 0.8]))
        area(rng.uniform(0.5, 2.5), 0.2, 1.0, 0.9, (-0.25, -0.25, -0.28), 0.4)
        area(rng.uniform(-2.5, -0.5), 0.45, 0.9, 0.4, (1.3, 1.32, 1.35), 0.4)
        sky[:] = np.maximum(sky, 0.02)
    elif kind == "sun":
        blue = np.array([0.55, 0.85, 1.5])
        sky[:] = np.where(up > 0, (0.5 - 0.22 * up) * blue + 0.25 * np.exp(-6 * np.abs(up)), 0.30 * np.array([1.0, 0.88, 0.7]))
    else:
        sky[:] = 0.006 * np.array([0.7, 0.85, 1.2])
        area(rng.uniform(-3, 3), 0.3, 0.08, 0.03, (1.6, 1.1, 0.6), 0.03)
    return sky


def step01(values):
    return 1 / (1 + np.exp(-np.clip(values, -40, 40) * 4))


def lit(kind, seed, camera_at, target, sun=None, torch=None):
    """World light, and the sun or a torch. `sun`: (azimuth, elevation) degrees; `torch`: offset (m) from the camera."""
    world = bpy.data.worlds.new("place")
    bpy.context.scene.world = world
    world.use_nodes = True
    nodes, links = world.node_tree.nodes, world.node_tree.links
    texture = nodes.new("ShaderNodeTexEnvironment")
    texture.image = image_of("place", surroundings(kind, seed), False, "float")
    links.new(texture.outputs["Color"], nodes["Background"].inputs["Color"])
    # A coarse importance map: the automatic one makes rendering three times slower for this small image.
    world.cycles.sampling_method = "MANUAL"
    world.cycles.sample_map_resolution = 32
    if sun is not None:
        lamp = bpy.data.lights.new("sun", "SUN")
        lamp.energy, lamp.angle, lamp.color = 6.5, math.radians(0.6), (1.0, 0.93, 0.82)
        thing = bpy.data.objects.new("sun", lamp)
        a, e = map(math.radians, sun)
        _aim(thing, np.array([math.cos(e) * math.sin(a), -math.cos(e) * math.cos(a), math.sin(e)]) * 5, np.zeros(3))
        bpy.context.scene.collection.objects.link(thing)
    if torch is not None:
        lamp = bpy.data.lights.new("torch", "SPOT")
        lamp.energy, lamp.color = 14.0, (0.93, 0.97, 1.0)
        lamp.spot_size, lamp.spot_blend, lamp.shadow_soft_size = math.radians(62), 0.75, 0.014
        thing = bpy.data.objects.new("torch", lamp)
        _aim(thing, np.asarray(camera_at) + np.asarray(torch), np.asarray(target))
        bpy.context.scene.collection.objects.link(thing)


def _aim(thing, at, target):
    thing.matrix_world = _matrix(look(at, target, np.array([0.03, 0.02, 1.0])), at)


def look(at, target, up):
    """Rotation whose columns are Blender's camera axes: right, up, backwards."""
    back = np.asarray(at, float) - target
    back /= np.linalg.norm(back)
    right = np.cross(up, back)
    right /= np.linalg.norm(right)
    return np.stack([right, np.cross(back, right), back], axis=1)


def _matrix(rotation, at):
    from mathutils import Matrix

    whole = np.eye(4)
    whole[:3, :3], whole[:3, 3] = rotation, at
    return Matrix(whole.tolist())


class Camera:
    """A phone's camera: pinhole with `focal_px`, looking at a target. OpenCV axes for the truth."""

    def __init__(self, at, target, width, height, focal_px, roll_degrees=0.0, up=(0, 0, 1)):
        self.at = np.asarray(at, float)
        self.axes = look(at, target, np.asarray(up, float))
        roll = math.radians(roll_degrees)
        turn = np.array([[math.cos(roll), -math.sin(roll), 0], [math.sin(roll), math.cos(roll), 0], [0, 0, 1]])
        self.axes = self.axes @ turn
        self.width, self.height, self.focal_px = width, height, focal_px
        self.focus_m = float(np.linalg.norm(self.at - target))

    def add(self, margin):
        """Puts it into the scene with a margin round the picture, so that the lens distortion has something to take."""
        scene = bpy.context.scene
        camera = bpy.data.cameras.new("phone")
        wide_w, wide_h = self.width + 2 * margin, self.height + 2 * margin
        scene.render.resolution_x, scene.render.resolution_y = wide_w, wide_h
        scene.render.resolution_percentage = 100
        camera.sensor_fit = "HORIZONTAL"
        real = 5.6 * wide_w / self.width / 0.75 * 1.0
        camera.sensor_width = real
        camera.lens = self.focal_px / wide_w * real
        camera.clip_start = 0.01
        camera.dof.use_dof = True
        camera.dof.focus_distance = self.focus_m
        camera.dof.aperture_fstop = 1.9
        thing = bpy.data.objects.new("phone", camera)
        thing.matrix_world = _matrix(self.axes, self.at)
        scene.collection.objects.link(thing)
        scene.camera = thing
        return camera

    def project(self, points_m):
        """Pinhole pixels (before distortion) and depth in metres."""
        local = (np.asarray(points_m, float) - self.at) @ self.axes
        depth = -local[..., 2]
        x = self.focal_px * local[..., 0] / depth + (self.width - 1) / 2
        y = -self.focal_px * local[..., 1] / depth + (self.height - 1) / 2
        return np.stack([x, y], axis=-1), depth


def render(scene, folder, name, samples, camera_data, threads=0):
    """The picture and its passes (many samples), then the truth passes (one sample, no blur of depth)."""
    scene.render.threads_mode = "FIXED" if threads else "AUTO"
    if threads:
        scene.render.threads = threads
    layer = scene.view_layers[0]
    scene.render.use_compositing = True
    scene.use_nodes = True
    tree = scene.node_tree
    cycles = scene.cycles
    cycles.use_adaptive_sampling = False
    cycles.max_bounces, cycles.diffuse_bounces, cycles.glossy_bounces = 3, 2, 2
    cycles.caustics_reflective = cycles.caustics_refractive = False
    cycles.sample_clamp_indirect = 4.0
    cycles.blur_glossy = 0.6
    cycles.filter_width = 1.3
    cycles.use_denoising = False
    scene.render.film_transparent = False
    layer.use_pass_diffuse_color = layer.use_pass_glossy_color = layer.use_pass_normal = True
    layer.use_pass_z = layer.use_pass_uv = layer.use_pass_object_index = True
    _passes(tree, folder, name, {"Image": "light", "DiffCol": "diffuse", "GlossCol": "glossy", "Normal": "normal"})
    cycles.samples = samples
    scene.render.filepath = os.path.join(folder, name + "-preview.png")
    bpy.ops.render.render(write_still=False)
    cycles.samples, cycles.filter_width = 1, 0.01
    cycles.pixel_filter_type = "BOX"
    cycles.max_bounces = 0
    camera_data.dof.use_dof = False
    _passes(tree, folder, name, {"Depth": "depth", "UV": "uv", "IndexOB": "index"})
    bpy.ops.render.render(write_still=False)


def _passes(tree, folder, name, wanted):
    tree.nodes.clear()
    source = tree.nodes.new("CompositorNodeRLayers")
    out = tree.nodes.new("CompositorNodeOutputFile")
    out.base_path = folder
    out.format.file_format = "OPEN_EXR"
    out.format.color_depth = "32"
    out.format.exr_codec = "ZIP"
    out.file_slots.clear()
    for socket, label in wanted.items():
        out.file_slots.new(f"{name}-{label}-")
        tree.links.new(source.outputs[socket], out.inputs[-1])
