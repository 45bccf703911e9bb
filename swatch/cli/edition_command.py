"""``swatch edition``: does the material last to the edition's last piece?"""

from __future__ import annotations

import argparse
from datetime import date

from swatch.cli.out import Out
from swatch.cli.plan_entries import material_plan_entry
from swatch.cli.studio_folder import folder_of, remember
from swatch.cli.words import day_word, name_word, number_in
from swatch.cli.working import in_a_worker
from swatch.terms.material_plan import MaterialNeed, MaterialPlan, PlanRequest
from swatch.wording.material_plan import (
    banner_in_words,
    bridge_tile_in_words,
    counts_in_words,
    edition_in_words,
    ends_in_words,
    jar_in_words,
    need_in_words,
    pace_in_words,
    possible_in_words,
    rate_in_words,
)
from swatch.wording.problems import notice_in_words

HELP = "material that an edition needs, what is left of it, and until when it lasts"
EXAMPLE = 'swatch edition --edition "Shore mugs" --on 2027-02-11'


def add_words(parser: argparse.ArgumentParser) -> None:
    """Say which words the command takes."""
    parser.add_argument("--edition", type=name_word, metavar="E", required=True, help="the edition")
    parser.add_argument("--on", type=day_word, metavar="DAY", help="count from this day (default: today)")
    parser.add_argument(
        "--jar-ml", type=number_in(0, 100_000), metavar="ML", default=473.0, help="what a jar holds (473)"
    )


def run(args: argparse.Namespace, out: Out) -> int:
    """Do it and give the exit status."""
    folder = folder_of(args)
    request = PlanRequest(args.edition, args.on or date.today().isoformat(), args.jar_ml)
    with out.progress("edition") as report:
        plan: MaterialPlan = in_a_worker("material plan", {"folder": folder, "request": request}, report)
    remember(folder)
    out.entry |= material_plan_entry(plan)
    say_material_plan(out, plan)
    return out.finish(used=True)


def say_material_plan(out: Out, plan: MaterialPlan) -> None:
    """Say a material plan for people."""
    for tile in plan.bridges:
        out.line(f"! {banner_in_words(tile)}")
        out.line(f"  → {bridge_tile_in_words(tile)}")
    out.line(edition_in_words(plan))
    for line in (counts_in_words(plan), pace_in_words(plan)):
        if line:
            out.line(line)
    for need in plan.materials:
        out.line()
        _say_need(out, need)
    if plan.notices:
        out.line()
    for notice in plan.notices:
        out.line(f"! {' '.join(notice_in_words(notice)).strip()}")


def _say_need(out: Out, need: MaterialNeed) -> None:
    out.line(need_in_words(need))
    for line in (possible_in_words(need), ends_in_words(need)):
        if line:
            out.line(f"  → {line}")
    if need.rate is not None:
        out.line(f"  {rate_in_words(need.rate)}")
    for jar in need.jars if len(need.jars) > 1 or any(one.lot or one.locked for one in need.jars) else ():
        out.line(f"  {jar_in_words(jar)}")
    for notice in need.notices:
        out.line(f"  ! {' '.join(notice_in_words(notice)).strip()}")
