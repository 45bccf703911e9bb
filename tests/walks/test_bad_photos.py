"""Bad photos through the real workers: each refused with its reason or read right, and the queue goes on."""

import os
import sys

import pytest

from bench import bad_files, bad_inputs
from swatch.terms.measured import Verdict
from swatch.wording.problems import problem_in_words
from swatch.work.measure import MeasureRequest, measure_photos
from swatch.work.workers import Workers

CHOSEN = (
    "jpeg cut at 60 %",
    "heic cut at 99 %",
    "jpeg with 40 bits turned over, anywhere",
    "PDF called .jpg",
    "png called .jpg",
    "png of 2³¹ − 1 squared",
    "jpeg that claims 65,500 × 65,500",
    "tiff whose directories go round",
    "EXIF with a directory that is its own child",
    "profile whose curves lie outside",
    "animated webp",
    "jpeg of 64 × 30,000",
    "a pipe nobody writes to",
    "a link to itself",
    "name: right-to-left mark",
)
LINUX = sys.platform.startswith("linux")


@pytest.fixture(scope="module")
def place():
    with bad_inputs.bench_place() as (folder, good), Workers(1) as workers:
        yield folder, good, workers, bad_inputs.read_sound(folder, workers, good)


def test_there_are_as_many_bad_inputs_as_promised():
    names = [case.name for case in bad_files.cases()]
    assert len(set(names)) == len(names) >= 150
    assert set(CHOSEN) <= set(names)
    assert len(CHOSEN) == 15


@pytest.mark.skipif(not LINUX, reason="pipes, sockets and odd names are made as Linux does")
@pytest.mark.parametrize("name", CHOSEN)
def test_a_bad_photo_is_refused_or_read_right(name, place):
    folder, good, workers, sound = place
    case = next(case for case in bad_files.cases() if case.name == name)
    outcome = bad_inputs.run_one(case, folder, workers, sound, good)
    bad_files.sweep(folder / "bad")
    assert outcome.fault == ""
    assert outcome.seconds < bad_inputs.MOST_SECONDS


@pytest.mark.skipif(not LINUX, reason="pipes, sockets and odd names are made as Linux does")
def test_the_queue_goes_on_past_all_of_them(place):
    folder, good, workers, _ = place
    chosen = [case for case in bad_files.cases() if case.name in CHOSEN]
    paths = [case.make(folder / "bad", good) for case in chosen]
    request = MeasureRequest((*paths, str(folder / "sound.jpg")), zones=str(folder / "zones.json"))
    measured = measure_photos(request, workers=workers)
    bad_files.sweep(folder / "bad")
    assert len(measured.photos) + len(measured.problems) == len(paths) + 1
    assert measured.photos[-1].photo == os.fspath(folder / "sound.jpg")
    assert measured.photos[-1].verdict is not Verdict.REFUSED
    for problem in measured.problems:
        happened, next_step = problem_in_words(problem)
        assert happened
        assert next_step
        assert problem.where.photo in paths
