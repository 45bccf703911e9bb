from __future__ import annotations

import pytest

from swatch.desk.kiln_draws import draws_of
from swatch.screens.components.kiln_draws import KilnDraws
from swatch.screens.gallery_samples import TARGET, suggestions
from swatch.screens.style import look

PREDICTION = suggestions()[4].prediction
DRAWS = draws_of(PREDICTION)


@pytest.mark.parametrize("scale", [1.0, 1.5, 2.0])
def test_mean_and_draws_touch_each_other(drawn, name_of, scale):
    patch = KilnDraws(PREDICTION.lab, DRAWS)
    image = drawn(patch, scale)
    wanted = {name_of(lab) for lab in (PREDICTION.lab, *DRAWS)}
    seen = set()
    for y in range(round(8 * scale), round((patch.height() - 8) * scale)):
        for x in range(round(16 * scale), round((patch.width() - 16) * scale)):
            seen.add(image.pixelColor(x, y).name())
    assert seen == wanted


def test_a_measured_colour_is_flat_and_an_unknown_one_is_none(drawn, name_of):
    flat = drawn(KilnDraws(TARGET))
    assert {flat.pixelColor(x, 30).name() for x in range(17, flat.width() - 17)} == {name_of(TARGET)}
    unknown = KilnDraws(None)
    image = drawn(unknown)
    assert image.pixelColor(24, 20).name() == "#777777"
    assert unknown.accessibleDescription() == "Not known."


def test_swapped_the_mean_stands_last(drawn, name_of):
    look.swap()
    image = drawn(KilnDraws(PREDICTION.lab, DRAWS))
    assert image.pixelColor(image.width() - 20, 20).name() == name_of(PREDICTION.lab)


def test_it_speaks_its_spread_and_says_real_pieces(qtbot):
    patch, pieces = KilnDraws(PREDICTION.lab, DRAWS), KilnDraws(PREDICTION.lab, DRAWS, real=True)
    for one in (patch, pieces):
        qtbot.addWidget(one)
    assert "12 draws: L* " in patch.accessibleDescription()
    assert "12 real pieces: L* " in pieces.accessibleDescription()
    assert pieces.accessibleName() == "Approved pieces"
