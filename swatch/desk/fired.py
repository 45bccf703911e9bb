"""The fired colour each material shows by itself, for sections and shelves."""

from __future__ import annotations

from collections.abc import Generator, Mapping
from dataclasses import dataclass, field

from swatch.desk.sections import Section, section_of
from swatch.desk.slices import at_once
from swatch.terms.colour import Lab
from swatch.terms.cone import Cone
from swatch.terms.evidence import Evidence, Stage
from swatch.terms.layering import Layers, fold_name
from swatch.terms.materials import Kind

Place = tuple[str, float]
"""A folded name and the cone's place in the series."""
STEP = 2_000


@dataclass(frozen=True, slots=True)
class FiredColours:
    """Measured colours of single materials and of bare bodies, by cone; only what the studio has fired."""

    materials: Mapping[Place, Lab] = field(default_factory=dict)
    bodies: Mapping[Place, Lab] = field(default_factory=dict)
    clear: frozenset[str] = frozenset()
    over_palest: Mapping[str, tuple[Lab, str]] = field(default_factory=dict)
    """Of each clear, by its folded name, the colour over the palest ground it was fired on, and that ground."""

    def shown_alone(self, name: str, cone: Cone) -> tuple[Lab | None, str]:
        """A swatch for a material by itself, and over what it is shown: a clear alone shows only the body."""
        if fold_name(name) in self.clear:
            return self.over_palest.get(fold_name(name), (None, ""))
        return self.material(name, cone), ""

    def material(self, name: str, cone: Cone) -> Lab | None:
        """The fired colour at that cone, or at the nearest one fired; None where it was never fired alone."""
        return _nearest(self.materials, fold_name(name), cone)

    def body(self, name: str, cone: Cone) -> Lab | None:
        """The bare body's colour at that cone, or the nearest one."""
        return _nearest(self.bodies, fold_name(name), cone)

    def section(self, layers: Layers, body: str, cone: Cone) -> Section:
        """A layering in the colours its materials fire to by themselves."""
        fired = {
            layer.material: lab for layer in layers if (lab := self.material(layer.material, cone)) is not None
        }
        clear = [layer.material for layer in layers if fold_name(layer.material) in self.clear]
        return section_of(layers, body, self.body(body, cone), fired, clear)


def _nearest(known: Mapping[Place, Lab], name: str, cone: Cone) -> Lab | None:
    at = [(abs(place - cone.position), place) for folded, place in known if folded == name]
    return known[name, min(at)[1]] if at else None


def fired_colours(evidence: Evidence) -> FiredColours:
    """Gather the fired colours now."""
    return at_once(fired_in_steps(evidence))


def fired_in_steps(evidence: Evidence) -> Generator[None, None, FiredColours]:
    """Gather the fired colours: of a material the thickest coat on record, since there it is most itself."""
    thickest: dict[Place, tuple[float, Lab]] = {}
    bodies: dict[Place, Lab] = {
        (fold_name(bare.body), bare.cone.position): bare.lab for bare in evidence.bodies if bare.lab is not None
    }
    folded: dict[str, str] = {}
    clear = frozenset(fold_name(m.name) for m in evidence.materials if m.kind is Kind.CLEAR)
    palest: dict[str, tuple[Lab, str]] = {}
    for number, reading in enumerate(evidence.readings):
        if number % STEP == STEP - 1:
            yield
        if reading.stage is not Stage.FIRED or reading.cone is None:
            continue
        if not reading.layers and reading.body:
            bodies.setdefault((fold_name(reading.body), reading.cone.position), reading.lab)
        if len(reading.layers) == 1 and not reading.layers[0].wiped:
            layer = reading.layers[0]
            if layer.material not in folded:
                folded[layer.material] = fold_name(layer.material)
            place = (folded[layer.material], reading.cone.position)
            if place not in thickest or thickest[place][0] < layer.coats:
                thickest[place] = (layer.coats, reading.lab)
        top = fold_name(reading.layers[-1].material) if clear and reading.layers else ""
        if top in clear and (top not in palest or palest[top][0].L < reading.lab.L):
            below = reading.layers[-2].material if len(reading.layers) > 1 else reading.body or ""
            palest[top] = reading.lab, below
    return FiredColours({place: lab for place, (_coats, lab) in thickest.items()}, bodies, clear, palest)
