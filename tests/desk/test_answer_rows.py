from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Qt

from swatch.desk.answer_rows import ROW_ROLE, AnswerRows, pieces_in_words
from swatch.desk.sections import section_in_words
from swatch.desk.sureness import of_ten, sureness_of
from swatch.desk.tile_cells import cell, places
from swatch.screens import gallery_samples as samples
from swatch.wording.answers import short_names


def test_a_row_speaks_everything_it_shows():
    rows = AnswerRows()
    rows.show(samples.TARGET, samples.rows())
    assert rows.rowCount() == 10
    said = rows.index(1).data(Qt.ItemDataRole.AccessibleTextRole)
    for part in (
        "2. Ossel Blue › Kessel Amber ×2.",
        "Redder by 1.9, yellower by 1.8.",
        "ΔE00 2.6, likely 1.5–3.9, 26 % within 2.0.",
        "new layering, 14 of these materials",
        "112 pieces",
        "New layering: fire one tile first.",
    ):
        assert part in said
    assert rows.index(1).data() == "Ossel Blue › Kessel Amber ×2"
    assert rows.index(1).data(ROW_ROLE) is rows.row(1)


def test_the_sentence_comes_before_the_number():
    sure = sureness_of(samples.suggestions()[1], samples.TARGET)
    assert sure.sentence == "Redder by 1.9, yellower by 1.8."
    assert sure.eye == "Seen side by side, usually accepted; 1 in 10 comes out worse than 3.9."
    assert sure.number.startswith("ΔE00 2.6, likely 1.5–3.9. Of 10 fired, about 3 come within 2.0")
    assert sure.evidence == "New layering, 14 of these materials."


def test_chances_are_said_as_pieces():
    said = {
        0.001: "Fewer than 1 in 100",
        0.03: "Of 100 fired, about 3 come",
        0.1: "about 1 comes",
        0.63: "about 6 come",
    }
    for chance, words in said.items():
        assert words in of_ten(chance)
    assert "98" in of_ten(0.98)
    assert "More than 99" in of_ten(0.999)


def test_pieces_are_said_by_the_low_end():
    assert pieces_in_words((19, 60)) == "19 pieces"
    assert pieces_in_words((1, 2)) == "1 piece"
    assert pieces_in_words(None) == ""


def test_a_section_is_said_from_the_body_outward():
    said = section_in_words(samples.section("Rill Wash (wiped) > Mardle*2"))
    assert said == "From the body outward: Corrie Buff, body; Rill Wash, 1 coat, wiped; Mardle, 2 coats."


def test_zones_lie_where_they_lie_on_the_tile():
    assert places(1) == [(0.0, 0.0, 1.0, 1.0)]
    assert [place[1] for place in places(3)] == [0.0, 1 / 3, 2 / 3]
    assert len({(x, y) for x, y, _w, _h in places(9)}) == 9
    for n in range(1, 12):
        assert abs(sum(w * h for _x, _y, w, h in places(n)) - n * places(n)[0][2] * places(n)[0][3]) < 1e-9
    assert cell("T-1", "x", [samples.TARGET] * 2).labs == (samples.TARGET,) * 2


def test_long_names_are_shortened_to_the_word_that_tells_them_apart():
    assert short_names("Halm Moss ×2 › Mardle") == "Moss ×2 › Mardle"
    assert short_names("Rill Wash (wiped), Mardle") == "Wash (wiped), Mardle"
    assert short_names("Pailwash white ×3 › Ossel Blue") == "Pailwash ×3 › Blue"
    assert short_names("Mardle ×2") == "Mardle ×2"


def test_pieces_that_scatter_far_around_a_near_mean_are_said_to():
    near = samples.suggestions()[1]
    scattered = replace(near, de00_expected=4.7, de00_80=(2.2, 7.5))
    said = sureness_of(scattered, samples.TARGET)
    assert said.sentence == (
        "On average: redder by 1.9, yellower by 1.8. Single pieces scatter around it by more."
    )
    assert said.eye.startswith("Plainly another colour")
