"""Which camera took a photo, and when, from its EXIF: told only, never relied on; spoilt EXIF says nothing."""

from __future__ import annotations

import re
from datetime import datetime
from typing import Any

from swatch.terms.measured import Taken

_MAKE, _MODEL, _DATE, _EXIF_IFD, _DATE_ORIGINAL = 271, 272, 306, 0x8769, 36867
_TIME = re.compile(r"(\d{4}):(\d\d):(\d\d) (\d\d):(\d\d):(\d\d)")
_LONGEST = 60


def taken_from(exif: Any) -> Taken | None:
    """Camera and time from Pillow's EXIF; None where it says neither.

    The time is that of the camera's clock, without a zone.

    References
    ----------
    CIPA DC-008 (Exif 2.32), tags Make, Model, DateTime and DateTimeOriginal.
    """
    make, model = (_plain(exif.get(tag)) for tag in (_MAKE, _MODEL))
    camera = model if make and model.casefold().startswith(make.casefold()) else f"{make} {model}".strip()
    at = _time(exif.get_ifd(_EXIF_IFD).get(_DATE_ORIGINAL)) or _time(exif.get(_DATE))
    return Taken(camera or None, at) if camera or at else None


def _plain(value: object) -> str:
    if isinstance(value, bytes):
        value = value.decode("ascii", "replace")
    if not isinstance(value, str):
        return ""
    return " ".join("".join(c if c.isprintable() and c != "\ufffd" else " " for c in value).split())[
        :_LONGEST
    ].strip()


def _time(value: object) -> str | None:
    found = _TIME.match(_plain(value))
    if found is None:
        return None
    try:
        return datetime(*(int(part) for part in found.groups())).isoformat()  # type: ignore[arg-type]
    except ValueError:
        return None
