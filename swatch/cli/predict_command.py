"""``swatch predict``: the fired colour of one layering, or of many."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

from swatch.cli.entries import prediction_entry, question_entry, refusal_entry
from swatch.cli.out import Out, wrong_call
from swatch.cli.studio_folder import folder_of, remember
from swatch.cli.suggestions import say_predictions
from swatch.cli.words import cone_word, layers_word, name_word
from swatch.cli.working import in_a_worker
from swatch.terms.answers import Prediction, Question, Refusal
from swatch.terms.layering import fold_name, format_layers
from swatch.terms.problems import StudioProblem, Where
from swatch.terms.trial import WhatIfAnswer, WhatIfRequest
from swatch.wording.answers import why_in_words
from swatch.wording.numbers import DE_DECIMALS, figure, lab_figures
from swatch.wording.problems import problem_in_words
from swatch.wording.trial import trial_in_words

HELP = "say what colour a layering fires to, and how sure that is"
EXAMPLE = 'swatch predict --layers "Iron slip*2 > Clear" --body "Pale body" --cone 6'

_ONE = ("layers", "body", "cone")


def add_words(parser: argparse.ArgumentParser) -> None:
    """Say which words the command takes."""
    parser.add_argument(
        "--layers", type=layers_word, metavar="LAYERS", help='from the body outward: "Iron slip*2 > Clear"'
    )
    parser.add_argument("--body", type=name_word, metavar="B", help="the body beneath")
    parser.add_argument("--cone", type=cone_word, metavar="C", help="the cone asked for, such as 6 or 06")
    parser.add_argument("--what-if", action="store_true", help="say also what heat, coats and body would change")
    parser.add_argument("--list", metavar="FILE.csv", help="many at once: columns layers, body, cone")


def run(args: argparse.Namespace, out: Out) -> int:
    """Do it and give the exit status."""
    given = [word for word in _ONE if getattr(args, word) is not None]
    if args.list is not None and given:
        return wrong_call("predict", f"--list and --{given[0]} do not go together")
    if args.list is not None and args.what_if:
        return wrong_call("predict", "--list and --what-if do not go together")
    if args.list is None and len(given) < len(_ONE):
        missing = ", ".join(f"--{word}" for word in _ONE if word not in given)
        return wrong_call("predict", f"{missing} is missing (or --list FILE.csv)")
    if args.list is not None:
        return _predict_list(args, out)
    return _predict_one(Question(args.layers, args.body, args.cone), args, out)


def _predict_one(question: Question, args: argparse.Namespace, out: Out) -> int:
    folder = folder_of(args)
    with out.progress("predict") as report:
        (answer,) = in_a_worker("predict", {"folder": folder, "questions": (question,), "why": True}, report)
        other: WhatIfAnswer | None = None
        if args.what_if and isinstance(answer, Prediction):
            # Of the fit that was just kept, so nothing of it is in haste.
            asked = WhatIfRequest(question, asides=True, bodies=_other_bodies(folder, question.body))
            other = in_a_worker("trial", {"folder": folder, "request": asked}, report)
    remember(folder)
    if isinstance(answer, Refusal):
        out.entry |= refusal_entry(answer)
        out.problem(_as_problem(answer, None))
        return out.finish(used=False)
    out.entry |= prediction_entry(answer)
    say_predictions(out, [(1, answer)])
    if answer.why is not None:
        for line in why_in_words(answer.why):
            out.line(line)
    if other is not None:
        out.entry |= what_if_entry(other)
        for line in trial_in_words(other):
            out.line(line)
    return out.finish(used=True)


def _other_bodies(folder: Path, body: str) -> tuple[str, ...]:
    """The bodies that tiles were fired of, but this one."""
    from swatch.library.studio import Studio

    with Studio.look(folder) as studio:
        bodies = {fold_name(one.body): one.body for one in studio.evidence().readings if one.body}
    return tuple(name for folded, name in sorted(bodies.items()) if folded != fold_name(body))


def what_if_entry(answer: WhatIfAnswer) -> dict[str, Any]:
    """What ``predict --what-if --json`` has beside the prediction."""
    near = answer.nearest
    return {
        "nearest_tile": None
        if near is None
        else {
            "tile": near.tile,
            "zone": near.zone,
            "layers": format_layers(near.layers),
            "lab": lab_figures(near.lab),
            "de00": figure(near.de00, DE_DECIMALS),
        },
        "what_if": [
            {
                "step": str(one.aside),
                **question_entry(one.question),
                "lab": None if one.lab is None else lab_figures(one.lab),
            }
            for one in answer.steps
        ],
    }


def _predict_list(args: argparse.Namespace, out: Out) -> int:
    out.entry["predictions"] = []
    folder = folder_of(args)
    from swatch.work.list_in import read_list

    asked = read_list(args.list)
    questions = tuple(one.question for one in asked if one.question is not None)
    with out.progress("predict") as report:
        asked_of_it = {"folder": folder, "questions": questions}
        answers = iter(in_a_worker("predict", asked_of_it, report) if questions else ())
    remember(folder)
    said: list[tuple[int, Prediction]] = []
    for number, one in enumerate(asked, 1):
        answer = next(answers) if one.question is not None else one.problem
        if isinstance(answer, Prediction):
            out.entry["predictions"].append(prediction_entry(answer))
            said.append((number, answer))
        elif isinstance(answer, Refusal):
            out.entry["predictions"].append(refusal_entry(answer))
            out.problem(_as_problem(answer, Where(file=args.list, row=one.row)))
        else:
            assert answer is not None
            layers, body, cone = one.cells
            entry = {"layers": layers, "body": body, "cone": cone, "lab": None}
            out.entry["predictions"].append(entry | {"refusal": " ".join(problem_in_words(answer))})
            out.problem(answer)
    if said:
        say_predictions(out, said)
    return out.finish(used=bool(said))


def _as_problem(refusal: Refusal, where: Where | None) -> StudioProblem:
    return StudioProblem(refusal.reason.code, where, **refusal.reason.facts)
