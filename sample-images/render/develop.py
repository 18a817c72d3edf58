"""From rendered light to the file a phone would have written: filter, lens, exposure, noise, tone, JPEG, EXIF."""

import struct

import cv2
import numpy as np

WARMTH = {"bay": (1.03, 1.0, 0.96), "shade": (1.03, 1.0, 0.95), "sun": (1.01, 1.0, 0.98), "torch": (0.99, 1.0, 1.03)}
GRAIN = {"bay": 0.010, "shade": 0.006, "sun": 0.004, "torch": 0.016}
LEVEL = {"bay": 0.21, "shade": 0.21, "sun": 0.24, "torch": 0.16}


PASSES = ((1, 0.05, 0.15), (2, 0.05, 0.08))
"""Of the filter: spacing of the neighbours in px, tolerance in the normal, tolerance in the light."""


def filtered(light, diffuse, glossy, normal):
    """Takes the sampling noise out of the light that falls on the surface, not out of its colour: the light is divided
    by the surface's own colour, averaged over neighbours of like normal and light, and multiplied back. Two passes
    with growing spacing, after Dammertz and others, Edge-avoiding À-Trous wavelet transform, 2010."""
    own = np.clip(diffuse + glossy, 0.02, 2.0)
    fall = np.minimum(light / own, 60)
    soft = cv2.GaussianBlur(normal, (0, 0), 1.0)
    height, width = fall.shape[:2]
    kernel = (1, 4, 6, 4, 1)
    for spacing, in_normal, in_light in PASSES:
        calm = cv2.GaussianBlur(np.log1p(fall.mean(axis=2)), (0, 0), 2.0)
        edge = 2 * spacing
        wide = lambda image: cv2.copyMakeBorder(image, edge, edge, edge, edge, cv2.BORDER_REFLECT)
        wide_fall, wide_normal, wide_calm = wide(fall), wide(soft), wide(calm)
        total, weights = np.zeros_like(fall), np.zeros((height, width), np.float32)
        for row in range(5):
            for col in range(5):
                there = (slice(row * spacing, row * spacing + height), slice(col * spacing, col * spacing + width))
                bend = ((wide_normal[there] - soft) ** 2).sum(axis=2)
                tone = (wide_calm[there] - calm) ** 2
                weight = kernel[row] * kernel[col] * np.exp(-bend / in_normal - tone / in_light)
                total += weight[..., None] * wide_fall[there]
                weights += weight
        fall = total / weights[..., None]
    return fall * own


class Lens:
    """Radial distortion after Brown, as OpenCV writes it: k1, k2; pixels about the picture's centre."""

    def __init__(self, width, height, focal_px, k1, k2):
        self.width, self.height, self.focal_px, self.k1, self.k2 = width, height, focal_px, k1, k2
        self.cx, self.cy = (width - 1) / 2, (height - 1) / 2

    def distorted(self, px):
        """Where a pinhole pixel lands in the picture."""
        x, y = (px[..., 0] - self.cx) / self.focal_px, (px[..., 1] - self.cy) / self.focal_px
        q = x * x + y * y
        k = 1 + self.k1 * q + self.k2 * q * q
        return np.stack([x * k * self.focal_px + self.cx, y * k * self.focal_px + self.cy], axis=-1)

    def source(self, margin):
        """For each pixel of the picture, where to take it from in a render with a margin: two float maps."""
        col, row = np.meshgrid(np.arange(self.width, dtype=np.float64), np.arange(self.height, dtype=np.float64))
        xd, yd = (col - self.cx) / self.focal_px, (row - self.cy) / self.focal_px
        x, y = xd.copy(), yd.copy()
        for _ in range(8):
            q = x * x + y * y
            k = 1 + self.k1 * q + self.k2 * q * q
            x, y = xd / k, yd / k
        return (x * self.focal_px + self.cx + margin).astype(np.float32), (y * self.focal_px + self.cy + margin).astype(np.float32)


def developed(light, rim, kind, seed, blur_px, exposure=1.0):
    """8-bit sRGB of a linear picture. `rim`: mask of the part, by which the exposure is set, as one taps on it."""
    rng = np.random.default_rng(seed)
    # Phones balance the white themselves: half way to grey.
    balance = light[rim].mean(axis=0) if rim.sum() > 100 else light.reshape(-1, 3).mean(axis=0)
    light = light * (balance.mean() / np.maximum(balance, 1e-6)) ** (0.35 if kind == "shade" else 0.12)
    luma = light @ np.array([0.2126, 0.7152, 0.0722], np.float32)
    part = luma[rim] if rim.sum() > 100 else luma.ravel()
    middle = np.exp(np.mean(np.log(np.clip(np.sort(part)[len(part) // 5 : -len(part) // 12], 1e-5, None))))
    linear = light * (LEVEL[kind] * exposure / middle)
    linear = linear * np.array(WARMTH[kind], np.float32) * (1 + rng.normal(0, 0.02, 3).astype(np.float32))
    height, width = luma.shape
    y, x = np.mgrid[0:height, 0:width].astype(np.float32)
    away = ((x - width / 2) ** 2 + (y - height / 2) ** 2) / ((width / 2) ** 2 + (height / 2) ** 2)
    linear = linear * (1 - 0.28 * away)[..., None]
    glow = cv2.GaussianBlur(np.clip(linear - 0.9, 0, 6), (0, 0), width / 160)
    linear = linear + 0.05 * glow
    linear = cv2.GaussianBlur(linear, (0, 0), blur_px)
    grain = GRAIN[kind]
    sigma = np.sqrt(np.clip(linear, 0, 1.2) * grain**2 * 1.6 + (0.35 * grain) ** 2 * 0.3)
    fine = rng.normal(0, 1, linear.shape).astype(np.float32)
    fine = 0.75 * fine.mean(axis=2, keepdims=True) * 1.5 + 0.35 * cv2.GaussianBlur(fine, (0, 0), 1.1)
    linear = np.clip(linear + sigma * fine, 0, None)
    tone = linear * (1 + linear / 9.0) / (1 + 0.55 * linear)
    values = np.where(tone <= 0.0031308, tone * 12.92, 1.055 * np.power(np.clip(tone, 1e-6, None), 1 / 2.4) - 0.055)
    values = np.clip(values, 0, 1)
    values = values - 0.035 * np.sin(2 * np.pi * values)
    soft = cv2.GaussianBlur(values.astype(np.float32), (0, 0), 1.2)
    values = values + 0.55 * (values - soft)
    wide = cv2.GaussianBlur(values.astype(np.float32), (0, 0), width / 50)
    values = values + 0.10 * (values - wide)
    return (np.clip(values, 0, 1) * 255 + 0.5).astype(np.uint8)


def jpeg(picture, quality, focal35_mm, orientation):
    """JPEG bytes with EXIF. `picture` is upright; it is stored turned where the orientation says so."""
    turned = {1: picture, 3: picture[::-1, ::-1], 6: np.rot90(picture, 1), 8: np.rot90(picture, -1)}[orientation]
    ok, data = cv2.imencode(".jpg", np.ascontiguousarray(turned[:, :, ::-1]), [cv2.IMWRITE_JPEG_QUALITY, quality, cv2.IMWRITE_JPEG_OPTIMIZE, 1])
    if not ok:
        raise RuntimeError("the picture could not be written as JPEG")
    content = data.tobytes()
    block = _exif(focal35_mm, orientation)
    return content[:2] + b"\xff\xe1" + struct.pack(">H", len(block) + 2) + block + content[2:]


def _exif(focal35_mm, orientation):
    """Orientation and the focal length in terms of 35 mm film (EXIF 2.3, tags 0x0112 and 0xA405)."""
    text = b"Rendered picture, not a photograph. CC0 1.0\x00"
    entries = 3
    at = 8 + 2 + 12 * entries + 4
    sub = at + len(text) + (len(text) % 2)
    head = b"MM\x00\x2a" + struct.pack(">I", 8) + struct.pack(">H", entries)
    head += struct.pack(">HHII", 0x010E, 2, len(text), at)
    head += struct.pack(">HHIHH", 0x0112, 3, 1, orientation, 0)
    head += struct.pack(">HHII", 0x8769, 4, 1, sub)
    head += struct.pack(">I", 0)
    body = text + b"\x00" * (len(text) % 2)
    body += struct.pack(">H", 1) + struct.pack(">HHIHH", 0xA405, 3, 1, int(round(focal35_mm)), 0) + struct.pack(">I", 0)
    return b"Exif\x00\x00" + head + body
