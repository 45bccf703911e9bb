"""A studio file with flipped bytes: every way in tells the damage or reads what is there, and none hides it."""

import random

import pytest

from swatch.library.file import FILE_NAME
from swatch.library.studio import Studio
from swatch.terms.materials import Status
from swatch.terms.problems import StudioProblem
from tests.library.test_records import put_all

FILES = 60
READ = ("evidence", "materials", "tiles", "editions", "pieces", "weighings", "boards", "bodies")


@pytest.fixture
def whole(tmp_path):
    folder = tmp_path / "studio"
    with Studio.create(folder) as studio:
        put_all(studio)
    (folder / "studio.seal").unlink()  # it would tell every flip at once
    return folder


def _flipped(data, chance):
    bytes_ = bytearray(data)
    written = [at for at, byte in enumerate(data) if byte]
    for _ in range(chance.choice((1, 3, 20))):
        at = chance.choice(written) if chance.random() < 0.7 else chance.randrange(4096 * 3)
        bytes_[at] ^= chance.randrange(1, 256)
    return bytes(bytes_)


def _look(folder):
    with Studio.look(folder) as studio:
        for what in READ:
            getattr(studio, what)()


def _change(folder):
    with Studio.open(folder) as studio:
        studio.evidence()
        studio.set_status("Sedgewater", Status.USED_UP)
        studio.undo()


def _told(way, folder):
    """Whether a way in told of a problem; any other error goes through."""
    try:
        way(folder)
    except StudioProblem:
        return True
    return False


def test_flipped_bytes_are_told_by_every_way_in_and_never_backed_up(whole, tmp_path):
    data, chance, damaged = (whole / FILE_NAME).read_bytes(), random.Random(7), 0
    for _ in range(FILES):
        (whole / FILE_NAME).write_bytes(_flipped(data, chance))
        for stale in ("studio.seal", f"{FILE_NAME}-journal"):
            (whole / stale).unlink(missing_ok=True)
        found = []

        def verify(folder, found=found):
            with Studio.look(folder) as studio:
                found += studio.verify()

        refused = _told(verify, whole)
        saved = not _told(lambda folder: _back_up(folder, tmp_path / "kept.zip"), whole)
        if refused or found:
            damaged += 1
            assert not saved
        _told(_look, whole)
        _told(_change, whole)
    assert damaged > FILES / 3


def _back_up(folder, out):
    with Studio.look(folder) as studio:
        studio.backup(out)
