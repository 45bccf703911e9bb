import numpy as np
import pytest

from bench.painted import COLOURS, chart, jpeg_of, paint
from swatch.science.colour_math import delta_e_2000
from swatch.science.measuring import decode, measure
from swatch.science.merging import merge_zone

HALVES = np.where((np.arange(11) > 5)[None, :, None], (58.0, 6.0, 18.0), (38.0, -4.0, -22.0)) * np.ones((11, 1, 1))
TILES = (HALVES, *COLOURS[:3])


@pytest.fixture(scope="module")
def two():
    """Two photos of one layout: the lamp is mirrored elsewhere, and its colour is a little another."""
    reads, grids = [], []
    for k, gloss in enumerate(((0.25, 0.3), (0.75, 0.6))):
        painted = paint(TILES, gloss=gloss, tint=(1.0, 1.0 - 0.1 * k, 0.8 + 0.1 * k), seed=k)
        grids.append({})
        read = measure(decode(jpeg_of(painted), "a"), chart(), painted.zones, photo="a", grids=grids[-1])
        reads.append({zone.zone: zone for zone in read.zones})
    return painted.truth, reads, grids


def off(zone, truth):
    return float(delta_e_2000(np.array(zone.lab), truth))


def test_a_half_light_half_dark_tile_is_read_without_its_glare(two):
    truth, reads, grids = two
    merged = merge_zone([read["Z1"] for read in reads], [grid["Z1"] for grid in grids])
    assert min(off(read["Z1"], truth["Z1"]) for read in reads) > 2.0
    assert off(merged, truth["Z1"]) < 1.2
    assert merged.used_share > 0.9
    found = sorted((one.share, one.lab.L) for one in merged.colours)[-2:]
    assert {round(light / 10) for _, light in found} == {4, 6}


def test_merging_uses_more_of_each_tile_and_is_as_near(two):
    truth, reads, grids = two
    for name in ("Z2", "Z3", "Z4"):
        singles = [read[name] for read in reads]
        merged = merge_zone(singles, [grid[name] for grid in grids])
        assert merged.used_share >= max(zone.used_share for zone in singles)
        assert off(merged, truth[name]) <= max(off(zone, truth[name]) for zone in singles) + 0.2
        assert off(merged, truth[name]) < merged.u95_de00


def test_a_second_photo_does_not_narrow_what_both_share(two):
    _, reads, grids = two
    singles = [read["Z2"] for read in reads]
    merged = merge_zone(singles, [grid["Z2"] for grid in grids])
    assert merged.u95_de00 > 0.8 * min(zone.u95_de00 for zone in singles)
    assert np.linalg.eigvalsh(merged.covariance.rows()).min() > 0
    own = np.array(merged.covariance.rows()) - np.array(merged.own.rows())
    assert np.linalg.eigvalsh(own).min() > -1e-6


def test_photos_that_disagree_are_believed_less(two):
    _, reads, grids = two
    one, other = grids[0]["Z2"], grids[1]["Z2"]
    moved = type(other)(other.lab + np.array([6.0, 0.0, 0.0]), other.share)
    singles = [read["Z2"] for read in reads]
    assert merge_zone(singles, [one, moved]).u95_de00 > merge_zone(singles, [one, other]).u95_de00 + 0.5


def test_one_photo_alone_stays_as_it_is(two):
    _, reads, grids = two
    assert merge_zone([reads[0]["Z2"]], [grids[0]["Z2"]]) is reads[0]["Z2"]
