"""Forty photographs of cut ends that were never taken: drawn eightfold, reduced, then spoilt.

The truth about each is its polygon, which the drawing only fills. Perspective, blur, uneven light,
year rings, bark and noise are laid on in the order in which a camera would.
"""

from dataclasses import dataclass

import numpy as np
from PIL import Image, ImageDraw
from scipy import ndimage

from mensura.stems import Ellipse, Outline, from_radii
from mensura.stems.shapes import reuleaux

#: How many dots a dot is drawn with, each way.
TIMES = 8
KINDS = ("near round", "ellipse", "reuleaux", "lobed", "hollow on one side")


@dataclass(frozen=True, eq=False)
class DrawnCutEnd:
    """A picture and what is true of it.

    picture: grey levels; true: the section in cm; scale_cm, scale_px and marks_cm, marks_px: what a
    hand would type; told: how it was spoilt.
    """

    picture: np.ndarray
    true: Outline
    scale_cm: float
    scale_px: np.ndarray
    marks_cm: tuple[float, float]
    marks_px: np.ndarray
    told: str


def section(kind, radius_cm, generator):
    """A section of a kind, turned at random, in cm."""
    turn_deg = np.arange(2400) * 0.15
    turned = np.radians(turn_deg + generator.uniform(0, 360))
    if kind == "near round":
        radii = 1 + generator.uniform(0.0, 0.004) * np.cos(2 * turned)
    elif kind == "ellipse":
        ratio = generator.uniform(0.75, 0.97)
        points = Ellipse(2 * radius_cm, 2 * radius_cm * ratio).outline_cm()
        return _turned(points, generator)
    elif kind == "reuleaux":
        return _turned(reuleaux(2 * radius_cm, 2400).outline_cm(), generator)
    elif kind == "lobed":
        radii = 1 + generator.uniform(0.02, 0.08) * np.cos(generator.integers(3, 8) * turned)
    else:
        off = (turned + np.pi) % (2 * np.pi) - np.pi
        radii = 1 - generator.uniform(0.05, 0.25) * np.exp(-((off / 0.35) ** 2))
    return from_radii(turn_deg, radius_cm * radii)


def drawn_cut_end(
    kind, seed, *, radius_px=150, noise=0.0, blur_px=0.0, uneven=0.0, tilt_deg=0.0,
    wood=165.0, ground=60.0, rings=0.0, radius_cm=20.0,
):  # fmt: skip
    """One picture: its section's mean radius is radius_px, however it is tilted."""
    generator = np.random.default_rng(seed)
    true = section(kind, radius_cm, generator)
    size = round(3.0 * radius_px)
    middle = np.array([size / 2, size / 2]) + generator.uniform(-3, 3, 2)
    swing = generator.uniform(0, 2 * np.pi)

    def seen(points_cm):
        """Places in the picture, through a camera six radii away, leaning by tilt_deg."""
        x, y = np.asarray(points_cm, dtype=float).T / radius_cm
        along, across = (
            x * np.cos(swing) + y * np.sin(swing),
            y * np.cos(swing) - x * np.sin(swing),
        )
        lean = np.radians(tilt_deg)
        nearer = 6 / (6 + along * np.sin(lean))
        along, across = along * np.cos(lean) * nearer, across * nearer
        x, y = (
            along * np.cos(swing) - across * np.sin(swing),
            along * np.sin(swing) + across * np.cos(swing),
        )
        return np.stack([x, -y], axis=-1) * radius_px + middle

    half = 1.3 * radius_cm
    corners = np.array([[-half, half], [half, half], [half, -half], [-half, -half]])
    share = _filled(seen(true.outline_cm()), size)
    rows, columns = np.mgrid[:size, :size]
    far = np.hypot(columns - middle[0], rows - middle[1])
    light = wood + rings * np.cos(2 * np.pi * far / (radius_px / 12))
    light = ground + (light - ground) * share
    slope = generator.uniform(0, 2 * np.pi)
    across = (columns * np.cos(slope) + rows * np.sin(slope)) / size
    light = light * (1 + uneven * (across - across.mean()))
    light = ndimage.gaussian_filter(light, blur_px) if blur_px else light
    light = light + noise * generator.standard_normal(light.shape)
    told = (
        f"{kind}, seed {seed}, {radius_px} px, noise {noise:g}, blur {blur_px:g} px, "
        f"uneven {uneven:g}, tilt {tilt_deg:g}°, rings {rings:g}, {wood:g} on {ground:g}"
    )
    return DrawnCutEnd(
        np.clip(np.round(light), 0, 255).astype(np.uint8), true, 2 * radius_cm,
        seen([[-radius_cm, 0], [radius_cm, 0]]), (2 * half, 2 * half), seen(corners), told,
    )  # fmt: skip


def forty(seed=1):
    """Forty settings, each kind eight times, from clean to what a bad phone makes in poor light."""
    generator = np.random.default_rng(seed)
    for number in range(40):
        step = number // 5
        dark = step % 2 == 1
        yield (
            KINDS[number % 5],
            {
                "seed": 100 * seed + number,
                "radius_px": (150, 150, 170, 200)[step % 4],
                "noise": (0.0, 20.0, 8.0, 20.0)[step % 4],
                "blur_px": (0.6, 2.0, 1.2, 0.8, 2.0, 2.0, 0.0, 1.5)[step],
                "uneven": generator.choice([0.0, 0.15, 0.3]),
                "tilt_deg": generator.choice([0.0, 0.0, 8.0, 15.0]),
                "wood": 170.0 if not dark else 80.0,
                "ground": 60.0 if not dark else 200.0,
                "rings": generator.choice([0.0, 12.0]),
            },
        )


def _turned(points_cm, generator):
    turn = np.exp(1j * generator.uniform(0, 2 * np.pi))
    places = (points_cm[:, 0] + 1j * points_cm[:, 1]) * turn
    return Outline(np.stack([places.real, places.imag], axis=-1))


def _filled(points_px, size):
    """How much of each dot the polygon fills, drawn eightfold and reduced."""
    large = Image.new("L", (size * TIMES, size * TIMES), 0)
    # a dot's middle is a whole number here, its corner in the large picture
    places = (points_px + 0.5) * TIMES - 0.5
    ImageDraw.Draw(large).polygon([tuple(map(float, one)) for one in places], fill=255)
    return np.asarray(large.reduce(TIMES), dtype=float) / 255
