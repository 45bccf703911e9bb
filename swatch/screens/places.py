"""The places of the rail, in order, and how each is made when it is first opened."""

from __future__ import annotations

from typing import TYPE_CHECKING

from swatch.screens.place import Place
from swatch.wording.text import _

if TYPE_CHECKING:
    from swatch.desk.desks import Desks

PLACES = (
    ("next", _("Next")),
    ("tiles", _("Tiles")),
    ("materials", _("Materials")),
    ("match", _("Match")),
    ("editions", _("Editions")),
    ("firings", _("Firings")),
)


WITHIN = {
    "measure": "tiles",
    "load": "editions",
    "tests": "match",
    "what-if": "match",
    "stand-ins": "match",
    "results": "next",
    "trust": "next",
}
"""Places that are none of the rail's own, by the one they belong to."""


def make_place(code: str, desks: Desks) -> Place:
    """Make one place; its module is imported only now, so that the window shows sooner."""
    if code == "tiles":
        from swatch.screens.tiles_screen import TilesScreen

        return TilesScreen(desks.tiles, desks.studio)
    if code == "match":
        from swatch.screens.match_screen import MatchScreen

        return MatchScreen(desks.matching, desks.why, desks.studio)
    if code == "next":
        from swatch.screens.next_screen import NextScreen

        return NextScreen(desks.next, desks.studio)
    if code == "materials":
        from swatch.screens.materials_screen import MaterialsScreen

        return MaterialsScreen(desks.materials, desks.knowing, desks.studio, desks.colours)
    if code == "editions":
        from swatch.screens.editions_screen import EditionsScreen

        return EditionsScreen(desks.editions, desks.checking, desks.edition_plan, desks.studio)
    if code == "firings":
        from swatch.screens.firings_screen import FiringsScreen

        return FiringsScreen(desks.firings, desks.studio)
    if code == "measure":
        from swatch.screens.photo_workspace import PhotoWorkspace

        return PhotoWorkspace(desks.measuring)
    if code == "load":
        from swatch.screens.load_screen import LoadScreen

        return LoadScreen(desks.load_photos)
    if code == "start":
        from swatch.screens.start_screen import StartScreen

        return StartScreen(desks.starting)
    if code == "papers":
        from swatch.screens.papers_screen import PapersScreen

        return PapersScreen(desks.printing)
    if code == "tests":
        from swatch.screens.tests_screen import TestsScreen

        return TestsScreen(desks.planning)
    if code == "trust":
        from swatch.screens.trust_screen import TrustScreen

        return TrustScreen(desks.trusting)
    if code == "results":
        from swatch.screens.results_screen import ResultsScreen

        return ResultsScreen(desks.came_back)
    if code == "stand-ins":
        from swatch.screens.stand_ins_screen import StandInsScreen

        return StandInsScreen(desks.matching)
    if code == "what-if":
        from swatch.screens.what_if_screen import WhatIfScreen

        return WhatIfScreen(desks.what_if)
    if code == "welcome":
        from swatch.screens.welcome import Welcome

        return Welcome(desks.welcoming, desks.studio)
    raise ValueError(code)
