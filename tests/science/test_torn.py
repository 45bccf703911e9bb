import numpy as np
import pytest

from bench.bad_files import flipped
from bench.painted import COLOURS, jpeg_of, paint
from swatch.science.picture import decode
from swatch.science.torn import is_torn
from swatch.terms.problems import StudioProblem


def paper(rng):
    return np.clip(rng.normal(200, 2, (240, 320, 3)), 0, 255).astype(np.uint8)


@pytest.mark.parametrize("below", [8, 16])
@pytest.mark.parametrize("start", [0, 96, 304])
def test_what_follows_a_spoilt_block_is_shifted(below, start):
    pixels = paper(np.random.default_rng(1))
    pixels[80 : 80 + below, start:] -= 30
    pixels[80 + below :] -= 30
    assert is_torn(pixels)


def test_edges_of_paper_bands_and_grain_are_no_tears():
    rng = np.random.default_rng(2)
    assert not is_torn(paper(rng))
    slanted = paper(rng)
    for x in range(320):
        slanted[100 + x // 40 :, x] -= 60
    assert not is_torn(slanted)
    half = paper(rng)
    half[80:, :200] -= 90
    assert not is_torn(half)
    assert not is_torn(rng.integers(0, 255, (240, 320, 3), dtype=np.uint8))


def test_a_jpeg_with_one_bit_turned_over_is_refused_or_hardly_changed():
    painted = paint(COLOURS[:3], size=(640, 480))
    data = jpeg_of(painted)
    sound = decode(data, "a").pixels.astype(int)
    refused, spoilt = 0, 0
    for seed in range(60):
        try:
            pixels = decode(flipped(data, seed, 1, 700), "a").pixels
        except StudioProblem as problem:
            assert problem.code == "photo-broken"  # noqa: PT017  either end is right
            refused += 1
        else:
            # A part of the picture is allowed to be wrong where that is smaller than a tile.
            spoilt += bool((np.abs(pixels - sound).max(axis=2) > 30).mean() > 0.03)
    assert refused > 10
    # What a shift of colour does where a dark chart takes much of the width is not always seen.
    assert spoilt <= 2


def test_a_picture_with_bars_added_is_none():
    pixels = paper(np.random.default_rng(3))
    pixels[:80] = 0
    assert not is_torn(pixels)


def test_a_photo_mostly_too_bright_is_no_tear():
    pixels = np.full((240, 320, 3), 255, np.uint8)
    # A tile's upper edge on a block's: one strip steps up, one down, and the clipped rest cannot.
    pixels[120:, 40:48] = 235
    pixels[112:120, 200:208] = 243
    pixels[120:200, 200:208] = 255
    assert not is_torn(pixels)
