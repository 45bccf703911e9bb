"""The program killed while it keeps photos, at every step: what was acknowledged is there, nothing is half."""

from __future__ import annotations

import hashlib
import json
import os
import random
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from swatch.library.file import FILE_NAME
from swatch.library.originals import PHOTOS, path_of, strays
from swatch.library.studio import Studio

CHILD = Path(__file__).with_name("keeping_killed.py")
SIZES = (3, 2)
"""Readings of each change the child makes."""
BATCH = 40
SHARES = 4
"""Parts the steps are tried in, so that they can run beside each other."""
LIGHTNESS = ((40.0, 40.0, 41.0), (42.0, 43.0))

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="a job dies in a forked process")


@pytest.fixture
def ground(tmp_path: Path) -> Iterator[Path]:
    """A studio with two stray files in it, and three photos beside it.

    In memory where that can be had: a process that dies loses nothing the system has, so no disk is needed.
    """
    memory = Path("/dev/shm")
    where = memory if memory.is_dir() and os.access(memory, os.W_OK) else tmp_path
    with tempfile.TemporaryDirectory(dir=where, prefix="swatch-killed-") as folder:
        _lay_out(Path(folder))
        yield Path(folder)


def _lay_out(tmp_path: Path) -> None:
    photos = tmp_path / "photos"
    photos.mkdir()
    for name in "abc":
        (photos / f"{name}.jpg").write_bytes(random.Random(name).randbytes(30_000))
    Studio.create(tmp_path / "studio").close()
    (tmp_path / "studio" / PHOTOS / "0123456789abcdef.part").write_bytes(b"half a pho")
    folder = tmp_path / "studio" / PHOTOS / "aa"
    folder.mkdir()
    (folder / ("a" * 64 + ".jpg")).write_bytes(b"nobody speaks of me")


def jobs_at(ground: Path, dying: list[tuple[int, float]]) -> list[Path]:
    """Run the child once for each way of dying, in a fresh copy of the studio each time."""
    jobs, folders = [], []
    for k, (die_at, die_after) in enumerate(dying):
        folder = ground / f"killed_{k}"
        shutil.copytree(ground / "studio", folder / "studio")
        folders.append(folder)
        jobs.append(
            {
                "folder": str(folder / "studio"),
                "photos": str(ground / "photos"),
                "acknowledged": str(folder / "acknowledged"),
                "die_at": die_at,
                "die_after": die_after,
            }
        )
    (ground / "jobs.json").write_text(json.dumps(jobs))
    subprocess.run([sys.executable, str(CHILD), str(ground / "jobs.json")], check=True, timeout=300)
    return folders


def acknowledged(folder: Path) -> tuple[list[list[int]], str | None]:
    path = folder / "acknowledged"
    lines = path.read_text().splitlines() if path.exists() else []
    done = next((line for line in lines if line.startswith("done")), None)
    return [json.loads(line) for line in lines if not line.startswith("done")], done


def check(folder: Path, photos: dict[str, bytes]) -> int:
    """Open what was left behind and hold it against what was acknowledged; return the changes found."""
    acks, _ = acknowledged(folder)
    with Studio.open(folder / "studio") as studio:
        assert studio.verify(deep=True) == []
        sql = studio.file.sql
        assert list(strays(studio.folder, sql)) == []
        rows = sql.execute(
            "SELECT reading.id, L, photo.sha256, suffix FROM reading JOIN shot ON shot.id = shot_id "
            "JOIN photo ON photo.id = photo_id ORDER BY reading.id"
        ).fetchall()
        assert sql.execute("SELECT count(*) FROM reading").fetchone() == (len(rows),)
        # Whole changes only: those acknowledged, and at most the one that was under way when the end came.
        whole = [sum(SIZES[:n]) for n in range(len(SIZES) + 1)]
        assert len(rows) in whole[len(acks) : len(acks) + 2]
        found = whole.index(len(rows))
        assert [row[1] for row in rows] == [light for change in LIGHTNESS[:found] for light in change]
        assert [row[0] for row in rows][: sum(map(len, acks))] == [one for ack in acks for one in ack]
        kept = {path_of(studio.folder, sha, suffix): sha for _, _, sha, suffix in rows}
        for path, sha in kept.items():
            assert path.read_bytes() == photos[sha]
        stored = {path for path in (studio.folder / PHOTOS).rglob("*") if path.is_file()}
        assert stored == set(kept)
        assert len(studio.evidence().readings) == (0, 3, 4)[found]
    assert sorted(p.name for p in (folder / "studio").iterdir() if p.is_file()) == [
        FILE_NAME.replace(".sqlite", ".seal"),
        FILE_NAME,
        "writer.lock",
    ]
    return found


@pytest.mark.parametrize("share", range(SHARES))
def test_killed_at_every_counted_step(ground, share):
    photos = {hashlib.sha256(p.read_bytes()).hexdigest(): p.read_bytes() for p in (ground / "photos").iterdir()}
    (whole,) = jobs_at(ground, [(0, 0.0)])
    _, done = acknowledged(whole)
    assert done is not None
    steps, lasted = int(done.split()[1]), float(done.split()[3])
    assert check(whole, photos) == 2
    shutil.rmtree(whole)
    rng = random.Random(5)
    # Where SQLite's own writes cannot be counted there are fewer steps; ends at any moment fill the hundred.
    moments = [(0, rng.uniform(0.02, 1.0) * lasted) for _ in range(max(15, 100 - steps))]
    dying = [(k, 0.0) for k in range(1, steps + 1)] + moments
    assert len(dying) >= 100
    dying = dying[share::SHARES]
    found = []
    for start in range(0, len(dying), BATCH):
        batch = dying[start : start + BATCH]
        for folder, (die_at, _) in zip(jobs_at(ground, batch), batch):
            if die_at:
                assert acknowledged(folder)[1] is None, f"nobody died at step {die_at}"
            found.append(check(folder, photos))
            shutil.rmtree(folder)
    assert set(found) == {0, 1, 2}
    for path in (ground / "photos").iterdir():
        assert photos[hashlib.sha256(path.read_bytes()).hexdigest()]
