"""What the window needs of a bare Linux: looked for before Qt is loaded, which would abort the process instead."""

from __future__ import annotations

import ctypes
import os
import sys
from collections.abc import Callable

from swatch.wording.text import _, say

_ALWAYS = {
    "libGL.so.1": "libgl1",
    "libEGL.so.1": "libegl1",
    "libxkbcommon.so.0": "libxkbcommon0",
    "libglib-2.0.so.0": "libglib2.0-0",
    "libfontconfig.so.1": "libfontconfig1",
    "libdbus-1.so.3": "libdbus-1-3",
}
_ON_X = {
    "libxkbcommon-x11.so.0": "libxkbcommon-x11-0",
    "libxcb-cursor.so.0": "libxcb-cursor0",
    "libxcb-icccm.so.4": "libxcb-icccm4",
    "libxcb-keysyms.so.1": "libxcb-keysyms1",
    "libxcb-shape.so.0": "libxcb-shape0",
}
"""Shared libraries and the Debian packages that hold them, as found by starting the window on a bare Debian."""


def has_display() -> bool:
    """Whether a window can be shown: always, but on Linux without a display that answers.

    Qt would abort the process where the display named is not there, as after a broken remote login.
    """
    if not sys.platform.startswith("linux"):
        return True
    if not any(os.environ.get(name) for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")):
        return False
    return not _draws_on_x() or _x_answers()


def missing_packages(loads: Callable[[str], bool] | None = None) -> tuple[str, ...]:
    """Debian packages that the window needs here and that are not there."""
    if not sys.platform.startswith("linux"):
        return ()
    wanted = dict(_ALWAYS)
    if _draws_on_x():
        wanted |= _ON_X
    loads = loads or _loads
    return tuple(package for library, package in wanted.items() if not loads(library))


def say_what_is_missing() -> bool:
    """Say on standard error what keeps the window from opening; gives whether nothing does."""
    if not has_display():
        text = _(
            "There is no display that a window can open on. Start it from a desktop, or use the commands: "
            "swatch --help lists them."
        )
        print(f"swatch: {say(text)}", file=sys.stderr)
        return False
    packages = missing_packages()
    if packages:
        text = _("The window needs libraries that this system does not have. Install them, as root:")
        font = _("A system that shows no text at all also needs a font, such as fonts-dejavu-core.")
        print(
            f"swatch: {say(text)}\n  apt-get install {' '.join(packages)}\n{say(font)}",
            file=sys.stderr,
        )
        return False
    return True


def _draws_on_x() -> bool:
    asked = os.environ.get("QT_QPA_PLATFORM", "")
    if asked:
        return asked.split(":")[0] == "xcb"
    return bool(os.environ.get("DISPLAY")) and not os.environ.get("WAYLAND_DISPLAY")


def _x_answers() -> bool:
    """Whether the display of X that is named takes a connection; True where that cannot be found out."""
    try:
        xcb = ctypes.CDLL("libxcb.so.1")
    except OSError:
        return True
    xcb.xcb_connect.restype = ctypes.c_void_p
    connection = ctypes.c_void_p(xcb.xcb_connect(None, None))
    failed = xcb.xcb_connection_has_error(connection)
    xcb.xcb_disconnect(connection)
    return int(failed) == 0


def _loads(library: str) -> bool:
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True
