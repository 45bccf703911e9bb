"""What is said of the studio folder."""

from __future__ import annotations

from swatch.wording.text import _  # noqa: F401

PROBLEMS: dict[str, tuple[str, str]] = {}

NOTICES: dict[str, tuple[str, str]] = {}
