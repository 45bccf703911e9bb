"""Cones and questions as they are said in the window."""

from __future__ import annotations

from swatch.terms.cone import Cone
from swatch.terms.layering import Layers
from swatch.wording.answers import layers_in_words
from swatch.wording.text import _, say


def cone_in_words(cone: Cone | None) -> str:
    """Say a cone: ``cone 6``, ``cone 5½``; ``no cone`` where it is not known."""
    if cone is None:
        return say(_("no cone"))
    return say(_("cone {cone}")).format(cone=cone_figure(cone))


def cone_figure(cone: Cone) -> str:
    """Write a cone: ``06``, ``6``, ``5½``."""
    text = str(cone)
    return f"{text[:-2]}½" if text.endswith(".5") else text


def layering_in_words(layers: Layers) -> str:
    """Write layers for reading; without any, the bare body."""
    return layers_in_words(layers) if layers else say(_("bare body"))


def question_in_words(layers: Layers, body: str, cone: Cone | None) -> str:
    """Say a layering with its ground: ``Tarlow Green ×2 on Corrie Buff at cone 6``."""
    return say(_("{layers} on {body} at {cone}")).format(
        layers=layering_in_words(layers), body=body, cone=cone_in_words(cone)
    )


def place_in_words(layers: Layers, body: str, cone: Cone | None) -> str:
    """Say the ground first: ``Corrie Buff, cone 6: Tarlow Green ×2``."""
    return say(_("{body}, {cone}: {layers}")).format(
        layers=layering_in_words(layers), body=body, cone=cone_in_words(cone)
    )
