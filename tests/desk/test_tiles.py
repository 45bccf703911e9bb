import pytest
from small_studio import READINGS, ToldWorkers, make_studio

from swatch.desk.jobs import Jobs
from swatch.desk.opening import OpenStudio
from swatch.desk.settings import Settings
from swatch.desk.tile_views import view_tiles
from swatch.desk.tiles import Order, Tiles
from swatch.terms.evidence import Sheen, Stage


@pytest.fixture
def opened(qtbot, tmp_path):
    studio = OpenStudio(Settings())
    tiles = Tiles(studio, Jobs(workers=ToldWorkers()))
    assert studio.open(make_studio(tmp_path / "studio"))
    yield studio, tiles
    studio.close()


def names(tiles):
    return [tiles.grid.data(tiles.grid.index(row)) for row in range(tiles.grid.rowCount())]


def test_readings_become_tiles_with_zones():
    tiles = {(tile.tile, tile.stage): tile for tile in view_tiles(READINGS)}
    assert [zone.zone for zone in tiles["T1", Stage.FIRED].zones] == ["A", "B"]
    assert tiles["T1", Stage.FIRED].summary == "Moss"
    assert tiles["T3", Stage.FIRED].summary == "Moss › Amber"


def test_several_readings_of_a_zone_are_averaged_but_known_no_better():
    one = READINGS[0]
    two = one.__class__(
        **{**{f: getattr(one, f) for f in one.__slots__}, "reading": 2, "lab": one.lab._replace(L=44.0)}
    )
    (tile,) = view_tiles([one, two])
    assert pytest.approx(42.0) == tile.zones[0].lab.L
    assert tile.zones[0].known_to == pytest.approx(view_tiles([one])[0].zones[0].known_to)


def test_only_fired_tiles_lie_there_at_first(opened):
    _studio, tiles = opened
    tiles.filter(order=Order.NAME)
    assert names(tiles) == ["T1", "T2", "T3"]
    tiles.filter(stages=frozenset(Stage))
    assert "S1" in names(tiles)


@pytest.mark.parametrize(
    ("filters", "left"),
    [
        ({"material": "Amber"}, ["T2", "T3"]),
        ({"body": "Dunbank"}, ["T3"]),
        ({"coats": 2.0}, ["T1", "T3"]),
        ({"text": "gloss t2"}, ["T2"]),
        ({"text": "MOSS amber"}, ["T3"]),
        ({"text": "nothing"}, []),
    ],
)
def test_filters_let_through_what_is_like_that(opened, filters, left):
    _studio, tiles = opened
    tiles.filter(order=Order.NAME, **filters)
    assert names(tiles) == left
    tiles.clear_filters()
    assert names(tiles) == ["T1", "T2", "T3"]


def test_sheen_is_recorded_and_taken_back(opened):
    studio, tiles = opened
    tiles.choose("T2")
    tiles.set_sheen(tiles.chosen.zones[0], Sheen.MATT)
    assert tiles.chosen.zones[0].reading.sheen is Sheen.MATT
    studio.do(lambda records: records.undo())
    assert tiles.chosen.zones[0].reading.sheen is Sheen.GLOSS


def test_faults_are_flipped_one_by_one(opened):
    _studio, tiles = opened
    tiles.choose("T2")
    tiles.set_faults(tiles.chosen.zones[0], ["ran", "crazed"])
    assert tiles.chosen.zones[0].reading.faults == ("ran", "crazed")
    tiles.set_faults(tiles.chosen.zones[0], [])
    assert tiles.chosen.zones[0].reading.faults == ()


def test_sheen_can_be_taken_away_again(opened):
    _studio, tiles = opened
    tiles.choose("T2")
    tiles.set_sheen(tiles.chosen.zones[0], None)
    assert tiles.chosen.zones[0].reading.sheen is None


def test_a_reading_set_aside_is_not_learnt_from_and_can_be_taken_in_again(opened):
    studio, tiles = opened
    (reading,) = tiles.readings_of("T2", "A")
    tiles.set_aside(reading.id, aside=True)
    assert not any(r.tile == "T2" for r in studio.evidence.readings)
    (reading,) = tiles.readings_of("T2", "A")
    assert reading.set_aside
    tiles.set_aside(reading.id, aside=False)
    assert any(r.tile == "T2" for r in studio.evidence.readings)


def test_a_tile_removed_comes_back_with_undo(opened):
    studio, tiles = opened
    before = studio.evidence.readings
    tiles.remove("T1")
    assert not any(r.tile == "T1" for r in studio.evidence.readings)
    studio.do(lambda records: records.undo())
    assert studio.evidence.readings == before
