"""What is looked for in Match: a colour under limits, or a stand-in; and what is asked for it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from swatch.desk.planning import TILES, TestsWanted
from swatch.terms.answers import MatchRequest, Use
from swatch.terms.colour import Covariance, Lab
from swatch.terms.cone import Cone
from swatch.terms.editions import EditionRegion, RegionKind
from swatch.terms.layering import Layers, fold_name
from swatch.terms.next_tests import NextRequest
from swatch.wording.layering import layering_in_words, place_in_words
from swatch.wording.text import _, say

FOOD = frozenset({RegionKind.INSIDE, RegionKind.LIP, RegionKind.OUTSIDE})
"""Regions that touch food or mouth, where the search keeps to what the labels claim."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is looked for: a colour, or a stand-in for a material."""

    target: Lab | None = None
    covariance: Covariance | None = None
    origin: str = ""
    replaces: str = ""
    body: str = ""
    cone: Cone | None = None
    max_layers: int = 3
    max_coats: int = 4
    tolerance: float = 2.0
    pieces: int | None = None
    area_dm2: float | None = None
    regions: tuple[str, ...] = ()
    leave_out: frozenset[str] = frozenset()
    top: int = 10

    @property
    def complete(self) -> bool:
        """Whether there is enough to look for something."""
        return bool(self.replaces) or (self.target is not None and bool(self.body) and self.cone is not None)


def request_of(wanted: Wanted) -> MatchRequest:
    """The search for a colour; it has to be complete."""
    assert wanted.target is not None
    assert wanted.cone is not None
    return MatchRequest(
        target=wanted.target,
        body=wanted.body,
        cone=wanted.cone,
        target_covariance=wanted.covariance,
        max_layers=wanted.max_layers,
        max_coats=wanted.max_coats,
        tolerance=wanted.tolerance,
        regions=wanted.regions,
        area_dm2=wanted.area_dm2,
        pieces=wanted.pieces,
        leave_out=tuple(sorted(wanted.leave_out)),
        top=wanted.top,
    )


def wanted_tests(wanted: Wanted, uses: Sequence[Use]) -> TestsWanted:
    """The tiles that would have to be fired to know."""
    if wanted.replaces:
        request = NextRequest(TILES, replaces=wanted.replaces, tolerance=wanted.tolerance)
        origin = say(_("a stand-in for {material}")).format(material=wanted.replaces)
        return TestsWanted(request, origin, tuple((use.question.body, use.question.cone, use.lab) for use in uses))
    request = NextRequest(
        TILES,
        body=wanted.body,
        cone=wanted.cone,
        target=wanted.target,
        target_covariance=wanted.covariance,
        regions=wanted.regions,
        tolerance=wanted.tolerance,
        max_layers=wanted.max_layers,
        max_coats=wanted.max_coats,
        leave_out=tuple(sorted(wanted.leave_out)),
    )
    return TestsWanted(request, say(_("the target {origin}")).format(origin=wanted.origin))


def regions_of(use: Use, regions: Sequence[EditionRegion]) -> tuple[EditionRegion, ...]:
    """Regions of editions that are this use."""
    asked = use.question
    return tuple(
        one
        for one in regions
        if _key(one.layers) == _key(asked.layers)
        and fold_name(one.body or "") == fold_name(asked.body)
        and one.cone == asked.cone
    )


def _key(layers: Layers) -> tuple[object, ...]:
    return tuple((fold_name(one.material), one.coats, one.wiped) for one in layers)


def use_in_words(use: Use, regions: Sequence[EditionRegion]) -> str:
    """Name a use by the pieces it is on, then by its layers; one that is on tiles only by its ground."""
    asked = use.question
    if not regions:
        place = place_in_words(asked.layers, asked.body, asked.cone)
        return say(_("tiles only: {place}")).format(place=place)
    first = regions[0]
    name = f"{first.edition}, {first.region}"
    if first.planned:
        name = say(_("{name} ({n} planned)")).format(name=name, n=first.planned)
    more = say(_(" and {n} more")).format(n=len(regions) - 1) if len(regions) > 1 else ""
    return f"{name}{more}: {layering_in_words(asked.layers)}"


def kinds_of(regions: Sequence[EditionRegion]) -> tuple[str, ...]:
    """The parts of a piece these regions are."""
    return tuple(sorted({str(one.region_kind) for one in regions if one.region_kind is not None}))
