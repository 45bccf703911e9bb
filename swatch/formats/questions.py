"""A list of layerings to predict: CSV with the columns layers, body and cone."""

from __future__ import annotations

from swatch.formats import cells
from swatch.formats.columns import Layout
from swatch.formats.csv_text import read_sheet
from swatch.formats.tables import places_of
from swatch.terms.answers import Question
from swatch.terms.problems import StudioProblem, Where
from swatch.terms.problems.files import no_value

QUESTIONS = Layout(
    name="list",
    columns={"layers": cells.layers, "body": cells.text_line, "cone": cells.cone},
    key=(),
    required=("layers", "body", "cone"),
)


def read_questions(data: bytes, name: str) -> tuple[Question | StudioProblem, ...]:
    """Read a list of questions, one a row, in the file's order.

    A row that cannot be read stands in the answer as its problem: each row is a question of its own.

    Raises
    ------
    StudioProblem
        The file as a whole cannot be used.
    """
    sheet = read_sheet(data, name)
    places, _ = places_of(QUESTIONS, sheet, name)
    questions: list[Question | StudioProblem] = []
    for row in sheet.rows:
        layers, body, cone = (row.cells[places[column]] for column in QUESTIONS.required)
        try:
            if not body or not cone:
                raise no_value("cone" if body else "body")
            # No layers is the bare body, which is a question too.
            questions.append(
                Question(cells.layers("layers", layers), cells.text_line("body", body), cells.cone("cone", cone))
            )
        except StudioProblem as problem:
            questions.append(problem.at(Where(file=name, row=row.number)))
    return tuple(questions)
