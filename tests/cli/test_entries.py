"""The JSON objects have exactly the fields of the public interface."""

from __future__ import annotations

import json
from dataclasses import replace

from swatch.cli.entries import (
    match_entry,
    photo_entry,
    prediction_entry,
    refusal_entry,
    replace_entry,
    trust_entry,
)
from swatch.terms.answers import (
    Basis,
    Grounds,
    MatchAnswer,
    MatchRequest,
    Outlier,
    Prediction,
    Question,
    Refusal,
    ReplaceAnswer,
    Suggestion,
    TrustAnswer,
    TrustLine,
    Use,
)
from swatch.terms.colour import Covariance, Lab
from swatch.terms.cone import Cone
from swatch.terms.layering import parse_layers
from swatch.terms.measured import CardRead, ColourShare, PatchRead, PhotoRead, Verdict, ZoneRead
from swatch.terms.problems import Notice

QUESTION = Question(parse_layers("Iron slip*2 > Clear"), "Pale", Cone(5.5))
DOUBT = Covariance(1.23456, 0.1, -0.0001, 2, 0, 3)
PREDICTION = Prediction(
    QUESTION, Lab(50.126, -3.14159, -0.001), DOUBT, Grounds(2, 9, Basis.OWN_TILES), (Notice("no-rows"),)
)
SUGGESTION = Suggestion(PREDICTION, 2.1049, (0.8, 3.9), 0.61249, 2.0, (60, 84))


def test_measure_has_every_field():
    patch = PatchRead(1, Lab(37.54, 14.37, 14.92), Lab(38, 14, 15), 2.0)
    card = CardRead("rendition-24", ((1, 2), (3, 4), (5, 6), (7.06, 8)), 0.97, 2.1, 6.0, 8.8, (patch,) * 24)
    zone = ZoneRead("A1", ((0, 0), (1, 0), (1, 1)), Lab(50, 0, 0), DOUBT, 2.4, 1.3, 0.8, (Notice("no-rows"),))
    zone = replace(zone, colours=(ColourShare(Lab(40, 1, 2), 0.6249999),))
    entry = photo_entry(PhotoRead("a.jpg", (4000, 3000), Verdict.USABLE, card, (zone,), (Notice("no-rows"),)))
    assert set(entry) == {"photo", "size", "verdict", "card", "zones", "warnings"}
    assert (entry["photo"], entry["size"], entry["verdict"]) == ("a.jpg", [4000, 3000], "usable")
    assert set(entry["card"]) == {"name", "corners", "score", "left_out_de00", "patches"}
    assert entry["card"]["corners"] == [[1, 2], [3, 4], [5, 6], [7.1, 8]]
    assert entry["card"]["left_out_de00"] == {"median": 2.1, "p95": 6.0, "max": 8.8}
    assert len(entry["card"]["patches"]) == 24
    assert set(entry["card"]["patches"][0]) == {"patch", "reference", "read", "left_out_de00"}
    (said,) = entry["zones"]
    fields = {"zone", "lab", "covariance", "u95_de00", "variation_de00", "used_share", "colours", "warnings"}
    assert set(said) == fields
    assert said["colours"] == [{"lab": [40, 1, 2], "share": 0.625}]
    assert said["covariance"] == [[1.235, 0.1, 0.0], [0.1, 2.0, 0.0], [0.0, 0.0, 3.0]]
    assert set(said["warnings"][0]) == {"code", "message", "next_step"}
    json.dumps(entry, allow_nan=False)


def test_a_refused_photo_has_no_card_and_no_zones():
    entry = photo_entry(PhotoRead("a.jpg", (4, 3), Verdict.REFUSED, None, (), (Notice("no-rows"),)))
    assert (entry["card"], entry["zones"], entry["verdict"]) == (None, [], "refused")


SUGGESTED = {"layers", "lab", "covariance", "de00_expected", "de00_80", "chance_within", "tolerance", "evidence",
             "pieces_possible", "cautions"}  # fmt: skip


def test_match_has_every_field():
    request = MatchRequest(Lab(50, 0, 0), "Pale", Cone(6.0))
    entry = match_entry(MatchAnswer(request, (SUGGESTION,), True, 1.4, 1043200, 0.4149, 312))
    how = {"reachable", "nearest_reachable_de00", "searched", "seconds", "learnt_from"}
    assert set(entry) == {"target", "body", "cone", "suggestions"} | how
    (suggestion,) = entry["suggestions"]
    assert set(suggestion) == SUGGESTED
    assert suggestion["layers"] == "Iron slip*2 > Clear"
    assert suggestion["lab"] == [50.13, -3.14, 0.0]
    assert (suggestion["de00_expected"], suggestion["chance_within"]) == (2.1, 0.612)
    assert suggestion["evidence"] == {"same_layering": 2, "same_materials": 9, "basis": "own tiles"}
    assert suggestion["pieces_possible"] == [60, 84]
    assert set(suggestion["cautions"][0]) == {"code", "message"}


def test_a_match_out_of_reach_of_an_empty_stock_has_no_nearest():
    request = MatchRequest(Lab(50, 0, 0), "Pale", Cone(-5.0))
    entry = match_entry(MatchAnswer(request, (), False, None, 0, 0.0, 3))
    assert (entry["cone"], entry["suggestions"], entry["nearest_reachable_de00"]) == ("06", [], None)


def test_predict_gives_a_suggestion_s_fields_at_the_top():
    entry = prediction_entry(PREDICTION)
    of_a_target = {"de00_expected", "de00_80", "chance_within", "tolerance", "pieces_possible"}
    assert set(entry) == (SUGGESTED - of_a_target) | {"body", "cone"}
    assert entry["cone"] == "5.5"
    refused = refusal_entry(Refusal(QUESTION, Notice("no-rows")))
    assert refused["lab"] is None
    assert refused["refusal"]


def test_replace_and_trust_have_every_field():
    use = Use(QUESTION, Lab(50, 0, 0), True, (SUGGESTION,))
    entry = replace_entry(ReplaceAnswer("Clear", (use,), 10, 0.1, 12))
    assert {"body", "cone", "layers", "lab", "suggestions"} <= set(entry["uses"][0])
    assert set(entry["uses"][0]["suggestions"][0]) == SUGGESTED
    line = TrustLine("new layering", 30, 2.8, 6.9, 11, 4, 0.81, 0.97)
    trust = trust_entry(TrustAnswer(312, (line,), (Outlier("T41", "A", 14.2),)))
    assert set(trust) == {"learnt_from", "questions", "outliers", "curve", "pairs"}
    assert set(trust["questions"][0]) == {"question", "n", "median_de00", "p90_de00", "nearest_tile_median",
                                          "mean_shift_median", "likeness_median", "covers_80",
                                          "covers_95"}  # fmt: skip
    assert set(trust["outliers"][0]) == {"tile", "zone", "de00", "message"}
    assert "T41" in trust["outliers"][0]["message"]
