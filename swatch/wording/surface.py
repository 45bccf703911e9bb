"""How a fired surface shines and what went wrong with it, in words."""

from __future__ import annotations

from swatch.terms.answers import Surface
from swatch.terms.editions import RegionKind
from swatch.terms.evidence import Sheen
from swatch.terms.materials import Kind, Status
from swatch.wording.numbers import share_in_words
from swatch.wording.text import _, _many, say, say_many

_SHEENS = {Sheen.GLOSS: _("gloss"), Sheen.SATIN: _("satin"), Sheen.MATT: _("matt")}
_FAULTS = {
    "ran": _("ran"),
    "crawled": _("crawled"),
    "pinholed": _("pinholed"),
    "crazed": _("crazed"),
    "dry": _("dry"),
    "blistered": _("blistered"),
}
_KINDS = {
    Kind.UNDERGLAZE: _("underglaze"),
    Kind.GLAZE: _("glaze"),
    Kind.CLEAR: _("clear"),
    Kind.SLIP: _("slip"),
    Kind.WASH: _("wash"),
}
_SO_MANY = {
    Kind.UNDERGLAZE: _many("{n} underglaze", "{n} underglazes"),
    Kind.GLAZE: _many("{n} glaze", "{n} glazes"),
    Kind.CLEAR: _many("{n} clear", "{n} clears"),
    Kind.SLIP: _many("{n} slip", "{n} slips"),
    Kind.WASH: _many("{n} wash", "{n} washes"),
}
_REGIONS = {
    "": _("any"),
    str(RegionKind.INSIDE): _("inside"),
    str(RegionKind.LIP): _("lip"),
    str(RegionKind.OUTSIDE): _("outside"),
    str(RegionKind.FOOT): _("foot"),
}
_STATUS = {
    Status.IN_STOCK: _("in stock"),
    Status.DISCONTINUED: _("discontinued"),
    Status.USED_UP: _("used up"),
}


_SAID_FROM = 0.1
"""Chances below this are not said."""


def sheen_in_words(sheen: Sheen) -> str:
    """Say how a surface shines."""
    return say(_SHEENS[sheen])


def fault_in_words(fault: str) -> str:
    """Say a fault."""
    return say(_FAULTS.get(fault, fault))


def surface_in_words(surface: Surface) -> str:
    """Say the chances of a layering's sheen and faults: ``gloss 82 %, satin 18 %; crazed 25 %``."""
    shines = ", ".join(
        f"{sheen_in_words(sheen)} {share_in_words(chance)}"
        for sheen, chance in surface.sheen
        if chance >= _SAID_FROM
    )
    likely = [(fault, chance) for fault, chance in surface.faults if chance >= _SAID_FROM]
    wrong = ", ".join(f"{fault_in_words(fault)} {share_in_words(chance)}" for fault, chance in likely)
    told = "; ".join(filter(None, (shines, wrong or say(_("no fault likely")))))
    return say(_("{chances} (by what was noted of tiles like it, worth {n:.0f})")).format(
        chances=told, n=surface.tiles
    )


def kind_in_words(kind: Kind | None) -> str:
    """Say what a material is."""
    return say(_KINDS[kind]) if kind is not None else say(_("kind not entered"))


def kinds_in_words(kind: Kind, n: int) -> str:
    """Say how many materials of a kind there are."""
    return say_many(*_SO_MANY[kind], n).format(n=n)


def status_in_words(status: Status) -> str:
    """Say whether a material can be had."""
    return say(_STATUS[status])


def region_in_words(kind: str) -> str:
    """Say which part of a piece is meant; empty where any is."""
    return say(_REGIONS[kind])
