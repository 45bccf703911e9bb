"""Why a question is refused names what is missing, truly for the kind of material."""

from __future__ import annotations

from dataclasses import replace

import pytest

from swatch.library.studio import Studio
from swatch.terms.answers import Question, Refusal
from swatch.terms.colour import Lab
from swatch.terms.cone import Cone
from swatch.terms.layering import Layer
from swatch.terms.materials import Kind, Material
from swatch.work.predict import predict


@pytest.mark.parametrize(
    ("kind", "raw", "code"),
    [
        (Kind.UNDERGLAZE, None, "colour-never-known"),
        (Kind.SLIP, None, "colour-never-known"),
        (Kind.GLAZE, Lab(50.0, 10.0, 10.0), "material-only-raw"),
        (Kind.GLAZE, None, "material-only-raw"),
    ],
)
def test_a_material_never_fired_is_refused_in_words_true_of_its_kind(own_demo, kind, raw, code):
    studio = Studio.open(own_demo)
    new = Material("Wrack Never", kind=kind)
    given = {"kind"}
    if raw is not None:
        new, given = replace(new, raw=raw), {"kind", "raw"}
    studio.put_materials([new], frozenset(given))
    studio.close()
    with Studio.look(own_demo) as looked:
        body = looked.bodies()[0]
    (said,) = predict(own_demo, [Question((Layer("Wrack Never"),), body, Cone(6.0))])
    assert isinstance(said, Refusal)
    assert said.reason.code == code
    assert said.reason.facts == {"material": "Wrack Never", "body": body, "cone": "6"}
