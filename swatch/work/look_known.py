"""What the learnt model says of a look, or of the stripes of buttons, by their layers."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from swatch.science.holding import Shifts
from swatch.science.look_shifts import no_shifts, shifts_of
from swatch.terms.cone import Cone
from swatch.terms.layering import Layers
from swatch.work.learn import Learnt
from swatch.work.studio_arrays import layer_arrays


def shifts_of_look(taught: Learnt | None, look: Sequence[Layers], body: str | None, cone: Cone | None) -> Shifts:
    """What the model says of some regions or stripes; nothing of those it knows no material of."""
    plain = no_shifts(3 * len(look))
    if taught is None or body is None or cone is None:
        return plain
    materials, at = taught.arrays.materials, taught.arrays.bodies.find(body)
    if at < 0:
        return plain
    known = [all(materials.find(layer.material) >= 0 for layer in layers) for layers in look]
    arrays = layer_arrays([layers if ok else () for layers, ok in zip(look, known, strict=True)], materials)
    found = shifts_of(taught.fit, *arrays, at, cone.position)
    keep = np.repeat(np.array(known), 3)
    return Shifts(*(np.where(keep.reshape(-1, *[1] * (part.ndim - 1)), part, 0.0) for part in
                    (found.heat, found.thickness, found.lot, found.body)))  # fmt: skip
