"""The whole studio out and back; anything else called a backup is refused and leaves nothing."""

from __future__ import annotations

import json
import zipfile
from pathlib import Path

import pytest
from kept_by_hand import photo_in, read_of

from swatch.library import backup
from swatch.library.file import FILE_NAME
from swatch.library.originals import PHOTOS
from swatch.library.studio import Studio
from swatch.terms.problems import StudioProblem


@pytest.fixture
def saved(studio: Studio, tmp_path: Path) -> Path:
    """A backup of a studio with two photos."""
    for name in "ab":
        studio.keep_shot(*read_of(photo_in(tmp_path, f"{name}.jpg"), **{f"T{name}": 50.0}))
    size = studio.backup(tmp_path / "out.zip")
    assert size == (tmp_path / "out.zip").stat().st_size
    return tmp_path / "out.zip"


def test_a_restored_studio_is_the_same(studio, saved, tmp_path):
    backup.restore(saved, tmp_path / "new" / "place")
    with Studio.open(tmp_path / "new" / "place") as restored:
        assert restored.evidence() == studio.evidence()
        assert restored.verify() == []
        stored = [sorted(p.name for p in (s.folder / PHOTOS).rglob("*.jpg")) for s in (studio, restored)]
        assert stored[0] == stored[1]
    assert sorted(path.name for path in tmp_path.iterdir() if "part" in path.name) == []


def test_a_backup_can_be_made_while_another_writes(studio, saved, tmp_path):
    with Studio.look(studio.folder) as looking:
        looking.backup(tmp_path / "again.zip")
    backup.restore(tmp_path / "again.zip", tmp_path / "copy")
    with Studio.look(tmp_path / "copy") as copy:
        assert len(copy.evidence().readings) == 2


def test_a_backup_of_a_studio_with_a_lost_photo_is_refused(studio, saved, tmp_path):
    path = next((studio.folder / PHOTOS).rglob("*.jpg"))
    data = path.read_bytes()
    path.write_bytes(b"x" + data[1:])
    for code in ("photo-damaged", "photo-missing"):
        with pytest.raises(StudioProblem, match=code):
            studio.backup(tmp_path / "bad.zip")
        path.unlink(missing_ok=True)
    assert [p.name for p in tmp_path.iterdir() if p.name.startswith("bad")] == []


def rewritten(saved: Path, out: Path, change: dict[str, bytes | None]) -> Path:
    with zipfile.ZipFile(saved) as source, zipfile.ZipFile(out, "w") as target:
        for name in source.namelist():
            data = change.pop(name, source.read(name))
            if data is not None:
                target.writestr(name, data)
        for name, data in change.items():
            target.writestr(name, data or b"")
    return out


def contents(saved: Path) -> dict[str, dict[str, str]]:
    with zipfile.ZipFile(saved) as archive:
        return json.loads(archive.read(backup.LIST_NAME))


def test_what_is_no_backup_is_refused_and_leaves_nothing(saved, tmp_path):
    said = contents(saved)
    photo = next(name for name in said["files"] if name.startswith(PHOTOS))
    upwards = {**said, "files": {**said["files"], "../evil.txt": "0" * 64}}
    cases: list[dict[str, bytes | None]] = [
        {backup.LIST_NAME: None},
        {backup.LIST_NAME: b"[]"},
        {backup.LIST_NAME: b"{half"},
        {photo: b"another photo"},
        {photo: None},
        {FILE_NAME: b"no records"},
        {"more.txt": b"x"},
        {backup.LIST_NAME: json.dumps(upwards).encode(), "../evil.txt": b"x"},
    ]
    files = [rewritten(saved, tmp_path / f"case{k}.zip", dict(case)) for k, case in enumerate(cases)]
    (tmp_path / "letter.zip").write_bytes(b"a letter")
    (tmp_path / "half.zip").write_bytes(saved.read_bytes()[:-2000])
    for file in [*files, tmp_path / "letter.zip", tmp_path / "half.zip"]:
        before = sorted(tmp_path.iterdir())
        with pytest.raises(StudioProblem) as found:
            backup.restore(file, tmp_path / "restored")
        assert found.value.code == "not-a-backup", file
        assert sorted(tmp_path.iterdir()) == before


def test_few_bytes_that_would_fill_the_disk_are_refused(saved, tmp_path):
    said = contents(saved)
    with zipfile.ZipFile(tmp_path / "bomb.zip", "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr(FILE_NAME, b"\0" * 20_000_000)
        archive.writestr(backup.LIST_NAME, json.dumps({"files": {FILE_NAME: said["files"][FILE_NAME]}}))
    with pytest.raises(StudioProblem, match="would unpack"):
        backup.restore(tmp_path / "bomb.zip", tmp_path / "restored")


def test_nothing_is_restored_over_something(saved, studio, tmp_path):
    with pytest.raises(StudioProblem, match="restore-needs-empty-folder"):
        backup.restore(saved, studio.folder)
    (tmp_path / "empty").mkdir()
    backup.restore(saved, tmp_path / "empty")
    assert (tmp_path / "empty" / FILE_NAME).is_file()
