"""The only way to a file in resources/ or demo_tiles/, in a checkout or in an installed wheel."""

from __future__ import annotations

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def _folder(checkout_name: str, wheel_name: str) -> Path:
    in_wheel = _PACKAGE / wheel_name
    return in_wheel if in_wheel.is_dir() else _PACKAGE.parent / checkout_name


def resource(*parts: str) -> Path:
    """Path of a shipped file, such as ``resource("cards", "rendition-24.json")``."""
    return _folder("resources", "_resources").joinpath(*parts)


def demo_tiles() -> Path:
    """Folder of the demo studio's photos and tables."""
    return _folder("demo_tiles", "_demo_tiles")
