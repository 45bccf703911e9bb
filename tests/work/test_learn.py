import pytest

from swatch.library.studio import Studio
from swatch.terms.materials import Status
from swatch.work.learn import digest_of, learnt
from swatch.work.predict import predictions
from swatch.work.replace import replace


def fits_in(folder):
    return sorted((folder / "cache").glob("fit-*.npz"))


def printed(answers):
    """What is said of predictions, to more decimals than are ever printed."""
    return [[round(x, 5) for x in (*one.lab, *one.covariance)] for one in answers]


def some_questions(known):
    from swatch.terms.answers import Question

    readings = [r for r in known.evidence.readings if r.body and r.cone and r.stage == "fired"][::20]
    return [Question(r.layers, r.body, r.cone) for r in readings]


def test_a_damaged_fit_in_the_cache_is_made_anew_and_answers_alike(own_demo):
    known = learnt(own_demo)
    before = printed(predictions(known, some_questions(known)))
    for damage in (b"", b"not a fit", fits_in(own_demo)[0].read_bytes()[:-2000]):
        fits_in(own_demo)[0].write_bytes(damage)
        again = learnt(own_demo)
        assert printed(predictions(again, some_questions(again))) == before
        assert len(fits_in(own_demo)[0].read_bytes()) > 10_000


def test_what_does_not_bear_on_colour_costs_no_fit_and_undo_finds_the_old_one(own_demo):
    digest = learnt(own_demo).digest
    with Studio.open(own_demo) as studio:
        name = studio.materials()[0].name
        studio.set_status(name, Status.USED_UP)
        assert learnt(own_demo).digest == digest
        studio.rename_material(name, f"{name} again")
        assert learnt(own_demo).digest == digest
        studio.undo()
        studio.undo()
    assert learnt(own_demo).digest == digest
    assert len(fits_in(own_demo)) == 1


def test_another_reading_is_another_fit(own_demo):
    from dataclasses import replace as changed

    known = learnt(own_demo)
    reading = known.evidence.readings[0]
    with Studio.open(own_demo) as studio:
        studio.put_readings([changed(reading, lab=reading.lab._replace(L=reading.lab.L + 3))], frozenset({"lab"}))
    assert learnt(own_demo).digest != known.digest == digest_of(known.arrays.data)


def test_every_use_of_a_material_is_found_those_of_editions_first(own_demo, demo_answers):
    material = demo_answers.replace.material
    with Studio.look(own_demo) as studio:
        evidence, editions = studio.evidence(), studio.editions()
    used = {
        (r.layers, r.body, r.cone)
        for r in evidence.readings
        if r.stage == "fired" and any(layer.material == material for layer in r.layers)
    }
    used |= {(e.layers, e.body, e.cone) for e in editions if any(x.material == material for x in e.layers)}
    answer = replace(own_demo, material.upper(), top=2)
    found = [(use.question.layers, use.question.body, use.question.cone) for use in answer.uses]
    assert set(found) == used
    in_editions = sum(any(layer.material == material for layer in e.layers) for e in editions)
    assert {f[0] for f in found[:in_editions]} == {
        e.layers for e in editions if any(layer.material == material for layer in e.layers)
    }
    assert not any(
        layer.material == material
        for use in answer.uses
        for one in use.suggestions
        for layer in one.prediction.question.layers
    )


def test_in_haste_a_new_tile_starts_from_the_last_fit_and_is_marked(own_demo):
    from dataclasses import replace as changed

    before = learnt(own_demo)
    assert not before.provisional
    reading = before.evidence.readings[0]
    with Studio.open(own_demo) as studio:
        added = changed(reading, tile="One more", lab=reading.lab._replace(L=reading.lab.L + 1))
        studio.put_readings([added], frozenset({"body", "layers", "cone", "firing", "session"}))
    hasty = learnt(own_demo, in_haste=True)
    assert hasty.provisional
    assert len(fits_in(own_demo)) == 1
    assert (hasty.fit.scale == before.fit.scale).all()
    full = learnt(own_demo)
    assert not full.provisional
    questions = some_questions(full)
    for one, two in zip(predictions(hasty, questions), predictions(full, questions), strict=True):
        assert one.lab == pytest.approx(two.lab, abs=1.0)
    assert not list((own_demo / "cache").glob("hasty-*"))
    again = learnt(own_demo, in_haste=True)
    assert not again.provisional
    assert again.digest == full.digest != before.digest


def test_without_a_fit_to_start_from_haste_learns_in_full(own_demo):
    for damage in (None, "nonsense", "2 ../../elsewhere"):
        for kept in fits_in(own_demo):
            kept.unlink()
        last = own_demo / "cache" / "last-fit.txt"
        last.unlink(missing_ok=True) if damage is None else last.write_text(damage)
        assert not learnt(own_demo, in_haste=True).provisional
