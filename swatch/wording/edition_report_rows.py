"""The figures of a report as rows of a table, in the words of the interface."""

from __future__ import annotations

from collections.abc import Iterator

from swatch.terms.edition_report import EditionReport
from swatch.terms.holding import CheckAnswer
from swatch.terms.layering import format_layers
from swatch.terms.material_plan import MaterialPlan
from swatch.wording.edition_report import noted

HEADER = ("part", "of", "figure", "value", "unit")


def report_rows(report: EditionReport) -> Iterator[tuple[str, str, str, str, str]]:
    """Every figure of the report, one a row; parts and figures are words of the interface, in English."""
    yield "report", report.edition, "version", report.version, ""
    yield "report", report.edition, "studio", report.studio, ""
    yield "report", report.edition, "as of", report.on, ""
    for region, layers in report.layers:
        yield "layers", region, "layers", format_layers(layers), ""
    if report.check is not None:
        yield from _check_rows(report.check)
    if report.plan is not None:
        yield from _plan_rows(report.plan)
    for text in noted(report):
        yield "caution", report.edition, "", text, ""


def _check_rows(check: CheckAnswer) -> Iterator[tuple[str, str, str, str, str]]:
    yield "approved", check.edition, "pieces", str(check.approved), ""
    yield "approved", check.edition, "firings", str(check.approved_firings), ""
    yield "approved", check.edition, "tolerance", _figure(check.tolerance), "ΔE00"
    for load in check.loads:
        yield "load", load.firing, "date", load.date or "", ""
        yield "load", load.firing, "pieces", str(load.pieces), ""
        yield "load", load.firing, "verdict", str(load.verdict), ""
        yield "load", load.firing, "mean", _figure(load.mean_de00), "ΔE00"
        yield "load", load.firing, "sure within tolerance", _figure(load.sure_within), ""
        yield "load", load.firing, "tolerance supported", _figure(load.supported), "ΔE00"
        yield "load", load.firing, "heat", _figure(load.heat_cones), "cones"
        for region in load.regions:
            where = f"{load.firing} / {region.region}"
            for name, lab in (("approved", region.approved), ("load", region.load)):
                for axis, value in zip(("L", "a", "b"), lab, strict=True):
                    yield "colour", where, f"{name} {axis}", _figure(value), ""
            yield "colour", where, "difference", _figure(region.de00), "ΔE00"
            if region.by_colours is not None:
                yield "colour", where, "difference by colours", _figure(region.by_colours), "ΔE00"
                yield "colour", where, "ordinarily by colours", _figure(region.by_colours_ordinarily), "ΔE00"
        for cause in load.causes:
            yield "cause", load.firing, f"{cause.code} share", _figure(cause.share), ""
            yield "cause", load.firing, f"{cause.code} amount", _figure(cause.amount), cause.unit
    for piece in check.pieces:
        where = f"{piece.firing} / {piece.piece}"
        yield "piece", where, "verdict", str(piece.verdict), ""
        yield "piece", where, f"difference at {piece.region}", _figure(piece.de00), "ΔE00"
    for number, one in enumerate(check.sets, 1):
        yield "set", str(number), "pieces", " + ".join(one), ""
        yield "set", str(number), "apart at most", _figure(check.sets_de00[number - 1]), "ΔE00"
    for name in check.held_back:
        yield "held back", name, "", "", ""
    spread = {
        "between firings": check.variance.between_firings,
        "between shelves": check.variance.between_shelves,
        "within": check.variance.within,
        "measuring": check.variance.measuring,
    }
    for part, variance in spread.items():
        yield "variance", check.edition, part, _figure(variance), "ΔE00²"
    for place in check.kiln_map:
        yield "kiln", place.shelf, "difference", _figure(place.de00), "ΔE00"
        yield "kiln", place.shelf, "heat", _figure(place.heat_cones), "cones"
    for chart in check.charts:
        for firing, point in zip(chart.firings, chart.points, strict=True):
            yield "chart", f"{chart.name} / {firing}", "point", _figure(point), ""
        for name, value in (("middle", chart.middle), ("lower", chart.lower), ("upper", chart.upper)):
            yield "chart", chart.name, name, _figure(value), ""


def _plan_rows(plan: MaterialPlan) -> Iterator[tuple[str, str, str, str, str]]:
    for name, count in (
        ("planned", plan.planned), ("made", plan.made), ("fired", plan.fired), ("good", plan.good),
        ("sold", plan.sold), ("to make", plan.pieces_to_make), ("to begin", plan.pieces_to_start),
    ):  # fmt: skip
        yield "edition", plan.edition, name, "" if count is None else str(count), "pieces"
    for need in plan.materials:
        for name, ends in (
            ("needed", need.need_g),
            ("needed elsewhere", need.others_need_g),
            ("short", need.short_g),
        ):
            for end, value in zip(("least", "most"), ends or (None, None), strict=True):
                yield "material", need.material, f"{name}, {end}", _figure(value), "g"
        yield "material", need.material, "left", _figure(need.left_g), "g"
        yield "material", need.material, "locked", _figure(need.locked_g), "g"
        for end, count in zip(("least", "most"), need.pieces_possible or (None, None), strict=True):
            yield "material", need.material, f"possible, {end}", "" if count is None else str(count), "pieces"
        early, late = need.runs_out or ("", "")
        yield "material", need.material, "ends, at the earliest", early, ""
        yield "material", need.material, "ends, at the latest", late, ""
        yield "material", need.material, "order by", need.order_by or "", ""
    for tile in plan.bridges:
        yield "new lot", tile.material, f"after {tile.old_lot}", tile.new_lot, ""


def _figure(value: float | None) -> str:
    return "" if value is None else f"{value + 0.0:.3f}"
