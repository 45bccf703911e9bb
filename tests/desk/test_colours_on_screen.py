from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PySide6.QtGui import QColorSpace

from swatch.desk.colours_on_screen import ScreenColours
from swatch.science.colour_math import srgb_decode, xyz_to_lab
from swatch.terms.colour import Lab
from swatch.terms.problems import StudioProblem

labs = st.tuples(st.floats(0, 100), st.floats(-120, 120), st.floats(-120, 120))


def profile(tmp_path, name):
    path = tmp_path / f"{name}.icc"
    path.write_bytes(QColorSpace(getattr(QColorSpace.NamedColorSpace, name)).iccProfile().data())
    return path


def test_published_srgb_colours_come_out_as_their_8_bit_values():
    # CIELAB (D50, Bradford) of sRGB's red, green, blue, white and black: memory.
    lab = [[54.29, 80.81, 69.89], [87.82, -79.27, 80.99], [29.57, 68.30, -112.03], [100.0, 0.0, 0.0], [0, 0, 0]]
    rgb, _fits = ScreenColours().rgb(lab)
    assert np.abs(rgb.astype(int) - [[255, 0, 0], [0, 255, 0], [0, 0, 255], [255] * 3, [0] * 3]).max() <= 2


@given(labs)
@settings(max_examples=60, deadline=None)
def test_what_the_screen_cannot_show_keeps_its_hue_and_lightness(lab):
    colours = ScreenColours()
    rgb, fits = colours.rgb([lab])
    back = _lab_of(rgb[0])
    if fits[0]:
        assert np.abs(back - np.array(lab)).max() < 1.6
        return
    assert abs(back[0] - lab[0]) < 1.6
    chroma = np.hypot(*back[1:])
    assert chroma <= np.hypot(*lab[1:]) + 0.5
    if chroma > 10:
        turn = np.degrees(np.arctan2(lab[2], lab[1]) - np.arctan2(back[2], back[1]))
        assert abs((turn + 180) % 360 - 180) < 8


def _lab_of(rgb):
    light = srgb_decode(rgb.astype(float) / 255)
    # The D50 matrix of sRGB, Bradford-adapted: ICC's sRGB profiles carry these columns.
    matrix = np.array([[0.43607, 0.38515, 0.14307], [0.22249, 0.71687, 0.06061], [0.01392, 0.09708, 0.71410]])
    return xyz_to_lab(light @ matrix.T)


def test_a_profile_of_srgb_draws_what_srgb_draws(tmp_path):
    lab = np.stack(np.meshgrid([20, 50, 80], [-60, -20, 0, 20, 60], [-60, 0, 60]), axis=-1).reshape(-1, 3)
    plain, through = ScreenColours(), ScreenColours()
    through.use_profile(profile(tmp_path, "SRgb"))
    a, fits_a = plain.rgb(lab)
    b, fits_b = through.rgb(lab)
    away = np.abs(a.astype(int) - b.astype(int))
    assert away[fits_a].max() <= 1
    assert away.max() <= 2
    # At the very edge of the gamut the two may differ in what rounding hides.
    assert (fits_a == fits_b).mean() > 0.9


def test_a_wider_screen_shows_more_and_is_named_in_the_footer(tmp_path):
    colours = ScreenColours()
    green = Lab(80.0, -90.0, 60.0)
    assert not colours.shown(green).in_gamut
    assert "sRGB" in colours.footer()
    colours.use_profile(profile(tmp_path, "DisplayP3"))
    assert colours.shown(green).in_gamut
    assert "P3" in colours.footer()
    colours.use_profile(None)
    assert not colours.shown(green).in_gamut


@pytest.mark.parametrize("content", [b"", b"not a profile", b"\0" * 400])
def test_a_file_that_is_no_profile_is_refused_and_nothing_changes(tmp_path, content):
    path = tmp_path / "screen.icc"
    path.write_bytes(content)
    colours = ScreenColours()
    with pytest.raises(StudioProblem, match="bad-screen-profile"):
        colours.use_profile(path)
    with pytest.raises(StudioProblem, match="bad-screen-profile"):
        colours.use_profile(tmp_path / "missing.icc")
    assert colours.profile == ""


def test_kept_colours_stay_bounded_and_right(monkeypatch):
    monkeypatch.setattr("swatch.desk.colours_on_screen._MOST_KEPT", 10)
    colours = ScreenColours()
    many = [Lab(float(k), 0.0, 0.0) for k in range(0, 100, 7)]
    colours.prepare(many)
    assert len(colours._kept) <= 15
    assert colours.shown(many[3]).colour.red() == colours.rgb([many[3]])[0][0, 0]
