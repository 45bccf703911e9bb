"""Which studio a command speaks of: the one named, else the last one used."""

from __future__ import annotations

import argparse
from pathlib import Path

from swatch.desk.settings import Settings
from swatch.terms.problems.files import no_studio_named


def folder_of(args: argparse.Namespace) -> Path:
    """The studio's folder.

    Raises
    ------
    StudioProblem
        ``no-studio-named``: none is named, and none has been used that is still there.
    """
    if args.studio is not None:
        return Path(args.studio)
    recent = Settings().recent
    if not recent:
        raise no_studio_named()
    return recent[0]


def remember(folder: Path) -> None:
    """Make `folder` the last studio used."""
    absolute = folder.resolve()
    settings = Settings()
    if settings.recent[:1] != (absolute,):
        settings.opened(absolute)
