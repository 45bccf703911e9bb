import pytest
from hypothesis import given
from hypothesis import strategies as st

from swatch.science.file_kind import file_kind, webp_size


@pytest.mark.parametrize(
    ("data", "kind"),
    [
        (b"", "empty"),
        (b"\0" * 400, "empty"),
        (b"\xff\xd8\xff\xe0rest", "JPEG"),
        (b"\x89PNG\r\n\x1a\n....", "PNG"),
        (b"%PDF-1.7\n", "PDF"),
        (b"junk before\n%PDF-1.4\n", "PDF"),
        (b"%!PS-Adobe-3.0 EPSF-3.0\n", "PostScript"),
        (b"\xc5\xd0\xd3\xc6 binary", "PostScript"),
        (b"\x04%!PS-Adobe", "PostScript"),
        (b"GIF89a", "GIF"),
        (b"<svg xmlns='x'/>", "web page or drawing"),
        (b"tile,L,a,b\n1,2,3,4\n", "text"),
        (b"RIFF\0\0\0\0WAVE", "sound or film"),
        (b"\0\0\0\x18ftypheic\0\0\0\0mif1heic", "HEIC"),
        (b"\0\0\0\x18ftypavif\0\0\0\0mif1avif", "AVIF"),
        (b"\0\0\0\x18ftypisom\0\0\0\0isomavc1", "film"),
        (b"II*\0\x08\0\0\0\x01\0\x12\xc6\x01\0\x04\0\0\0\x01\x04\0\0", "DNG"),
        (b"II*\0\x08\0\0\0\x01\0\x00\x01\x03\0\x01\0\0\0\x10\0\0\0", "TIFF"),
    ],
)
def test_a_file_is_told_by_its_first_bytes(data, kind):
    assert file_kind(data) == kind


@given(st.binary(max_size=300))
def test_any_bytes_are_something(data):
    assert file_kind(data)
    webp_size(data)
