"""CIELAB to the colours of this screen: sRGB, or the monitor profile that was chosen.

White is the screen's own white (relative colorimetric). What the screen cannot show is drawn with less chroma at
the same lightness and hue, and whoever draws it is told, so that it can be marked.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray
from PySide6.QtCore import QByteArray, QObject, Signal
from PySide6.QtGui import QColor, QColorSpace, QImage

from swatch.science.colour_math import lab_to_srgb, lab_to_xyz, srgb_decode
from swatch.terms.colour import Lab
from swatch.terms.problems.screen import bad_screen_profile
from swatch.wording.text import _, say

FloatArray = NDArray[np.floating[Any]]
BoolArray = NDArray[np.bool_]
Convert = Callable[[FloatArray], tuple[FloatArray, BoolArray]]

LARGEST_PROFILE = 32 * 2**20
_HALVINGS = 14
_SLACK = 0.002
"""Half an 8-bit level, encoded: what rounding hides is no loss."""
_BACK_SLACK = 0.01
"""Profiles with tables clip; a colour that does not come back within this, linear, was clipped."""
_MOST_KEPT = 100_000
_ROW = 1024


class Shown(NamedTuple):
    """A colour as this screen draws it, and whether it can show it at all."""

    colour: QColor
    in_gamut: bool


class ScreenColours(QObject):
    """How colours are drawn on this screen. One for the program; ask `screen_colours`."""

    changed = Signal()

    def __init__(self) -> None:
        super().__init__()
        self._convert: Convert = lab_to_srgb
        self._profile = ""
        self._kept: dict[Lab, Shown] = {}

    @property
    def profile(self) -> str:
        """Name of the monitor profile in use; empty where colours are drawn as sRGB."""
        return self._profile

    def use_profile(self, path: Path | None) -> None:
        """Draw through a monitor's ICC profile from now on, or as sRGB with None.

        Raises
        ------
        StudioProblem
            ``bad-screen-profile``: the file is no ICC profile of an RGB screen.
        """
        self._profile, self._convert = _read_profile(path) if path else ("", lab_to_srgb)
        self._kept.clear()
        self.changed.emit()

    def rgb(self, lab: ArrayLike) -> tuple[NDArray[np.uint8], BoolArray]:
        """Turn many colours at once.

        Parameters
        ----------
        lab : (..., 3)
            CIELAB, D50.

        Returns
        -------
        rgb : (..., 3)
            8-bit values for this screen.
        in_gamut : (...)
            False where the screen cannot show it.
        """
        values, in_gamut = self._convert(np.asarray(lab, dtype=float))
        return np.rint(np.clip(values, 0.0, 1.0) * 255.0).astype(np.uint8), in_gamut

    def shown(self, lab: Lab) -> Shown:
        """Turn one colour; kept, so that painting the same swatch again costs nothing."""
        found = self._kept.get(lab)
        if found is None:
            self.prepare([lab])
            found = self._kept[lab]
        return found

    def prepare(self, labs: list[Lab]) -> None:
        """Turn many colours in one go, so that `shown` finds them all."""
        new = [lab for lab in labs if lab not in self._kept]
        if not new:
            return
        if len(self._kept) + len(new) > _MOST_KEPT:
            self._kept.clear()
            new = labs
        rgb, in_gamut = self.rgb(new)
        for lab, (red, green, blue), fits in zip(new, rgb.tolist(), in_gamut.tolist(), strict=True):
            self._kept[lab] = Shown(QColor(red, green, blue), fits)

    def footer(self) -> str:
        """The sentence at the foot of the window."""
        if self._profile:
            return say(_("Screen profile: {profile}.")).format(profile=self._profile)
        return say(_("Screen not profiled: colours shown as sRGB."))


@cache
def screen_colours() -> ScreenColours:
    """The program's way from CIELAB to this screen."""
    return ScreenColours()


def cannot_show() -> str:
    """What is said of a colour with a notched corner."""
    return say(_("This screen cannot show it; it is drawn with less chroma."))


def _read_profile(path: Path) -> tuple[str, Convert]:
    try:
        with path.open("rb") as file:
            data = file.read(LARGEST_PROFILE + 1)
    except OSError as error:
        raise bad_screen_profile(path.name) from error
    space = QColorSpace.fromIccProfile(QByteArray(data)) if len(data) <= LARGEST_PROFILE else QColorSpace()
    if not space.isValid() or space.colorModel() != QColorSpace.ColorModel.Rgb:
        raise bad_screen_profile(path.name)
    return space.description().strip() or path.stem, _through(space)


def _through(space: QColorSpace) -> Convert:
    linear = QColorSpace(QColorSpace.NamedColorSpace.SRgbLinear)
    out, back = linear.transformationToColorSpace(space), space.transformationToColorSpace(linear)
    has_tables = space.transformModel() == QColorSpace.TransformModel.ElementListProcessing

    def drawn(lab: FloatArray) -> tuple[FloatArray, BoolArray]:
        light = lab_to_xyz(lab) @ _xyz_to_linear()
        rgb = _transformed(light, out)
        fits = np.asarray(((rgb >= -_SLACK) & (rgb <= 1.0 + _SLACK)).all(axis=-1))
        if has_tables:
            fits &= np.asarray((np.abs(_transformed(rgb, back) - light) <= _BACK_SLACK).all(axis=-1))
        return rgb, fits

    def convert(lab: FloatArray) -> tuple[FloatArray, BoolArray]:
        lab = np.array(lab, dtype=float)
        lab[..., 0] = np.clip(lab[..., 0], 0.0, 100.0)
        rgb, fits = drawn(lab)
        if not fits.all():
            rgb[~fits] = drawn(_with_less_chroma(lab[~fits], drawn))[0]
        return np.clip(rgb, 0.0, 1.0), fits

    return convert


def _with_less_chroma(lab: FloatArray, drawn: Convert) -> FloatArray:
    """Take chroma away at constant lightness and hue until the screen can show it; (n, 3) to (n, 3)."""
    low, high = np.zeros(len(lab)), np.ones(len(lab))
    for _halving in range(_HALVINGS):
        share = 0.5 * (low + high)
        fits = drawn(lab * _on_chroma(share))[1]
        low, high = np.where(fits, share, low), np.where(fits, high, share)
    return lab * _on_chroma(low)


def _on_chroma(share: FloatArray) -> FloatArray:
    return np.stack([np.ones_like(share), share, share], axis=-1)


@cache
def _xyz_to_linear() -> FloatArray:
    """(3, 3): D50 XYZ row vectors to linear sRGB, unbounded, where `lab_to_srgb` ends at the gamut.

    It is found from three colours inside the gamut, so that there is one set of primaries in the house.
    """
    inside = np.array([[60.0, 20.0, 10.0], [60.0, -20.0, 20.0], [50.0, 5.0, -25.0]])
    return np.asarray(np.linalg.solve(lab_to_xyz(inside), srgb_decode(lab_to_srgb(inside)[0])))


def _transformed(rgb: FloatArray, transform: Any) -> FloatArray:
    """Send (..., 3) linear or encoded values through Qt's transform, in floats so that nothing is cut off."""
    flat = rgb.reshape(-1, 3)
    rows = -(-len(flat) // _ROW)
    pixels = np.zeros((rows * _ROW, 4), dtype=np.float32)
    pixels[: len(flat), :3] = flat
    pixels[:, 3] = 1.0
    image = QImage(pixels.tobytes(), _ROW, rows, _ROW * 16, QImage.Format.Format_RGBX32FPx4).copy()
    image.applyColorTransform(transform)
    out = np.frombuffer(image.constBits(), dtype=np.float32).reshape(-1, 4)[: len(flat), :3]
    return np.array(out, dtype=float).reshape(rgb.shape)
