"""Regions placed once are found again: painted pieces turned, scaled and leant, with known places."""

import sys
from pathlib import Path

import numpy as np
import pytest

from swatch.formats.keyword_text import read_card
from swatch.resources import resource
from swatch.science import forms
from swatch.science.card import Card
from swatch.science.measuring import decode
from swatch.science.piece_outlines import find_pieces, in_reading_order

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))
from bench.load_scenes import button, load_of, paint

LOOK = {"neck": (29.0, 27.0, 11.0), "outside": (53.0, 45.0, 9.0)}
STRIPES = {f"s{k + 1}": lab for k, lab in enumerate(
    [(30, 40, 20), (38, -30, 10), (46, 10, -30), (54, 0, 40), (62, -20, 0), (70, 5, 5)]
)}  # fmt: skip


@pytest.fixture(scope="module")
def card():
    table = read_card(resource("cards", "rendition-24.txt").read_bytes(), "rendition-24")
    return Card(table.name, table.rows, table.columns, np.array(table.lab))


def nearest(scene, outline):
    return min(
        range(len(scene.outlines)), key=lambda k: np.linalg.norm(scene.outlines[k].mean(0) - outline.mean(0))
    )


def worst(form, laid, scene, k):
    return max(
        np.abs(forms.project(laid.matrix, np.array(zone.polygon)) - scene.regions[k][zone.region]).max()
        for zone in form.zones
    )


def test_pieces_turned_scaled_and_leant_get_their_regions_back(card):
    scene = load_of(card, [LOOK] * 6, seed=3, upside=True)
    picture = decode(scene.png(), "load.png")
    outlines = find_pieces(picture, scene.card)
    assert [nearest(scene, outline) for outline in outlines] == [0, 1, 2, 3, 4, 5]
    form = forms.form_of("vase", outlines[0], list(scene.regions[0].items()), picture)
    for k, outline in enumerate(outlines):
        laid = forms.lay(form, outline, picture)
        assert laid.alike > 0.95
        assert worst(form, laid, scene, k) < 0.03 * 260  # of the piece's height
        for region, polygon in forms.regions_on(form, laid, outline):
            points = np.array(polygon)
            inside = forms._drawn(scene.regions[k][region] - points.min(axis=0) + 8)
            own = forms._drawn(points - points.min(axis=0) + 8)
            assert (own & inside).sum() > 0.97 * own.sum()


def test_stripes_tell_how_a_round_button_is_turned(card):
    outline, zones = button()
    rng = np.random.default_rng(5)
    places = [
        {
            "centre": np.array([180 + 320 * k, 620.0]),
            "size": 200,
            "turn": turn,
            "lean": rng.uniform(-0.05, 0.05, 2),
        }
        for k, turn in enumerate((0.0, 1.1, 2.6, 4.4))
    ]
    things = [(outline, zones, (60.0, 5.0, 15.0), STRIPES, where) for where in places]
    scene = paint(card, things, seed=2)
    picture = decode(scene.png(), "buttons.png")
    outlines = find_pieces(picture, scene.card)
    form = forms.form_of("button", outlines[0], list(scene.regions[0].items()), picture)
    for k, found in enumerate(outlines):
        assert worst(form, forms.lay(form, found, picture), scene, k) < 0.3 * 200 * 0.84 / 6  # of a stripe


def test_another_form_is_told(card):
    scene = load_of(card, [LOOK], seed=4)
    picture = decode(scene.png(), "one.png")
    (outline,) = find_pieces(picture, scene.card)
    form = forms.form_of("vase", outline, list(scene.regions[0].items()), picture)
    angle = np.linspace(0, 2 * np.pi, 80, endpoint=False)
    plate = 90 * np.stack([np.cos(angle), np.sin(angle)], axis=1) + [700, 600]
    assert forms.lay(form, plate, picture).alike < forms.PERHAPS
    long_rod = plate * [0.2, 1.0]
    assert forms.lay(form, long_rod, picture).alike < forms.PERHAPS


def test_bands_are_proposed_within_the_piece(card):
    scene = load_of(card, [LOOK], seed=6)
    picture = decode(scene.png(), "one.png")
    (outline,) = find_pieces(picture, scene.card)
    form = forms.bands_of("vase", outline, ("neck", "outside"), picture)
    placed = forms.regions_on(form, forms.lay(form, outline, picture), outline)
    assert [region for region, _ in placed] == ["neck", "outside"]
    upper, lower = (np.array(polygon)[:, 1].mean() for _, polygon in placed)
    assert upper < lower


def test_nothing_is_found_where_nothing_lies(card):
    scene = load_of(card, [])
    assert find_pieces(decode(scene.png(), "empty.png"), scene.card) == []


def test_rows_are_read_from_the_upper_left():
    box = np.array([(0, 0), (10, 0), (10, 10), (0, 10)], dtype=float)
    places = [(50, 3), (0, 0), (25, 30), (0, 31)]
    ordered = in_reading_order([box + place for place in places])
    assert [tuple(one[0].astype(int)) for one in ordered] == [(0, 0), (50, 3), (0, 31), (25, 30)]
