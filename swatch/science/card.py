"""The reference card: its patches' published colours, and where they lie on its grid."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from swatch.science.colour_math import FloatArray
from swatch.terms.problems.photo import card_too_few_patches

PATCH_SHARE = 0.86
"""Side of a patch over the distance between patches' centres, on common cards (common practice, no source)."""
NEUTRAL_CHROMA = 5.0
FEWEST_PATCHES = 12
FEWEST_NEUTRALS = 3


@dataclass(frozen=True, slots=True)
class Card:
    """A reference card of `rows` × `columns` patches; ``lab`` is (n, 3), row by row, D50, 2 degree observer."""

    name: str
    rows: int
    columns: int
    lab: FloatArray
    neutrals: NDArray[np.intp] = field(init=False)

    def __post_init__(self) -> None:
        lab = np.asarray(self.lab, dtype=float)
        if lab.shape != (self.rows * self.columns, 3) or not np.isfinite(lab).all():
            raise ValueError(f"a card of {self.rows} × {self.columns} patches does not have colours {lab.shape}")
        object.__setattr__(self, "lab", lab)
        grey = np.flatnonzero(np.hypot(lab[:, 1], lab[:, 2]) <= NEUTRAL_CHROMA)
        object.__setattr__(self, "neutrals", grey)

    def check_usable(self) -> None:
        """Raise ``card-too-few-patches`` where no correction could rest on this card."""
        if len(self.lab) < FEWEST_PATCHES:
            raise card_too_few_patches(n_patches=len(self.lab), least=FEWEST_PATCHES)
        if len(self.neutrals) < FEWEST_NEUTRALS:
            raise card_too_few_patches(n_patches=len(self.neutrals), least=FEWEST_NEUTRALS)

    @property
    def found_by_itself(self) -> bool:
        """Whether the finder knows this layout: that of the 24-patch colour-rendition chart."""
        return self.rows == 4 and self.columns == 6


def grid_centres(rows: int, columns: int) -> FloatArray:
    """Centres of the patches, row by row, with one unit from patch to patch: (n, 2) x, y."""
    down, across = np.mgrid[0:rows, 0:columns]
    return np.stack([across.ravel() + 0.5, down.ravel() + 0.5], axis=1).astype(float)


def grid_corners(rows: int, columns: int, share: float = PATCH_SHARE) -> FloatArray:
    """Outer corners of the outermost patches in the same units, patch 1 and then round the card: (4, 2)."""
    edge = 0.5 * (1.0 - share)
    right, low = columns - edge, rows - edge
    return np.array([[edge, edge], [right, edge], [right, low], [edge, low]])
