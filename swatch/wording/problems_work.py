"""What is said of work that ended before its answer."""

from __future__ import annotations

from swatch.wording.text import _

PROBLEMS: dict[str, tuple[str, str]] = {
    "worker-died": (
        _("Reading this stopped the part of the program that reads files. Nothing was kept. {last_words}"),
        _("Leave this file out, or save it anew from the program it came from and try again."),
    ),
    "worker-out-of-memory": (
        _("This needs more memory than may be used for one job."),
        _("For a photo, save it smaller and try again."),
    ),
    "worker-silent": (
        _("This gave no sign for {seconds} seconds and was ended."),
        _("Leave this file out, or save it anew from the program it came from and try again."),
    ),
    "file-missing": (
        _("There is no such file."),
        _("Check its name and folder; a file on a phone or a stick has to be copied first."),
    ),
    "not-a-file": (
        _("This is a folder or a device, not a file."),
        _("Name the file itself."),
    ),
    "file-unreadable": (
        _("This file cannot be read: {reason}."),
        _("Check that you may read it and that its disk is there, then try again."),
    ),
    "file-too-large": (
        _("This file is larger than {most_mib} MiB."),
        _("Check that it is the right file; save a photo smaller and try again."),
    ),
    "file-not-written": (
        _("The file cannot be written: {reason}."),
        _("Choose another folder, or make room on the disk, and try again."),
    ),
}

NOTICES: dict[str, tuple[str, str]] = {}
