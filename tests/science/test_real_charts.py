"""Photos of 24-patch charts made by others; skipped where they are not at hand."""

from pathlib import Path

import numpy as np
import pytest

from swatch.formats.keyword_text import read_card
from swatch.resources import resource
from swatch.science.card import Card
from swatch.science.measuring import decode, measure
from swatch.terms.measured import Verdict

PHOTOS = Path(__file__).resolve().parents[2] / ".." / "shared" / "real_charts"
pytestmark = pytest.mark.skipif(not PHOTOS.is_dir(), reason="the photos are not part of the project")


def read(name):
    table = read_card(resource("cards", "rendition-24.txt").read_bytes(), "rendition-24")
    card = Card(table.name, table.rows, table.columns, np.array(table.lab))
    return measure(decode((PHOTOS / name).read_bytes(), name), card, [], photo=name)


# Patch 1's outer corner, by eye in each photo.
WHOLE = {
    "jtvd_full_1.jpg": (395, 1450),
    "jtvd_full_3.jpg": (575, 1530),
    "jtvd_mini_5.jpg": (505, 1425),
    "pedro.jpg": (236, 281),
}


@pytest.mark.parametrize("name", WHOLE)
def test_a_whole_chart_is_found_and_read(name):
    found = read(name)
    assert found.verdict is not Verdict.REFUSED
    assert found.card is not None
    assert found.card.left_out_median <= 3.6
    assert found.card.left_out_p95 <= 7.5
    assert len(found.card.patches) == 24
    assert np.hypot(*np.subtract(found.card.corners[0], WHOLE[name])) < 0.03 * max(found.size)


def test_half_a_chart_is_refused():
    found = read("pcv_partial_card_rgb.png")
    assert found.verdict is Verdict.REFUSED
    assert found.zones == ()
    assert [notice.code for notice in found.warnings] == ["card-not-found"]


def test_a_small_backlit_chart_is_read_with_warnings():
    found = read("jar_203438.jpg")
    assert found.verdict is Verdict.USABLE
    assert found.card is not None
    assert found.card.left_out_median <= 3.6
    assert "no-sheet" in [notice.code for notice in found.warnings]
