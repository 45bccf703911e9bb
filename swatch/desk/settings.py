"""What the program remembers of its user, not of the studio: recent studios, window sizes, scheme."""

from __future__ import annotations

import contextlib
import json
import os
from pathlib import Path
from typing import Any

MOST_RECENT = 8
DEMO_NAME = "Demo studio"


def settings_folder() -> Path:
    """Where the user's settings are; ``SWATCH_CONFIG_DIR`` moves them."""
    if moved := os.environ.get("SWATCH_CONFIG_DIR"):
        return Path(moved)
    import platformdirs

    return Path(platformdirs.user_config_dir("swatch", appauthor=False))


def demo_folder() -> Path:
    """Where the demo studio is built unless another place is named."""
    return settings_folder() / DEMO_NAME


class Settings:
    """A small JSON file; one that cannot be read counts as empty, since nothing in it is a record."""

    def __init__(self, folder: Path | None = None) -> None:
        self._file = (folder or settings_folder()) / "window.json"
        self._values: dict[str, Any] = {}
        try:
            read = json.loads(self._file.read_text(encoding="utf-8"))
        except (OSError, ValueError):
            return
        if isinstance(read, dict):
            self._values = read

    def text(self, name: str, otherwise: str = "") -> str:
        """A remembered text."""
        value = self._values.get(name)
        return value if isinstance(value, str) else otherwise

    def put(self, name: str, value: str | int | float | bool | None) -> None:
        """Remember one value at once; a folder that cannot be written costs only the memory."""
        if self._values.get(name) == value:
            return
        self._values[name] = value
        self._write()

    @property
    def recent(self) -> tuple[Path, ...]:
        """Studios opened lately, newest first, those that still exist."""
        found = self._values.get("recent")
        paths = [Path(path) for path in found if isinstance(path, str)] if isinstance(found, list) else []
        return tuple(path for path in paths if path.is_dir())

    def opened(self, folder: Path) -> None:
        """Put one studio at the head of the recent ones."""
        others = [path for path in self.recent if path != folder]
        self._values["recent"] = [str(path) for path in [folder, *others][:MOST_RECENT]]
        self._write()

    def _write(self) -> None:
        unfinished = self._file.with_name(f".{self._file.name}.{os.getpid()}")
        try:
            self._file.parent.mkdir(parents=True, exist_ok=True)
            unfinished.write_text(json.dumps(self._values, ensure_ascii=False, indent=1), encoding="utf-8")
            unfinished.replace(self._file)
        except OSError:
            with contextlib.suppress(OSError):
                unfinished.unlink(missing_ok=True)
