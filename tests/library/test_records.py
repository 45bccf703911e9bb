"""Rows in, the same rows out; the same rows again change nothing."""

from __future__ import annotations

import dataclasses

import pytest
from rows_of_every_table import (
    ALL,
    COVARIANCE,
    FIRINGS,
    JARS,
    MATERIALS,
    PIECES,
    READINGS,
    WITNESSES,
    every,
)

from swatch.library.studio import Studio
from swatch.terms.colour import Lab
from swatch.terms.cone import Cone
from swatch.terms.editions import Counts, PieceReading
from swatch.terms.evidence import Sheen, ZoneReading
from swatch.terms.layering import Layer, parse_layers
from swatch.terms.materials import Firing, Material, Status, WitnessCone
from swatch.terms.problems import StudioProblem


def put_all(studio: Studio) -> list[Counts]:
    return [getattr(studio, put)(rows, every(type(rows[0]))) for put, rows in ALL]


def given_back(studio: Studio) -> dict[str, list[object]]:
    evidence = studio.evidence()
    return {
        "put_materials": [one for one in evidence.materials if one.name != JARS[0].material],
        "put_bodies": sorted(evidence.bodies, key=lambda body: -body.cone.position),
        "put_firings": list(evidence.firings),
        "put_witnesses": list(evidence.witnesses),
        "put_readings": list(evidence.readings),
        "put_editions": list(studio.editions()),
        "put_pieces": list(studio.pieces()),
        "put_buttons": list(studio.buttons()),
        "put_weighings": list(studio.weighings()),
        "put_jars": [one for one in studio.jars() if one.material == JARS[0].material],
        "put_tallies": list(studio.tallies()),
    }


def test_rows_come_out_as_they_went_in(studio):
    assert put_all(studio) == [Counts(added=len(rows)) for _, rows in ALL]
    assert given_back(studio) == dict(ALL)


def test_the_same_rows_again_change_nothing_and_leave_no_undo_step(studio):
    put_all(studio)
    name = studio.undo_name
    for put, rows in ALL:
        assert getattr(studio, put)(rows, every(type(rows[0]))) == Counts(unchanged=len(rows)), put
        assert studio.touched == frozenset()
    assert studio.undo_name == name == ("bring-in-counts", {"n": 3})


def test_rows_are_there_when_the_studio_is_opened_again(studio):
    put_all(studio)
    before = given_back(studio)
    studio.close()
    with Studio.open(studio.folder) as again:
        assert given_back(again) == before
        assert again.undo_name is None
    with Studio.look(studio.folder) as looking:
        assert given_back(looking) == before


def test_names_are_compared_without_case_and_with_single_spaces(studio):
    studio.put_materials(MATERIALS, every(Material))
    same = dataclasses.replace(MATERIALS[0], name="  BRAMLING   Clear ", left_g=12.0)
    assert studio.put_materials([same], every(Material)) == Counts(updated=1)
    assert studio.materials()[0] == dataclasses.replace(MATERIALS[0], left_g=12.0)


def test_only_given_fields_are_written_where_a_row_is_known(studio):
    put_all(studio)
    studio.put_materials([Material("Sedgewater", left_g=5.0)], frozenset({"name", "left_g"}))
    assert studio.materials()[1] == dataclasses.replace(MATERIALS[1], left_g=5.0)
    other = ZoneReading("t1", "a", Lab(1, 2, 3), COVARIANCE, sheen=Sheen.GLOSS)
    given = frozenset({"tile", "zone", "lab", "sheen"})
    assert studio.put_readings([other], given) == Counts(updated=1)
    expected = dataclasses.replace(READINGS[1], lab=Lab(1, 2, 3), sheen=Sheen.GLOSS)
    assert studio.evidence().readings[1] == expected
    studio.put_pieces([PieceReading("Shore", "p1", "in", Lab(0, 0, 0), COVARIANCE)], frozenset({"lab"}))
    assert studio.pieces()[0] == dataclasses.replace(PIECES[0], lab=Lab(0, 0, 0))


def test_a_corrected_firing_takes_the_sheen_along_and_leaves_nothing_behind(studio):
    put_all(studio)
    moved = [dataclasses.replace(row, firing="F2", shelf=None) for row in READINGS[1:4]]
    assert studio.put_readings(moved, every(ZoneReading)) == Counts(updated=3)
    found = studio.evidence().readings
    assert list(found[1:4]) == moved
    assert studio.file.sql.execute("SELECT count(*) FROM ware_event WHERE firing_id = 1 AND ware_id = "
        "(SELECT id FROM ware WHERE folded = 't1')").fetchone() == (0,)  # fmt: skip


def test_a_kiln_named_later_does_not_part_a_shelf_from_itself(studio):
    later = FIRINGS[0]
    studio.put_firings([dataclasses.replace(later, kiln=None)], every(Firing))
    studio.put_readings(READINGS, every(ZoneReading))
    studio.put_witnesses(WITNESSES, every(WitnessCone))
    studio.put_firings([later], every(Firing))
    assert studio.put_readings(READINGS, every(ZoneReading)) == Counts(unchanged=len(READINGS))
    assert studio.put_witnesses(WITNESSES, every(WitnessCone)) == Counts(unchanged=2)


def test_layers_put_on_between_firings_are_seen_only_by_the_later_reading(studio):
    first = ZoneReading("T9", "A", Lab(50, 0, 0), COVARIANCE, layers=parse_layers("Sedgewater"), cone=Cone(6.0))
    again = dataclasses.replace(
        first, reading=2, refires=1, lab=Lab(40, 0, 0), layers=parse_layers("Sedgewater*2 > Tindle wash")
    )
    assert studio.put_readings([first, again], every(ZoneReading)) == Counts(added=2)
    assert studio.evidence().readings == (first, again)
    assert studio.put_readings([again, first], every(ZoneReading)) == Counts(unchanged=2)


def test_rows_that_contradict_each_other_are_refused_whole(studio):
    one = ZoneReading("T9", "A", Lab(50, 0, 0), COVARIANCE, layers=parse_layers("Sedgewater"))
    other = dataclasses.replace(one, reading=2, layers=parse_layers("Tindle wash"))
    with pytest.raises(StudioProblem) as found:
        studio.put_readings([one, other], every(ZoneReading))
    assert found.value.code == "layers-differ"
    assert studio.evidence().readings == ()
    assert studio.undo_name is None
    bodies = [dataclasses.replace(one, body="Pale ston"), dataclasses.replace(one, zone="B", body="Dark ston")]
    with pytest.raises(StudioProblem, match="rows-differ"):
        studio.put_readings(bodies, every(ZoneReading))


def test_a_cone_beside_a_firing_must_be_the_one_asked(studio):
    studio.put_firings(FIRINGS, every(Firing))
    row = dataclasses.replace(READINGS[1], cone=Cone(-5.0))
    with pytest.raises(StudioProblem) as found:
        studio.put_readings([row], every(ZoneReading))
    assert (found.value.code, found.value.facts["asked"]) == ("cone-not-the-firings", "6")


@pytest.mark.parametrize("text", ["a\0b", "half \ud83d", ""])
def test_names_that_no_record_can_hold_are_refused(studio, text):
    with pytest.raises(StudioProblem):
        studio.put_materials([Material(text)], every(Material))
    assert studio.materials() == ()


def test_renaming_follows_everywhere_and_refuses_a_name_that_is_taken(studio):
    put_all(studio)
    studio.rename_material("sedgewater", "Sedgewater II")
    assert str(studio.evidence().readings[1].layers[0]) == "Sedgewater II*2"
    with pytest.raises(StudioProblem, match="name-taken"):
        studio.rename_material("Sedgewater II", "tindle  WASH")
    studio.mark_discontinued("Tindle wash")
    assert studio.materials()[2].status is Status.DISCONTINUED
    with pytest.raises(StudioProblem, match="not-there"):
        studio.mark_discontinued("Nowhere")


def test_a_row_without_a_firing_makes_no_firing_up(studio):
    studio.put_readings(
        [ZoneReading("T3", "", Lab(1, 1, 1), COVARIANCE, layers=(Layer("A"),))], every(ZoneReading)
    )
    assert studio.file.sql.execute("SELECT count(*) FROM ware_event").fetchone() == (0,)
