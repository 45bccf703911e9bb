"""``swatch check``: the loads and pieces of an edition against the approved pieces."""

from __future__ import annotations

import argparse

from swatch.cli.holding_entries import check_entry
from swatch.cli.out import Out
from swatch.cli.studio_folder import folder_of, remember
from swatch.cli.words import name_word, number_in, whole_in
from swatch.cli.working import in_a_worker
from swatch.terms.holding import CheckAnswer, CheckRequest, LoadCheck, PieceVerdict
from swatch.wording.button_plan import next_load_in_words
from swatch.wording.holding import (
    causes_in_words,
    direction_in_words,
    kiln_in_words,
    mottled_in_words,
    next_step_in_words,
    piece_verdict_in_words,
    spread_in_words,
    verdict_in_words,
)
from swatch.wording.numbers import number_in_words, signed_in_words
from swatch.wording.problems import notice_in_words
from swatch.wording.text import _, say

HELP = "say whether the loads of an edition still hold the look, why not, and which pieces stray"
EXAMPLE = 'swatch check --edition "Eavesline bud vase" --studio shed'
MOST_SETS = 12


def add_words(parser: argparse.ArgumentParser) -> None:
    """Say which words the command takes."""
    parser.add_argument("--edition", type=name_word, metavar="E", required=True, help="the edition")
    parser.add_argument(
        "--tolerance", type=number_in(0.1, 50), metavar="DE",
        help="ΔE00 that a load may be off (default: the edition's, else 3.5)",
    )  # fmt: skip
    parser.add_argument(
        "--set-size", type=whole_in(2, 12), metavar="N", default=2, help="pieces of a set (default 2: pairs)"
    )
    parser.add_argument(
        "--hold-back", type=whole_in(0, 10_000), metavar="N", default=0,
        help="pieces to keep out of the sets, beside those that are off",
    )  # fmt: skip


def run(args: argparse.Namespace, out: Out) -> int:
    """Do it and give the exit status."""
    folder = folder_of(args)
    request = CheckRequest(args.edition, args.tolerance, args.set_size, args.hold_back)
    with out.progress("check") as report:
        answer: CheckAnswer = in_a_worker("check", {"folder": folder, "request": request}, report)
    remember(folder)
    out.entry |= check_entry(answer)
    say_check(out, answer)
    return out.finish(used=True)


def say_check(out: Out, answer: CheckAnswer, only_last: bool = False) -> None:
    """Say for people what became of an edition's loads and pieces."""
    text = _("{edition}: {pieces} approved pieces from {firings} firings, tolerance {tolerance} ΔE00.")
    out.line(
        say(text).format(
            edition=answer.edition, pieces=answer.approved, firings=answer.approved_firings,
            tolerance=number_in_words(answer.tolerance),
        )
    )  # fmt: skip
    loads = answer.loads[-1:] if only_last else answer.loads
    for load in loads:
        _say_load(out, load)
    if only_last:
        return
    strays = [one for one in answer.pieces if one.verdict is not PieceVerdict.WITHIN]
    if strays:
        out.table(
            [say(_("piece")), say(_("firing")), say(_("region")), say(_("ΔE00")), ""],
            [
                [p.piece, p.firing, p.region, number_in_words(p.de00), piece_verdict_in_words(p.verdict)]
                for p in strays
            ],
            numbers=(3,),
        )
    for one, apart in list(zip(answer.sets, answer.sets_de00, strict=True))[:MOST_SETS]:
        text = _("set: {pieces} ({de00} ΔE00 apart at most)")
        out.line(say(text).format(pieces=", ".join(one), de00=number_in_words(apart)))
    if len(answer.sets) > MOST_SETS:
        out.line(say(_("and {n} sets more (--json has them all)")).format(n=len(answer.sets) - MOST_SETS))
    if answer.held_back:
        out.line(say(_("hold back: {pieces}")).format(pieces=", ".join(answer.held_back)))
    _say_kiln(out, answer)
    if answer.next_load is not None:
        out.line(next_load_in_words(answer.next_load))
    for notice in answer.notices:
        out.line(f"! {' '.join(notice_in_words(notice)).strip()}")


def _say_kiln(out: Out, answer: CheckAnswer) -> None:
    """Say where the variation comes from, and how the shelves differ."""
    if spread := spread_in_words(answer.variance):
        out.line(spread)
    if answer.kiln_sd_cones is not None:
        out.line(kiln_in_words(answer.kiln_sd_cones))
    if answer.kiln_map:
        rows = [
            [one.shelf, str(one.pieces), number_in_words(one.de00), direction_in_words(one.change) or "–",
             "–" if one.heat_cones is None else signed_in_words(one.heat_cones, 2)]
            for one in answer.kiln_map
        ]  # fmt: skip
        header = [say(_("shelf")), say(_("pieces")), say(_("ΔE00")), say(_("against its load")), say(_("cones"))]
        out.table(header, rows, numbers=(1, 2, 4))


def _say_load(out: Out, load: LoadCheck) -> None:
    where = direction_in_words(load.change)
    parts = [verdict_in_words(load.verdict)]
    parts += [where] if where else []
    parts += [causes_in_words(load.causes)] if load.causes else []
    text = _("{firing}, {n} pieces, mean ΔE00 {de00}: {said}")
    out.line(
        say(text).format(
            firing=load.firing, n=load.pieces, de00=number_in_words(load.mean_de00), said="; ".join(parts)
        )
    )
    for region in load.regions:
        if mottled := mottled_in_words(region):
            out.line(f"  {mottled}")
    if step := next_step_in_words(load):
        out.line(f"  → {step}")
    for notice in load.missing:
        out.line(f"  ! {' '.join(notice_in_words(notice)).strip()}")
