"""Camera and time from EXIF, as cameras write it and as spoilt files have it."""

import io

import pytest
from PIL import Image

from bench.painted import jpeg_of, paint
from swatch.science.measuring import decode
from swatch.terms.measured import Taken

PHOTO = Image.open(io.BytesIO(jpeg_of(paint(size=(480, 360)))))


def decoded(**tags):
    exif = Image.Exif()
    for number, value in tags.get("main", {}).items():
        exif[number] = value
    for number, value in tags.get("more", {}).items():
        exif.get_ifd(0x8769)[number] = value
    out = io.BytesIO()
    PHOTO.save(out, "JPEG", exif=exif, quality=90)
    return decode(out.getvalue(), "a.jpg").taken


@pytest.mark.parametrize(
    ("main", "more", "taken"),
    [
        (
            {271: "Ferrotype", 272: "Two"},
            {36867: "2031:04:02 09:05:07"},
            Taken("Ferrotype Two", "2031-04-02T09:05:07"),
        ),
        ({271: "Ferrotype", 272: "Ferrotype Two"}, {}, Taken("Ferrotype Two", None)),
        ({306: "2031:04:02 09:05:07"}, {}, Taken(None, "2031-04-02T09:05:07")),
        ({272: "Two\0\x07" + "x" * 200}, {36867: "2031:13:41 09:05:07"}, Taken("Two " + "x" * 56, None)),
        ({272: "   "}, {36867: "yesterday"}, None),
        ({}, {}, None),
    ],
)
def test_camera_and_time(main, more, taken):
    assert decoded(main=main, more=more) == taken
