"""The studio's records as the arrays that learning takes, and names to their codes."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

import numpy as np

from swatch.science import heatlog, priors, studio_data
from swatch.science.studio_data import StudioData
from swatch.terms.answers import Question
from swatch.terms.cone import Cone
from swatch.terms.evidence import Evidence, Stage, ZoneReading
from swatch.terms.layering import Layers, fold_name
from swatch.terms.materials import FiringLog, Kind, Material

_KINDS = {
    Kind.UNDERGLAZE: priors.UNDERGLAZE,
    Kind.GLAZE: priors.GLAZE,
    Kind.CLEAR: priors.CLEAR,
    Kind.SLIP: priors.SLIP,
    Kind.WASH: priors.WASH,
    None: priors.UNKNOWN_KIND,
}
_STAGES = {Stage.FIRED: studio_data.FIRED, Stage.RAW: studio_data.RAW, Stage.MAKER: studio_data.MAKER}
_METHODS = {
    "brushed": studio_data.BRUSHED,
    "sprayed": studio_data.SPRAYED,
    "dipped": studio_data.DIPPED,
    "poured": studio_data.POURED,
}


@dataclass
class Codes:
    """Names in the order met, each with its place; names are the same where they fold alike."""

    names: list[str] = field(default_factory=list)
    _place: dict[object, int] = field(default_factory=dict)

    def add(self, name: str | None, *within: object) -> int:
        """Place of a name, new or known; −1 for none. `within` tells equal names apart, as of shelves."""
        if name is None:
            return -1
        key = (fold_name(name), *within)
        if key not in self._place:
            self._place[key] = len(self.names)
            self.names.append(name)
        return self._place[key]

    def find(self, name: str) -> int:
        """Place of a known name, −1 where unknown."""
        return self._place.get((fold_name(name),), -1)


@dataclass(frozen=True)
class StudioArrays:
    """A studio's evidence as arrays, with the names behind the codes."""

    data: StudioData
    materials: Codes
    bodies: Codes
    stock: tuple[Material, ...]
    """One record per material code; a material that only tiles name has a bare one."""
    readings: tuple[ZoneReading, ...]
    """The readings behind the rows of the arrays."""


def arrays_of(evidence: Evidence) -> StudioArrays:
    """Turn a snapshot into arrays; the same snapshot gives the same arrays."""
    materials, bodies, firings, shelves = Codes(), Codes(), Codes(), Codes()
    for one in evidence.materials:
        materials.add(one.name)
    for body in evidence.bodies:
        bodies.add(body.body)
    # A firing of which no tile and no witness cone tells teaches nothing: it must not move what is learnt.
    told = {fold_name(one.firing) for one in evidence.readings if one.firing and one.refires == 0}
    told |= {fold_name(one.firing) for one in evidence.witnesses}
    for firing in evidence.firings:
        if fold_name(firing.name) in told:
            firings.add(firing.name)
    readings = [reading for reading in evidence.readings if reading.refires == 0]
    for reading in readings:
        bodies.add(reading.body)
        firings.add(reading.firing)
        for layer in reading.layers:
            materials.add(layer.material)
    known = {fold_name(one.name): one for one in evidence.materials}
    stock = tuple(known.get(fold_name(name), Material(name)) for name in materials.names)
    by_name = {fold_name(firing.name): firing for firing in evidence.firings}
    runs = [by_name.get(fold_name(name)) for name in firings.names]
    logs = {fold_name(log.firing): log for log in evidence.logs}
    zones, sessions = Codes(), Codes()
    material, coats, wiped = layer_arrays([reading.layers for reading in readings], materials)
    bare = [body for body in evidence.bodies if body.lab is not None]
    data = StudioData(
        lab=_rows([reading.lab for reading in readings], 3),
        covariance=np.array([reading.covariance.rows() for reading in readings]).reshape(-1, 3, 3),
        material=material,
        coats=coats,
        wiped=wiped,
        body=_codes(bodies.add(reading.body) for reading in readings),
        cone=_floats(_position(reading.cone) for reading in readings),
        firing=_codes(firings.add(reading.firing) for reading in readings),
        shelf=_codes(_shelf(reading, shelves, firings) for reading in readings),
        session=_codes(sessions.add(reading.session) for reading in readings),
        method=_codes(_METHODS.get(fold_name(r.method or ""), studio_data.METHOD_UNKNOWN) for r in readings),
        stage=_codes(_STAGES[reading.stage] for reading in readings),
        zone=_codes(zones.add(reading.tile, fold_name(reading.zone)) for reading in readings),
        kind=_codes(_KINDS[one.kind] for one in stock),
        raw_lab=_rows([one.raw or (math.nan,) * 3 for one in stock], 3),
        rated=_rows([(_position(one.cone_from), _position(one.cone_to)) for one in stock], 2),
        bodies=len(bodies.names),
        bare_body=_codes(bodies.add(body.body) for body in bare),
        bare_cone=_floats(body.cone.position for body in bare),
        bare_lab=_rows([body.lab for body in bare if body.lab is not None], 3),
        firing_cone=_floats(_position(run.cone_asked if run else None) for run in runs),
        firing_reached=_floats(_position(run.cone_reached if run else None) for run in runs),
        firing_peak_c=_floats(_number(run.peak_c if run else None) for run in runs),
        firing_rate=_floats(_number(run.rate_c_per_h if run else None) for run in runs),
        firing_hold=_floats(_number(run.hold_min if run else None) for run in runs),
        firing_logged=_floats(_logged(logs.get(fold_name(name))) for name in firings.names),
        witness_firing=_codes(firings.add(one.firing) for one in evidence.witnesses),
        witness_shelf=_codes(shelves.add(one.shelf, firings.find(one.firing)) for one in evidence.witnesses),
        witness_cone=_floats(one.cone_reached.position for one in evidence.witnesses),
    )
    return StudioArrays(data, materials, bodies, stock, tuple(readings))


def layer_arrays(layerings: Sequence[Layers], materials: Codes) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Materials (−1 padded), coats and wiped flags of layerings, each (k, most layers); names must be known."""
    most = max((len(layers) for layers in layerings), default=0)
    material = np.full((len(layerings), most), -1, dtype=np.intp)
    coats = np.zeros((len(layerings), most))
    wiped = np.zeros((len(layerings), most), dtype=bool)
    for i, layers in enumerate(layerings):
        for j, layer in enumerate(layers):
            material[i, j], coats[i, j], wiped[i, j] = materials.find(layer.material), layer.coats, layer.wiped
    return material, coats, wiped


def question_arrays(
    questions: Sequence[Question], arrays: StudioArrays
) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """Questions as `StudioFit.predict` takes them; all their names must be known."""
    material, coats, wiped = layer_arrays([question.layers for question in questions], arrays.materials)
    body = _codes(arrays.bodies.find(question.body) for question in questions)
    return material, coats, wiped, body, _floats(question.cone.position for question in questions)


def _shelf(reading: ZoneReading, shelves: Codes, firings: Codes) -> int:
    if reading.firing is None or reading.shelf is None:
        return -1
    return shelves.add(reading.shelf, firings.find(reading.firing))


def _position(cone: Cone | None) -> float:
    return math.nan if cone is None else cone.position


def _logged(log: FiringLog | None) -> float:
    """Cone that a log comes to; NaN where it is too short to say."""
    if log is None or len(log.minutes) < 2:
        return math.nan
    return heatlog.heat_work(np.array(log.minutes), np.array(log.celsius)).cone


def _number(value: float | None) -> float:
    return math.nan if value is None else value


def _codes(values: Iterable[int]) -> np.ndarray:
    return np.fromiter(values, dtype=np.intp)


def _floats(values: Iterable[float]) -> np.ndarray:
    return np.fromiter(values, dtype=float)


def _rows(values: Sequence[Sequence[float]], width: int) -> np.ndarray:
    return np.array(values, dtype=float).reshape(-1, width)
