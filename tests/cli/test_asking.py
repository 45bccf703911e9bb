"""Questions asked of a small studio by the command line: objects, tables and statuses."""

from __future__ import annotations

import json

import pytest

from swatch.__main__ import main

pytestmark = pytest.mark.xdist_group("asking")

MATERIALS = """material,kind,status,cone_from,cone_to,food_label,left_g,raw_L,raw_a,raw_b
Tarn Blue,glaze,in stock,5,6,no,400,,,
Clear Rill,clear,in stock,5,6,yes,900,,,
Gorse,glaze,discontinued,5,6,,0,,,
Low Rose,underglaze,in stock,06,6,,120,60,25,8
Never Fired,glaze,in stock,5,6,,100,,,
"""
BODIES = "body,cone,L,a,b\nPale,6,88,0.5,6\nDark,6,45,8,14\n"
TILES = "tile,zone,body,cone,layers,L,a,b,u\n" + "".join(
    f"T{number},A,{body},6,{layers},{colour},1.0\n"
    for number, (body, layers, colour) in enumerate(
        [
            ("Pale", "Tarn Blue", "55,-4,-18"),
            ("Pale", "Tarn Blue*2", "45,-3,-22"),
            ("Dark", "Tarn Blue*2", "38,-1,-15"),
            ("Pale", "Gorse*2", "70,4,45"),
            ("Pale", "Gorse", "76,2,34"),
            ("Dark", "Gorse*2", "60,8,40"),
            ("Pale", "Low Rose*2", "62,22,8"),
            ("Pale", "Low Rose*2 > Clear Rill", "58,26,9"),
            ("Pale", "Clear Rill", "86,0,8"),
            ("Dark", "Clear Rill", "42,9,15"),
        ],
        1,
    )
)


@pytest.fixture(scope="module")
def studio(tmp_path_factory):
    folder = tmp_path_factory.mktemp("asking")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("SWATCH_CONFIG_DIR", str(folder / "config"))
        words = ["import", "--studio", str(folder / "studio")]
        for table, text in (("materials", MATERIALS), ("bodies", BODIES), ("tiles", TILES)):
            (folder / f"{table}.csv").write_text(text)
            words += [f"--{table}", str(folder / f"{table}.csv")]
        assert main(words) == 0
        yield folder / "studio"


@pytest.fixture
def ask(studio, capsys):
    def asked(*words: str) -> tuple[int, dict[str, object], str]:
        status = main([words[0], "--studio", str(studio), "--json", *words[1:]])
        said = capsys.readouterr()
        return status, json.loads(said.out), said.err

    return asked


def test_one_layering_is_predicted_with_its_doubt(ask):
    status, said, _ = ask("predict", "--layers", "tarn blue*2", "--body", "pale", "--cone", "6")
    assert status == 0
    assert said["layers"].casefold() == "tarn blue*2"
    assert abs(said["lab"][0] - 45) < 6
    assert all(said["covariance"][i][i] > 0 for i in range(3))
    assert said["evidence"]["basis"] == "own tiles"
    assert said["cautions"]
    assert "problems" not in said


def test_what_cannot_be_predicted_alone_is_status_3(ask):
    status, said, err = ask("predict", "--layers", "Never Fired", "--body", "Pale", "--cone", "6")
    assert (status, said["lab"]) == (3, None)
    assert said["refusal"].startswith(said["problems"][0]["message"])
    assert "Never Fired" in err
    status, said, err = ask("predict", "--layers", "Tarn Bleu", "--body", "Pale", "--cone", "6")
    assert (status, said["problems"][0]["code"]) == (3, "unknown-material")
    assert "Tarn Blue" in said["problems"][0]["next_step"]


def test_a_list_is_answered_in_its_order_and_what_cannot_be_is_named_with_its_row(ask, tmp_path):
    (tmp_path / "list.csv").write_text(
        "cone,layers,body\n6,Gorse,Pale\n6,Never Fired,Pale\nO6,Gorse,Pale\n6,,Dark\n"
        "6,Tarn Blue > Clear Rill,Dark\n"
    )
    status, said, err = ask("predict", "--list", str(tmp_path / "list.csv"))
    assert status == 4
    answers = said["predictions"]
    assert [answer["lab"] is None for answer in answers] == [False, True, True, False, False]
    assert [bool(answer.get("refusal")) for answer in answers] == [False, True, True, False, False]
    assert (answers[0]["layers"], answers[2]["cone"], answers[4]["body"]) == ("Gorse", "O6", "Dark")
    assert abs(answers[3]["lab"][0] - 45) < 6
    assert [problem["where"]["row"] for problem in said["problems"]] == [3, 4]
    assert "row 3" in err


def test_a_list_of_which_nothing_can_be_answered_is_status_3(ask, tmp_path):
    (tmp_path / "list.csv").write_text("layers,body,cone\nGorse,Pale,6.0\n")
    status, said, _ = ask("predict", "--list", str(tmp_path / "list.csv"))
    assert (status, said["predictions"][0]["lab"]) == (3, None)


def test_a_match_is_the_same_twice_and_leaves_out_what_is_not_to_be_had(ask):
    words = ("match", "--target", "45,-3,-22", "--body", "Pale", "--cone", "6", "--top", "3")
    status, first, _ = ask(*words)
    _, second, _ = ask(*words)
    assert status == 0
    assert first["suggestions"] == second["suggestions"]
    assert "Tarn Blue" in first["suggestions"][0]["layers"]
    assert not any("Gorse" in one["layers"] for one in first["suggestions"])
    expected = [one["de00_expected"] for one in first["suggestions"]]
    assert expected == sorted(expected)
    assert first["searched"] > 10
    _, without, _ = ask(*words, "--without", "Tarn Blue")
    assert not any("Tarn Blue" in one["layers"] for one in without["suggestions"])


def test_what_the_studio_does_not_have_is_status_3(ask):
    status, said, _ = ask("match", "--target", "45,-3,-22", "--body", "Chalk", "--cone", "6")
    assert (status, said["problems"][0]["code"]) == (3, "unknown-body")


def test_every_use_of_a_material_has_what_could_take_its_place(ask):
    status, said, _ = ask("replace", "--material", "gorse", "--top", "2")
    assert status == 0
    assert said["material"] == "Gorse"
    assert len(said["uses"]) == 3
    for use in said["uses"]:
        assert "Gorse" in use["layers"]
        assert len(use["suggestions"]) <= 2
        assert not any("Gorse" in one["layers"] for one in use["suggestions"])


def test_for_people_there_is_a_table_with_the_doubt_and_the_cautions(studio, capsys):
    assert main(["predict", "--studio", str(studio), "--layers", "Gorse", "--body", "Pale", "--cone", "6"]) == 0
    said = capsys.readouterr().out
    assert "±" in said
    assert "of this layering" in said
    assert "! 1: " in said


def test_next_tests_are_said_as_an_object_and_planned_where_asked(studio, capsys):
    words = ["next-tests", "--studio", str(studio), "--target", "55,5,0", "--body", "Pale", "--cone", "6"]
    assert main([*words, "--tiles", "2", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert len(told["tiles"]) == 2
    for tile in told["tiles"]:
        assert {
            "tile",
            "layers",
            "body",
            "cone",
            "lab",
            "covariance",
            "why",
            "chance_within",
            "information",
        } <= set(tile)
        assert tile["cautions"]
    assert told["boards"][0]["planned"] is False
    assert main([*words, "--tiles", "2", "--plan", "Kiln 9"]) == 0
    assert "Kiln 9" in capsys.readouterr().out
    assert main([*words, "--tiles", "1", "--plan", "Kiln 9"]) == 3


@pytest.mark.parametrize(
    "words", [["--target", "55,5,0"], ["--replace", "Gorse", "--body", "Pale", "--cone", "6"], ["--tiles", "0"]]
)
def test_next_tests_need_a_question(studio, words):
    assert main(["next-tests", "--studio", str(studio), *words]) == 2


def test_what_is_known_of_a_material_is_told_whole(ask):
    status, said, _ = ask("knows", "--material", "tarn blue")
    assert status == 0
    assert set(said) >= {"material", "kind", "fired_tiles", "swatches", "covering", "sensitivities", "next_tile"}
    assert (said["material"], said["kind"], said["fired_tiles"]) == ("Tarn Blue", "glaze", 3)
    assert {one["body"] for one in said["swatches"]} == {"Pale", "Dark"}
    assert said["next_tile"]["why"]
    status, said, err = ask("knows", "--material", "Nosuch")
    assert (status, said["problems"][0]["code"]) == (3, "unknown-material")
    assert "Nosuch" in err


def test_one_prediction_says_why_and_what_one_more_tile_would_leave(ask):
    _, said, _ = ask("predict", "--layers", "Tarn Blue*2", "--body", "Pale", "--cone", "6")
    assert "T2" in [one["tile"] for one in said["why"]["tiles"]]
    assert all(0 < one["pull"] <= 1 and one["without_de00"] >= 0 for one in said["why"]["tiles"])
    after, now = said["why"]["covariance_after_one_more"], said["covariance"]
    assert sum(after[i][i] for i in range(3)) <= sum(now[i][i] for i in range(3))


def test_a_replacement_tells_what_to_buy_and_what_stands_in_everywhere(ask, studio, capsys):
    status, said, _ = ask("replace", "--material", "Gorse", "--top", "2", "--jar-ml", "250")
    assert status == 0
    assert said["plan"]["jar_ml"] == 250
    assert {"left_g", "needs", "jars_to_buy", "together", "samples", "bridge", "advice"} <= set(said["plan"])
    assert all(one["cautions"] for one in said["plan"]["together"])
    assert main(["replace", "--studio", str(studio), "--material", "Gorse"]) == 0
    assert "half-and-half" in capsys.readouterr().out


def test_what_if_says_what_a_step_would_change_beside_the_same_prediction(ask):
    words = ("--layers", "Low Rose*2 > Clear Rill", "--body", "Pale", "--cone", "6")
    _status, plain, _said = ask("predict", *words)
    status, entry, _said = ask("predict", *words, "--what-if")
    assert status == 0
    assert {key: entry[key] for key in ("lab", "covariance")} == {key: plain[key] for key in ("lab", "covariance")}
    assert entry["nearest_tile"]["de00"] >= 0
    steps = {one["step"]: one for one in entry["what_if"]}
    assert steps["half a cone hotter"]["cone"] == "6.5"
    assert steps["another body"]["body"] == "Dark"
    assert "what_if" not in plain
    assert main(["predict", "--what-if", "--list", "x.csv"]) == 2


def test_half_and_half_tiles_have_what_is_used_now_on_one_half(ask):
    status, entry, _said = ask("next-tests", "--replace", "Gorse", "--half-and-half", "--tiles", "2")
    assert status == 0
    for one in entry["tiles"]:
        assert "Gorse" in one["beside"]
        assert "Gorse" not in one["layers"]
        assert one["cautions"]
    assert main(["next-tests", "--half-and-half", "--body", "Pale", "--cone", "6"]) == 2
