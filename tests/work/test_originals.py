"""What the potter made is never written over and never thrown away."""

import pytest

from swatch.library.studio import Studio
from swatch.resources import demo_tiles
from swatch.terms.materials import Status
from swatch.terms.problems import StudioProblem
from swatch.work import demo
from swatch.work.cautions import _food
from swatch.work.files import write_file
from swatch.work.measure import MeasureRequest, measure_photos


def test_an_overlay_is_not_written_over_the_photo_or_a_link_to_it(tmp_path):
    photo = tmp_path / "a.jpg"
    photo.write_bytes((demo_tiles() / "bare_bodies.jpg").read_bytes())
    link = tmp_path / "b.png"
    link.symlink_to(photo)
    before = photo.read_bytes()
    for out in (photo, link):
        with pytest.raises(StudioProblem) as told:
            measure_photos(MeasureRequest((str(photo),), overlay=str(out)))
        assert told.value.code == "file-not-written"
    assert photo.read_bytes() == before


@pytest.mark.parametrize("out", [".", ".."])
def test_a_folder_is_no_file_to_write(tmp_path, monkeypatch, out):
    monkeypatch.chdir(tmp_path)
    with pytest.raises(StudioProblem) as told:
        write_file(out, b"x")
    assert told.value.code == "not-a-file"


def test_a_demo_that_was_worked_in_is_moved_aside_and_one_as_built_is_not(own_demo):
    assert demo._as_built(own_demo)
    with Studio.open(own_demo) as studio:
        studio.set_status(studio.materials()[0].name, Status.USED_UP)
    assert not demo._as_built(own_demo)
    (own_demo / "notes.txt").write_text("mine")
    demo._clear(own_demo)
    assert not own_demo.exists()
    aside = own_demo.with_name(f"{own_demo.name} (earlier 1)")
    assert (aside / "notes.txt").read_text() == "mine"
    with Studio.look(aside) as studio:
        assert studio.evidence().readings


def test_a_label_that_says_no_is_named_wherever_the_material_lies():
    from swatch.terms.cone import Cone
    from swatch.terms.layering import Layer
    from swatch.terms.materials import Kind, Material

    base = Material("Base", Kind.GLAZE, food_label=False)
    top = Material("Top", Kind.GLAZE, food_label=True)
    said = _food([(Layer("Base"), base), (Layer("Top"), top)], Cone(6.0))
    assert [(one.code, one.facts) for one in said] == [("label-not-for-food", {"material": "Base"})]
