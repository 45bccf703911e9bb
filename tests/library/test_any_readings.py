"""Whatever consistent readings come in, the same ones come out, again changes nothing, and undo leaves nothing."""

from __future__ import annotations

import dataclasses
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from swatch.library.studio import Studio
from swatch.terms.colour import Covariance, Lab
from swatch.terms.cone import Cone
from swatch.terms.editions import Counts
from swatch.terms.evidence import FAULTS, Sheen, Stage, ZoneReading
from swatch.terms.layering import Layer, fold_name
from swatch.terms.materials import Firing

EVERY = frozenset(field.name for field in dataclasses.fields(ZoneReading))
FIRINGS = [Firing("Asked", cone_asked=Cone(6.0), kiln="Shed"), Firing("Programme", peak_c=1200.0)]

names = st.sampled_from(["T1", "t 2", "Tüte", "東", "'; --", "a.b"])
materials = st.sampled_from(["Rill", "Vale", "O'Hare", "Ärmel"])
numbers = st.floats(-100, 100, allow_nan=False)
cones = st.sampled_from([Cone(-5.0), Cone(-4.5), Cone(0.0), Cone(5.5), Cone(5.87), Cone(6.0)])


@st.composite
def fired(draw: st.DrawFn) -> dict[str, object]:
    firing = draw(st.sampled_from([None, "Asked", "Programme"]))
    cone = Cone(6.0) if firing == "Asked" else draw(st.none() | cones)
    return {"firing": firing, "cone": cone, "shelf": draw(st.sampled_from([None, "top", "2"]))}


@st.composite
def zones(draw: st.DrawFn) -> list[ZoneReading]:
    """The readings of one zone: what is the zone's is the same in all of them."""
    layers: list[Layer] = []
    for layer in draw(
        st.lists(st.builds(Layer, materials, st.sampled_from([0.5, 1.0, 3.0]), st.booleans()), max_size=4)
    ):
        if not layers or layers[-1].material != layer.material:
            layers.append(layer)
    zone = {
        "zone": draw(st.sampled_from(["", "A", "b b"])),
        "layers": tuple(layers),
        "method": draw(st.sampled_from([None, "brushed"])) if layers else None,
        "lot": draw(st.sampled_from([None, "L1", "L2"])),
    }  # fmt: skip
    burnt = draw(fired())
    look = {
        "sheen": draw(st.none() | st.sampled_from(list(Sheen))),
        "faults": tuple(draw(st.lists(st.sampled_from(FAULTS), max_size=2, unique=True))),
    }
    found = []
    for stage, number in draw(
        st.lists(st.tuples(st.sampled_from([Stage.FIRED, Stage.RAW]), st.integers(1, 3)), min_size=1, unique=True)
    ):
        lab = Lab(*draw(st.tuples(numbers, numbers, numbers)))
        covariance = Covariance(*draw(st.tuples(*[numbers] * 6)))
        session = draw(st.sampled_from([None, "Tuesday", "x"]))
        found.append(
            ZoneReading("", lab=lab, covariance=covariance, stage=stage, reading=number, session=session,
                **zone, **burnt, **look)
        )  # fmt: skip
    return found


@st.composite
def tiles(draw: st.DrawFn) -> list[ZoneReading]:
    found: list[ZoneReading] = []
    for name in draw(st.lists(names, unique=True, max_size=4)):
        body = draw(st.sampled_from([None, "Pale", "Dark"]))
        for zone in draw(st.lists(zones(), min_size=1, max_size=3, unique_by=lambda rows: rows[0].zone)):
            found += [dataclasses.replace(row, tile=name, body=body) for row in zone]
    return draw(st.permutations(found))


@pytest.fixture(scope="module")
def empty() -> Iterator[Studio]:
    with tempfile.TemporaryDirectory() as folder, Studio.create(Path(folder) / "studio") as made:
        made.put_firings(FIRINGS, frozenset(field.name for field in dataclasses.fields(Firing)))
        made.file.sql.execute("PRAGMA synchronous = OFF")
        yield made


@given(rows=tiles())
@settings(max_examples=35, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_any_readings(empty, rows):
    by_name = sorted(rows, key=lambda r: (fold_name(r.tile), fold_name(r.zone), r.stage, r.reading))
    before = empty.undo_name
    assert empty.put_readings(rows, EVERY) == Counts(added=len(rows))
    assert list(empty.evidence().readings) == by_name
    assert empty.put_readings(rows[::-1], EVERY) == Counts(unchanged=len(rows))
    if rows:
        empty.undo()
        assert empty.evidence().readings == ()
        empty.redo()
        assert list(empty.evidence().readings) == by_name
        empty.undo()
    assert empty.undo_name == before
