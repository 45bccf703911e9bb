"""From the bytes of a photo to its pixels: hostile bytes in, upright pixels and their tone curve out.

Runs in a worker process only. No decoder is asked to guess what a file is: the kind is told from its first
bytes, and only that one decoder sees it, after the size it claims has been checked.
"""

from __future__ import annotations

import io
import struct
import warnings
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import cv2
import numpy as np
from numpy.typing import NDArray

from swatch.science.colour_math import FloatArray
from swatch.science.exif_seen import taken_from
from swatch.science.file_kind import PHOTO_KINDS, file_kind, jpeg_scans, webp_size
from swatch.science.heard import heard_on_standard_error
from swatch.science.icc import curve_of_gamma, curve_of_profile, curve_of_srgb, primaries_of_profile
from swatch.science.raw import dng_pixels
from swatch.science.torn import is_torn
from swatch.terms.measured import Taken
from swatch.terms.problems import Notice, StudioProblem, Where
from swatch.terms.problems.photo import (
    photo_animated,
    photo_broken,
    photo_colours_unusable,
    photo_not_a_photo,
    photo_too_large,
    photo_too_narrow,
    photo_too_small,
)

if TYPE_CHECKING:
    from PIL import Image

MOST_PIXELS = 120_000_000
MOST_PIXELS_OF = {"PNG": 100_000_000, "TIFF": 100_000_000, "HEIC": 80_000_000, "WEBP": 50_000_000}
"""Less where the decoder takes more memory than the picture."""
MOST_DEEP_PIXELS = 60_000_000
"""Of 16 bits a channel."""
LONGEST_SIDE = 30_000
SHORTEST_SIDE = 64
NARROWEST = 12
"""Longest side over the shortest, beyond which no card and tile lie side by side."""
MOST_SCANS = 30
"""A progressive JPEG has about ten; each costs as much time as the whole picture."""
_BAND_ROWS = 512
_ORIENTATION, _COLOUR_SPACE_INTEROP = 274, 0x0001
_ADOBE_RGB_GAMMA = 563 / 256
_DECODERS_RAISE = (
    OSError,
    SyntaxError,
    ValueError,
    RuntimeError,
    struct.error,
    EOFError,
    IndexError,
    KeyError,
    TypeError,
)
"""What Pillow's readers raise on spoilt bytes; only ever caught around a single call of theirs."""
_JPEG_DAMAGED = (b"premature end", b"bad Huffman", b"bad progressive", b"Inconsistent progression", b"Invalid SOS")
"""What libjpeg says of a picture it made up in part; bytes too many before a mark are common and harmless."""


@dataclass(frozen=True, slots=True)
class Picture:
    """A photo as seen: orientation applied, channels red, green, blue, in the photo's own primaries.

    ``pixels`` is (height, width, 3) of 8 or 16 bits; ``curve`` is (3, 256 or 65536) linear light of each level.
    ``to_xyz`` (3, 3) leads from linear light to XYZ, D50, as the profile states it; None where it is sRGB.
    """

    name: str
    pixels: NDArray[Any]
    curve: FloatArray
    notices: tuple[Notice, ...] = ()
    to_xyz: FloatArray | None = None
    taken: Taken | None = None

    @property
    def size(self) -> tuple[int, int]:
        """Width and height in pixels."""
        return int(self.pixels.shape[1]), int(self.pixels.shape[0])

    @property
    def top(self) -> int:
        """The highest level a pixel can have."""
        return 255 if self.pixels.dtype == np.uint8 else 65535


def decode(data: bytes, name: str, *, quick: bool = False) -> Picture:
    """Decode a photo whose bytes nobody vouches for.

    Parameters
    ----------
    data : bytes
        A JPEG, PNG (8 or 16 bits), TIFF, WebP, HEIC or DNG file.
    name : str
        What the photo is called; only told in problems.
    quick : bool
        Half the size is enough where that is quicker (a camera's raw).

    Raises
    ------
    StudioProblem
        ``photo-not-a-photo``, ``photo-broken``, ``photo-too-large``, ``photo-too-small``,
        ``photo-too-narrow``, ``photo-animated``, ``photo-colours-unusable``, ``photo-raw-unread``.
    """
    try:
        return _decode(data, name, quick)
    except StudioProblem as problem:
        raise problem.at(Where(photo=name)) from problem.__cause__


def preview_rgb(picture: Picture, long_side: int) -> NDArray[np.uint8]:
    """The photo as 8-bit RGB, shrunk until its longer side is at most `long_side` pixels."""
    return eight_bits(shrunk(picture.pixels, long_side))


def preview_jpeg(picture: Picture, long_side: int) -> bytes:
    """The photo as the bytes of an upright JPEG, its longer side at most `long_side` pixels."""
    fine, coded = cv2.imencode(".jpg", preview_rgb(picture, long_side)[:, :, ::-1], [cv2.IMWRITE_JPEG_QUALITY, 90])
    if not fine:
        raise RuntimeError("the preview could not be coded")
    return coded.tobytes()


def shrunk(pixels: NDArray[Any], long_side: int) -> NDArray[Any]:
    """Average pixels down until the longer side is at most `long_side`; never enlarges."""
    while max(pixels.shape[:2]) >= 2 * long_side:
        # Halving is many times faster than other ratios; an odd last row or column is left out.
        high, wide = pixels.shape[0] // 2, pixels.shape[1] // 2
        pixels = cv2.resize(pixels[: 2 * high, : 2 * wide], (wide, high), interpolation=cv2.INTER_AREA)
    scale = long_side / max(pixels.shape[:2])
    if scale >= 1:
        return pixels
    size = (max(1, round(pixels.shape[1] * scale)), max(1, round(pixels.shape[0] * scale)))
    return np.asarray(cv2.resize(pixels, size, interpolation=cv2.INTER_AREA))


def lowest(channels: NDArray[Any]) -> NDArray[Any]:
    """The smallest of the three channels (..., 3); many times faster than reducing an axis of three."""
    return np.asarray(np.minimum(np.minimum(channels[..., 0], channels[..., 1]), channels[..., 2]))


def highest(channels: NDArray[Any]) -> NDArray[Any]:
    """The largest of the three channels (..., 3)."""
    return np.asarray(np.maximum(np.maximum(channels[..., 0], channels[..., 1]), channels[..., 2]))


def eight_bits(pixels: NDArray[Any]) -> NDArray[np.uint8]:
    """8-bit levels of an 8- or 16-bit picture."""
    return pixels if pixels.dtype == np.uint8 else (pixels >> 8).astype(np.uint8)


def _decode(data: bytes, name: str, quick: bool) -> Picture:
    kind = file_kind(data)
    if kind not in PHOTO_KINDS:
        raise photo_not_a_photo(kind)
    if kind == "DNG":
        deep_pixels = dng_pixels(data, lambda size: _check_size(size, kind, MOST_DEEP_PIXELS), half=quick)
        return Picture(name, deep_pixels, curve_of_srgb(65536))
    if kind == "WEBP":
        # The WebP decoder takes memory for the whole canvas as soon as it is opened.
        _check_size(webp_size(data) or _broken(kind), kind)
    with _opened(data, kind) as image:
        _check_size(image.size, kind)
        _check_colours(image, kind)
        deep = _bits(data, image, kind) == 16
        if deep:
            _check_size(image.size, kind, MOST_DEEP_PIXELS)
        coded = None if deep or kind == "JPEG" else _eight_bit_pixels(image, kind)
        # The HEIC and TIFF decoders have applied the orientation; so has cv2 for TIFF.
        orientation, adobe_rgb, taken = _exif(image)
        profile = image.info.get("icc_profile")
    # Only now, so that the opened file's own memory is given back before there are copies.
    pixels = coded if coded is not None else _sixteen_bit_pixels(data, kind) if deep else _jpeg_pixels(data)
    del coded
    upright = pixels if kind in ("HEIC", "TIFF") else _turned(pixels, orientation)
    pixels, curve, notices = _with_curve(upright, profile, adobe_rgb)
    to_xyz = primaries_of_profile(profile) if profile else None
    return Picture(name, np.ascontiguousarray(pixels), curve, notices, to_xyz, taken)


def _broken(kind: str) -> Any:
    raise photo_broken(kind)


def _opened(data: bytes, kind: str) -> Image.Image:
    """Open with exactly one decoder; nothing is decoded yet."""
    from PIL import Image

    # Sizes are checked here by our own limit, which Pillow's would pre-empt without telling the size.
    limit, Image.MAX_IMAGE_PIXELS = Image.MAX_IMAGE_PIXELS, None
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            if kind == "HEIC":
                import pillow_heif

                pillow_heif.register_heif_opener(thumbnails=False)
                return Image.open(io.BytesIO(data), formats=["HEIF"])
            return Image.open(io.BytesIO(data), formats=[kind])
    except _DECODERS_RAISE as error:
        raise photo_broken(kind) from error
    finally:
        Image.MAX_IMAGE_PIXELS = limit


def _check_size(size: tuple[int, int], kind: str, most: int = MOST_PIXELS) -> None:
    wide, high = size
    most = min(most, MOST_PIXELS_OF.get(kind, MOST_PIXELS))
    if wide * high > most or max(size) > LONGEST_SIDE:
        raise photo_too_large(width=wide, height=high, most_megapixels=most // 1_000_000)
    if min(size) < SHORTEST_SIDE:
        raise photo_too_small(width=wide, height=high)
    if max(size) > NARROWEST * min(size):
        raise photo_too_narrow(width=wide, height=high)


def _several(image: Image.Image, kind: str) -> bool:
    """Whether the file holds further pictures; their number is not asked for, since counting may take for ever."""
    try:
        if kind != "TIFF":
            return int(getattr(image, "n_frames", 1)) > 1
        image.seek(1)
        image.seek(0)
    except EOFError:
        return False
    except _DECODERS_RAISE as error:
        raise photo_broken(kind) from error
    return True


def _exif(image: Image.Image) -> tuple[int, bool, Taken | None]:
    """Orientation, 1 to 8, whether it is marked as Adobe RGB (1998), camera and time; spoilt EXIF says nothing."""
    try:
        exif = image.getexif()
        orientation = exif.get(_ORIENTATION, 1)
        adobe_rgb = exif.get_ifd(0xA005).get(_COLOUR_SPACE_INTEROP) == "R03"
        return orientation, adobe_rgb, taken_from(exif)
    except _DECODERS_RAISE:
        return 1, False, None


def _check_colours(image: Image.Image, kind: str) -> None:
    # A JPEG may carry further pictures (a gain map, a second lens); the first is the photo.
    if kind not in ("JPEG", "HEIC") and _several(image, kind):
        raise photo_animated()
    # A film's curves (ITU-T H.273: 16 is PQ, 18 is HLG) depend on the screen; still photos use the sRGB curve.
    told: Any = image.info.get("nclx_profile") or {}
    if told.get("transfer_characteristics") in (16, 18) and not image.info.get("icc_profile"):
        raise photo_colours_unusable("HDR")
    if image.mode in ("RGB", "RGBA", "RGBX", "P"):
        return
    ways = {"CMYK": "CMYK", "YCbCr": "YCbCr", "LAB": "Lab", "HSV": "HSV"}
    raise photo_colours_unusable(ways.get(image.mode, "grey"))


def _bits(data: bytes, image: Image.Image, kind: str) -> int:
    if kind == "PNG":
        return data[24]
    if kind == "TIFF":
        told: Any = getattr(image, "tag_v2", {}).get(258, (8,))
        bits = int(told[0] if isinstance(told, tuple) else told)
        if bits > 16:
            raise photo_colours_unusable(f"{bits} bit")
        return bits
    return 8


def _eight_bit_pixels(image: Image.Image, kind: str) -> NDArray[np.uint8]:
    from PIL import Image

    limit, Image.MAX_IMAGE_PIXELS = Image.MAX_IMAGE_PIXELS, None
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            image.load()
            # Band by band: Pillow copies all that it makes an array of at once, and all that it converts.
            pixels = np.empty((image.height, image.width, 3), np.uint8)
            for top in range(0, image.height, _BAND_ROWS):
                band = image.crop((0, top, image.width, min(top + _BAND_ROWS, image.height)))
                pixels[top : top + band.height] = np.asarray(band if band.mode == "RGB" else band.convert("RGB"))
            return pixels
    except _DECODERS_RAISE as error:
        raise photo_broken(kind) from error
    finally:
        Image.MAX_IMAGE_PIXELS = limit


def _jpeg_pixels(data: bytes) -> NDArray[np.uint8]:
    # cv2 decodes a JPEG twice as fast as Pillow gives an array, but fills up a file that ends too soon or is
    # damaged within, and says so on standard error only.
    flags = cv2.IMREAD_COLOR_RGB | cv2.IMREAD_IGNORE_ORIENTATION
    try:
        with heard_on_standard_error() as said:
            sound = 1 <= jpeg_scans(data) <= MOST_SCANS
            pixels = cv2.imdecode(np.frombuffer(data, np.uint8), flags) if sound else None
    except cv2.error as error:
        raise photo_broken("JPEG") from error
    if pixels is None or any(sign in said.text for sign in _JPEG_DAMAGED) or is_torn(pixels):
        raise photo_broken("JPEG")
    return np.asarray(pixels)


def _sixteen_bit_pixels(data: bytes, kind: str) -> NDArray[np.uint16]:
    # Pillow gives 8 bits of a 16-bit RGB picture without a word.
    try:
        pixels = cv2.imdecode(np.frombuffer(data, np.uint8), cv2.IMREAD_UNCHANGED)
    except cv2.error as error:
        raise photo_broken(kind) from error
    if pixels is None or pixels.dtype != np.uint16 or pixels.ndim != 3:
        raise photo_broken(kind)
    return np.ascontiguousarray(pixels[:, :, 2::-1])


def _turned(pixels: NDArray[Any], orientation: int) -> NDArray[Any]:
    """Apply the EXIF orientation, 1 to 8."""
    if orientation in (5, 6, 7, 8):
        pixels = pixels.transpose(1, 0, 2)
    if orientation in (2, 3, 6, 7):
        pixels = pixels[:, ::-1]
    if orientation in (3, 4, 7, 8):
        pixels = pixels[::-1]
    return pixels


def _with_curve(
    pixels: NDArray[Any], profile: bytes | None, adobe_rgb: bool
) -> tuple[NDArray[Any], FloatArray, tuple[Notice, ...]]:
    levels = 256 if pixels.dtype == np.uint8 else 65536
    if not profile:
        # Cameras mark Adobe RGB (1998) in EXIF, without a profile (DCF 2.0).
        return pixels, curve_of_gamma(_ADOBE_RGB_GAMMA, levels) if adobe_rgb else curve_of_srgb(levels), ()
    curve = curve_of_profile(profile, levels)
    if curve is not None:
        return pixels, curve, ()
    if levels == 256 and (converted := _through_profile(pixels, profile)) is not None:
        return converted, curve_of_srgb(levels), ()
    return pixels, curve_of_srgb(levels), (Notice("photo-profile-unread"),)


def _through_profile(pixels: NDArray[np.uint8], profile: bytes) -> NDArray[np.uint8] | None:
    """Convert to sRGB through a profile that holds tables rather than a matrix; None where it cannot be used."""
    from PIL import Image, ImageCms

    try:
        source = ImageCms.ImageCmsProfile(io.BytesIO(profile))
        image = ImageCms.profileToProfile(
            Image.fromarray(np.ascontiguousarray(pixels)), source, ImageCms.createProfile("sRGB"), outputMode="RGB"
        )
    except (ImageCms.PyCMSError, OSError, ValueError, TypeError):
        return None
    return None if image is None else np.asarray(image)
