"""Which colours the demo studio's jars can make."""

import csv
import io
import json

import numpy as np
import pytest

from swatch.cli.main import run
from swatch.formats.colours_out import COLUMNS, write_colours
from swatch.science.search import NO_LAYERING
from swatch.terms.answers import MatchRequest
from swatch.terms.colour import Lab
from swatch.terms.colours import ColoursRequest
from swatch.terms.cone import Cone
from swatch.terms.evidence import Stage
from swatch.terms.layering import fold_name
from swatch.terms.materials import Kind, Status
from swatch.terms.problems import StudioProblem
from swatch.terms.report import silent
from swatch.work.colours import jar_colours_from
from swatch.work.learn import learnt
from swatch.work.match import means_of, space_of
from swatch.work.plain import from_bytes, to_bytes
from swatch.work.predict import check_body

BODY, SIX = "Palebank", Cone(6.0)


@pytest.fixture(scope="module")
def known(demo_answers):
    return learnt(demo_answers.folder)


@pytest.fixture(scope="module")
def answer(known):
    return jar_colours_from(known, ColoursRequest(BODY, SIX))


def _inside(rings, ab):
    """Whether points lie within the rings, by crossings of a line to the left."""
    odd = np.zeros(len(ab), dtype=bool)
    for ring in rings:
        line = np.array(ring)
        for (x1, y1), (x2, y2) in zip(line, np.roll(line, -1, axis=0), strict=True):
            crosses = (ab[:, 1] < y1) != (ab[:, 1] < y2)
            odd ^= crosses & (ab[:, 0] > x1 + (ab[:, 1] - y1) / ((y2 - y1) or 1.0) * (x2 - x1))
    return odd


def test_every_layering_that_can_be_searched_lies_within_the_outline_of_its_lightness(known, answer):
    request = MatchRequest(Lab(50, 0, 0), BODY, SIX)
    means = means_of(known, space_of(known, request), check_body(known, BODY), 6.0, silent)
    lab = means.channels[:, means.channels[0] < NO_LAYERING].T
    assert answer.searched == len(lab) == sum(band.layerings for band in answer.bands)
    for band in answer.bands:
        here = lab[(lab[:, 0] >= band.lightness[0]) & (lab[:, 0] < band.lightness[1])]
        # corners of the grid are cut off, so a colour in the corner of an outer cell may lie just outside
        assert _inside(band.predicted, here[:, 1:]).mean() > 0.9
        assert band.u is None or 0.5 < band.u < 15


def test_measured_colours_are_own_tiles_of_this_body_and_cone_from_jars_in_stock(known, answer):
    gone = {fold_name(one.name) for one in known.arrays.stock if one.status is not Status.IN_STOCK}
    readings = {(one.tile, one.zone): one for one in known.evidence.readings if one.stage is Stage.FIRED}
    tiles = [one for band in answer.bands for one in band.tiles]
    assert len(tiles) > 30
    for one in tiles:
        read = readings[one.tile, one.zone]
        assert (read.body, read.lab, read.layers) == (BODY, one.lab, one.layers)
        assert not gone & {fold_name(layer.material) for layer in one.layers}
    for band in answer.bands:
        assert all(band.lightness[0] <= one.lab.L < band.lightness[1] for one in band.tiles)
        assert bool(band.measured) == bool(band.tiles)


def test_where_food_touches_only_labelled_glazes_lie_on_top(known):
    stock = {fold_name(one.name): one for one in known.arrays.stock}
    lip = jar_colours_from(known, ColoursRequest(BODY, SIX, regions=("lip",)))
    assert "filter-is-no-approval" in {one.code for one in lip.cautions}
    for band in lip.bands:
        for one in band.tiles:
            top = stock[fold_name(one.layers[-1].material)]
            assert top.kind in (Kind.GLAZE, Kind.CLEAR)
            assert top.food_label is True
            assert not any(stock[fold_name(layer.material)].food_label is False for layer in one.layers)


def test_what_the_studio_does_not_have_is_refused(known):
    with pytest.raises(StudioProblem) as told:
        jar_colours_from(known, ColoursRequest("Nowhere", SIX))
    assert told.value.code == "unknown-body"
    every = tuple(one.name for one in known.arrays.stock)
    with pytest.raises(StudioProblem) as told:
        jar_colours_from(known, ColoursRequest(BODY, SIX, leave_out=every))
    assert told.value.code == "nothing-to-search"


def test_outlines_go_to_a_worker_and_back_and_into_a_table(answer):
    assert from_bytes(to_bytes(answer)) == answer
    rows = list(csv.DictReader(io.StringIO(write_colours(answer).decode("utf-8-sig"))))
    assert tuple(rows[0]) == COLUMNS
    assert len([row for row in rows if row["of"] == "tile"]) == sum(len(band.tiles) for band in answer.bands)
    corners = sum(len(ring) for band in answer.bands for ring in (*band.predicted, *band.measured))
    assert len([row for row in rows if row["of"] in ("predicted", "measured")]) == corners


def test_the_command_says_the_same(demo_answers, answer, capsys, tmp_path):
    words = ["colours", "--studio", str(demo_answers.folder), "--body", BODY, "--cone", "6", "--json"]
    assert run([*words, "--out", str(tmp_path / "colours.csv")], lambda _folder: 0) == 0
    said = json.loads(capsys.readouterr().out)
    assert [band["layerings"] for band in said["bands"]] == [band.layerings for band in answer.bands]
    assert said["cautions"]
    assert (tmp_path / "colours.csv").read_bytes() == write_colours(answer)
