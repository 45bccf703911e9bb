"""What is proposed for the pieces in a photo, and what is kept of them."""

from __future__ import annotations

from swatch.terms.buttons import ButtonReading
from swatch.terms.colour import Covariance, Lab
from swatch.terms.editions import PieceReading, Role
from swatch.terms.layering import parse_layers
from swatch.terms.measured import PhotoRead, PieceSeen, Verdict, ZoneRead
from swatch.work.load_entries import LoadRecords, deal, entries_for, readings_of

DOUBT = Covariance(1.0, 0.0, 0.0, 1.0, 0.0, 1.0)
PIECES = (
    PieceReading("Lid", "L08", "outside", Lab(50, 0, 0), DOUBT, firing="F-1", shelf="top", role=Role.APPROVED),
    PieceReading("Lid", "L09", "outside", Lab(50, 0, 0), DOUBT, firing="F-1", role=Role.APPROVED),
    PieceReading("Lid", "L09", "outside", Lab(50, 0, 0), DOUBT, reading=2, firing="F-1", role=Role.APPROVED),
)


def photo(regions=("outside",), pieces=3):
    outline = ((0.0, 0.0), (9.0, 0.0), (9.0, 9.0))
    zones = tuple(
        ZoneRead(f"{n} {region}", outline, Lab(40.0 + n, 0, 0), DOUBT, 1.0, 0.5, 1.0)
        for n in range(1, pieces + 1)
        for region in regions
    )
    seen = tuple(PieceSeen(str(n), outline, 0.97, beside_card=n == 1) for n in range(1, pieces + 1))
    return PhotoRead("a.jpg", (100, 100), Verdict.GOOD, None, zones, pieces=seen)


def test_new_pieces_go_on_from_the_last_number_and_fill_the_shelves_in_order():
    records = LoadRecords("Lid", PIECES)
    entries = entries_for(photo(pieces=5), records, "F-2", "L08", ("top", "bottom"))
    assert [(one.name, one.kept, one.shelf) for one in entries] == [
        ("L08", True, None),
        ("L10", False, "top"),
        ("L11", False, "top"),
        ("L12", False, "bottom"),
        ("L13", False, "bottom"),
    ]


def test_the_approved_piece_keeps_its_firing_and_its_role():
    records = LoadRecords("lid", PIECES)
    entries = entries_for(photo(), records, "F-2", "L08")
    values = [value for _, value in readings_of(photo(), entries, records, "F-2")]
    assert [(v.piece, v.firing, v.role) for v in values] == [
        ("L08", "F-1", Role.APPROVED),
        ("L10", "F-2", Role.PIECE),
        ("L11", "F-2", Role.PIECE),
    ]


def test_without_an_approved_piece_in_the_photo_all_are_new():
    entries = entries_for(photo(), LoadRecords("Lid", PIECES), "F-2", None)
    assert [one.name for one in entries] == ["L10", "L11", "L12"]


def test_the_approved_piece_photographed_most_is_offered_first():
    assert LoadRecords("Lid", PIECES).approved() == ("L09", "L08")


def test_buttons_know_their_stripes_and_are_called_by_firing_and_shelf():
    layers = parse_layers("Moss*2 > Clear")
    kept = ButtonReading("Kept", "1", Lab(50, 0, 0), DOUBT, body="Pale", layers=layers, firing="F-1", kept=True)
    records = LoadRecords(None, (), (kept,))
    entries = entries_for(photo(("1",)), records, "F-2", "Kept", ("top", "bottom"))
    values = [value for _, value in readings_of(photo(("1",)), entries, records, "F-2")]
    assert [(v.button, v.firing, v.shelf, v.kept) for v in values] == [
        ("Kept", "F-1", None, True),
        ("F-2 top", "F-2", "top", None),
        ("F-2 bottom", "F-2", "bottom", None),
    ]
    assert all(v.layers == layers for v in values)
    assert LoadRecords(None, (), tuple(values)).new_names(1, "F-2", ["top"]) == ["F-2 top 2"]


def test_shelves_are_dealt_evenly():
    assert deal(("a", "b", "c"), 7) == ["a", "a", "a", "b", "b", "c", "c"]
    assert deal((), 2) == [None, None]
