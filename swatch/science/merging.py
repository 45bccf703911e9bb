"""Photos of the same layout with the lamp moved, merged: each zone from whatever of it is free of glare in any."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from swatch.science.colour_math import FloatArray, de00_metric
from swatch.science.colour_shares import colour_shares, is_mottled
from swatch.science.comparing import root_of
from swatch.science.uncertainty import u95_of
from swatch.terms.colour import Lab, covariance_of
from swatch.terms.measured import ColourShare, ZoneRead
from swatch.terms.problems import Notice

DARKER_BY = 1.0
"""L* by which one photo's part of a zone may exceed the other's before glare is taken to be the reason."""
GLARE_CODES = frozenset({"zone-glare"})


@dataclass(frozen=True, slots=True)
class ZoneGrid:
    """CIELAB of a zone's parts free of glare, (k, 3) with NaN elsewhere; each part's share of the zone.

    Parts are those of an even grid over the zone's window, so they agree between photos of the same layout.
    """

    lab: FloatArray
    share: FloatArray


def merge_zone(reads: Sequence[ZoneRead], grids: Sequence[ZoneGrid]) -> ZoneRead:
    """Merge readings of one zone in several photos.

    The photos differ as a whole by what is wrong with each: their parts are first brought to the weighted middle.
    Then each part is taken from the photo where it is free of glare, or where it is darker, since glare only adds.

    The covariance is honest about what a second photo does not help: card, phone and lamp are the same, so the
    photos' own error is taken as shared and not narrowed; what zones add by themselves is averaged; and what the
    photos differ by is added.

    Parameters
    ----------
    reads : sequence of ZoneRead
        The zone as each photo has it, at least one.
    grids : sequence of ZoneGrid
        Its parts in each.
    """
    if len(reads) == 1:
        return reads[0]
    own = [np.array((read.own or read.covariance).rows()) for read in reads]
    shared = [np.array(read.covariance.rows()) - part for read, part in zip(reads, own)]
    trust = np.array([1.0 / max(float(np.trace(part)), 1e-6) for part in own])
    weight = trust / trust.sum()
    levelled, offsets = _levelled(grids, weight)
    chosen = _without_glare(levelled)
    share = np.max([np.where(np.isfinite(g.lab[:, 0]), g.share, 0.0) for g in grids], axis=0)
    seen = np.isfinite(chosen[:, 0]) & (share > 0)
    if not seen.any():
        return reads[int(weight.argmax())]
    lab = (chosen[seen] * share[seen, None]).sum(axis=0) / share[seen].sum()
    off = np.sqrt(np.einsum("ni,ij,nj->n", chosen[seen] - lab, de00_metric(lab), chosen[seen] - lab))
    half = sum((w * root_of(part) for w, part in zip(weight, shared)), np.zeros((3, 3)))
    covariance = half @ half.T
    for w, part in zip(weight, own):
        covariance = covariance + w**2 * part
    apart = sum((w * np.outer(o, o) for w, o in zip(weight, offsets)), np.zeros((3, 3)))
    covariance = covariance + apart + 1e-6 * np.eye(3)
    first = reads[int(weight.argmax())]
    return replace(
        first,
        lab=Lab(*lab.tolist()),
        covariance=covariance_of(covariance.tolist()),
        u95_de00=u95_of(covariance, lab),
        variation_de00=float(np.sqrt((off**2).mean())),
        used_share=float(min(1.0, share[seen].sum())),
        warnings=_still_true(reads, float(share[seen].sum())),
        colours=_colours(chosen[seen]),
        own=covariance_of((covariance - half @ half.T).tolist()),
    )


def _levelled(grids: Sequence[ZoneGrid], weight: FloatArray) -> tuple[list[FloatArray], list[FloatArray]]:
    """Bring all photos' parts to their weighted middle; also each photo's offset from it, by what is common."""
    common = np.all([np.isfinite(grid.lab[:, 0]) for grid in grids], axis=0)
    if not common.any():
        return [grid.lab for grid in grids], [np.zeros(3) for _ in grids]
    whole = sum((w * grid.lab[common] for w, grid in zip(weight, grids)), np.zeros((int(common.sum()), 3)))
    offsets = [np.median(grid.lab[common] - whole, axis=0) for grid in grids]
    return [grid.lab - offset for grid, offset in zip(grids, offsets)], offsets


def _without_glare(levelled: Sequence[FloatArray]) -> FloatArray:
    """Each part's colour: the mean of those photos that do not exceed the darkest by more than `DARKER_BY`."""
    stack = np.array(levelled)
    lightness = np.where(np.isfinite(stack[..., 0]), stack[..., 0], np.inf)
    fine = np.isfinite(lightness) & (lightness <= lightness.min(axis=0) + DARKER_BY)
    count = fine.sum(axis=0)
    total = np.where(fine[..., None], np.nan_to_num(stack), 0.0).sum(axis=0)
    return np.asarray(np.where(count[:, None] > 0, total / np.maximum(count, 1)[:, None], np.nan))


def _still_true(reads: Sequence[ZoneRead], share: float) -> tuple[Notice, ...]:
    """Warnings of the zone that every photo gives; of glare, only where little is left even together."""
    codes = set.intersection(*({notice.code for notice in read.warnings} for read in reads))
    return tuple(
        notice
        for notice in reads[0].warnings
        if notice.code in codes and not (notice.code in GLARE_CODES and share >= 0.3)
    )


def _colours(parts: FloatArray) -> tuple[ColourShare, ...]:
    if not is_mottled(parts):
        return ()
    return tuple(ColourShare(Lab(*one.tolist()), part) for one, part in colour_shares(parts))
