"""Which language the program speaks: the user's choice, else the system's, else English, which is the source."""

from __future__ import annotations

import gettext
import os
import re
import sys
from collections.abc import Mapping, Sequence
from pathlib import Path

from swatch.resources import resource
from swatch.wording.text import use_translations

ENGLISH = "en"
LANGUAGES: Mapping[str, str] = {ENGLISH: "English", "de": "Deutsch"}
"""Each by its code, called as its speakers call it."""

AS_SYSTEM = "system"
_DOMAIN = "swatch"
_now = ENGLISH


def chosen(setting: str = "", system: Sequence[str] | None = None) -> str:
    """Give the code of the language to speak.

    Parameters
    ----------
    setting : str
        What the user chose: a code, or nothing or ``system`` for the system's language. The environment's
        ``SWATCH_LANGUAGE`` comes before it.
    system : sequence of str, optional
        The system's languages, best first, such as ``de_AT``; looked up where it is not given.

    Returns
    -------
    str
        One of `LANGUAGES`; English where nothing better is known.
    """
    forced = os.environ.get("SWATCH_LANGUAGE", "")
    if forced:
        return _code(forced) or ENGLISH
    if setting in LANGUAGES:
        return setting
    wanted = system_languages() if system is None else system
    return next((code for name in wanted if (code := _code(name))), ENGLISH)


def system_languages() -> tuple[str, ...]:
    """Languages of the system's user, best first, as POSIX names them and Windows where it has no such names.

    References
    ----------
    Order of the variables, and ``LANGUAGE`` counting for nothing in the C locale: gettext's manual, "The LANGUAGE
    variable" (memory).
    """
    locale_name = next((name for key in ("LC_ALL", "LC_MESSAGES", "LANG") if (name := os.environ.get(key))), "")
    if locale_name.partition(".")[0] in ("C", "POSIX"):
        return ()
    if locale_name:
        return (*filter(None, os.environ.get("LANGUAGE", "").split(":")), locale_name)
    if sys.platform == "win32":
        import ctypes
        import locale

        return (locale.windows_locale.get(ctypes.windll.kernel32.GetUserDefaultUILanguage(), ""),)
    return ()


def speak(code: str) -> None:
    """Say everything in the language `code` from now on."""
    global _now
    if code == ENGLISH:
        use_translations(gettext.NullTranslations())
    else:
        with resource("languages", code, "LC_MESSAGES", f"{_DOMAIN}.mo").open("rb") as catalogue:
            use_translations(gettext.GNUTranslations(catalogue))
    _now = code


def spoken() -> str:
    """Code of the language now in use."""
    return _now


def help_page(topic: str) -> Path | None:
    """File of one page of help in the language now in use, else in English; None where there is no such page."""
    pages = (resource("help", _now, f"{topic}.md"), resource("help", f"{topic}.md"))
    return next((page for page in pages if page.is_file()), None)


def _code(name: str) -> str:
    """Code of the language in a locale's name: ``de`` of ``de_AT.UTF-8``; empty where it is not spoken here."""
    code = re.split(r"[_.@-]", name, maxsplit=1)[0].lower()
    return code if code in LANGUAGES else ""
