"""The same scene reads the same in every format, turned every way, in every RGB space."""

import io

import numpy as np
import pillow_heif
import pytest
from PIL import Image

from bench import photo_formats as formats
from bench.painted import chart, paint
from swatch.science.colour_math import delta_e_2000
from swatch.science.measuring import decode, measure
from swatch.science.picture import preview_rgb
from swatch.terms.measured import Verdict
from swatch.terms.problems import StudioProblem

SIZE = (640, 480)
SCENE = paint(size=SIZE)
GAMMA_TABLE = np.linspace(0, 1, 257) ** 1.9


def off(data, most=1.6):
    """Largest ΔE00 of the zones from what was painted."""
    picture = decode(data, "a")
    assert picture.size == SIZE
    read = measure(picture, chart(), SCENE.zones, photo="a")
    assert read.verdict is Verdict.GOOD
    assert not any(notice.code == "photo-profile-unread" for notice in read.warnings)
    apart = [float(delta_e_2000(np.array(z.lab), SCENE.truth[z.zone])) for z in read.zones]
    assert len(apart) == len(SCENE.zones)
    assert max(apart) < most
    return np.array([z.lab for z in read.zones])


@pytest.fixture(scope="module")
def plain():
    return off(formats.photo_in(SCENE, "PNG"))


@pytest.mark.parametrize("kind", ["JPEG", "PNG 16", "TIFF", "TIFF 16", "WEBP", "HEIF", "DNG"])
def test_every_format_reads_the_same(kind, plain):
    assert delta_e_2000(off(formats.photo_in(SCENE, kind)), plain).max() < 1.0


@pytest.mark.parametrize("orientation", [3, 6, 7])
@pytest.mark.parametrize("kind", ["JPEG", "HEIF"])
def test_a_turned_photo_reads_the_same(kind, orientation, plain):
    pillow_heif.register_heif_opener()
    undo = {3: 3, 6: 2, 7: 6}[orientation]
    image = Image.fromarray(formats.srgb_levels(SCENE.light)).transpose(Image.Transpose(undo))
    exif = Image.Exif()
    exif[274] = orientation
    out = io.BytesIO()
    image.save(out, kind, quality=95, exif=exif.tobytes())
    assert delta_e_2000(off(out.getvalue()), plain).max() < 1.0


@pytest.mark.parametrize(
    ("space", "curve"),
    [
        (formats.SRGB, "srgb"),
        (formats.DISPLAY_P3, "srgb"),
        (formats.ADOBE_LIKE, 563 / 256),
        (formats.WIDE, 1.8),
        (formats.DISPLAY_P3, GAMMA_TABLE),
    ],
    ids=["sRGB", "Display P3", "Adobe RGB", "wide, gamma 1.8", "Display P3 with a table"],
)
def test_every_rgb_profile_reads_the_same(space, curve, plain):
    out = io.BytesIO()
    pixels = formats.in_space(SCENE, space, curve)
    Image.fromarray(pixels).save(out, "PNG", icc_profile=formats.matrix_profile(space, curve))
    assert delta_e_2000(off(out.getvalue()), plain).max() < 1.0


@pytest.mark.parametrize("linear", [False, True], ids=["mosaic", "linear"])
def test_a_dng_is_turned_upright_and_halved_for_a_preview(linear):
    upright = decode(formats.dng_of(SCENE, linear=linear), "a")
    turned = decode(formats.dng_of(SCENE, orientation=6, linear=linear), "a")
    assert upright.pixels.dtype == np.uint16
    assert (turned.size, upright.size) == (SIZE[::-1], SIZE)
    np.testing.assert_array_equal(turned.pixels[:, ::-1].transpose(1, 0, 2), upright.pixels)
    half = decode(formats.dng_of(SCENE, linear=linear), "a", quick=True)
    if not linear:
        assert half.size == (SIZE[0] // 2, SIZE[1] // 2)
    small, whole = preview_rgb(half, 120).astype(int), preview_rgb(upright, 120).astype(int)
    assert np.abs(small - whole).mean() < 3


@pytest.mark.parametrize("share", [0.02, 0.5])
def test_part_of_a_dng_is_refused(share):
    data = formats.dng_of(SCENE)
    with pytest.raises(StudioProblem) as caught:
        decode(data[: int(share * len(data))], "a")
    assert caught.value.code in ("photo-raw-unread", "photo-broken")
