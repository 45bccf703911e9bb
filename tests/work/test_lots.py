"""Which loads open a lot, of a material or of clay, and since when nothing recorded has changed."""

import numpy as np

from swatch.terms.cone import Cone
from swatch.terms.holding import tight_tolerance
from swatch.terms.materials import Firing
from swatch.work.loads import Gathered, Piece
from swatch.work.lots import opened_by_load


def piece(firing, lots=(), clays=()):
    return Piece("p", firing, None, "s", frozenset(lots), frozenset(clays), np.zeros(3), 0.4)


def gathered(approved, *loads):
    return Gathered(
        ("out",), (approved,), tuple((name, (piece(name, *what),)) for name, *what in loads), (), (), 1.0
    )


def test_a_lot_of_clay_is_opened_once_and_starts_the_adding_up_anew():
    found = opened_by_load(
        gathered(piece("F0", ["A"], ["C1"]), ("F1", ["A"], ["C1"]), ("F2", ["A"], ["c2"]), ("F3", ["A"], ["C2"])),
        {},
    )
    assert [one.clays for one in found] == [(), ("c2",), ()]
    assert [one.any for one in found] == [False, True, False]
    assert [one.since for one in found] == [0, 1, 1]
    assert found[1].told.opens_body
    assert not found[1].told.opens_lot


def test_what_was_never_recorded_of_the_approved_pieces_opens_nothing():
    found = opened_by_load(gathered(piece("F0", ["A"]), ("F1", ["A"], ["C1"]), ("F2", ["B"], ["C2"])), {})
    assert [one.clays for one in found] == [(), ()]
    assert [one.lots for one in found] == [(), ("B",)]
    assert found[1].told.body_recorded is False


def test_another_programme_is_a_change_but_opens_no_lot():
    firings = {"f1": Firing("F1", cone_asked=Cone(6.0)), "f2": Firing("F2", cone_asked=Cone(5.0))}
    found = opened_by_load(gathered(piece("F0"), ("F1",), ("F2",)), firings)
    assert [(one.since, one.since_lot) for one in found] == [(0, False), (1, False)]


def test_a_tight_tolerance_is_told_as_soon_as_it_is_chosen():
    assert tight_tolerance(2.0).code == "tolerance-rarely-supported"
    assert tight_tolerance(3.5) is None
    assert tight_tolerance(None) is None
