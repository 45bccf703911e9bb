"""What needs attention, the costliest to leave first, and the next step for each."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QObject, Signal

from swatch.desk.jobs import Job, Jobs
from swatch.desk.lasting import running_short
from swatch.desk.opening import OpenStudio
from swatch.terms.answers import TrustAnswer
from swatch.terms.boards import Board
from swatch.terms.colour import Lab
from swatch.terms.cone import Cone
from swatch.terms.evidence import Stage
from swatch.terms.holding import LoadCheck
from swatch.terms.layering import fold_name
from swatch.terms.materials import Status
from swatch.terms.problems import StudioProblem
from swatch.wording.holding import causes_in_words, load_in_words, next_step_in_words
from swatch.wording.text import _, say, say_many

MOST = 12


@dataclass(frozen=True, slots=True)
class NextThing:
    """One thing that needs the user: what, why, and the step that deals with it.

    ``act`` is a code the window knows (``replace``, ``editions``, ``firing``, ``photos``, ``materials`` …),
    ``about`` the name it is about.
    """

    title: str
    why: str
    button: str
    act: str
    about: str = ""
    colours: tuple[Lab, ...] = ()
    warns: bool = False


class Next(QObject):
    """The list of what needs attention, and how far the studio's predictions can be trusted."""

    shown = Signal()
    trust_changed = Signal()

    def __init__(self, studio: OpenStudio, jobs: Jobs) -> None:
        super().__init__(studio)
        self._studio, self._jobs = studio, jobs
        self.things: Sequence[NextThing] = ()
        self.unkept = self.waiting = 0
        self.drifted: Mapping[str, LoadCheck] = {}
        self.trust: TrustAnswer | None = None
        self.trust_problem: StudioProblem | None = None
        self._job: Job | None = None
        studio.opened.connect(self._other_studio)
        studio.written.connect(self._stale)
        studio.when_changed(self._records_changed)

    def photos_in_hand(self, unkept: int) -> None:
        """How many photos are read or being read and not kept."""
        if unkept != self.unkept:
            self.unkept = unkept
            self._gather()

    def photos_waiting(self, waiting: int) -> None:
        """How many new photos lie in the watched folder."""
        if waiting != self.waiting:
            self.waiting = waiting
            self._gather()

    def loads_drifted(self, loads: Mapping[str, LoadCheck]) -> None:
        """The latest loads that drifted, by edition."""
        if loads != self.drifted:
            self.drifted = dict(loads)
            self._gather()

    @property
    def checking(self) -> bool:
        """Whether the trust is being found out."""
        return self._job is not None

    def check_trust(self) -> None:
        """Find out how far off predictions are on tiles they have not seen; takes a while."""
        folder = self._studio.folder
        if folder is None or self._job is not None:
            return
        self.trust_problem = None
        self._job = self._jobs.ask("trust", {"folder": str(folder)})
        self._job.finished.connect(self._trusted)
        self._job.failed.connect(self._failed)
        self._job.ended.connect(self._over)
        self.trust_changed.emit()

    def _trusted(self, trust: TrustAnswer) -> None:
        self.trust = trust
        self._gather()

    def _failed(self, error: Exception) -> None:
        if isinstance(error, StudioProblem):
            self.trust_problem = error
        else:
            self._jobs.bug.emit(error)

    def _over(self) -> None:
        self._job = None
        self.trust_changed.emit()

    def _other_studio(self) -> None:
        self.trust = self.trust_problem = None
        self.drifted = {}

    def _stale(self) -> None:
        if self._job is not None:
            self._job.stop()

    def _records_changed(self) -> None:
        self.trust = self.trust_problem = None
        self._gather()
        self.trust_changed.emit()

    def _gather(self) -> None:
        if self._studio.studio is None:
            self.things = ()
        else:
            boards = self._boards()
            found = [
                *self._beginnings(planned=bool(boards)),
                *self._loads(),
                *self._discontinued(),
                *self._short(),
                *self._photos(),
                *self._firings(),
                *boards,
                *self._outliers(),
                *self._doubtful(),
            ]
            self.things = tuple(found[:MOST])
        self.shown.emit()

    def _beginnings(self, *, planned: bool) -> list[NextThing]:
        tiles, evidence = self._studio.tiles(), self._studio.evidence
        out: list[NextThing] = []
        if not evidence.materials:
            why = say(_("One a line; a pasted list will do."))
            out.append(NextThing(say(_("Enter the jars on your shelf")), why, say(_("Enter jars")), "materials"))
        if not evidence.firings:
            why = say(_("The cone you fire to, or your programme. Tiles are kept by firing."))
            out.append(NextThing(say(_("Enter your last firing")), why, say(_("Add a firing")), "add firing"))
        if not any(tile.stage is Stage.FIRED for tile in tiles) and not self.unkept and not planned:
            why = say(
                _("Lay fired tiles beside a reference card, one lamp at 45°, no flash. Drop the photo here.")
            )
            out.append(NextThing(say(_("Photograph your tiles")), why, say(_("Open photos…")), "photos"))
        return out

    def _discontinued(self) -> list[NextThing]:
        studio, evidence = self._studio.studio, self._studio.evidence
        assert studio is not None
        fired = self._studio.fired
        regions = studio.editions()
        out: list[NextThing] = []
        for material in evidence.materials:
            if material.status is Status.IN_STOCK:
                continue
            name = fold_name(material.name)
            uses = [r for r in regions if any(fold_name(layer.material) == name for layer in r.layers)]
            tiles = self._studio.counts.tiles_with.get(name, set())
            if not uses and not tiles:
                continue
            title = (
                say(_("{material} is discontinued"))
                if material.status is Status.DISCONTINUED
                else say(_("{material} is used up"))
            ).format(material=material.name)
            editions = list(dict.fromkeys(region.edition for region in uses))
            parts = [", ".join(editions[:3])] if editions else []
            parts.append(say_many("{n} tile", "{n} tiles", len(tiles)).format(n=len(tiles)))
            if material.left_g:
                parts.append(say(_("{g:.0f} g left")).format(g=material.left_g))
            lab, over = fired.shown_alone(material.name, Cone(6.0))
            parts += [_as_clear(over)] if over else []
            out.append(
                NextThing(
                    title,
                    say(_("Used in {uses}.")).format(uses="; ".join(parts)),
                    say(_("What could replace it?")),
                    "replace",
                    material.name,
                    (lab,) if lab is not None else (),
                    warns=True,
                )
            )
        return sorted(out, key=lambda thing: thing.title)

    def _loads(self) -> list[NextThing]:
        out: list[NextThing] = []
        for edition, load in self.drifted.items():
            title = f"{edition}: {load_in_words(load)}"
            cause = causes_in_words(load.causes)
            why = f"{cause[:1].upper()}{cause[1:]}. " if cause else ""
            most = max(load.regions, key=lambda one: one.de00, default=None)
            shown = (most.approved, most.load) if most is not None else ()
            see = say(_("See the load"))
            out.append(
                NextThing(title, why + next_step_in_words(load), see, "editions", edition, shown, warns=True)
            )
        return out

    def _short(self) -> list[NextThing]:
        studio, evidence = self._studio.studio, self._studio.evidence
        assert studio is not None
        stock = [one for one in evidence.materials if one.status is Status.IN_STOCK]
        out: list[NextThing] = []
        for one in running_short(studio.editions(), studio.weighings(), stock)[:3]:
            title = say(_("{material} is running short")).format(material=one.material)
            why = say(_("Enough for {low} to {high} of the {planned} pieces planned of {edition}."))
            why = why.format(low=one.pieces[0], high=one.pieces[1], planned=one.planned, edition=one.edition)
            lab, over = self._studio.fired.shown_alone(one.material, Cone(6.0))
            why += f" {_as_clear(over)}." if over else ""
            shown = (lab,) if lab is not None else ()
            ask = say(_("What could replace it?"))
            out.append(NextThing(title, why, ask, "replace", one.material, shown, warns=True))
        return out

    def _boards(self) -> list[NextThing]:
        assert self._studio.studio is not None
        out: list[NextThing] = []
        for place, board in enumerate(self._studio.studio.boards()):
            fired = [zone for tile in board.tiles for zone in tile.zones if zone.read and zone.said is not None]
            if fired and place == 0:  # of the boards before it the answers are known by now
                out.append(_results(board, len(fired)))
            read = sum(any(zone.read for zone in tile.zones) for tile in board.tiles)
            if read == len(board.tiles):
                continue
            name, left = board.name, len(board.tiles) - read
            title = say_many("{n} tile of board {name} is planned", "{n} tiles of board {name} are planned", left)
            why = say(_("{read} came back so far. Fire them, lay them on their sheets, drop the photos here."))
            if not read:
                why = say(
                    _("None is photographed yet. Fire them, lay them on their sheets, drop the photos here.")
                )
            see = say(_("See the board"))
            out.append(NextThing(title.format(n=left, name=name), why.format(read=read), see, "board", name))
        return out

    def _photos(self) -> list[NextThing]:
        out: list[NextThing] = []
        if self.waiting:
            title = say_many("{n} new photo has come", "{n} new photos have come", self.waiting)
            why = say(_("In the folder that is watched for photos from the phone."))
            out.append(NextThing(title.format(n=self.waiting), why, say(_("Read the new photos")), "watched"))
        if not self.unkept:
            return out
        title = say_many("{n} photo is not kept", "{n} photos are not kept", self.unkept).format(n=self.unkept)
        why = say(_("What was read from it counts only once it is kept."))
        return [*out, NextThing(title, why, say(_("See the readings")), "measure")]

    def _firings(self) -> list[NextThing]:
        evidence = self._studio.evidence
        seen = {witness.firing for witness in evidence.witnesses}
        out: list[NextThing] = []
        for firing in evidence.firings:
            if firing.cone_reached is None and firing.name not in seen:
                n = len(self._studio.counts.firings.get(firing.name, ()))
                if not n:  # planned, or pieces alone: no tile counts for less
                    continue
                title = say(_("Firing {firing} has no cone reached")).format(firing=firing.name)
                why = say_many(
                    "Until you enter the witness cones its {n} tile counts for less.",
                    "Until you enter the witness cones its {n} tiles count for less.",
                    n,
                ).format(n=n)
                out.append(NextThing(title, why, say(_("Enter cones")), "firing", firing.name, warns=True))
        return out

    def _outliers(self) -> list[NextThing]:
        out: list[NextThing] = []
        for one in self.trust.outliers[:3] if self.trust is not None else ():
            title = say(_("Tile {tile} does not fit the others")).format(tile=one.tile)
            why = say(
                _("Zone {zone} is off by {de:.1f} ΔE00 from what the other tiles lead to expect. Mislabelled?")
            )
            lab = next(
                (r.lab for r in self._studio.evidence.readings if (r.tile, r.zone) == (one.tile, one.zone)), None
            )
            colours = (lab,) if lab is not None else ()
            look = say(_("Look at {tile}")).format(tile=one.tile)
            why = why.format(zone=one.zone, de=one.de00)
            out.append(NextThing(title, why, look, "tile", one.tile, colours, warns=True))
        return out

    def _doubtful(self) -> list[NextThing]:
        out: list[NextThing] = []
        for tile in self._studio.doubtful[:3]:
            zone = max(tile.zones, key=lambda one: one.known_to)
            title = say(_("Tile {tile} is read poorly")).format(tile=tile.tile)
            why = say(_("Zone {zone} is known to {u:.1f} ΔE00 only. Another photo in better light will help."))
            look = say(_("Look at {tile}")).format(tile=tile.tile)
            why = why.format(zone=zone.zone, u=zone.known_to)
            out.append(NextThing(title, why, look, "tile", tile.tile, (zone.lab,), warns=True))
        return out


def _as_clear(over: str) -> str:
    """Say that a swatch is a clear's, and over what."""
    return say(_("A clear, shown over {ground}")).format(ground=over)


def _results(board: Board, n: int) -> NextThing:
    """Tests that came back want to be looked at."""
    title = say_many("{n} test of board {name} came back", "{n} tests of board {name} came back", n)
    why = say(_("Each beside what was predicted, and whether the target is hit."))
    see = say(_("What was learnt?"))
    colours = (board.target.lab,) if board.target is not None else ()
    return NextThing(title.format(n=n, name=board.name), why, see, "results", board.name, colours)
