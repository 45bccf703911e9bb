"""The 24-patch chart's colours against colour-science: "ColorChecker24 - After November 2014", D50, 2 degree."""

import numpy as np

from swatch.formats.keyword_text import read_card
from swatch.resources import resource
from swatch.science.card import Card


def test_the_shipped_chart_is_the_published_one():
    import colour

    published = colour.CCS_COLOURCHECKERS["ColorChecker24 - After November 2014"]
    lab = colour.XYZ_to_Lab(colour.xyY_to_XYZ(np.array(list(published.data.values()))), published.illuminant)
    shipped = read_card(resource("cards", "rendition-24.txt").read_bytes(), "rendition-24")
    assert (shipped.name, shipped.rows, shipped.columns) == ("rendition-24", 4, 6)
    np.testing.assert_allclose(np.array(shipped.lab), lab, atol=0.011)


def test_its_greys_are_its_last_row():
    shipped = read_card(resource("cards", "rendition-24.txt").read_bytes(), "rendition-24")
    card = Card(shipped.name, shipped.rows, shipped.columns, np.array(shipped.lab))
    assert card.neutrals.tolist() == [18, 19, 20, 21, 22, 23]
