"""The usual cautions of the trade that an answer must carry.

None of them says that a surface is fit for food: what touches food or mouth is decided by a laboratory and by
local rules, never here.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping

from swatch.terms.answers import Grounds, Question
from swatch.terms.cone import Cone
from swatch.terms.layering import Layer, Layers, fold_name
from swatch.terms.materials import Kind, Material, Status
from swatch.terms.problems import Notice
from swatch.work.learn import Learnt

FOOD_REGIONS = ("inside", "lip", "outside")
"""Inside, lip and the outside's top 20 mm touch food or mouth (common practice, no source)."""
GLASSY = (Kind.GLAZE, Kind.CLEAR)
THICK_COATS = 3.0
SAME_CONE = 0.25


class Cautions:
    """Finds the cautions of any layering of one studio."""

    def __init__(self, known: Learnt) -> None:
        self._stock = {fold_name(one.name): one for one in known.arrays.stock}
        self._faults: dict[tuple[object, ...], Counter[str]] = {}
        for reading in known.evidence.readings:
            if reading.faults:
                seen = self._faults.setdefault(_folded(reading.layers), Counter())
                seen.update(reading.faults)

    def of(self, question: Question, grounds: Grounds) -> tuple[Notice, ...]:
        """Cautions of one answer, what is most likely to cost the potter work first."""
        layers = [(layer, self._material(layer)) for layer in question.layers]
        found = [
            *self.faults_seen(question.layers),
            *_running(layers, self._faults.get(_folded(question.layers))),
            *_cones(layers, question.cone),
            *_not_to_be_had(layers),
        ]
        if grounds.same_layering == 0:
            found.insert(0, Notice("new-layering"))
        return (*found, *_food(layers, question.cone))

    def _material(self, layer: Layer) -> Material:
        return self._stock.get(fold_name(layer.material), Material(layer.material))

    def faults_seen(self, layers: Layers) -> list[Notice]:
        """Faults that own tiles of this very layering showed, with how often."""
        seen = self._faults.get(_folded(layers), Counter())
        return [Notice(f"seen-{fault}", {"times": times}) for fault, times in sorted(seen.items())]


def label_speaks_of_food(material: Material, cone: Cone) -> bool:
    """Whether it is a glaze whose maker's label states food use of it alone at that cone: the least asked for."""
    if material.kind not in GLASSY or material.food_label is not True:
        return False
    rated = material.food_label_cone
    return rated is None or abs(rated.position - cone.position) <= SAME_CONE


def may_be_offered(question: Question, regions: Iterable[str], stock: Mapping[str, Material]) -> bool:
    """Whether a layering may be named for these regions at all, by the labels of all that is in it.

    Where food or mouth touches, a labelled glaze on top, not wiped, and nothing beneath whose label says no. It is
    a filter, never a proof. ``stock`` is by folded names.
    """
    if not any(region in FOOD_REGIONS for region in regions):
        return True
    if not question.layers or question.layers[-1].wiped:
        return False
    used = [stock.get(fold_name(one.material), Material(one.material)) for one in question.layers]
    return label_speaks_of_food(used[-1], question.cone) and not any(one.food_label is False for one in used)


def _folded(layers: Layers) -> tuple[object, ...]:
    return tuple((fold_name(layer.material), layer.coats, layer.wiped) for layer in layers)


def _running(layers: list[tuple[Layer, Material]], seen: Counter[str] | None) -> list[Notice]:
    """Much glass may run: said where it was not already seen to."""
    glassy = sum(layer.coats for layer, material in layers if material.kind in GLASSY)
    if glassy >= THICK_COATS and not (seen and "ran" in seen):
        return [Notice("may-run", {"coats": glassy})]
    return []


def _cones(layers: list[tuple[Layer, Material]], cone: Cone) -> list[Notice]:
    found = []
    for _layer, material in layers:
        if material.cone_to is not None and cone.position > material.cone_to.position + SAME_CONE:
            facts = {"material": material.name, "cone": str(cone), "rated": str(material.cone_to)}
            found.append(Notice("hotter-than-rated", facts))
        elif material.cone_from is not None and cone.position < material.cone_from.position - SAME_CONE:
            facts = {"material": material.name, "cone": str(cone), "rated": str(material.cone_from)}
            found.append(Notice("cooler-than-rated", facts))
    return found


def _not_to_be_had(layers: list[tuple[Layer, Material]]) -> list[Notice]:
    return [
        Notice("not-in-stock", {"material": material.name, "status": str(material.status)})
        for _layer, material in layers
        if material.status is not Status.IN_STOCK
    ]


def _food(layers: list[tuple[Layer, Material]], cone: Cone) -> list[Notice]:
    """One caution on what touches food or mouth, for every answer: the strongest that applies."""
    if not layers:
        return [Notice("bare-body-food")]
    refused = next((one for _layer, one in layers if one.food_label is False), None)
    top, material = layers[-1]
    if top.wiped or material.kind in (Kind.UNDERGLAZE, Kind.SLIP, Kind.WASH):
        return [Notice("bare-underglaze", {"material": material.name})]
    if refused is not None:
        return [Notice("label-not-for-food", {"material": refused.name})]
    if material.food_label is None:
        return [Notice("label-silent", {"material": material.name})]
    rated = material.food_label_cone
    if rated is not None and abs(rated.position - cone.position) > SAME_CONE:
        return [Notice("label-other-cone", {"material": material.name, "rated": str(rated), "cone": str(cone)})]
    if len(layers) > 1:
        return [Notice("label-alone-only", {"material": material.name})]
    return [Notice("label-needs-test", {"material": material.name})]
