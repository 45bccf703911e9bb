"""German is whole: every sentence of the source has one with the same blanks, and is spoken throughout."""

from __future__ import annotations

import gettext
import importlib.util
import json
import re
import string
import subprocess
import sys
from pathlib import Path

import pytest

from swatch.__main__ import main
from swatch.resources import resource
from swatch.terms.problems import StudioProblem
from swatch.wording.changes import CHANGES, change_in_words
from swatch.wording.languages import AS_SYSTEM, ENGLISH, LANGUAGES, chosen, help_page, speak, spoken
from swatch.wording.problems import problem_in_words
from swatch.wording.text import say, say_many

ROOT = Path(__file__).parents[2]
RENEW = "python resources/languages/renew.py"


def _renewing():
    spec = importlib.util.spec_from_file_location("renew", resource("languages", "renew.py"))
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


renewing = _renewing()
OTHERS = [code for code in LANGUAGES if code != ENGLISH]


@pytest.fixture(scope="module")
def sentences():
    return renewing.sentences_of_program()


@pytest.fixture(scope="module", params=OTHERS)
def catalogue(request):
    return renewing.catalogue_of(resource("languages", request.param, "LC_MESSAGES", "swatch.po"))


@pytest.fixture(scope="module")
def spoken_catalogue(catalogue):
    with resource("languages", str(catalogue.locale), "LC_MESSAGES", "swatch.mo").open("rb") as file:
        return gettext.GNUTranslations(file)


def _forms(text):
    return (text,) if isinstance(text, str) else tuple(text)


def _entries(catalogue):
    return [(_forms(message.id), _forms(message.string)) for message in catalogue if message.id]


def _blanks(text):
    return sorted((name, spec, how) for _, name, spec, how in string.Formatter().parse(text) if name is not None)


def test_every_sentence_of_the_source_is_translated(sentences, catalogue):
    missing = [message.id for message in sentences if message.id and catalogue.get(_forms(message.id)[0]) is None]
    assert missing == [], f"run: {RENEW}"
    assert renewing.untranslated(catalogue) == [], f"translate these, then run: {RENEW}"
    forms = {_forms(message.id)[0]: _forms(message.id) for message in sentences if message.id}
    assert all(forms[ids[0]] == ids for ids, _said in _entries(catalogue) if ids[0] in forms), f"run: {RENEW}"


def test_nothing_is_kept_that_the_source_no_longer_says(sentences, catalogue):
    said = {_forms(message.id)[0] for message in sentences if message.id}
    assert [ids[0] for ids, _said in _entries(catalogue) if ids[0] not in said] == [], f"run: {RENEW}"


def test_no_translation_is_a_guess_and_each_plural_has_its_forms(catalogue):
    assert [message.id for message in catalogue if message.id and message.fuzzy] == []
    plurals = [said for ids, said in _entries(catalogue) if len(ids) == 2]
    assert plurals
    assert all(len(said) == catalogue.num_plurals and all(said) for said in plurals)


def test_a_translation_has_the_blanks_of_its_sentence_and_its_edges(catalogue):
    wrong = []
    for ids, said in _entries(catalogue):
        english = ids if len(ids) == len(said) else (ids[-1],) * len(said)
        for one, other in zip(english, said, strict=True):
            same_edges = [text[: len(text) - len(text.lstrip())] for text in (one, other)]
            same_ends = [text[len(text.rstrip()) :] for text in (one, other)]
            if _blanks(one) != _blanks(other) or len(set(same_edges)) > 1 or len(set(same_ends)) > 1:
                wrong.append((one, other))
    assert wrong == []


def test_what_the_program_reads_is_made_from_what_people_wrote(catalogue, spoken_catalogue):
    for ids, said in _entries(catalogue):
        if len(ids) == 1:
            assert spoken_catalogue.gettext(ids[0]) == said[0], f"run: {RENEW}"
        else:
            got = spoken_catalogue.ngettext(*ids, 1), spoken_catalogue.ngettext(*ids, 2)
            assert got == said, f"run: {RENEW}"


def test_german_never_calls_a_surface_safe_for_food(catalogue):
    pages = [page.read_text(encoding="utf-8") for page in resource("help", "de").glob("*.md")]
    everything = [*pages, *(text for _ids, said in _entries(catalogue) for text in said)]
    forbidden = re.compile(r"lebensmittel-?(echt|sicher|tauglich|geeignet|konform)", re.IGNORECASE)
    assert [text for text in everything if forbidden.search(text)] == []
    # "unbedenklich" only where it is denied: in the same sentence stands that nothing or no one says so.
    for text in everything:
        for sentence in re.findall(r"[^.:]*unbedenklich[^.]*", text):
            assert re.search(r"\b(nie|Nichts|nichts|Keine|keine)\b", sentence), sentence


def test_the_reader_is_addressed_in_one_way(catalogue):
    familiar = re.compile(r"\b[Dd](u|ich|ir|ein|eine|einen|einer|einem|eines)\b")
    pages = [page.read_text(encoding="utf-8") for page in resource("help", "de").glob("*.md")]
    assert [text for text in pages if familiar.search(text)] == []
    assert [text for _ids, said in _entries(catalogue) for text in said if familiar.search(text)] == []


@pytest.mark.parametrize("code", OTHERS)
def test_every_page_of_help_is_there_too(code):
    english = {page.name for page in resource("help").glob("*.md")}
    assert {page.name for page in resource("help", code).glob("*.md")} == english
    speak(code)
    for name in english:
        page = help_page(name.removesuffix(".md"))
        assert page.parent.name == code
        assert page.read_text(encoding="utf-8") != resource("help", name).read_text(encoding="utf-8")
    speak(ENGLISH)
    assert help_page("tiles").parent.name == "help"
    assert help_page("no such page") is None


def test_one_thing_and_several_are_told_apart():
    speak("de")
    assert say_many("{n} coat", "{n} coats", 1) == "{n} Auftrag"
    assert say_many("{n} coat", "{n} coats", 2) == "{n} Aufträge"
    assert say_many("{n} coat", "{n} coats", 0) == "{n} Aufträge"


def test_what_the_catalogue_does_not_hold_is_said_in_english():
    speak("de")
    assert say("Nobody ever says this.") == "Nobody ever says this."


@pytest.mark.parametrize("code", sorted(CHANGES))
def test_undo_names_changes_in_german(code):
    facts = {"n": 3, "name": "Halm Moss", "new": "Halm Reed", "status": "discontinued"}
    english = change_in_words(code, facts)
    speak("de")
    assert change_in_words(code, facts) != english


def test_words_of_ours_within_a_sentence_are_said_in_german_too():
    speak("de")
    problem = StudioProblem("not-in-stock", material="Halm Moss", status="discontinued")
    assert problem_in_words(problem)[0] == "Halm Moss: nicht mehr zu haben."
    happened, _next_step = problem_in_words(StudioProblem("card-corners-wrong", reason="crossed"))
    assert "überkreuzt" in happened


@pytest.mark.parametrize(
    ("setting", "environment", "language"),
    [
        ("", {}, "en"),
        ("", {"LANG": "de_AT.UTF-8"}, "de"),
        ("", {"LANG": "de-CH"}, "de"),
        ("", {"LANG": "xx_YY.UTF-8"}, "en"),
        ("", {"LANG": "C.UTF-8", "LANGUAGE": "de"}, "en"),
        ("", {"LANG": "en_GB.UTF-8", "LC_MESSAGES": "de_DE.UTF-8"}, "de"),
        ("", {"LANG": "de_DE.UTF-8", "LC_ALL": "en_GB.UTF-8"}, "en"),
        ("", {"LANG": "fr_FR.UTF-8", "LANGUAGE": "fr:de:en"}, "de"),
        (AS_SYSTEM, {"LANG": "de_DE.UTF-8"}, "de"),
        ("en", {"LANG": "de_DE.UTF-8"}, "en"),
        ("de", {"LANG": "en_GB.UTF-8"}, "de"),
        ("no language", {"LANG": "de_DE.UTF-8"}, "de"),
        ("de", {"SWATCH_LANGUAGE": "en"}, "en"),
        ("en", {"SWATCH_LANGUAGE": "de"}, "de"),
        ("de", {"SWATCH_LANGUAGE": "no language"}, "en"),
        ("", {"LANG": "../../de"}, "en"),
    ],
)
def test_the_language_is_the_users_choice_then_the_systems(monkeypatch, setting, environment, language):
    for name in ("SWATCH_LANGUAGE", "LANGUAGE", "LC_ALL", "LC_MESSAGES", "LANG"):
        monkeypatch.delenv(name, raising=False)
    for name, value in environment.items():
        monkeypatch.setenv(name, value)
    assert chosen(setting) == language


def test_the_desktops_languages_may_be_told(monkeypatch):
    monkeypatch.delenv("SWATCH_LANGUAGE")
    assert chosen("", ["fr-FR", "de-AT", "en"]) == "de"
    assert chosen("", ["fr-FR"]) == "en"
    assert chosen("en", ["de-AT"]) == "en"


def _english_sentences():
    """Sentences without blanks that German says otherwise."""
    catalogue = renewing.catalogue_of(resource("languages", "de", "LC_MESSAGES", "swatch.po"))
    whole = [ids[0] for ids, said in _entries(catalogue) if len(ids) == 1 and ids != said]
    return [text for text in whole if "{" not in text and len(text) > 12]


def test_a_whole_answer_of_the_command_line_is_german(own_demo, monkeypatch, capsys):
    monkeypatch.setenv("SWATCH_LANGUAGE", "de")
    call = ["--studio", str(own_demo), "match", "--target", "57.4,-21.6,13.8", "--body", "Palebank", "--cone", "6"]
    assert main(call) == 0
    said = capsys.readouterr().out
    assert "Schichten, vom Scherben nach außen" in said
    assert "Standardunsicherheit" in said
    assert re.search(r"gelernt aus \d+ Messungen eigener Probeplättchen", said)
    assert [text for text in _english_sentences() if text in said] == []
    assert main([*call, "--json"]) == 0
    german = json.loads(capsys.readouterr().out)
    monkeypatch.setenv("SWATCH_LANGUAGE", "en")
    assert main([*call, "--json"]) == 0
    english = json.loads(capsys.readouterr().out)
    messages = []
    for ours, theirs in zip(german["suggestions"], english["suggestions"], strict=True):
        cautions = ours.pop("cautions"), theirs.pop("cautions")
        assert [one["code"] for one in cautions[0]] == [one["code"] for one in cautions[1]]
        messages += zip((c["message"] for c in cautions[0]), (c["message"] for c in cautions[1]), strict=True)
    assert messages
    assert all(one != other for one, other in messages)
    for entry in (german, english):
        del entry["seconds"]
    assert german == english


def test_a_problem_is_german_and_its_code_is_not(tmp_path, monkeypatch, capsys):
    monkeypatch.setenv("SWATCH_LANGUAGE", "de")
    assert main(["--studio", str(tmp_path / "none"), "--json", "verify"]) == 3
    out, err = capsys.readouterr()
    problem = json.loads(out)["problems"][0]
    assert problem["code"] == "no-studio"
    assert problem["message"].endswith("ist keine Werkstatt.")
    assert problem["next_step"].startswith("Wählen Sie den Ordner")
    assert "ist keine Werkstatt." in err


def test_a_process_of_its_own_speaks_the_systems_language(tmp_path):
    environment = {"LANG": "de_DE.UTF-8", "SWATCH_CONFIG_DIR": str(tmp_path), "PYTHONPATH": str(ROOT)}
    call = [sys.executable, "-P", "-m", "swatch", "--studio", str(tmp_path / "none"), "verify"]
    done = subprocess.run(call, env=environment, capture_output=True, encoding="utf-8", check=False, timeout=60)
    assert done.returncode == 3
    assert "ist keine Werkstatt." in done.stderr


def test_english_needs_no_catalogue():
    program = (
        "import sys; from swatch.wording.languages import chosen, speak; speak(chosen());"
        "print(*(name for name in ('babel', 'locale', 'numpy', 'PySide6') if name in sys.modules))"
    )
    done = subprocess.run(
        [sys.executable, "-P", "-c", program],
        env={"SWATCH_LANGUAGE": "de", "PYTHONPATH": str(ROOT)},
        capture_output=True, encoding="utf-8", check=True, timeout=60,
    )  # fmt: skip
    assert set(done.stdout.split()) <= {"locale"}


def test_tests_speak_english():
    assert spoken() == ENGLISH
