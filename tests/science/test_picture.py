import io
import struct
import subprocess
import zlib

import cv2
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image, ImageCms

from swatch.science.colour_math import srgb_decode
from swatch.science.picture import MOST_PIXELS, decode, preview_jpeg
from swatch.terms.problems import StudioProblem
from swatch.wording.problems_photo import NOTICES, PROBLEMS

# Four quarters: red, green over blue, white.
QUARTERS = np.zeros((80, 120, 3), np.uint8)
QUARTERS[:40, :60], QUARTERS[:40, 60:] = [200, 30, 30], [30, 180, 40]
QUARTERS[40:, :60], QUARTERS[40:, 60:] = [30, 40, 190], [240, 240, 240]


def coded(kind, pixels=QUARTERS, **more):
    out = io.BytesIO()
    Image.fromarray(pixels).save(out, kind, **more)
    return out.getvalue()


def refused(data, name="a.jpg"):
    with pytest.raises(StudioProblem) as caught:
        decode(data, name)
    problem = caught.value
    assert problem.where.photo == name
    said, next_step = PROBLEMS[problem.code]
    assert said.format(**problem.facts)
    assert next_step.format(**problem.facts)
    return problem


def empty_png(width, height):
    def chunk(name, body):
        return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(b"")) + chunk(b"IEND", b"")


@pytest.mark.parametrize(
    ("kind", "more"), [("JPEG", {"quality": 95}), ("PNG", {}), ("TIFF", {}), ("WEBP", {"quality": 95})]
)
def test_every_format_gives_the_same_upright_pixels(kind, more):
    picture = decode(coded(kind, **more), "a")
    assert picture.size == (120, 80)
    assert np.abs(picture.pixels[20, 30].astype(int) - [200, 30, 30]).max() < 12


def test_heic_is_read():
    pillow_heif = pytest.importorskip("pillow_heif")
    image = pillow_heif.from_pillow(Image.fromarray(QUARTERS))
    out = io.BytesIO()
    image.save(out, quality=90)
    picture = decode(out.getvalue(), "a.heic")
    assert picture.size == (120, 80)
    assert np.abs(picture.pixels[60, 30].astype(int) - [30, 40, 190]).max() < 25


@pytest.mark.parametrize("orientation", range(1, 9))
@pytest.mark.parametrize("kind", ["JPEG", "PNG", "TIFF", "WEBP"])
def test_the_orientation_is_applied_once(kind, orientation):
    # Store the picture so that a viewer who applies the tag sees QUARTERS.
    undo = {1: None, 2: 0, 3: 3, 4: 1, 5: 5, 6: 2, 7: 6, 8: 4}[orientation]
    stored = Image.fromarray(QUARTERS)
    if undo is not None:
        stored = stored.transpose(Image.Transpose(undo))
    exif = Image.Exif()
    exif[274] = orientation
    picture = decode(coded(kind, np.asarray(stored), exif=exif.tobytes()), "a")
    assert picture.size == (120, 80)
    for at in ((20, 30), (20, 90), (60, 30), (60, 90)):
        assert np.abs(picture.pixels[at].astype(int) - QUARTERS[at]).max() < 40


@pytest.mark.parametrize("extension", [".png", ".tiff"])
def test_sixteen_bits_are_kept(extension):
    deep = (np.arange(70 * 90 * 3).reshape(70, 90, 3) * 3 % 65536).astype(np.uint16)
    picture = decode(cv2.imencode(extension, deep[:, :, ::-1])[1].tobytes(), "a")
    assert picture.pixels.dtype == np.uint16
    np.testing.assert_array_equal(picture.pixels, deep)
    assert picture.curve.shape == (3, 65536)


def test_a_plain_photo_has_the_srgb_curve():
    picture = decode(coded("PNG"), "a")
    np.testing.assert_allclose(picture.curve[1], srgb_decode(np.arange(256) / 255), atol=1e-6)


def test_an_srgb_profile_gives_the_srgb_curve_and_native_values():
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    picture = decode(coded("PNG", icc_profile=profile), "a")
    np.testing.assert_array_equal(picture.pixels, QUARTERS)
    np.testing.assert_allclose(picture.curve[0], srgb_decode(np.arange(256) / 255), atol=2e-4)
    assert not picture.notices


def test_a_spoilt_profile_is_told():
    picture = decode(coded("PNG", icc_profile=b"\0" * 200), "a")
    assert [notice.code for notice in picture.notices] == ["photo-profile-unread"]
    assert picture.notices[0].code in NOTICES


def test_adobe_rgb_marked_only_in_exif_has_its_own_curve():
    exif = Image.Exif()
    exif.get_ifd(0x8769)[0xA005] = {1: "R03"}
    picture = decode(coded("JPEG", exif=exif.tobytes()), "a")
    assert picture.curve[0, 128] == pytest.approx((128 / 255) ** 2.19921875, abs=1e-4)


@pytest.mark.parametrize("share", [0.02, 0.5, 0.95])
@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "TIFF"])
def test_part_of_a_photo_is_broken(kind, share):
    noise = np.random.default_rng(1).integers(0, 255, (200, 200, 3), dtype=np.uint8)
    data = coded(kind, noise)
    assert refused(data[: int(share * len(data))]).code in ("photo-broken", "photo-not-a-photo", "photo-too-small")


def test_a_pdf_called_jpg_is_told_by_its_name():
    problem = refused(b"%PDF-1.7\n1 0 obj\n<<>>\nendobj\n%%EOF")
    assert (problem.code, problem.facts["kind"]) == ("photo-not-a-photo", "PDF")


def test_postscript_called_jpg_never_reaches_an_interpreter(monkeypatch):
    def no_process(*_args, **_more):
        raise AssertionError("a process was started")

    monkeypatch.setattr(subprocess, "Popen", no_process)
    monkeypatch.setattr(subprocess, "run", no_process)
    problem = refused(b"%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 100 100\nshowpage\n")
    assert (problem.code, problem.facts["kind"]) == ("photo-not-a-photo", "PostScript")


def test_a_huge_png_is_refused_before_it_is_decoded():
    problem = refused(empty_png(60_000, 60_000))
    assert problem.code == "photo-too-large"
    assert problem.facts["width"] == 60_000


def test_a_huge_webp_is_refused_before_it_is_opened():
    head = b"RIFF\x20\0\0\0WEBPVP8X\x0a\0\0\0\0\0\0\0" + (16382).to_bytes(3, "little") * 2
    assert MOST_PIXELS < 16383**2
    assert refused(head + b"VP8 \0\0\0\0").code == "photo-too-large"


def test_a_stamp_is_too_small():
    assert refused(coded("PNG", QUARTERS[:20, :20])).code == "photo-too-small"


def test_several_pictures_in_one_file_are_refused():
    frames = [Image.fromarray(np.roll(QUARTERS, k, axis=1)) for k in (0, 30)]
    out = io.BytesIO()
    frames[0].save(out, "WEBP", save_all=True, append_images=frames[1:])
    assert refused(out.getvalue()).code == "photo-animated"


@pytest.mark.parametrize(
    ("kind", "mode"), [("JPEG", "CMYK"), ("TIFF", "CMYK"), ("TIFF", "LAB"), ("JPEG", "L"), ("PNG", "L")]
)
def test_colours_that_do_not_lead_back_to_light_are_refused(kind, mode):
    out = io.BytesIO()
    image = Image.fromarray(QUARTERS)
    image = ImageCms.profileToProfile(
        image, ImageCms.createProfile("sRGB"), ImageCms.createProfile("LAB"), outputMode="LAB"
    ) if mode == "LAB" else image.convert(mode)  # fmt: skip
    image.save(out, kind)
    assert refused(out.getvalue()).code == "photo-colours-unusable"


@settings(max_examples=60, deadline=None)
@given(st.data())
def test_spoilt_bytes_are_a_picture_or_a_problem(data):
    kind = data.draw(st.sampled_from(["JPEG", "PNG", "WEBP", "TIFF"]))
    spoilt = bytearray(coded(kind))
    for _ in range(data.draw(st.integers(1, 6))):
        spoilt[data.draw(st.integers(0, len(spoilt) - 1))] = data.draw(st.integers(0, 255))
    try:
        picture = decode(bytes(spoilt), "a")
    except StudioProblem as problem:
        assert problem.code in PROBLEMS  # noqa: PT017  either end is right
    else:
        assert picture.pixels.shape[2] == 3


def test_a_preview_is_small_and_upright():
    small = cv2.imdecode(np.frombuffer(preview_jpeg(decode(coded("PNG"), "a"), 60), np.uint8), cv2.IMREAD_COLOR)
    assert small.shape == (40, 60, 3)
    assert np.abs(small[10, 15, ::-1].astype(int) - QUARTERS[20, 30]).max() < 20
