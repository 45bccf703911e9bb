"""What is said of files that come in."""

from __future__ import annotations

from swatch.wording.text import _  # noqa: F401

PROBLEMS: dict[str, tuple[str, str]] = {}

NOTICES: dict[str, tuple[str, str]] = {}
