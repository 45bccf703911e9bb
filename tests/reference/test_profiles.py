"""RGB profiles against littleCMS (through Pillow's ImageCms): the curve read from each is the one it uses."""

import io

import numpy as np
import pytest
from PIL import Image, ImageCms

from bench import photo_formats as formats
from swatch.science.colour_math import srgb_encode
from swatch.science.icc import curve_of_profile

TABLE = np.linspace(0, 1, 129) ** 2.1 * 0.98 + np.linspace(0, 1, 129) * 0.02
CURVES = {"sRGB": "srgb", "linear": 1.0, "gamma 1.8": 1.8, "gamma 2.2": 563 / 256, "table": TABLE}


@pytest.mark.parametrize("space", list(formats.PRIMARIES))
@pytest.mark.parametrize("curve", CURVES.values(), ids=CURVES.keys())
def test_curve_and_primaries_lead_where_littlecms_leads(space, curve):
    profile = formats.matrix_profile(space, curve)
    levels = np.random.default_rng(3).integers(40, 216, (4000, 3))
    # Colours inside sRGB, since littleCMS cuts off the others.
    light = np.stack([curve_of_profile(profile, 256)[c][levels[:, c]] for c in range(3)], axis=1)
    ours = light @ np.linalg.solve(formats.to_xyz50(formats.SRGB), formats.to_xyz50(space)).T
    inside = (ours > 0.001).all(axis=1) & (ours < 0.999).all(axis=1)
    assert inside.sum() > 200
    image = Image.fromarray(levels[None].astype(np.uint8))
    source = ImageCms.ImageCmsProfile(io.BytesIO(profile))
    theirs = ImageCms.profileToProfile(image, source, ImageCms.createProfile("sRGB"), outputMode="RGB")
    expected = np.asarray(theirs)[0].astype(float)
    assert np.abs(255 * srgb_encode(ours[inside]) - expected[inside]).max() < 2.0


def test_littlecms_own_srgb_is_read_as_srgb():
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    curve = curve_of_profile(profile, 256)
    np.testing.assert_allclose(srgb_encode(curve[0].astype(float)), np.arange(256) / 255, atol=1e-3)
