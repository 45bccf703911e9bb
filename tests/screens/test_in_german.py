"""The window in German: no English sentence is left where the catalogue has one."""

from __future__ import annotations

import importlib.util
from functools import cache

import pytest
from PySide6.QtCore import QTranslator
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QAbstractButton, QApplication, QComboBox, QLabel, QLineEdit, QWidget

from swatch.resources import resource
from swatch.screens.help_window import page_of
from swatch.screens.places import PLACES
from swatch.wording.languages import speak
from swatch.wording.text import say


@pytest.fixture
def german(qapp, monkeypatch):
    monkeypatch.setenv("SWATCH_LANGUAGE", "de")
    speak("de")
    yield
    for words in QApplication.instance().findChildren(QTranslator):
        QApplication.removeTranslator(words)
        words.deleteLater()


@pytest.fixture
def german_shop(german, small_shop):
    return small_shop


@cache
def _sentences() -> frozenset[str]:
    spec = importlib.util.spec_from_file_location("renew", resource("languages", "renew.py"))
    renewing = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(renewing)
    whole = {message.id for message in renewing.sentences_of_program() if isinstance(message.id, str)}
    return frozenset(text for text in whole if text and "{" not in text)


def _english() -> set[str]:
    return {text for text in _sentences() if say(text) != text}


def _shown(window: QWidget) -> set[str]:
    texts = {action.text().replace("&", "") for action in window.findChildren(QAction)}
    for widget in [window, *window.findChildren(QWidget)]:
        texts |= {widget.accessibleName(), widget.accessibleDescription(), widget.toolTip(), widget.windowTitle()}
        if isinstance(widget, (QLabel, QAbstractButton)):
            texts.add(widget.text())
        if isinstance(widget, QLineEdit):
            texts.add(widget.placeholderText())
        if isinstance(widget, QComboBox):
            texts |= {widget.itemText(n) for n in range(widget.count())}
    return {text.strip() for text in texts} - {""}


@pytest.mark.parametrize("code", [code for code, _word in PLACES])
def test_a_place_is_german_throughout(german_shop, code):
    place = german_shop.place(code)
    shown = _shown(german_shop.window)
    assert len(shown) > 20
    assert sorted(_english() & shown) == []
    assert place.heading()[0] == say(dict(PLACES)[code])
    assert "Rückgängig" in shown


def test_qt_speaks_german_with_the_rest(german_shop):
    assert QApplication.translate("QPlatformTheme", "Cancel") == "Abbrechen"


def test_help_is_german(german):
    assert page_of("tiles").startswith("# Plättchen")
    assert page_of("no such place").startswith("# Wozu")


def test_the_language_is_chosen_in_the_menu_and_kept(small_shop):
    action = next(one for one in small_shop.window.findChildren(QAction) if one.text() == "Deutsch")
    action.trigger()
    assert small_shop.desks.settings.text("language") == "de"
    assert "next started" in small_shop.window.message.happened.whole()


def test_jars_may_be_listed_in_german(german):
    from swatch.desk.jar_list import read_jars
    from swatch.terms.materials import Kind

    jars = read_jars("Moos, Unterglasur\nBernstein (glasur)\nFenster, clear")
    assert [jar.kind for jar in jars] == [Kind.UNDERGLAZE, Kind.GLAZE, Kind.CLEAR]
