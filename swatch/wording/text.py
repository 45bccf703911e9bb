"""Where every sentence the program says passes through, so that it can be said in another language."""

from __future__ import annotations

import gettext as _gettext

_translations: _gettext.NullTranslations = _gettext.NullTranslations()


def _(text: str) -> str:
    """Mark a sentence for translation; it is translated where it is said, by `say`."""
    return text


def _many(one: str, many: str) -> tuple[str, str]:
    """Mark the two forms of a sentence that counts; they are translated by `say_many`."""
    return one, many


def say(text: str) -> str:
    """Give a marked sentence in the language now in use."""
    return _translations.gettext(text)


def say_many(one: str, many: str, n: int) -> str:
    """Give the form of a marked sentence that goes with `n` things."""
    return _translations.ngettext(one, many, n)


def use_translations(translations: _gettext.NullTranslations) -> None:
    """Speak through `translations` from now on."""
    global _translations
    _translations = translations
