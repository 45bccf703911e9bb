"""The studio folder against the world: who writes, what is damaged, what is not ours, what cannot be written."""

from __future__ import annotations

import os
import shutil
import signal
import sqlite3
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest

from swatch.library import disk, migrations
from swatch.library.file import BACKUPS, FILE_NAME
from swatch.library.lock import LOCK_NAME
from swatch.library.seal import SEAL_NAME
from swatch.library.studio import Studio
from swatch.terms.materials import Material
from swatch.terms.problems import StudioProblem

HOLD = """
import sys, pathlib
from swatch.library.studio import Studio
with Studio.open(pathlib.Path(sys.argv[1])) as studio:
    print("open", flush=True)
    sys.stdin.readline()
"""

CUT_OFF = """
import os, sys, pathlib
from swatch.library.studio import Studio
studio = Studio.open(pathlib.Path(sys.argv[1]))
sql = studio.file.sql
sql.execute("PRAGMA cache_size = 1")
with studio.change("half") as sql:
    sql.executemany("INSERT INTO kiln (name, folded) VALUES (?, ?)", [(str(k), str(k)) for k in range(20000)])
    os._exit(9)
"""

NEXT = len(migrations.MIGRATIONS) + 1
"""Number of a form one step behind the newest."""


def put(studio: Studio, name: str = "Rill") -> None:
    studio.put_materials([Material(name)], frozenset({"name"}))


@pytest.fixture
def folder(studio: Studio) -> Path:
    """A closed studio with one material."""
    put(studio)
    studio.close()
    return studio.folder


def refusal(folder: Path, how: str = "open") -> StudioProblem:
    with pytest.raises(StudioProblem) as found:
        getattr(Studio, how)(folder)
    return found.value


def test_the_second_process_is_told_who_writes(folder):
    holder = subprocess.Popen(
        [sys.executable, "-c", HOLD, str(folder)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    )
    assert holder.stdout is not None
    assert holder.stdout.readline() == "open\n"
    problem = refusal(folder)
    assert problem.code == "studio-in-use"
    assert problem.facts["pid"] == holder.pid
    assert problem.facts["host"] == os.uname().nodename if hasattr(os, "uname") else problem.facts["host"]
    assert problem.facts["program"]
    with Studio.look(folder) as looking:
        assert [material.name for material in looking.materials()] == ["Rill"]
        assert looking.verify() == []
        with pytest.raises(RuntimeError):
            put(looking)
    holder.send_signal(signal.SIGKILL if hasattr(signal, "SIGKILL") else signal.SIGTERM)
    holder.communicate()
    with Studio.open(folder) as studio:  # the dead let go
        put(studio, "Tarn")


def test_a_second_opening_in_one_process_is_refused_too(studio):
    assert refusal(studio.folder).code == "studio-in-use"


def test_a_reader_sees_one_moment_while_another_writes(studio):
    put(studio)
    with Studio.look(studio.folder) as looking, looking.file.reading():
        before = looking.evidence()
    put(studio, "Tarn")
    with Studio.look(studio.folder) as looking:
        assert len(looking.evidence().materials) == 2
        put(studio, "Vale")
        assert len(looking.evidence().materials) == 3
    assert len(before.materials) == 1


@pytest.mark.parametrize("how", ["look", "open"])
def test_a_write_cut_off_is_rolled_back_first(folder, how):
    ended = subprocess.run([sys.executable, "-c", CUT_OFF, str(folder)], check=False)
    assert ended.returncode == 9
    assert (folder / f"{FILE_NAME}-journal").stat().st_size > 0
    with getattr(Studio, how)(folder) as studio:
        assert [material.name for material in studio.materials()] == ["Rill"]
        assert studio.file.sql.execute("SELECT count(*) FROM kiln").fetchone() == (0,)
        assert studio.verify() == []
    assert not (folder / f"{FILE_NAME}-journal").exists()


@pytest.mark.parametrize("how", ["look", "open"])
def test_a_folder_that_is_no_studio_is_refused_and_left_alone(tmp_path, how):
    assert refusal(tmp_path / "nowhere", how).code == "no-studio"
    assert not (tmp_path / "nowhere").exists()
    (tmp_path / "other").mkdir()
    assert refusal(tmp_path / "other", how).code == "no-studio"
    assert list((tmp_path / "other").iterdir()) == []
    sql = sqlite3.connect(tmp_path / "other" / FILE_NAME)
    sql.execute("CREATE TABLE other (x)")
    sql.close()
    assert refusal(tmp_path / "other", how).code == "no-studio"
    (tmp_path / "other" / FILE_NAME).write_bytes(b"This is no SQLite file at all, but a letter." * 100)
    assert refusal(tmp_path / "other", how).code == "studio-damaged"


def test_a_studio_is_made_only_where_nothing_is(folder, tmp_path):
    assert refusal(folder, "create").code == "studio-exists"
    (tmp_path / "full").mkdir()
    (tmp_path / "full" / "letter.txt").write_text("x")
    problem = refusal(tmp_path / "full", "create")
    assert (problem.code, problem.facts["found"]) == ("folder-not-empty", "letter.txt")
    assert refusal(tmp_path / "full" / "letter.txt", "create").code == "folder-not-empty"
    assert [path.name for path in (tmp_path / "full").iterdir()] == ["letter.txt"]


def test_a_studio_whose_making_was_cut_off_can_be_made_again(tmp_path, monkeypatch):
    def cut(*_: object) -> None:
        raise KeyboardInterrupt

    with monkeypatch.context() as patch:
        patch.setattr(disk, "rename", cut)
        with pytest.raises(KeyboardInterrupt):
            Studio.create(tmp_path / "studio")
    assert refusal(tmp_path / "studio").code == "no-studio"
    with Studio.create(tmp_path / "studio") as studio:
        put(studio)
        assert studio.verify() == []


def test_a_newer_studio_is_refused_by_name(folder):
    (folder / SEAL_NAME).unlink()
    sql = sqlite3.connect(folder / FILE_NAME, isolation_level=None)
    sql.execute("PRAGMA user_version = 99")
    sql.execute("INSERT INTO migration VALUES (99, 'swatch 7.3', '2031-01-01')")
    sql.close()
    before = (folder / FILE_NAME).read_bytes()
    for how in ("open", "look"):
        problem = refusal(folder, how)
        assert problem.code == "studio-newer"
        assert (problem.facts["program"], problem.facts["version"]) == ("swatch 7.3", 99)
    assert (folder / FILE_NAME).read_bytes() == before


def test_an_older_studio_is_copied_and_brought_up_when_it_is_written(folder, monkeypatch):
    def second(sql: sqlite3.Connection) -> None:
        sql.execute("ALTER TABLE kiln ADD COLUMN power_kw REAL")

    monkeypatch.setattr(migrations, "MIGRATIONS", (*migrations.MIGRATIONS, second))
    monkeypatch.setattr(migrations, "NEWEST", NEXT)
    monkeypatch.setattr("swatch.library.file.NEWEST", NEXT)
    migrations.expected_schema.cache_clear()
    try:
        assert refusal(folder, "look").code == "studio-older"
        with Studio.open(folder) as studio:
            assert studio.undo_name is None
            assert studio.verify() == []
            with studio.change("add") as sql:
                sql.execute("INSERT INTO kiln (name, folded, power_kw) VALUES ('a', 'a', 7.5)")
            studio.undo()
            assert [row[0] for row in studio.file.sql.execute("SELECT version FROM migration")] == [
                *range(1, NEXT + 1)
            ]
        (copy,) = (folder / BACKUPS).iterdir()
        old = sqlite3.connect(copy)
        assert old.execute("SELECT name FROM material").fetchall() == [("Rill",)]
        assert old.execute("PRAGMA user_version").fetchone() == (NEXT - 1,)
        old.close()
    finally:
        migrations.expected_schema.cache_clear()


def test_a_migration_that_fails_leaves_the_file_as_it_was(folder, monkeypatch):
    def broken(sql: sqlite3.Connection) -> None:
        sql.execute("DELETE FROM material")
        sql.execute("INSERT INTO lot (material_id, name, folded) VALUES (77, 'x', 'x')")

    monkeypatch.setattr(migrations, "MIGRATIONS", (*migrations.MIGRATIONS, broken))
    monkeypatch.setattr(migrations, "NEWEST", NEXT)
    assert refusal(folder).code == "studio-damaged"
    monkeypatch.undo()
    with Studio.open(folder) as studio:
        assert [material.name for material in studio.materials()] == ["Rill"]
        assert studio.verify() == []


@pytest.mark.parametrize("by", [-4096, -1000, 4096, 100])
def test_a_file_cut_short_or_grown_is_noticed(folder, by):
    (folder / SEAL_NAME).unlink()
    os.truncate(folder / FILE_NAME, (folder / FILE_NAME).stat().st_size + by)
    before = (folder / FILE_NAME).read_bytes()
    assert refusal(folder).code == "studio-damaged"
    assert (folder / FILE_NAME).read_bytes() == before
    try:
        with Studio.look(folder) as looking:
            found = {problem.code for problem in looking.verify()}
    except StudioProblem as problem:
        found = {problem.code}
    assert found == {"studio-damaged"}


def test_a_figure_gone_wrong_on_the_disk_is_noticed_although_sqlite_does_not(folder):
    with Studio.open(folder) as studio:
        studio.put_materials([Material("Rill", density_g_per_ml=1.4567)], frozenset({"density_g_per_ml"}))
    data = bytearray((folder / FILE_NAME).read_bytes())
    data[data.index(b"Rill") + 1] ^= 1
    (folder / FILE_NAME).write_bytes(data)
    with Studio.look(folder) as looking:
        assert [problem.code for problem in looking.verify()] == ["studio-damaged"]
        assert looking.file.sql.execute("PRAGMA quick_check").fetchone() == ("ok",)
    assert refusal(folder).code == "studio-damaged"
    with Studio.open(folder, although_damaged=True) as studio:
        assert studio.materials()[0].name == "Rhll"


def test_a_page_of_noise_is_noticed(folder):
    (folder / SEAL_NAME).unlink()
    data = bytearray((folder / FILE_NAME).read_bytes())
    data[8192:12288] = b"\x37" * 4096
    (folder / FILE_NAME).write_bytes(data)
    with Studio.look(folder) as looking:
        assert {problem.code for problem in looking.verify()} == {"studio-damaged"}


def test_what_does_not_belong_to_the_records_is_noticed(folder):
    (folder / SEAL_NAME).unlink()
    sql = sqlite3.connect(folder / FILE_NAME)
    sql.execute("CREATE TRIGGER sly AFTER INSERT ON material BEGIN DELETE FROM material; END")
    sql.close()
    with Studio.look(folder) as looking:
        (problem,) = looking.verify()
    assert problem.facts["found"] == "sly does not belong to the records"


def test_a_closed_studio_leaves_nothing_beside_its_own_files(folder):
    assert sorted(path.name for path in folder.iterdir()) == sorted(
        ["cache", "photos", FILE_NAME, SEAL_NAME, LOCK_NAME]
    )
    assert (folder / LOCK_NAME).read_bytes() == b""


READ_ONLY = """
import os, pathlib, sys
from swatch.library.studio import Studio
from swatch.terms.problems import StudioProblem
if os.getuid() == 0:
    os.setuid(65534)  # the one who may do everything may write here all the same: be somebody else
folder = pathlib.Path(sys.argv[1])
try:
    Studio.open(folder)
except StudioProblem as problem:
    print(problem.code)
with Studio.look(folder) as studio:
    print([material.name for material in studio.materials()], studio.verify())
try:
    Studio.create(folder / "new")
except StudioProblem as problem:
    print(problem.code)
"""


@pytest.mark.skipif(os.name == "nt", reason="permissions of another system")
def test_a_folder_that_cannot_be_written_can_be_looked_at():
    with tempfile.TemporaryDirectory() as place:
        os.chmod(place, 0o755)
        folder = Path(place) / "studio"
        with Studio.create(folder) as studio:
            put(studio)
        for path in [folder, *folder.rglob("*")]:
            path.chmod(0o555 if path.is_dir() else 0o444)
        said = subprocess.run(
            [sys.executable, "-c", READ_ONLY, str(folder)], capture_output=True, text=True, check=True
        )
        for path in [folder, *folder.rglob("*")]:
            path.chmod(0o755 if path.is_dir() else 0o644)
    assert said.stdout.splitlines() == ["studio-read-only", "['Rill'] []", "studio-read-only"]


def test_a_studio_may_be_moved(folder, tmp_path):
    shutil.move(folder, tmp_path / "elsewhere é #1?")
    with Studio.open(tmp_path / "elsewhere é #1?") as studio:
        assert studio.verify() == []


def test_a_disk_that_is_full_at_closing_costs_the_seal_only(studio, monkeypatch):
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    put(studio)
    with monkeypatch.context() as patch:
        patch.setattr(disk, "write", full)
        studio.close()
    assert not (studio.folder / SEAL_NAME).exists()
    with Studio.open(studio.folder) as again:
        assert [material.name for material in again.materials()] == ["Rill"]
        assert again.verify() == []
