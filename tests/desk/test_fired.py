from small_studio import reading

from swatch.desk.fired import fired_colours
from swatch.terms.colour import Lab
from swatch.terms.cone import Cone
from swatch.terms.evidence import Evidence
from swatch.terms.materials import Kind, Material


def test_a_clear_is_shown_over_the_palest_ground_it_was_fired_on():
    materials = (Material("Window", Kind.CLEAR), Material("Chalk", Kind.UNDERGLAZE), Material("Moss", Kind.GLAZE))
    readings = (
        reading("T1", "A", "Window*2", (55.0, 12.0, 22.0), body="Dunbank"),
        reading("T2", "A", "Chalk*2 > Window", (88.0, 0.0, 5.0)),
        reading("T3", "A", "Moss > Window", (30.0, -10.0, 8.0)),
        reading("T4", "A", "Moss*2", (40.0, -20.0, 15.0)),
    )
    fired = fired_colours(Evidence(materials=materials, readings=readings))
    assert fired.shown_alone("window", Cone(6.0)) == (Lab(88.0, 0.0, 5.0), "Chalk")
    assert fired.shown_alone("Moss", Cone(6.0)) == (Lab(40.0, -20.0, 15.0), "")
    assert fired.shown_alone("Unheard of", Cone(6.0)) == (None, "")
