"""The photo with card and zones drawn on it, as a PNG."""

from __future__ import annotations

from pathlib import Path

import cv2
import numpy as np

from swatch.science.picture import Picture, preview_rgb
from swatch.terms.measured import PhotoRead, Point
from swatch.terms.problems import Where
from swatch.terms.problems.work import file_not_written
from swatch.work.files import write_file

LONG_SIDE = 2000
_BLACK, _WHITE = (0, 0, 0), (255, 255, 255)


def write_overlay(picture: Picture, read: PhotoRead, out: Path) -> None:
    """Draw what was found and write it whole or not at all.

    Raises
    ------
    StudioProblem
        ``file-not-written``.
    """
    image = np.ascontiguousarray(preview_rgb(picture, LONG_SIDE)[:, :, ::-1])
    scale = image.shape[1] / read.size[0]
    if read.card is not None:
        _outline(image, read.card.corners, scale)
    for zone in read.zones:
        _outline(image, zone.polygon, scale)
        x, y = np.mean(zone.polygon, axis=0) * scale
        for ink, width in ((_BLACK, 4), (_WHITE, 1)):
            cv2.putText(
                image, zone.zone[:12], (int(x), int(y)), cv2.FONT_HERSHEY_SIMPLEX, 0.6, ink, width, cv2.LINE_AA
            )
    fine, png = cv2.imencode(".png", image)
    if not fine:
        raise file_not_written("the picture cannot be coded").at(Where(file=str(out)))
    write_file(out, png.tobytes())


def _outline(image: np.ndarray, polygon: tuple[Point, ...], scale: float) -> None:
    points = np.round(np.array(polygon) * scale).astype(np.int32).reshape(-1, 1, 2)
    cv2.polylines(image, [points], True, _BLACK, 4, cv2.LINE_AA)
    cv2.polylines(image, [points], True, _WHITE, 2, cv2.LINE_AA)
