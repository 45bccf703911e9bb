"""A studio to write in."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from swatch.library.studio import Studio


@pytest.fixture
def studio(tmp_path: Path) -> Iterator[Studio]:
    with Studio.create(tmp_path / "studio") as made:
        yield made
