"""Which tiles to leave out together, so that a prediction is judged on what it has not seen."""

from __future__ import annotations

import numpy as np

from swatch.science.optics import FloatArray
from swatch.science.predicting import SAME_CONE
from swatch.science.studio_data import FIRED, StudioData, layers_of

FOLDS = 4


def group_codes(*columns: np.ndarray) -> np.ndarray:
    """One code for each different row of the columns, numbered in the order of first appearance (n,)."""
    _found, first, code = np.unique(np.column_stack(columns), axis=0, return_index=True, return_inverse=True)
    rank = np.empty(len(first), dtype=np.intp)
    rank[np.argsort(first)] = np.arange(len(first))
    return np.asarray(rank[code.ravel()])


def layering_codes(data: StudioData) -> np.ndarray:
    """One code for each order of materials, coats aside (n,)."""
    return group_codes(data.material, data.wiped.astype(int))


def tested(data: StudioData) -> np.ndarray:
    """Readings that can be left out and asked for (n,): fired, on a known body, at a known cone, with layers."""
    known = np.isfinite(data.cones_asked()) & (data.body >= 0) & np.isfinite(data.lab).all(axis=1)
    return np.asarray((data.stage == FIRED) & known & (layers_of(data.material) > 0))


def by_layering(data: StudioData, fold: int) -> np.ndarray:
    """Every tile of each fourth layering (mask)."""
    return np.asarray(tested(data) & (_spread(layering_codes(data)) == fold))


def _spread(code: np.ndarray) -> np.ndarray:
    """Codes dealt to the folds so that neighbours in the list part."""
    return np.asarray((code * 7 + code // FOLDS) % FOLDS)


def cone_groups(data: StudioData) -> list[np.ndarray]:
    """Masks of tiles with one material at one cone, where that material has been fired at another too."""
    asked = data.cones_asked()
    test = tested(data)
    groups = []
    for m in range(len(data.kind)):
        with_it = test & (data.material == m).any(axis=1)
        cones = np.unique(np.round(asked[with_it]))
        for cone in cones if len(cones) > 1 else ():
            here = with_it & (np.abs(asked - cone) <= SAME_CONE)
            if (with_it & ~here).any():
                groups.append(here)
    return groups


def by_cone(data: StudioData, fold: int, share: float = 0.25) -> np.ndarray:
    """Tiles of some (material, cone) groups, no more than a share of all (mask)."""
    groups = cone_groups(data)
    out = np.zeros(len(data.lab), dtype=bool)
    most = share * len(out)
    for i in np.argsort((np.arange(len(groups)) * 0.6180339887) % 1.0, kind="stable"):
        if i % FOLDS == fold and (out | groups[i]).sum() <= most:
            out |= groups[i]
    return out


def by_firing(data: StudioData, fold: int) -> np.ndarray:
    """Every tile of each fourth firing (mask)."""
    return np.asarray(tested(data) & (data.firing >= 0) & (data.firing % FOLDS == fold))


def by_material(data: StudioData, fold: int, from_raw: np.ndarray) -> np.ndarray:
    """Every tile with some of the materials whose raw colour teaches something (mask)."""
    known = np.flatnonzero(from_raw)
    chosen = known[np.arange(len(known)) % (2 * FOLDS) == fold]
    return np.asarray(tested(data) & np.isin(data.material, chosen).any(axis=1))


def twins(data: StudioData) -> np.ndarray:
    """The last of the tiles that share layering, coats, body and cone with another (mask)."""
    asked = np.nan_to_num(data.cones_asked(), nan=-99.0)
    code = group_codes(data.material, data.wiped.astype(int), data.coats, data.body, np.round(asked, 1))
    zone = np.where(data.zone >= 0, data.zone, -1 - np.arange(len(code)))
    out = np.zeros(len(code), dtype=bool)
    for one in np.flatnonzero(np.bincount(code[tested(data)]) > 1) if tested(data).any() else ():
        rows = np.flatnonzero(tested(data) & (code == one))
        if len(np.unique(zone[rows])) > 1:
            out[rows[zone[rows] == zone[rows[-1]]]] = True
    return out


def question_of(
    data: StudioData, rows: np.ndarray
) -> tuple[np.ndarray, FloatArray, np.ndarray, np.ndarray, FloatArray]:
    """Readings as questions for `StudioFit.predict`."""
    wiped = data.wiped[rows].astype(bool)
    return data.material[rows], data.coats[rows], wiped, data.body[rows], data.cones_asked()[rows]
