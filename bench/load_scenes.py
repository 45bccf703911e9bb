"""Painted photos of a load: pieces of one form and a kept one beside the card, or buttons, with known colours.

Everything is flat colour under a light that falls off; each piece is turned, scaled and leant by its own map. What
is tested with them is whether regions are found again, not how well a colour is read.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass

import cv2
import numpy as np

from swatch.science.card import Card
from swatch.science.colour_math import lab_to_srgb, srgb_encode

GROUND = (72.0, 0.5, 2.0)
SCENES = 8


@dataclass
class LoadScene:
    """The photo (RGB, 8 bits) with the truth: each thing's outline and regions in pixels, and their colours."""

    pixels: np.ndarray
    card: np.ndarray
    outlines: list[np.ndarray]
    regions: list[dict[str, np.ndarray]]
    colours: list[dict[str, tuple[float, float, float]]]

    def png(self) -> bytes:
        """The photo as a PNG."""
        return cv2.imencode(".png", self.pixels[:, :, ::-1])[1].tobytes()


def vase():
    """Outline and regions of a bud vase seen from the side, about one unit high."""
    right = [(0.10, -0.50), (0.13, -0.46), (0.10, -0.40), (0.10, -0.22), (0.26, -0.08), (0.33, 0.12), (0.30, 0.34)]
    right += [(0.20, 0.50)]
    outline = np.array([*right, *[(-x, y) for x, y in reversed(right)]])
    neck = np.array([(-0.12, -0.46), (0.12, -0.46), (0.10, -0.40), (0.10, -0.22), (-0.10, -0.22), (-0.10, -0.40)])
    belly = np.array([(-0.26, -0.08), (0.26, -0.08), (0.33, 0.12), (0.31, 0.30), (-0.31, 0.30), (-0.33, 0.12)])
    return outline, {"neck": neck, "outside": belly}


def button(stripes=6):
    """Outline and stripes of a round button; nothing but the stripes tells which way round it lies."""
    angle = np.linspace(0, 2 * np.pi, 72, endpoint=False)
    edges = np.linspace(-0.42, 0.42, stripes + 1)
    zones = {
        f"s{k + 1}": np.array([(a, -0.22), (b, -0.22), (b, 0.22), (a, 0.22)])
        for k, (a, b) in enumerate(itertools.pairwise(edges))
    }
    return 0.5 * np.stack([np.cos(angle), np.sin(angle)], axis=1), zones


def placed(points, centre, size, turn=0.0, lean=(0.0, 0.0), squeeze=1.0):
    """Points of a thing in the photo: leant a little, squeezed across, turned, scaled, moved."""
    leant = points / (1 + points @ np.array(lean))[:, None] * [squeeze, 1.0]
    c, s = np.cos(turn), np.sin(turn)
    return leant @ np.array([[c, s], [-s, c]]) * size + centre


def paint(card: Card, things, *, size=(1500, 1100), seed=1, ground=GROUND, noise=1.0):
    """Paint a scene.

    Parameters
    ----------
    things : sequence of (outline, regions, ground colour, colours by region, keywords of `placed`)
    """
    rng = np.random.default_rng(seed)
    wide, high = size
    linear = np.empty((high, wide, 3), np.float32)
    linear[:] = _linear(ground)
    corners = _card(linear, card)
    outlines, regions, colours = [], [], []
    for outline, zones, base, lab, where in things:
        at = placed(outline, **where)
        _fill(linear, at, base)
        laid = {name: placed(polygon, **where) for name, polygon in zones.items()}
        for name, polygon in laid.items():
            _fill(linear, polygon, lab[name])
        outlines.append(at)
        regions.append(laid)
        colours.append(dict(lab))
    x, y = np.meshgrid(np.linspace(-1, 1, wide), np.linspace(-1, 1, high))
    linear *= np.exp(0.12 * x - 0.08 * y - 0.06 * (x**2 + y**2))[..., None]
    linear = cv2.GaussianBlur(linear, (0, 0), 1.2)
    coded = srgb_encode(np.clip(linear * 0.85, 0, 1)) * 255 + rng.normal(0, noise, linear.shape)
    return LoadScene(np.clip(np.rint(coded), 0, 255).astype(np.uint8), corners, outlines, regions, colours)


def load_of(card: Card, looks, *, seed=1, size=(1500, 1100), upside=False):
    """Six vases, or as many as there are looks (dicts of region to Lab), the first beside the card."""
    rng = np.random.default_rng(seed + 50)
    outline, zones = vase()
    things = []
    for k, look in enumerate(looks):
        column, row = k % 4, k // 4
        where = {
            "centre": np.array(
                [170 + 330 * column + rng.uniform(-20, 20), 560 + 330 * row + rng.uniform(-10, 10)]
            ),
            "size": 260 * rng.uniform(0.9, 1.1),
            "turn": rng.uniform(-0.25, 0.25) + (np.pi if upside and k % 2 else 0.0),
            "lean": tuple(rng.uniform(-0.12, 0.12, 2)),
            "squeeze": rng.uniform(0.95, 1.05),
        }
        things.append((outline, zones, (30.0, 2.0, 4.0), look, where))
    return paint(card, things, size=size, seed=seed)


def _card(linear, card):
    side, gap, left, top = 52, 8, 60, 60
    wide, high = card.columns * (side + gap) + gap, card.rows * (side + gap) + gap
    cv2.rectangle(linear, (left - 14, top - 14), (left + wide + 14, top + high + 14), (0.02, 0.02, 0.02), -1)
    for k, lab in enumerate(card.lab):
        x, y = left + gap + k % card.columns * (side + gap), top + gap + k // card.columns * (side + gap)
        cv2.rectangle(linear, (x, y), (x + side - 1, y + side - 1), tuple(map(float, _linear(lab))), -1)
    edge = 14
    x0, y0, x1, y1 = left - edge, top - edge, left + wide + edge, top + high + edge
    return np.array([(x0, y0), (x1, y0), (x1, y1), (x0, y1)], float)


def _fill(linear, polygon, lab):
    points = np.rint(polygon * 16).astype(np.int32)
    cv2.fillPoly(linear, [points], tuple(map(float, _linear(lab))), lineType=cv2.LINE_8, shift=4)


def _linear(lab):
    coded = lab_to_srgb(np.array(lab, dtype=float))[0]
    return np.where(coded <= 0.04045, coded / 12.92, ((coded + 0.055) / 1.055) ** 2.4)


def main():
    """How well regions are found again: painted loads of seven pieces, and photos of six buttons."""
    from swatch.science import forms
    from swatch.science.measuring import decode
    from swatch.science.piece_outlines import find_pieces
    from swatch.work.measure import card_of

    table = card_of("rendition-24")
    card = Card(table.name, table.rows, table.columns, np.array(table.lab))
    rng = np.random.default_rng(9)
    look = {"neck": (29.0, 27.0, 11.0), "outside": (53.0, 45.0, 9.0)}
    found = total = 0
    off, within, turned = [], [], []
    for seed in range(SCENES):
        scene = load_of(card, [look] * 7, seed=200 + seed, upside=seed % 2 == 1)
        picture = decode(scene.png(), "load.png")
        outlines = find_pieces(picture, scene.card)
        found, total = found + len(outlines), total + 7
        form = forms.form_of("vase", outlines[0], list(scene.regions[0].items()), picture)
        for outline in outlines:
            k = _truth(scene, outline)
            laid = forms.lay(form, outline, picture)
            size = np.ptp(scene.outlines[k], axis=0).max()
            for zone in form.zones:
                away = forms.project(laid.matrix, np.array(zone.polygon)) - scene.regions[k][zone.region]
                off.append(np.abs(away).max() / size)
            for region, polygon in forms.regions_on(form, laid, outline):
                within.append(_inside(np.array(polygon), scene.regions[k][region]))
        shape, zones = button()
        colours = {name: tuple(rng.uniform((25, -40, -40), (85, 40, 45))) for name in zones}
        things = [
            (shape, zones, (60.0, 5.0, 15.0), colours,
             {"centre": np.array([150.0 + 230 * k, 700.0]), "size": 150 * rng.uniform(0.95, 1.05),
              "turn": rng.uniform(0, 2 * np.pi) * (k > 0), "lean": rng.uniform(-0.05, 0.05, 2)})
            for k in range(6)
        ]  # fmt: skip
        scene = paint(card, things, seed=seed)
        picture = decode(scene.png(), "buttons.png")
        outlines = find_pieces(picture, scene.card)
        form = forms.form_of("button", outlines[0], list(scene.regions[0].items()), picture)
        for outline in outlines[1:]:
            k = _truth(scene, outline)
            laid = forms.lay(form, outline, picture)
            away = [
                np.abs(forms.project(laid.matrix, np.array(z.polygon)) - scene.regions[k][z.region]).max()
                for z in form.zones
            ]
            turned.append(max(away) < 0.5 * 150 * 0.84 / 6)
    print(f"pieces found {found} of {total}")
    print(
        f"regions off, share of the piece's height: median {np.median(off):.3f}, 95 % {np.quantile(off, 0.95):.3f}"
    )
    print(
        f"of what is read lies within the painted region: median {np.median(within):.3f}, least {min(within):.3f}"
    )
    print(f"buttons turned right, to half a stripe: {np.mean(turned):.3f} of {len(turned)}")


def _truth(scene, outline):
    return min(
        range(len(scene.outlines)), key=lambda k: np.linalg.norm(scene.outlines[k].mean(0) - outline.mean(0))
    )


def _inside(polygon, region):
    """Share of a polygon that lies within a region."""
    low = np.minimum(polygon.min(axis=0), region.min(axis=0)) - 2
    size = tuple(int(n) for n in np.ceil(np.maximum(polygon.max(axis=0), region.max(axis=0)) - low) + 3)
    masks = [np.zeros(size[::-1], np.uint8) for _ in range(2)]
    for mask, points in zip(masks, (polygon, region), strict=True):
        cv2.fillPoly(mask, [np.rint((points - low) * 16).astype(np.int32)], 1, shift=4)
    return (masks[0] & masks[1]).sum() / masks[0].sum()


if __name__ == "__main__":
    main()
