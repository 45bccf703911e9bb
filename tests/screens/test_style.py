"""Light or dark as the potter says, even where the platform does not heed it, and as the system is otherwise."""

import pytest

from swatch.screens.style import look


@pytest.fixture
def dressed(qapp):
    look.dress(qapp)
    yield look
    look.dress(qapp)


@pytest.mark.parametrize(("scheme", "dark"), [("dark", True), ("light", False)])
def test_the_scheme_asked_for_is_worn_at_once(dressed, qapp, scheme, dark):
    dressed.choose(scheme)
    assert dressed.tokens.dark is dark
    assert (qapp.palette().window().color().lightness() < 128) is dark


def test_the_scheme_is_worn_from_the_start(dressed, qapp):
    dressed.dress(qapp, "dark")
    assert dressed.tokens.dark
    dressed.dress(qapp, "a scheme nobody knows")
    assert not dressed.tokens.dark
