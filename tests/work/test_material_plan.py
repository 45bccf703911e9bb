"""Does the material last: the plan worked by hand in the help, and what every plan keeps to."""

import math
import re
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swatch.terms.colour import Covariance, Lab
from swatch.terms.cone import Cone
from swatch.terms.editions import EditionRegion, PieceReading, RegionKind, Role, Tallied, Tally, Weighed, Weighing
from swatch.terms.evidence import Evidence
from swatch.terms.layering import parse_layers
from swatch.terms.material_plan import PlanRequest
from swatch.terms.materials import Firing, Jar, Material, Status
from swatch.terms.problems import StudioProblem
from swatch.wording import material_plan as words
from swatch.work.consumption import Consumption
from swatch.work.material_plan import Stock, planned_from

HELP = Path(__file__).parents[2] / "resources" / "help"
PLAIN = Covariance(1.0, 0.0, 0.0, 1.0, 0.0, 1.0)


def region(edition="Mugs", area=5.0, layers="Moss*2", planned=60, share=0.8, name="outside"):
    return EditionRegion(
        edition, name, planned, share, "Pale", Cone(6.0), RegionKind.OUTSIDE, area, parse_layers(layers)
    )


def weighing(grams, at, method="brushed", weighed=None, material="Moss", lot=None, area=10.0, coats=2.0):
    before, after = (300.0, 300.0 + grams) if weighed is Weighed.PIECE else (1000.0, 1000.0 - grams)
    return Weighing(material, at, lot, before, after, area, 4, coats, method, weighed)


def stock(regions=None, material=None, **parts):
    evidence = Evidence((material or Material("Moss", left_g=900.0, lead_days=10),), (), parts.pop("firings", ()),
        (), (), ())  # fmt: skip
    found = {"pieces": (), "counts": (), "jars": (), "weighings": (), **parts}
    return Stock(regions=tuple(regions or [region()]), evidence=evidence, **found)


BY_HAND = stock(
    weighings=tuple(weighing(grams, f"2027-08-0{k}") for k, grams in enumerate((41.0, 38.0, 44.0), 1)),
    counts=(
        Tally("Mugs", "2027-09-15", Tallied.GOOD, 20),
        *(
            Tally("Mugs", day, Tallied.FIRED, n)
            for day, n in (("2027-09-01", 12), ("2027-09-08", 15), ("2027-09-15", 15))
        ),
    ),
)


@pytest.mark.parametrize("page", ["editions.md", "de/editions.md"])
def test_the_plan_worked_by_hand_in_the_help_is_the_programs(page):
    text = (HELP / page).read_text(encoding="utf-8")
    section = text.split("### ")[1].split("\n\n")
    lines = re.split(r"(?m)^\d\. ", section[2])
    said = [re.findall(r"\d{4}-\d\d-\d\d|\d+(?:\.\d+)?", line) for line in lines][1:]
    assert re.findall(r"[\d.]+", section[1].rstrip(".")) == ["41", "38", "44", "10", "2"]

    plan = planned_from(BY_HAND, PlanRequest("mugs", "2027-09-16"))
    (need,) = plan.materials
    rate = Consumption(BY_HAND.weighings).told("Moss").rate
    low, middle, high = rate.grams(5.0 * 2 * 1.1)
    assert said[0] == ["2.05", "1.90", "2.20", f"{math.exp(rate.ln):.2f}"]
    assert said[1][-1] == f"{rate.sd:.3f}"
    assert said[2] == ["1.2816", f"{rate.sd:.3f}", f"{high / middle:.3f}"]
    assert said[3] == ["5", "2", "11", f"{middle:.2f}", f"{low:.1f}", f"{high:.1f}"]
    assert said[4] == [
        str(n) for n in (plan.planned, plan.good, 80, plan.pieces_to_make, plan.pieces_to_start, 90)
    ]
    assert said[5] == [f"{g:.0f}" for g in (*need.need_g, need.left_g, *need.short_g)]
    least, most = need.pieces_possible
    assert said[6] == ["900", f"{high:.1f}", "0.8", str(least), str(most), str(least)]
    days = [(date.fromisoformat(end) - date(2027, 9, 16)).days for end in need.runs_out]
    assert said[7] == [
        "12", "2027-09-01", "15", "2027-09-08", "15", "2027-09-15", "30", "14", f"{plan.pace.a_day:.2f}",
        "2027-09-16", "900", *map(str, days), *need.runs_out, "10", need.order_by,
    ]  # fmt: skip


WORDS = (words.need_in_words, words.possible_in_words, words.ends_in_words)


def test_its_words():
    plan = planned_from(BY_HAND, PlanRequest("Mugs", "2027-09-16"))
    said = " ".join(say(plan.materials[0]) for say in WORDS)
    assert "Short by 93 g to 649 g." in said
    assert "plan on 25" in said
    assert "Order by 2027-09-20 (1 jar)." in said
    assert words.pace_in_words(plan) == "Present pace: 15.0 pieces a week, by the last 3 firings."


@settings(max_examples=60)
@given(
    left=st.floats(0, 5000), area=st.floats(0.2, 40), coats=st.integers(1, 5), share=st.floats(0.3, 1.0),
    grams=st.lists(st.floats(0.5, 300), min_size=1, max_size=5), planned=st.integers(0, 300),
    method=st.sampled_from(["brushed", "sprayed"]), weighed=st.sampled_from(list(Weighed)),
    others=st.integers(0, 100),
)  # fmt: skip
def test_no_plan_uses_more_than_is_left(left, area, coats, share, grams, planned, method, weighed, others):
    made = stock(
        [region(area=area, layers=f"Moss*{coats}", planned=planned, share=share),
         region("Bowls", 7.0, planned=others)],
        Material("Moss", left_g=left),
        weighings=tuple(weighing(g, f"2027-01-0{k + 1}", method, weighed) for k, g in enumerate(grams)),
        counts=tuple(Tally("Mugs", f"2027-02-0{k}", Tallied.FIRED, 10) for k in (1, 8)),
    )  # fmt: skip
    plan = planned_from(made, PlanRequest("Mugs", "2027-03-01"))
    (need,) = plan.materials
    told = Consumption(made.weighings).told("Moss")
    _, _, most = told.rate.grams(need.dm2_coats)
    low, high = need.pieces_possible
    assert 0 <= low <= high
    # So many good pieces are begun from so many more; on the low end all of them fit into what is left.
    assert low / share * most <= left * (1 + 1e-9)
    # What is needed is either there or said to be short of, at both ends, other editions included.
    for k in (0, 1):
        wanted = need.need_g[k] + need.others_need_g[k]
        assert wanted - need.short_g[k] <= left * (1 + 1e-9) + 1e-9
        assert need.short_g[k] == pytest.approx(max(wanted - left, 0.0))
    if need.short_g[1] == 0:
        assert need.runs_out is need.order_by is None
        assert need.jars_to_buy == 0
    if need.runs_out is not None:
        assert "2027-03-01" <= need.runs_out[0] <= need.runs_out[1]
        assert need.order_by <= need.runs_out[0]


def test_a_piece_weighed_adds_what_the_gun_loses_and_learns_it_from_jars():
    pieces = [weighing(40.0, f"2027-01-0{k}", "sprayed", Weighed.PIECE) for k in (1, 2, 3)]
    usual = Consumption(pieces).told("Moss")
    assert usual.loss == "usual"
    assert math.exp(usual.rate.ln) == pytest.approx(4.0)  # 2 g on the piece, and as much again beside it
    other = [weighing(grams, f"2027-02-0{k}", "sprayed", kind, "Slip") for k, (grams, kind) in
             enumerate([(60.0, None), (20.0, Weighed.PIECE)], 1)]  # fmt: skip
    learnt = Consumption(pieces + other).told("Moss")
    assert learnt.loss == "learnt"
    assert 4.0 < math.exp(learnt.rate.ln) < 6.0  # a jar lost three times what stayed on the piece
    assert learnt.rate.sd < usual.rate.sd


def test_methods_are_not_mixed():
    both = [weighing(20.0, "2027-01-01", "brushed"), weighing(60.0, "2027-01-02", "sprayed")]
    used = Consumption(both)
    assert math.exp(used.told("Moss").rate.ln) == pytest.approx(3.0)  # as it was put on last
    assert math.exp(used.told("Moss", "Brushed").rate.ln) == pytest.approx(1.0)


def test_where_nothing_was_weighed_it_says_what_to_weigh():
    plan = planned_from(stock(), PlanRequest("Mugs", "2027-09-16"))
    (need,) = plan.materials
    assert need.need_g is need.pieces_possible is need.jars_to_buy is None
    assert "weigh-first" in {notice.code for notice in need.notices}
    assert {"good-by-measured", "pace-not-known"} <= {notice.code for notice in plan.notices}


def test_a_material_that_cannot_be_had_is_not_ordered_and_its_last_jar_is_locked():
    gone = Material("Moss", status=Status.DISCONTINUED, left_g=900.0)
    jars = (Jar("Moss", "1", "A", 500.0, locked=True), Jar("Moss", "2", "A", 400.0))
    plan = planned_from(
        stock(material=gone, jars=jars, weighings=BY_HAND.weighings, counts=BY_HAND.counts),
        PlanRequest("Mugs", "2027-09-16"),
    )
    (need,) = plan.materials
    codes = {notice.code for notice in need.notices}
    assert {"cannot-be-bought", "lock-last-jar"} <= codes
    assert need.order_by is None
    assert need.runs_out is not None


def approved(lot, firing="F1"):
    return PieceReading("Mugs", "p1", "outside", Lab(50, 0, 0), PLAIN, firing=firing, role=Role.APPROVED, lot=lot)


def test_a_lot_opened_after_the_look_was_approved_is_told_with_its_bridge_tile():
    jars = (Jar("Moss", "1", "A", 10.0, opened="2027-01-02"), Jar("Moss", "2", "B", 900.0, opened="2027-08-01"))
    firings = (Firing("F1", "2027-02-01"), Firing("F2", "2027-08-20"))
    made = stock(jars=jars, firings=firings, pieces=(approved("A"),))
    (tile,) = planned_from(made, PlanRequest("Mugs", "2027-09-16")).bridges
    assert (tile.old_lot, tile.new_lot, tile.region) == ("A", "B", "outside")
    assert "lot A of Moss on the left half" in words.bridge_tile_in_words(tile)
    # Opened before the approved firing, or fired since: nothing to bridge.
    later = stock(jars=jars, firings=(Firing("F1", "2027-08-20"),), pieces=(approved("A"),))
    assert planned_from(later, PlanRequest("Mugs", "2027-09-16")).bridges == ()
    piece = PieceReading("Mugs", "p9", "outside", Lab(50, 0, 0), PLAIN, firing="F2", lot="B")
    fired = stock(jars=jars, firings=firings, pieces=(approved("A"), piece))
    assert planned_from(fired, PlanRequest("Mugs", "2027-09-16")).bridges == ()


def test_locked_jars_are_kept_from_other_pieces():
    used = Consumption(BY_HAND.weighings)
    layers = parse_layers("Moss*2")
    free = used.pieces(layers, [Material("Moss", left_g=900.0)], 5.0)
    assert used.pieces(layers, [Material("Moss", left_g=1400.0, locked_g=500.0)], 5.0) == free


def test_an_unknown_edition_is_refused():
    with pytest.raises(StudioProblem, match="unknown-edition"):
        planned_from(stock(), PlanRequest("Jugs", "2027-09-16"))
