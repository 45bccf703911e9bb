"""The first board and its shopping list as they are printed."""

from __future__ import annotations

from swatch.formats.board_drawing import PaperList, PaperRow
from swatch.terms.boards import Board, BoardTile, Why
from swatch.terms.cone import Cone
from swatch.terms.layering import Layers, fold_name
from swatch.terms.sheet import Size
from swatch.wording.answers import layers_in_words
from swatch.wording.layering import cone_figure, cone_in_words
from swatch.wording.next_tests import why_in_words
from swatch.wording.text import _, say, say_many
from swatch.wording.units import ml_in_words

ML_PER_DM2_COAT = 4.0
"""Wet material that one brushed coat takes: three coats dry to about 0.8 mm (common practice, no source)."""
SPARE = 10
"""One tile more for each so many: some break (common practice, no source)."""

_CAUTIONS = (
    _("Nobody has fired these layers here: they may run. Keep 3 mm clear of the foot, a cookie under each tile."),
    _("Keep to the cones on the labels; what is meant for a cooler cone can run off the tile or boil."),
    _("These are colour tests, not for food. Only a laboratory's leach test settles that, for each layering."),
    _("Dry glaze dust holds silica: clean wet, and wear a fitted respirator when sanding or spraying."),
)
_PENCIL = _("Number each tile on its back with an underglaze pencil: a graphite pencil burns away.")


def board_paper(board: Board, programme: str = "") -> PaperList:
    """The list of tiles to fire."""
    facts = say(_("Body: {body}. {fired}.")).format(
        body=board.body, fired=programme or cone_in_words(board.cone).capitalize()
    )
    how = say(
        _("Each tile: the whole in one coat, the upper two thirds in a second, the upper third in a third coat.")
    )
    stepped = any(len(tile.zones) > 1 for tile in board.tiles)
    return PaperList(
        title=say(_("Board for firing {name}")).format(name=board.name),
        under=(facts, how, say(_PENCIL)) if stepped else (facts, say(_PENCIL)),
        rows=tuple(_tile_row(tile) for tile in board.tiles),
        foot=tuple(say(line) for line in _CAUTIONS),
        page_of=say(_("page {number} of {count}")),
        bar=say(_("100 mm: measure this bar after printing")),
    )


def shopping_paper(board: Board, tile: Size) -> PaperList:
    """What to get before the tiles are made, and how much of each jar they take."""
    n = len(board.tiles)
    bare = n + -(-n // SPARE)
    size = f"{tile.wide:.0f} × {tile.high:.0f} mm"
    rows = [
        _item(
            say_many("{n} test tile of {body}", "{n} test tiles of {body}", bare).format(n=bare, body=board.body),
            say(_("{size}, flat, bisque fired, one in ten to spare")).format(size=size),
        ),
        _item(
            say(_("Reference card with 24 colour patches")),
            say(_("clean and not faded: every photo is measured against it")),
        ),
        _item(_cones(board.cone), say(_("one set on each shelf that holds tiles"))),
        _item(say(_("Underglaze pencil")), say(_("for the numbers"))),
        _item(say(_("Cookies or kiln wash, and stilts")), say(_("for what runs"))),
        _item(say(_("Respirator for fine dust, fitted")), say(_("for sanding, spraying and dry powder"))),
    ]
    for name, ml in amounts(board, tile):
        rows.append(_item(name, say(_("about {amount} for these tiles")).format(amount=ml_in_words(ml))))
    return PaperList(
        title=say(_("To have ready for firing {name}")).format(name=board.name),
        under=(say(_("Amounts are for brushing; spraying takes about twice as much.")),),
        rows=tuple(rows),
        foot=(say(_CAUTIONS[3]),),
        page_of=say(_("page {number} of {count}")),
        bar=say(_("100 mm: measure this bar after printing")),
    )


def amounts(board: Board, tile: Size) -> tuple[tuple[str, float], ...]:
    """Millilitres of each material that a board takes, in the order they first come."""
    total: dict[str, tuple[str, float]] = {}
    for one in board.tiles:
        area = tile.wide * tile.high / 1e4 / len(one.zones)
        for zone in one.zones:
            for layer in zone.layers:
                key = fold_name(layer.material)
                name, so_far = total.get(key, (layer.material, 0.0))
                total[key] = name, so_far + area * layer.coats * ML_PER_DM2_COAT
    return tuple(total.values())


def _tile_row(tile: BoardTile) -> PaperRow:
    layers = tile.zones[0].layers
    if len(tile.zones) == 1:
        return PaperRow(tile.tile, layers_in_words(layers), why_in_words(tile.why), ())
    bands = tuple(f"{zone.layers[-1].coats:g}" if zone.layers else "" for zone in tile.zones)
    return PaperRow(tile.tile, layers[-1].material if layers else "", _beside(layers, tile.why), bands)


def _beside(layers: Layers, why: str) -> str:
    if len(layers) < 2:
        return ""
    under = layers[0]
    coats = say_many("over {coats:g} coat of {under}", "over {coats:g} coats of {under}", int(under.coats))
    text = coats.format(coats=under.coats, under=under.material)
    return say(_("{over}: how much it covers")).format(over=text) if why == Why.OVER_DARKEST else text


def _item(name: str, beside: str) -> PaperRow:
    return PaperRow("", name, beside)


def _cones(cone: Cone | None) -> str:
    if cone is None:
        return say(_("Witness cones about what you fire to"))
    at = cone.position
    near = [Cone(p) for p in (at - 1, at, at + 1) if -21.0 <= p <= 14.0]
    return say(_("Witness cones {cones}")).format(cones=", ".join(cone_figure(one) for one in near))
