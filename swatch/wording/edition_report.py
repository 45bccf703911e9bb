"""The report of an edition or a load: the paper it is printed on."""

from __future__ import annotations

from collections.abc import Iterator

from swatch.formats.report_drawing import (
    SMALL,
    Bars,
    Block,
    Chart,
    Charts,
    Grid,
    Head,
    Pair,
    Pairs,
    ReportPaper,
    Space,
    Text,
    table,
)
from swatch.terms.edition_report import EditionReport
from swatch.terms.holding import CheckAnswer, FiringChart, LoadCheck, PieceVerdict, RegionChange
from swatch.terms.material_plan import MaterialNeed, MaterialPlan
from swatch.terms.problems import Notice
from swatch.wording.holding import (
    causes_in_words,
    direction_in_words,
    kiln_in_words,
    next_step_in_words,
    piece_verdict_in_words,
    verdict_in_words,
)
from swatch.wording.material_plan import (
    banner_in_words,
    bridge_tile_in_words,
    counts_in_words,
    edition_in_words,
    need_in_words,
    pace_in_words,
    rate_in_words,
)
from swatch.wording.numbers import number_in_words, signed_in_words
from swatch.wording.problems import notice_in_words
from swatch.wording.text import _, say
from swatch.wording.units import grams_in_words
from swatch.work.edition_report import rgb_of

CAUTIONS = (
    _(
        "Holding the look says nothing of food: only a leach test by an accredited laboratory settles whether a "
        "surface may touch food, for each layering, and crazing can come later. Check your local rules."
    ),
    _("The verdicts were tried on simulated editions only, never on fired ware: look at the pieces as well."),
    _("Swatches are as near as a printer and its paper come; the numbers count. CIELAB, D50, 2°; CIEDE2000."),
)
CHARTS = {
    "L*": _("Lighter (+) or darker (−), L*"),
    "a*": _("Redder (+) or greener (−), a*"),
    "b*": _("Yellower (+) or bluer (−), b*"),
    "heat": _("Heat against the approved firings, cones"),
    "heat, moving mean": _("Heat, moving mean that forgets, cones"),
}
"""What each chart over firings shows; limits hold what firings ordinarily do."""
MOST_STRAYS, MOST_SETS = 60, 60


def report_title(report: EditionReport) -> str:
    """What the report is called."""
    if report.firing:
        return say(_("{edition}: load {firing}")).format(edition=report.edition, firing=report.firing)
    return report.edition


def report_paper(report: EditionReport) -> ReportPaper:
    """Lay the report out: what counts first, what it rests on after it."""
    blocks: list[Block] = [*_opening(report)]
    if report.check is not None:
        blocks += [*_look(report.check), *_loads(report.check), *_charts(report.check), *_kiln(report.check)]
        blocks += [*_pieces(report.check)]
    if report.plan is not None:
        blocks += [*_material(report.plan)]
    blocks += [*_notes(report)]
    about = say(_("Swatch {version}, studio {studio}, as of {day}")).format(
        version=report.version, studio=report.studio, day=report.on or "–"
    )
    return ReportPaper(
        title=report_title(report),
        under=_under(report),
        blocks=tuple(blocks),
        foot=(say(_("Not a statement about food: only a laboratory's leach test settles that.")), about),
        page_of=say(_("page {number} of {count}")),
    )


def _under(report: EditionReport) -> str:
    parts = [report.body] if report.body else []
    parts += [say(_("cone {cone}")).format(cone=report.cone)] if report.cone else []
    if report.check is not None:
        text = _("{pieces} approved pieces from {firings} firings, tolerance {tolerance} ΔE00")
        parts.append(
            say(text).format(
                pieces=report.check.approved,
                firings=report.check.approved_firings,
                tolerance=number_in_words(report.check.tolerance),
            )
        )
    if report.invented:
        parts.append(say(_("invented studio: nothing here is real")))
    return " · ".join(parts)


def _opening(report: EditionReport) -> Iterator[Block]:
    check = report.check
    if check is None:
        yield Text(say(_("No piece of it has been measured yet.")), 4.6, after=3.0)
        return
    if not check.loads:
        yield Text(say(_("No load has been measured beside the approved pieces yet.")), 4.6, after=3.0)
        return
    last = check.loads[-1]
    text = _("{firing}: {said}.")
    yield Text(say(text).format(firing=last.firing, said=_said(last)), 4.6, after=1.2)
    if step := next_step_in_words(last):
        yield Text(step, lead="→", after=2.4)
    yield Space(1.0)


def _said(load: LoadCheck) -> str:
    parts = [verdict_in_words(load.verdict), direction_in_words(load.change)]
    parts.append(causes_in_words(load.causes))
    return "; ".join(part for part in parts if part)


def _look(check: CheckAnswer) -> Iterator[Block]:
    shown = next((one for one in reversed(check.loads) if one.regions), None)
    if shown is None:
        return
    yield Head(say(_("The look: approved beside {firing}")).format(firing=shown.firing))
    yield Pairs(
        tuple(
            Pair(
                one.region,
                rgb_of(one.approved),
                rgb_of(one.load),
                (
                    f"{say(_('approved'))}: {_lab(one.approved)}",
                    f"{shown.firing}: {_lab(one.load)}",
                    say(_("{de00} ΔE00 apart")).format(de00=number_in_words(one.de00)),
                    *_by_colours(one),
                ),
            )
            for one in shown.regions
        ),
        (say(_("approved")), shown.firing),
    )


def _by_colours(one: RegionChange) -> tuple[str, ...]:
    if one.by_colours is None or one.by_colours_ordinarily is None:
        return ()
    text = _("by its colours {n}, ordinarily {usual}")
    usual = number_in_words(one.by_colours_ordinarily)
    return (say(text).format(n=number_in_words(one.by_colours), usual=usual),)


def _lab(lab: tuple[float, float, float]) -> str:
    return "L* {}  a* {}  b* {}".format(*(number_in_words(part) for part in lab))


def _loads(check: CheckAnswer) -> Iterator[Block]:
    if not check.loads:
        return
    yield Head(say(_("Loads")))
    header = [
        say(_("firing")),
        say(_("date")),
        say(_("pieces")),
        say(_("ΔE00")),
        say(_("heat")),
        say(_("verdict")),
    ]
    rows = []
    for one in check.loads:
        heat = "–" if one.heat_cones is None else signed_in_words(one.heat_cones, 2)
        verdict = [_said(one)]
        if one.together is not None and one.together.drifted:
            text = _("together with {n} loads since the last recorded change: drifted")
            verdict.append(say(text).format(n=len(one.together.firings) - 1))
        if one.opens:
            verdict.append(say(_("opens lot {lots}")).format(lots=", ".join(one.opens)))
        if one.opens_clay:
            verdict.append(say(_("opens clay lot {lots}")).format(lots=", ".join(one.opens_clay)))
        rows.append(
            [
                one.firing,
                one.date or "–",
                str(one.pieces),
                number_in_words(one.mean_de00),
                heat,
                "; ".join(verdict),
            ]
        )
    yield from table(header, rows, (10, 13, 8, 8, 9, 52), right=(2, 3, 4))
    steps = {step: one.firing for one in check.loads if (step := next_step_in_words(one))}
    yield Space(2.0)
    for step, firing in steps.items():
        yield Text(f"{firing}: {step}", SMALL, grey=0.2, lead="→", after=1.0)


def _charts(check: CheckAnswer) -> Iterator[Block]:
    found = [one for one in check.charts if len(one.points) > 1]
    if not found:
        return
    yield Head(say(_("Over firings")))
    for k in range(0, len(found), 3):
        yield Charts(tuple(_chart(one) for one in found[k : k + 3]))
    text = _("The grey band holds what firings ordinarily do; a large point lies outside it.")
    yield Text(say(text), SMALL, grey=0.35)


def _chart(one: FiringChart) -> Chart:
    title = say(CHARTS.get(one.name, one.name))
    return Chart(title, one.firings, one.points, one.middle, one.lower, one.upper)


def _kiln(check: CheckAnswer) -> Iterator[Block]:
    spread = check.variance
    parts = (
        (say(_("between firings")), spread.between_firings),
        (say(_("between shelves")), spread.between_shelves),
        (say(_("between pieces")), spread.within),
        (say(_("measuring")), spread.measuring),
    )
    known = [(name, max(value, 0.0) ** 0.5) for name, value in parts if value is not None]
    if known:
        yield Head(say(_("Where the variation comes from")))
        yield Bars(
            tuple((name, value, say(_("{n} ΔE00")).format(n=number_in_words(value))) for name, value in known)
        )
        if check.kiln_sd_cones is not None:
            yield Text(kiln_in_words(check.kiln_sd_cones), SMALL, grey=0.35)
    if check.kiln_map:
        yield Head(say(_("Map of the kiln")))
        rows = [
            [
                place.shelf,
                str(place.pieces),
                direction_in_words(place.change) or say(_("as the load")),
                number_in_words(place.de00),
                "–" if place.heat_cones is None else signed_in_words(place.heat_cones, 2),
            ]
            for place in check.kiln_map
        ]
        header = [say(_("shelf")), say(_("pieces")), say(_("against its load")), say(_("ΔE00")), say(_("cones"))]
        yield from table(header, rows, (20, 12, 36, 14, 18), right=(1, 3, 4))


def _pieces(check: CheckAnswer) -> Iterator[Block]:
    strays = [one for one in check.pieces if one.verdict is not PieceVerdict.WITHIN]
    if strays:
        yield Head(say(_("Pieces to look at")))
        rows = [
            [one.piece, one.firing, one.shelf or "–", one.region, number_in_words(one.de00),
             piece_verdict_in_words(one.verdict)]
            for one in strays[:MOST_STRAYS]
        ]  # fmt: skip
        header = [say(_("piece")), say(_("firing")), say(_("shelf")), say(_("region")), say(_("ΔE00")), ""]
        yield from table(header, rows, (18, 14, 16, 24, 12, 20), right=(4,))
        if len(strays) > MOST_STRAYS:
            yield Text(say(_("and {n} more")).format(n=len(strays) - MOST_STRAYS), SMALL, grey=0.35)
    if check.sets:
        yield Head(say(_("Pieces that belong together")))
        size = max(len(one) for one in check.sets)
        columns = max(1, 6 if size == 2 else 8 // size)
        for k in range(0, min(len(check.sets), MOST_SETS), columns):
            yield Grid(tuple(" + ".join(one) for one in check.sets[k : k + columns]), columns)
        if len(check.sets) > MOST_SETS:
            yield Text(say(_("and {n} more")).format(n=len(check.sets) - MOST_SETS), SMALL, grey=0.35)
    if check.held_back:
        yield Text(say(_("hold back: {pieces}")).format(pieces=", ".join(check.held_back)), SMALL)


def _material(plan: MaterialPlan) -> Iterator[Block]:
    yield Head(say(_("Does the material last?")))
    yield Text(edition_in_words(plan))
    counted = counts_in_words(plan)
    if counted:
        yield Text(say(_("So far: {counted}.")).format(counted=counted))
    if pace := pace_in_words(plan):
        yield Text(pace)
    for tile in plan.bridges:
        yield Text(banner_in_words(tile), lead="!")
        yield Text(bridge_tile_in_words(tile), lead="→")
    header = [say(_("material")), say(_("needed")), say(_("needed elsewhere")), say(_("left")),
              say(_("good pieces from it")), say(_("ends")), say(_("order by"))]  # fmt: skip
    rows = [_material_row(plan, need) for need in plan.materials]
    yield from table(header, rows, (20, 16, 16, 10, 12, 13, 22), right=(1, 2, 3, 4))
    yield Space(3.0)
    for need in plan.materials:
        yield Text(need_in_words(need), SMALL, after=0.5)
        if need.rate is not None:
            yield Text(rate_in_words(need.rate), SMALL, grey=0.35, after=0.5)
        for notice in need.notices:
            if notice.code != "lead-time-usual":
                yield Text(_noticed(notice), SMALL, lead="!", grey=0.2, after=0.5)
        yield Space(1.6)


def _material_row(plan: MaterialPlan, need: MaterialNeed) -> list[str]:
    ends = need.runs_out[0] if need.runs_out is not None else ""
    if need.short_g is not None and need.short_g[1] == 0:
        ends = say(_("lasts"))
    order = need.order_by or ""
    if order and order <= plan.on:
        order = say(_("now"))
    if order and need.jars_to_buy:
        order = say(_("{day}, {n} × {ml:.0f} ml")).format(day=order, n=need.jars_to_buy, ml=plan.jar_ml)
    possible = "–" if need.pieces_possible is None else "{} – {}".format(*need.pieces_possible)
    left = "–" if need.left_g is None else grams_in_words(need.left_g)
    return [need.material, _grams(need.need_g), _grams(need.others_need_g), left, possible, ends, order]


def _grams(ends: tuple[float, float] | None) -> str:
    if ends is None:
        return "–"
    return "0" if ends[1] == 0 else f"{grams_in_words(ends[0])} – {grams_in_words(ends[1])}"


def _notes(report: EditionReport) -> Iterator[Block]:
    yield Head(say(_("To be said with it")))
    for text in noted(report):
        yield Text(text, SMALL, grey=0.2, after=1.2)


def noted(report: EditionReport) -> list[str]:
    """Cautions, and what the figures lack."""
    found: dict[str, None] = dict.fromkeys(say(text) for text in CAUTIONS)
    if report.check is not None:
        found |= dict.fromkeys(_noticed(one) for one in report.check.notices)
        for load in report.check.loads:
            found |= dict.fromkeys(f"{load.firing}: {_noticed(one)}" for one in load.missing)
    if report.plan is not None:
        said = [*report.plan.notices, *(one for need in report.plan.materials for one in need.notices)]
        usual = [one for one in said if one.code == "lead-time-usual"]
        found |= dict.fromkeys(_noticed(one) for one in (*report.plan.notices, *usual))
    return list(found)


def _noticed(notice: Notice) -> str:
    return " ".join(notice_in_words(notice)).strip()
