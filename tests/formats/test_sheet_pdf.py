"""The PDF is true to scale: bar, markers, slots measured on the rendered page."""

from __future__ import annotations

import cv2
import numpy as np
import pypdfium2
import pytest

from swatch.science.sheet_layout import DEFAULT_TILE, EDGE, stand_page
from swatch.terms.sheet import Paper, Split
from swatch.wording.sheet import sheet_words
from swatch.work.sheet import SheetRequest, make_sheet

PER_MM = 5


def rendered(pdf: bytes, page: int = 0) -> np.ndarray:
    return pypdfium2.PdfDocument(pdf)[page].render(scale=PER_MM * 25.4 / 72, grayscale=True).to_numpy().squeeze()


@pytest.mark.parametrize("paper", Paper)
def test_page_bar_and_markers_are_where_they_should_be_to_the_pixel(paper):
    made = make_sheet(SheetRequest(sheet_words(), paper))
    (layout,) = made.layouts
    page = pypdfium2.PdfDocument(made.pdf)[0]
    assert np.array(page.get_size()) * 25.4 / 72 == pytest.approx([layout.page.wide, layout.page.high], abs=0.01)
    image = rendered(made.pdf)
    row = image[round((layout.bar.top + layout.bar.high / 2) * PER_MM)]
    dark = np.flatnonzero(
        row[round((layout.bar.left - 2) * PER_MM) : round((layout.bar.right + 2) * PER_MM)] < 128
    )
    # To the pixel it was drawn with.
    assert len(dark) == pytest.approx(100.0 * PER_MM, abs=1.01)
    assert dark[-1] - dark[0] == len(dark) - 1
    detector = cv2.aruco.ArucoDetector(cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50))
    corners, ids, _ = detector.detectMarkers(image)
    assert sorted(ids.ravel().tolist()) == [20, 21, 22, 23]
    at = dict(zip(ids.ravel().tolist(), [outline[0] / PER_MM for outline in corners], strict=True))
    for number, outline in at.items():
        wanted = np.array(layout.markers[number - 20].corners())
        assert np.ptp(outline, axis=0) == pytest.approx([14.0, 14.0], abs=0.3)
        assert outline.mean(axis=0) == pytest.approx(wanted.mean(axis=0), abs=0.3)
        apart = outline.mean(axis=0) - at[20].mean(axis=0)
        assert apart == pytest.approx(wanted.mean(axis=0) - layout.markers[0].centre, abs=0.21)


def test_between_tiles_the_paper_is_white_and_slots_are_empty_but_for_their_mark():
    made = make_sheet(SheetRequest(sheet_words(), Paper.A3))
    image = rendered(made.pdf)
    for slot in made.layouts[0].slots:
        box = slot.box
        inside = image[
            round(box.top * PER_MM) + 2 : round(box.low * PER_MM) - 2,
            round(box.left * PER_MM) + 2 : round(box.right * PER_MM) - 2,
        ]
        assert 0.005 < (inside < 250).mean() < 0.03
        beside = image[
            round((box.top + 8) * PER_MM) : round((box.low - 8) * PER_MM),
            round((box.right + 2) * PER_MM) : round((box.right + 6) * PER_MM),
        ]
        assert (beside == 255).all()


def test_words_firing_and_date_are_in_it():
    made = make_sheet(SheetRequest(sheet_words(Split.STEPS), Paper.A4, firing="Čaj & <b>", date="2027-02-11"))
    text = pypdfium2.PdfDocument(made.pdf)[0].get_textpage().get_text_range()
    for part in (
        "Čaj & <b>",
        "2027-02-11",
        "100 mm",
        "45°",
        "no flash",
        "room temperature",
        "three coats",
        "Card here",
    ):
        assert part in text


def test_lines_to_write_on_where_nothing_is_known():
    known = rendered(make_sheet(SheetRequest(sheet_words(), firing="F", date="D")).pdf)
    unknown = rendered(make_sheet(SheetRequest(sheet_words())).pdf)
    line = unknown[round(20 * PER_MM) : round(24 * PER_MM)]
    assert (line < 200).mean(axis=1).max() > 0.3 > (known[100:120] < 200).mean(axis=1).max()


def test_a_long_firing_stays_clear_of_the_code():
    made = make_sheet(SheetRequest(sheet_words(), firing="A very long name of a firing, " * 6))
    image = rendered(made.pdf)
    code = made.layouts[0].codes[0]
    gap = image[: round((code.low + 4) * PER_MM), round((code.left - 2) * PER_MM) : round(code.left * PER_MM) - 1]
    assert (gap == 255).all()


@pytest.mark.parametrize("paper", Paper)
def test_the_stands_are_a_last_page_of_its_own(paper):
    made = make_sheet(SheetRequest(sheet_words(), paper, stands=True))
    assert len(pypdfium2.PdfDocument(made.pdf)) == 2
    image = rendered(made.pdf, 1)
    stands = stand_page(paper, DEFAULT_TILE)
    assert len(stands.pieces) >= 8
    for piece in stands.pieces:
        assert piece.right <= stands.page.wide - EDGE + 1e-6
        assert piece.low <= stands.page.high - EDGE + 1e-6
        column = image[round(piece.top * PER_MM) : round(piece.low * PER_MM), round((piece.left + 0.5) * PER_MM)]
        dark = np.flatnonzero(column < 200) / PER_MM
        for fold in stands.folds:
            assert np.abs(dark - fold).min() < 0.5
    margin = round((EDGE - 1) * PER_MM)
    assert (image[:, :margin] == 255).all()
    assert (image[:, -margin:] == 255).all()


def test_the_same_sheet_is_the_same_file_and_every_page_has_its_size():
    request = SheetRequest(sheet_words(), Paper.LETTER, tiles=9)
    made = make_sheet(request)
    assert made.pdf == make_sheet(request).pdf
    assert len(pypdfium2.PdfDocument(made.pdf)) == len(made.layouts) == 3
