"""All desks of the program, made once and in order."""

from __future__ import annotations

from PySide6.QtCore import QObject

from swatch.desk.bringing import Bringing
from swatch.desk.came_back import CameBack
from swatch.desk.checking import Checking
from swatch.desk.drifts import Drifts
from swatch.desk.edition_plan import EditionPlan
from swatch.desk.editions import Editions
from swatch.desk.firings import Firings
from swatch.desk.footing import WhyAnswer
from swatch.desk.jar_colours import ColoursInReach
from swatch.desk.jobs import Jobs
from swatch.desk.knowing import Knowing
from swatch.desk.load_photos import LoadPhotos
from swatch.desk.matching import Matching
from swatch.desk.materials import Materials
from swatch.desk.measuring import Measuring
from swatch.desk.next import Next
from swatch.desk.opening import OpenStudio
from swatch.desk.planning import Planning
from swatch.desk.printing import Printing
from swatch.desk.safekeeping import Safekeeping
from swatch.desk.settings import Settings
from swatch.desk.starting import Starting
from swatch.desk.tiles import Tiles
from swatch.desk.trusting import Trusting
from swatch.desk.undoing import Undoing
from swatch.desk.units import UnitsInUse
from swatch.desk.watching import Watching
from swatch.desk.welcoming import Welcoming
from swatch.desk.what_if import WhatIf
from swatch.wording.changes import change_in_words


class Desks(QObject):
    """One object a place, and what they share."""

    def __init__(self, settings: Settings | None = None, jobs: Jobs | None = None) -> None:
        super().__init__()
        self.settings = settings or Settings()
        self.units = UnitsInUse(self.settings)
        self.jobs = jobs or Jobs()
        self.jobs.setParent(self)
        self.studio = OpenStudio(self.settings, self, self.jobs)
        self.undoing = Undoing(self.studio, change_in_words)
        self.bringing = Bringing(self.studio, self.jobs)
        self.safekeeping = Safekeeping(self.studio, self.jobs)
        self.welcoming = Welcoming(self.studio, self.jobs)
        self.tiles = Tiles(self.studio, self.jobs)
        self.matching = Matching(self.studio, self.jobs)
        self.why = WhyAnswer(self.studio, self.jobs)
        self.measuring = Measuring(self.studio, self.jobs)
        self.materials = Materials(self.studio, self.jobs)
        self.knowing = Knowing(self.studio, self.jobs, self.materials)
        self.colours = ColoursInReach(self.studio, self.jobs)
        self.firings = Firings(self.studio, self.jobs)
        self.editions = Editions(self.studio)
        self.load_photos = LoadPhotos(self.studio, self.jobs)
        self.edition_plan = EditionPlan(self.studio, self.jobs, self.editions)
        self.checking = Checking(self.studio, self.jobs, self.editions)
        self.drifts = Drifts(self.studio, self.jobs)
        self.checking.shown.connect(lambda: self.drifts.heard(self.checking.answer))
        self.watching = Watching(self.settings)
        self.next = Next(self.studio, self.jobs)
        self.drifts.changed.connect(lambda: self.next.loads_drifted(self.drifts.loads))
        self.watching.changed.connect(lambda: self.next.photos_waiting(len(self.watching.waiting)))
        self.next.photos_waiting(len(self.watching.waiting))
        self.trusting = Trusting(self.next)
        self.starting = Starting(self.studio)
        self.printing = Printing(self.studio, self.jobs)
        self.planning = Planning(self.studio, self.jobs, self.printing)
        self.came_back = CameBack(self.studio, self.printing, self.matching)
        self.what_if = WhatIf(self.studio, self.jobs, self.printing)

    def close(self) -> None:
        """Stop all work and put the studio away."""
        self.jobs.close()
        self.studio.close()
