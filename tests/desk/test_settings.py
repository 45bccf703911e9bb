from swatch.desk.settings import MOST_RECENT, Settings


def test_the_latest_studio_comes_first_and_once(tmp_path):
    settings = Settings(tmp_path / "settings")
    folders = [tmp_path / name for name in ("one", "two")]
    for folder in folders:
        folder.mkdir()
        settings.opened(folder)
    settings.opened(folders[0])
    assert Settings(tmp_path / "settings").recent == (folders[0], folders[1])


def test_studios_that_are_gone_are_not_offered(tmp_path):
    settings = Settings(tmp_path)
    (tmp_path / "gone").mkdir()
    settings.opened(tmp_path / "gone")
    (tmp_path / "gone").rmdir()
    assert settings.recent == ()


def test_no_more_than_a_few_are_remembered(tmp_path):
    settings = Settings(tmp_path)
    for n in range(MOST_RECENT + 3):
        (tmp_path / str(n)).mkdir()
        settings.opened(tmp_path / str(n))
    assert len(settings.recent) == MOST_RECENT


def test_a_spoilt_file_counts_as_empty(tmp_path):
    (tmp_path / "window.json").write_text("{half a fi")
    settings = Settings(tmp_path)
    assert settings.text("scheme", "system") == "system"
    settings.put("scheme", "dark")
    assert Settings(tmp_path).text("scheme") == "dark"


def test_a_folder_that_cannot_be_written_costs_only_the_memory(tmp_path):
    (tmp_path / "file").write_text("")
    settings = Settings(tmp_path / "file")
    settings.put("scheme", "dark")
    assert settings.text("scheme") == "dark"
