"""Jars, counts of an edition, and weighings that cannot be."""

import pytest
from rows_of_every_table import COVARIANCE

from swatch.library.studio import Studio
from swatch.terms.colour import Lab
from swatch.terms.editions import Counts, PieceReading, Role, Tallied, Tally, Weighed, Weighing
from swatch.terms.materials import Jar, Material
from swatch.terms.problems import StudioProblem

ALL = frozenset({"material", "jar", "lot", "left_g", "tare_g", "opened", "locked"})


def test_jars_add_up_and_what_is_locked_is_told(studio):
    studio.put_materials([Material("Moss", left_g=100.0)], frozenset({"left_g"}))
    jars = [Jar("Moss", "1", "A", 250.0, 120.0), Jar("moss", "2", "B", 400.0, 121.0, "2027-01-02", True)]
    assert studio.put_jars(jars, ALL) == Counts(added=2)
    (moss,) = studio.materials()
    assert (moss.left_g, moss.locked_g) == (750.0, 400.0)
    assert studio.put_jars([Jar("Moss", "1", "a", 200.0)], frozenset({"left_g"})) == Counts(updated=1)
    assert [(jar.jar, jar.lot, jar.left_g, jar.tare_g) for jar in studio.jars()] == [
        ("", None, 100.0, 0.0), ("1", "A", 200.0, 120.0), ("2", "B", 400.0, 121.0)]  # fmt: skip
    # What is stated for the material as a whole is the jars' together.
    studio.put_materials([Material("Moss", left_g=900.0)], frozenset({"left_g"}))
    assert studio.materials()[0].left_g == 900.0
    assert sum(jar.left_g for jar in studio.jars()) == 900.0


def test_a_jar_is_locked_and_let_go_and_that_can_be_taken_back(studio):
    studio.put_jars([Jar("Moss", "", None, 250.0)], ALL)
    studio.lock_jar("moss")
    assert studio.materials()[0].locked_g == 250.0
    studio.undo()
    assert studio.materials()[0].locked_g == 0.0
    studio.redo()
    studio.lock_jar("Moss", False)
    assert not studio.jars()[0].locked
    with pytest.raises(StudioProblem, match="no-such-jar"):
        studio.lock_jar("Moss", jar="7")


def test_a_jar_of_which_something_was_taken_only_is_no_jar_to_count(studio):
    studio.put_weighings([Weighing("Moss", "2027-01-01", "A", 90.0, 80.0)], frozenset())
    assert studio.jars() == ()
    assert studio.put_jars([Jar("Moss", "", "A", 80.0)], ALL) == Counts(added=1)
    assert studio.put_jars([Jar("Moss", "", "A", 80.0)], ALL) == Counts(unchanged=1)


@pytest.mark.parametrize(
    ("weighed", "before", "after", "code"),
    [(None, 80.0, 90.0, "jar-weighed-backwards"), (Weighed.JAR, 80.0, 90.0, "jar-weighed-backwards"),
     (Weighed.PIECE, 90.0, 80.0, "piece-weighed-backwards")],
)  # fmt: skip
def test_what_cannot_have_been_weighed_so_is_refused_even_in_two_halves(studio, weighed, before, after, code):
    whole = Weighing("Moss", "2027-01-01", None, before, after, 4.0, weighed=weighed)
    with pytest.raises(StudioProblem, match=code):
        studio.put_weighings([whole], frozenset())
    assert studio.weighings() == ()
    half = Weighing("Moss", "2027-01-01", None, before, None, 4.0, weighed=weighed)
    studio.put_weighings([half], frozenset())
    with pytest.raises(StudioProblem, match=code):
        studio.put_weighings([Weighing("Moss", "2027-01-01", after_g=after)], frozenset({"after_g"}))
    assert studio.weighings() == (half,)


def test_counts_are_told_by_edition_day_what_and_firing(studio):
    rows = [
        Tally("Mugs", "2027-01-02", Tallied.FIRED, 20, "F1"),
        Tally("Mugs", "2027-01-02", Tallied.GOOD, 17, "F1"),
    ]
    assert studio.put_tallies(rows, frozenset()) == Counts(added=2)
    assert studio.put_tallies([Tally("mugs", "2027-01-02", Tallied.GOOD, 16, "f1")], frozenset()) == Counts(
        updated=1
    )
    studio.close()
    with Studio.look(studio.folder) as again:
        assert [one.count for one in again.tallies()] == [20, 16]


def test_the_colours_of_a_mottled_piece_are_told_with_its_firing(studio):
    piece = PieceReading("Mugs", "p1", "in", Lab(50, 0, 0), COVARIANCE, firing="F1", role=Role.APPROVED)
    studio.put_pieces([piece], frozenset({"firing", "role", "lab"}))
    assert studio.mottled() == ()
    with studio.change("anything") as sql:
        sql.execute("UPDATE reading SET colours = '[[40, 1, 2, 0.7], [70, 0, 0, 0.3]]'")
    (found,) = studio.mottled()
    assert (found.edition, found.piece, found.firing, found.role) == ("Mugs", "p1", "F1", Role.APPROVED)
    assert [(part.lab, part.share) for part in found.colours] == [(Lab(40, 1, 2), 0.7), (Lab(70, 0, 0), 0.3)]
