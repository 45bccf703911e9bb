"""Colours from a photo without a card, after one neutral point in it: rough, and said to be."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from swatch.science import gates
from swatch.science.colour_math import D50, SRGB_TO_XYZ50, FloatArray, de00_metric, lab_to_xyz, xyz_to_lab
from swatch.science.colour_shares import colours_of
from swatch.science.picture import Picture
from swatch.science.uncertainty import u95_of, unit_axes
from swatch.science.zones import outline_of, read_zone
from swatch.terms.colour import Lab, covariance_of
from swatch.terms.measured import PhotoRead, Point, Verdict, ZoneRead, ZoneShape
from swatch.terms.problems import Notice, Where
from swatch.terms.problems.photo import neutral_unusable

RADIUS, LEAST_RADIUS = 0.006, 4
"""How far around the point is averaged, over the photo's longer side, and at least, in pixels."""
BRIGHTEST, DARKEST, ROUGHEST, MOST_COLOURED = 0.97, 0.01, 0.12, 1.0
"""Light of the point that can serve; ln spread around it; ln of its brightest channel over its darkest."""
LIGHTNESS_SD, KNOWN_LIGHTNESS_SD = 6.5, 4.0
"""Standard uncertainty in L*: tone curve and uneven light; less where the neutral's own lightness is stated."""
GREY_SD, CHROMA_SD, HUE_SD = 2.3, 0.18, 0.13
"""Of chroma and hue, in CIELAB: of a grey, and beside it per unit of chroma: the camera's own taste in colours."""


def measure_by_neutral(
    picture: Picture, zones: Sequence[ZoneShape], point: Point, *, photo: str, lightness: float | None = None
) -> PhotoRead:
    """Read zones by a point known to be neutral; light is taken to be even, the tone curve to be the file's.

    Parameters
    ----------
    point : (x, y)
        In pixels of the photo as seen.
    lightness : float, optional
        The neutral's L*, such as 94 for white paper; without it, lightness is what the camera made of it.

    Returns
    -------
    PhotoRead
        Usable at best, without a card; its uncertainties hold what a phone does to tone and colour.

    Raises
    ------
    StudioProblem
        ``neutral-unusable``, ``zone-outline-wrong``.
    """
    to_xyz = SRGB_TO_XYZ50 if picture.to_xyz is None else picture.to_xyz
    to_xyz = to_xyz * (D50 / to_xyz.sum(axis=1))[:, None]
    neutral = _light_at(picture, point)
    luminance = (
        float(to_xyz[1] @ neutral) if lightness is None else float(lab_to_xyz(np.array([lightness, 0.0, 0.0]))[1])
    )
    straight = picture.curve.astype(float) / neutral[:, None] * luminance
    reads: list[ZoneRead] = []
    notices = [Notice("neutral-only"), *picture.notices]
    for zone in zones:
        outline = outline_of(zone, photo)
        light = read_zone(picture, outline, straight)
        if light is None or light.used_share < gates.ZONE_LEFT[1]:
            code = "zone-outside" if light is None else "zone-all-glare"
            notices.append(Notice(code, where=Where(photo=photo, zone=zone.zone)))
            continue
        lab = xyz_to_lab(light.z @ to_xyz.T)
        away = xyz_to_lab(light.blocks @ to_xyz.T) - lab
        covariance = doubt_by_neutral(lab, lightness is not None)
        reads.append(
            ZoneRead(
                zone=zone.zone,
                polygon=zone.polygon,
                lab=Lab(*lab.tolist()),
                covariance=covariance_of(covariance.tolist()),
                u95_de00=u95_of(covariance, lab),
                variation_de00=float(np.sqrt(np.einsum("ni,ij,nj->n", away, de00_metric(lab), away).mean())),
                used_share=light.used_share,
                warnings=gates.zone_warnings(light),
                colours=colours_of(xyz_to_lab(light.sample @ to_xyz.T)),
            )
        )
    return PhotoRead(photo, picture.size, Verdict.USABLE, None, tuple(reads), tuple(notices))


def doubt_by_neutral(lab: FloatArray, lightness_known: bool) -> FloatArray:
    """Covariance (3, 3) of a colour read by a neutral point, scaled as that of a photo with a card."""
    chroma = float(np.hypot(lab[1], lab[2]))
    axes = unit_axes(lab)
    axes = axes / np.linalg.norm(axes, axis=1)[:, None]
    sd = np.array(
        [
            KNOWN_LIGHTNESS_SD if lightness_known else LIGHTNESS_SD,
            np.hypot(GREY_SD, CHROMA_SD * chroma),
            np.hypot(GREY_SD, HUE_SD * chroma),
        ]
    )
    return np.asarray((axes.T * sd**2) @ axes)


def _light_at(picture: Picture, point: Point) -> FloatArray:
    """Mean linear light around the point, where it can serve."""
    wide, high = picture.size
    reach = max(LEAST_RADIUS, round(RADIUS * max(wide, high)))
    x, y = (round(value) for value in point)
    if not (reach <= x < wide - reach and reach <= y < high - reach):
        raise neutral_unusable("outside")
    levels = picture.pixels[y - reach : y + reach + 1, x - reach : x + reach + 1].reshape(-1, 3)
    light = np.stack([picture.curve[c][levels[:, c]] for c in range(3)], axis=1).astype(float)
    mean = light.mean(axis=0)
    if mean.max() > BRIGHTEST or (light.max(axis=1) >= 0.99).mean() > 0.02:
        raise neutral_unusable("too bright")
    if mean.min() < DARKEST:
        raise neutral_unusable("too dark")
    if float((light.std(axis=0) / mean).max()) > ROUGHEST:
        raise neutral_unusable("not even")
    if float(np.log(mean.max() / mean.min())) > MOST_COLOURED:
        raise neutral_unusable("coloured")
    return np.asarray(mean)
