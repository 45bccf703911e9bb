"""A plan of witness buttons in words and on paper, and what to photograph of a load."""

from __future__ import annotations

from collections.abc import Sequence

from swatch.formats.button_drawing import ButtonPicture
from swatch.formats.report_drawing import (
    SMALL,
    Block,
    Head,
    ReportPaper,
    Space,
    Text,
    table,
)
from swatch.terms.buttons import ButtonPlan, PlannedButton, Stripe
from swatch.terms.layering import format_layers
from swatch.wording.numbers import number_in_words
from swatch.wording.problems import notice_in_words
from swatch.wording.text import _, say

ACROSS = 40.0
"""mm; large enough for six stripes that a phone reads (common practice, no source)."""


def buttons_in_words(plan: ButtonPlan) -> str:
    """Say what the buttons are for and how well they tell it."""
    text = _("{n} witness buttons for {firing}, one on each shelf.")
    said = say(text).format(n=len(plan.buttons), firing=plan.firing)
    if plan.sd_cones is None:
        return said
    more = _("They tell how hot it was to ±{sd} cones.")
    return f"{said} {say(more).format(sd=number_in_words(plan.sd_cones, 2))}"


def stripe_in_words(stripe: Stripe) -> str:
    """Say one stripe: ``1: Iron slip*2 > Clear*2, covered, 3.2 ΔE a cone``."""
    parts = [format_layers(stripe.layers), say(_("covered")) if stripe.covered else say(_("bare"))]
    if stripe.change_de is not None:
        parts.append(say(_("{n} ΔE a cone")).format(n=number_in_words(stripe.change_de)))
    return f"{stripe.stripe}: {', '.join(parts)}"


def mark_in_words(button: PlannedButton) -> str:
    """Say what is pencilled on a button."""
    return say(_("{shelf}: pencil “{mark}” on its back")).format(shelf=button.shelf, mark=button.mark)


def steps_in_words(plan: ButtonPlan) -> tuple[str, ...]:
    """Say what to do with a load, from casting to the photo."""
    kept = (
        say(_("Lay “{kept}”, which is never fired again, beside the card in every photo.")).format(kept=plan.kept)
        if plan.kept_known
        else say(_("Keep one more of this firing, call it “{kept}”, and never fire it again.")).format(
            kept=plan.kept
        )
    )
    approved = (
        say(
            _("Photograph {n} pieces from each shelf with “{piece}”, an approved piece, in the same photo.")
        ).format(n=plan.pieces, piece=plan.approved)
        if plan.approved
        else say(_("Photograph {n} pieces from each shelf beside an approved piece.")).format(n=plan.pieces)
    )
    shelves = ", ".join(one.shelf for one in plan.buttons)
    return (
        say(
            _("Cast buttons of {body} from one mould, {mm:.0f} mm across; mark them with an underglaze pencil.")
        ).format(body=plan.body or "–", mm=ACROSS),
        say(_("Brush the stripes as planned; then cover those that are covered, and leave the others bare.")),
        say(_("Set one on each shelf ({shelves}), at the same place in every firing.")).format(shelves=shelves),
        say(_("After the firing photograph all of them in one shot with the reference card.")),
        kept,
        approved,
    )


def next_load_in_words(plan: ButtonPlan) -> str:
    """Say in one sentence what the next load should have with it."""
    marks = ", ".join(one.mark for one in plan.buttons)
    beside = plan.approved or say(_("an approved piece"))
    text = _(
        "Next load: a witness button on each shelf ({marks}), {n} pieces a shelf photographed beside {piece}."
    )
    return say(text).format(marks=marks, n=plan.pieces, piece=beside)


def buttons_paper(plan: ButtonPlan) -> ReportPaper:
    """Lay the plan out for the bench."""
    stripes = [
        [one.stripe, format_layers(one.layers), say(_("covered")) if one.covered else say(_("bare")),
         "–" if one.change_de is None else number_in_words(one.change_de)]
        for one in plan.stripes
    ]  # fmt: skip
    blocks: list[Block] = [
        Text(buttons_in_words(plan), 4.6, after=2.0),
        Head(say(_("The button"))),
        ButtonPicture(
            tuple((one.stripe, one.covered) for one in plan.stripes),
            ACROSS,
            say(_("covered: the clear lies over all of the stripe")),
            say(_("bare: no clear over them")),
        ),
        *table(
            [say(_("stripe")), say(_("layers, body outward")), "", say(_("ΔE a cone"))],
            stripes, (10, 52, 20, 16), right=(3,),
        ),
        Head(say(_("One on each shelf"))),
        *table(
            [say(_("shelf")), say(_("pencil on its back")), say(_("done"))],
            [[one.shelf, one.mark, ""] for one in plan.buttons], (24, 40, 20),
        ),
        Head(say(_("With this load"))),
        *(Text(step, lead=f"{k}", after=1.4) for k, step in enumerate(steps_in_words(plan), 1)),
        Space(1.0),
        *(Text(text, SMALL, grey=0.2, lead="!", after=1.0) for text in notices_in_words(plan)),
    ]  # fmt: skip
    parts = [plan.edition, plan.body, say(_("cone {cone}")).format(cone=plan.cone) if plan.cone else ""]
    return ReportPaper(
        title=say(_("Witness buttons for {firing}")).format(firing=plan.firing),
        under=" · ".join(part for part in parts if part),
        blocks=tuple(blocks),
        foot=(
            say(
                _("Dry glaze dust holds silica: clean wet, and wear a fitted respirator when sanding or spraying.")
            ),
        ),
        page_of=say(_("page {number} of {count}")),
    )


def notices_in_words(plan: ButtonPlan) -> Sequence[str]:
    """Say what the plan lacks and what to beware of."""
    return tuple(" ".join(notice_in_words(one)).strip() for one in plan.notices)
