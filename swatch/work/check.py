"""Does each load of an edition still hold the look, which pieces stray, and what does the kiln do?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import numpy as np

from swatch.library.studio import Studio
from swatch.science import holding, holding_causes, holding_verdict
from swatch.science.colour_math import FloatArray, de00_metric, delta_e_2000
from swatch.science.holding import READING, Joint, Looks, Seen, Shifts, Within
from swatch.terms.buttons import ButtonReading, ButtonRequest
from swatch.terms.colour import Lab
from swatch.terms.editions import EditionRegion
from swatch.terms.evidence import Evidence
from swatch.terms.holding import (
    USUAL_TOLERANCE,
    CheckAnswer,
    CheckRequest,
    LikelyCause,
    LoadCheck,
    LoadVerdict,
    PieceCheck,
    PieceVerdict,
    RegionChange,
    Together,
)
from swatch.terms.layering import fold_name
from swatch.terms.problems import Notice, StudioProblem
from swatch.terms.problems.holding import nothing_measured, unknown_edition
from swatch.terms.report import Report, silent
from swatch.work.button_plan import planned
from swatch.work.kiln_heats import Heats, heats_of
from swatch.work.kiln_story import story
from swatch.work.lacking import notices_of, too_few
from swatch.work.learn import Learnt, learnt
from swatch.work.loads import Gathered, Piece, gather
from swatch.work.look_known import shifts_of_look
from swatch.work.lots import Opened, opened_by_load
from swatch.work.mottled import with_mottled


@dataclass(frozen=True)
class Known:
    """Everything that a load is judged by."""

    gathered: Gathered
    shifts: Shifts
    within: Within
    heats: Heats
    mean: FloatArray
    metric: FloatArray
    tolerance: float


def check(folder: Path, request: CheckRequest, report: Report = silent) -> CheckAnswer:
    """Check an edition's loads and pieces.

    Raises
    ------
    StudioProblem
        ``unknown-edition``, ``nothing-measured``, or the studio cannot be read.
    """
    with Studio.look(folder) as studio:
        evidence, buttons = studio.evidence(), studio.buttons()
        every, pieces, mottled = studio.editions(), studio.pieces(), studio.mottled()
    regions = [one for one in every if fold_name(one.edition) == fold_name(request.edition)]
    if not regions:
        raise unknown_edition(request.edition, ", ".join(dict.fromkeys(one.edition for one in every)) or "–")
    mine = [one for one in pieces if fold_name(one.edition) == fold_name(request.edition)]
    if not mine:
        raise nothing_measured(regions[0].edition)
    report(0, 2, "check")
    try:
        taught: Learnt | None = learnt(folder, report)
    except StudioProblem as problem:
        if problem.code != "nothing-fired":
            raise
        taught = None
    report(1, 2, "check")
    answer = checked(request, regions, gather(mine, evidence.firings), evidence, buttons, taught)
    following = planned(ButtonRequest(answer.edition), regions, evidence, buttons, mine, taught)
    broken = [one for one in mottled if fold_name(one.edition) == fold_name(request.edition)]
    return replace(answer, next_load=following, loads=with_mottled(answer.loads, broken))


def check_job(asked: dict[str, Any], report: Report) -> CheckAnswer:
    """Check in a worker."""
    return check(Path(asked["folder"]), asked["request"], report)


def checked(
    request: CheckRequest,
    regions: Sequence[EditionRegion],
    gathered: Gathered,
    evidence: Evidence,
    buttons: Sequence[ButtonReading],
    taught: Learnt | None,
) -> CheckAnswer:
    """Check what was gathered of an edition."""
    stated = request.tolerance or next((one.tolerance for one in regions if one.tolerance is not None), None)
    firings_approved = gathered.firings_approved
    answer = CheckAnswer(
        regions[0].edition,
        stated or USUAL_TOLERANCE,
        stated is not None,
        len(gathered.approved),
        len(firings_approved),
        gathered.regions,
        notices=notices_of(gathered, stated is None),
    )
    missing = too_few(gathered)
    if len(gathered.approved) < 2:
        loads = tuple(_not_judged(name, pieces, missing, evidence) for name, pieces in gathered.loads)
        return replace(answer, loads=loads)
    known = _known(regions, gathered, evidence, buttons, taught, answer.tolerance)
    judged = _Loads(known, evidence, missing)
    loads = tuple(judged.load(k) for k in range(len(gathered.loads)))
    found = tuple(piece for k in range(len(gathered.loads)) for piece in judged.pieces(k))
    if missing:
        found = tuple(replace(one, verdict=PieceVerdict.DOUBTFUL) for one in found)
    joints = tuple(judged.singles)
    return story(replace(answer, loads=loads, pieces=found), request, known, judged.kiln, joints)


def _known(
    regions: Sequence[EditionRegion],
    gathered: Gathered,
    evidence: Evidence,
    buttons: Sequence[ButtonReading],
    taught: Learnt | None,
    tolerance: float,
) -> Known:
    mean = np.mean([one.colours for one in gathered.approved], axis=0)
    layers = {fold_name(one.region): one.layers for one in regions}
    body = next((one.body for one in regions if one.body), None)
    cone = next((one.cone for one in regions if one.cone), None)
    look = [layers.get(fold_name(region), ()) for region in gathered.regions]
    shifts = shifts_of_look(taught, look, body, cone)
    heats = heats_of(
        buttons,
        evidence.witnesses,
        evidence.firings,
        lambda rows: shifts_of_look(taught, [r.layers for r in rows], rows[0].body or body, cone).heat.reshape(
            -1, 3
        ),
    )
    groups: dict[str, list[FloatArray]] = {}
    for one in gathered.approved:
        groups.setdefault(one.firing, []).append(one.colours)
    rows = [np.array(group) for group in groups.values()]
    rows += [np.array([one.colours for one in pieces]) for _, pieces in gathered.loads]
    within = holding.within_loads(rows, shifts, gathered.spots)
    return Known(gathered, shifts, within, heats, mean, de00_metric(mean.reshape(-1, 3)), tolerance)


class _Loads:
    """Loads judged one after the other: what came before teaches how the kiln ordinarily is."""

    def __init__(self, known: Known, evidence: Evidence, missing: tuple[Notice, ...]) -> None:
        self.known, self.missing = known, missing
        self.firings = {fold_name(one.name): one for one in evidence.firings}
        self.opened = opened_by_load(known.gathered, self.firings)
        self.baseline = [fold_name(name) for name in known.gathered.firings_approved]
        self.ordinary = [name for name in self.baseline if name in known.heats.heats]
        self.singles: list[Joint] = []
        self.kiln = self._kiln()

    def load(self, k: int) -> LoadCheck:
        known, (name, _) = self.known, self.known.gathered.loads[k]
        opened: Opened = self.opened[k]
        self.kiln = self._kiln()
        joint = self._joint([k])
        self.singles.append(joint)
        since = list(range(opened.since, k + 1))
        part = 1.0 if len(since) == 1 else 0.5
        looks = holding.look_at(joint, len(self.ordinary), opened.any, part)
        together, alarms = None, looks.alarms
        if len(since) > 1:
            all_of_them = holding.look_at(self._joint(since), len(self.ordinary), opened.since_lot, part)
            names = tuple(known.gathered.loads[i][0] for i in since)
            gone = bool(all_of_them.alarms)
            cones = all_of_them.heat_cones if joint.seen.heat is not None else None
            together = Together(names, all_of_them.look, all_of_them.look_limit, gone, cones)
            alarms += ("together",) if gone else ()
        sure = holding_verdict.sure_within(joint, known.metric, known.tolerance)
        supported = holding_verdict.tolerance_supported(joint, known.metric)
        verdict = LoadVerdict(holding_verdict.verdict_of(joint, looks, sure, supported, known.tolerance))
        if together is not None and together.drifted and verdict in (LoadVerdict.HOLDS, LoadVerdict.TOO_FEW):
            verdict = LoadVerdict.DRIFTED if joint.seen.camera_known else LoadVerdict.KILN_OR_CAMERA
        if self.missing:
            verdict = LoadVerdict.TOO_FEW
        if "heat" not in alarms and fold_name(name) in known.heats.heats:
            self.ordinary.append(fold_name(name))
        return self._said(k, joint, looks, verdict, alarms, together, sure, supported)

    def _said(
        self, k: int, joint: Joint, looks: Looks, verdict: LoadVerdict, alarms: tuple[str, ...],
        together: Together | None, sure: float, supported: float,
    ) -> LoadCheck:  # fmt: skip
        known, (name, pieces) = self.known, self.known.gathered.loads[k]
        off, _ = holding.without_camera(joint)
        approved = known.mean.reshape(-1, 3)
        now = approved + off.reshape(-1, 3)
        de00 = delta_e_2000(approved, now)
        drifted = verdict in (LoadVerdict.DRIFTED, LoadVerdict.KILN_OR_CAMERA)
        firing = self.firings.get(fold_name(name))
        told = joint.seen.heat is not None
        return LoadCheck(
            firing=name,
            date=firing.date if firing else None,
            pieces=len(pieces),
            mean_de00=float(de00.mean()),
            statistic=looks.look,
            limit=looks.look_limit,
            verdict=verdict,
            alarms=alarms,
            change=Lab(*map(float, off.reshape(-1, 3).mean(axis=0))),
            regions=tuple(
                RegionChange(region, Lab(*map(float, a)), Lab(*map(float, b)), float(apart))
                for region, a, b, apart in zip(known.gathered.regions, approved, now, de00, strict=True)
            ),
            causes=self._causes(k, joint) if drifted else (),
            sure_within=sure,
            supported=supported,
            heat_cones=looks.heat_cones if told else None,
            heat_from=known.heats.told_by if told else None,
            together=together,
            opens=self.opened[k].lots,
            opens_clay=self.opened[k].clays,
            missing=self._missing(joint, supported),
        )

    def pieces(self, k: int) -> list[PieceCheck]:
        known, (name, pieces) = self.known, self.known.gathered.loads[k]
        rows = np.array([one.colours for one in pieces])
        measuring = float(np.mean([one.measuring for one in pieces])) / 3
        found = holding_verdict.strays(self.singles[k], rows, known.mean, min(measuring, READING))
        said = []
        for i, one in enumerate(pieces):
            worst = int(np.argmax(found.statistic[i]))
            verdict = PieceVerdict.OFF if found.off[i] else PieceVerdict.WITHIN
            verdict = PieceVerdict.DOUBTFUL if found.doubtful[i] else verdict
            said.append(PieceCheck(
                one.name, name, one.shelf, known.gathered.regions[worst], float(found.de00[i].max()),
                float(found.statistic[i, worst]), found.limit, verdict,
            ))  # fmt: skip
        return said

    def _kiln(self) -> float:
        heats = [self.known.heats.heats[name] for name in self.ordinary]
        variance = float(np.mean([one.variance for one in heats])) if heats else 0.0
        return holding.kiln_variance(np.array([one.cones for one in heats]), variance)

    def _joint(self, which: Sequence[int]) -> Joint:
        known, gathered = self.known, self.known.gathered
        pieces = [piece for k in which for piece in gathered.loads[k][1]]
        look = np.mean([one.colours for one in pieces], axis=0) - known.mean
        sessions = _Weights()
        for one in pieces:
            sessions.add(one.session, 1 / len(pieces))
        base = _Weights()
        for one in gathered.approved:
            base.add(one.session, 1 / len(gathered.approved))
        firings = _Weights()
        for k in which:
            firings.add(fold_name(gathered.loads[k][0]), len(gathered.loads[k][1]) / len(pieces))
        for one in gathered.approved:
            firings.add(fold_name(one.firing), -1 / len(gathered.approved))
        heat, heat_firings, variance = self._heat(firings)
        kept, kept_sessions, kept_variance = self._kept(sessions, base)
        reference, reference_sessions, reference_variance = self._reference(sessions, base)
        names = sorted({*sessions, *base, *kept_sessions, *reference_sessions})
        fires = sorted({*firings, *heat_firings})
        seen = Seen(
            look=look, pieces=len(pieces), approved=len(gathered.approved),
            firings=firings.row(fires), sessions=sessions.row(names) - base.row(names),
            kept=kept, kept_at=None if kept is None else np.arange(len(look)),
            kept_sessions=kept_sessions.row(names), kept_variance=kept_variance,
            reference=reference, reference_sessions=reference_sessions.row(names),
            reference_variance=reference_variance,
            heat=heat, heat_firings=heat_firings.row(fires), heat_variance=variance,
        )  # fmt: skip
        return Joint(seen, known.within, known.shifts, self.kiln)

    def _heat(self, firings: _Weights) -> tuple[float | None, _Weights, float]:
        """Heat of the load's firings less that of the ones it is held against, as far as it was told."""
        heats = self.known.heats.heats
        loads = [name for name, share in firings.items() if share > 0]
        before = [name for name in self.baseline if name in heats] or self.ordinary
        weights = _Weights()
        if not loads or not before or any(name not in heats for name in loads):
            return None, weights, 0.0
        for name in loads:
            weights.add(name, 1 / len(loads))
        for name in before:
            weights.add(name, -1 / len(before))
        cones = sum(share * heats[name].cones for name, share in weights.items())
        return (
            float(cones),
            weights,
            float(sum(share**2 * heats[name].variance for name, share in weights.items())),
        )

    def _kept(self, sessions: _Weights, base: _Weights) -> tuple[FloatArray | None, _Weights, float]:
        """Mean change of approved pieces photographed again in the load's sessions."""
        rows, weights, variance = [], _Weights(), 0.0
        again = [one for one in self.known.gathered.kept if one.session in sessions]
        pieces: dict[str, list[Any]] = {}
        for one in again:
            pieces.setdefault(one.piece.name, []).append(one)
        for found in pieces.values():
            piece: Piece = found[0].piece
            homes = [(piece.session, piece.colours, 1)]
            homes += [
                (one.session, one.colours, one.readings)
                for one in self.known.gathered.kept
                if one.piece.name == piece.name and one.session in base and one.session not in sessions
            ]
            rows.append(np.mean([o.colours for o in found], axis=0) - np.mean([h[1] for h in homes], axis=0))
            for one in found:
                weights.add(one.session, 1 / len(found) / len(pieces))
                variance += READING / one.readings / len(found) ** 2
            for session, _, readings in homes:
                weights.add(session, -1 / len(homes) / len(pieces))
                variance += READING / readings / len(homes) ** 2
        if not rows:
            return None, _Weights(), READING
        return np.mean(rows, axis=0), weights, variance / len(rows) ** 2

    def _reference(self, sessions: _Weights, base: _Weights) -> tuple[FloatArray | None, _Weights, float]:
        """Change of the kept button between the approved pieces' sessions and the load's."""
        told = self.known.heats.references
        here = [name for name in sessions if name in told]
        there = [name for name in base if name in told and name not in here]
        if not here or not there:
            return None, _Weights(), READING
        weights, variance = _Weights(), 0.0
        for names, sign in ((here, 1.0), (there, -1.0)):
            for name in names:
                weights.add(name, sign / len(names))
                variance += READING / told[name][1] / len(names) ** 2
        return np.sum([share * told[name][0] for name, share in weights.items()], axis=0), weights, variance

    def _causes(self, k: int, joint: Joint) -> tuple[LikelyCause, ...]:
        told = holding_causes.causes(joint, self.opened[k].told)
        found = [one for one in told if one.code != holding_causes.NOTHING]
        total = sum(one.share for one in found)
        return tuple(LikelyCause(one.code, one.amount, one.unit, one.share / total) for one in found)

    def _missing(self, joint: Joint, supported: float) -> tuple[Notice, ...]:
        known, found = self.known, list(self.missing)
        if not joint.seen.camera_known:
            found.append(Notice("no-kept-piece"))
        if joint.seen.heat is None:
            found.append(Notice("no-buttons"))
        if known.tolerance < supported:
            more = holding_verdict.pieces_needed(joint, known.metric, known.tolerance)
            facts = {"tolerance": known.tolerance, "supported": supported, "pieces": more}
            found.append(Notice("tolerance-needs-pieces" if more else "tolerance-too-tight", facts))
        return tuple(found)


class _Weights(dict[str, float]):
    """How much each session or firing weighs."""

    def add(self, name: str, share: float) -> None:
        self[name] = self.get(name, 0.0) + share

    def row(self, names: Sequence[str]) -> FloatArray:
        return np.array([self.get(name, 0.0) for name in names])


def _not_judged(name: str, pieces: Sequence[Piece], missing: tuple[Notice, ...], evidence: Evidence) -> LoadCheck:
    date = next((one.date for one in evidence.firings if fold_name(one.name) == fold_name(name)), None)
    return LoadCheck(
        name, date, len(pieces), 0.0, 0.0, 0.0, LoadVerdict.TOO_FEW, (), Lab(0.0, 0.0, 0.0), (), (), 0.0, 0.0,
        missing=missing,
    )  # fmt: skip
