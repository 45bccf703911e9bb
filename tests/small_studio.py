"""A small studio for tests of the desks, and workers that answer what a test tells them to."""

from __future__ import annotations

import threading
from pathlib import Path

from swatch.library.studio import Studio
from swatch.terms.answers import Basis, Grounds, MatchAnswer, Prediction, Question, Suggestion
from swatch.terms.colour import Covariance, Lab
from swatch.terms.cone import Cone
from swatch.terms.evidence import Sheen, Stage, ZoneReading
from swatch.terms.layering import parse_layers
from swatch.terms.materials import Firing, Kind, Material
from swatch.terms.problems import StudioProblem

DOUBT = Covariance(1.0, 0.0, 0.0, 1.0, 0.0, 1.0)


def reading(tile, zone, layers, lab, body="Palebank", firing="F-1", stage=Stage.FIRED, sheen=Sheen.GLOSS):
    return ZoneReading(
        tile,
        zone,
        Lab(*lab),
        DOUBT,
        stage=stage,
        body=body,
        layers=parse_layers(layers),
        cone=Cone(6.0) if stage is Stage.FIRED else None,
        firing=firing if stage is Stage.FIRED else None,
        sheen=sheen,
    )


READINGS = (
    reading("T1", "A", "Moss*2", (40.0, -20.0, 15.0)),
    reading("T1", "B", "Moss", (50.0, -18.0, 14.0)),
    reading("T2", "A", "Amber", (55.0, 20.0, 50.0)),
    reading("T3", "A", "Moss > Amber", (35.0, 0.0, 20.0), body="Dunbank"),
    reading("S1", "A", "Moss", (60.0, -10.0, 10.0), stage=Stage.RAW, sheen=None),
)
FIELDS = frozenset({"body", "layers", "cone", "firing", "sheen"})


def make_studio(folder: Path) -> Path:
    with Studio.create(folder) as studio:
        materials = [Material("Moss", Kind.UNDERGLAZE), Material("Amber", Kind.GLAZE, left_g=640.0)]
        studio.put_materials(materials, frozenset({"kind", "left_g"}))
        studio.put_firings([Firing("F-1", "2026-05-16", Cone(6.0))], frozenset({"date", "cone_asked"}))
        studio.put_readings(READINGS, FIELDS)
    return folder


class ToldWorkers:
    """Stands for the worker processes: each job waits until the test lets it go, then gives the answer told."""

    def __init__(self):
        self.asked = []
        learnt = {"digest": "0", "learnt_from": 4, "provisional": False}
        self.answers = {
            "predict": (),
            "learn": learnt,
            "knows": StudioProblem("nothing-fired"),
            "match": lambda asked: match_answer(asked["request"], "Moss*2"),
        }
        self.let_go = threading.Event()
        self.let_go.set()

    def run(self, name, request, report):
        self.asked.append((name, request))
        while not self.let_go.wait(0.01):
            report(0, 1)
        answer = self.answers[name]
        if isinstance(answer, Exception):
            raise answer
        return answer(request) if callable(answer) else answer

    def run_all(self, name, requests, report, what=""):
        return [self.run(name, request, report) for request in requests]

    def close(self):
        self.let_go.set()


def match_answer(request, *names):
    suggestions = tuple(
        Suggestion(
            Prediction(
                Question(parse_layers(name), request.body, request.cone),
                Lab(request.target.L + n, request.target.a, request.target.b),
                DOUBT,
                Grounds(n, 5, Basis.OWN_TILES),
            ),
            1.0 + n,
            (0.5, 2.0 + n),
            0.5,
            request.tolerance,
        )
        for n, name in enumerate(names)
    )
    return MatchAnswer(request, suggestions, True, 1.0, 100, 0.1, 4)
