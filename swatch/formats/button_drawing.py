"""A witness button on paper, at its size."""

from __future__ import annotations

import math
from dataclasses import dataclass

from swatch.formats.drawing import INK, Pen
from swatch.formats.report_drawing import SMALL
from swatch.terms.sheet import Box


@dataclass(frozen=True, slots=True)
class ButtonPicture:
    """A witness button from above, at its size: stripes as bands, those covered closed below, bare ones open.

    ``stripes`` has each stripe's name and whether it is covered; ``across`` is mm.
    """

    stripes: tuple[tuple[str, bool], ...]
    across: float
    covered: str
    bare: str

    def height(self, wide: float) -> float:
        """How high it is, mm."""
        return self.across + 10.0

    def draw(self, pen: Pen, left: float, top: float, wide: float) -> None:
        """Draw it from its upper left corner."""
        radius = self.across / 2
        x, y = left + radius + 1.0, top + radius + 4.0
        rim = [
            (x + radius * math.cos(k * math.pi / 36), y + radius * math.sin(k * math.pi / 36)) for k in range(73)
        ]
        pen.curve(rim, 0.35, INK)
        room = 1.7 * radius
        band = room / max(len(self.stripes), 1)
        for k, (name, is_covered) in enumerate(self.stripes):
            middle = x - room / 2 + band * (k + 0.5)
            half = max(0.9 * math.sqrt(max(radius**2 - (middle - x) ** 2, 0.0)) - 3.0, 2.0)
            strip = Box(middle - 0.34 * band, y - half, 0.68 * band, 2 * half)
            pen.fill(strip, 0.72)
            if is_covered:
                # A covered stripe is hatched over all of it: the clear lies on top.
                for n in range(1, int(strip.high // 1.6)):
                    pen.line(strip.left, strip.top + 1.6 * n, strip.right, strip.top + 1.6 * n, 0.12, INK)
            pen.text(middle, y - half - 0.8, name, 2.6, centred=True)
        for row, (grey, text) in enumerate(((True, self.covered), (False, self.bare))):
            box = Box(x + radius + 10.0, top + 8.0 + 7.0 * row, 5.0, 4.0)
            pen.fill(box, 0.72)
            if grey:
                for n in (1, 2):
                    pen.line(box.left, box.top + 1.3 * n, box.right, box.top + 1.3 * n, 0.12, INK)
            pen.text(box.right + 2.5, box.low - 0.6, text, SMALL)
