"""The keeper's own keys and colours: what is read, and what is refused with its line."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tui.acts import ACTS, EVERYWHERE
from tui.preferences import Preferences, PreferencesFaults, load_preferences
from tui.theme import DAY


def _file(folder: Path, text: str) -> Path:
    path = folder / "mine.toml"
    path.write_text(text, encoding="utf-8")
    return path


def _faults(folder: Path, text: str) -> list[str]:
    with pytest.raises(PreferencesFaults) as raised:
        load_preferences(_file(folder, text))
    return [line.split("mine.toml", 1)[1] for line in raised.value.lines]


def test_keys_and_colours_are_taken_over(tmp_path: Path) -> None:
    path = _file(tmp_path, 'theme = "day"\n[keys]\nfinish = "f5, space"\nskip = "x"\n')

    assert load_preferences(path) == Preferences(DAY.name, {"finish": "f5,space", "skip": "x"})


def test_no_file_in_the_usual_place_is_no_fault(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    monkeypatch.setenv("APPDATA", str(tmp_path))

    assert load_preferences() == Preferences()


def test_a_named_file_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(PreferencesFaults, match="cannot be read"):
        load_preferences(tmp_path / "none.toml")


def test_a_misspelt_act_is_told_with_its_line_and_the_nearest_one(tmp_path: Path) -> None:
    assert _faults(tmp_path, '[keys]\nfinsh = "f5"\n') == [
        ':2: keys.finsh: no act of this name; did you mean "finish"?'
    ]


def test_a_key_that_terminals_keep_is_refused(tmp_path: Path) -> None:
    (line,) = _faults(tmp_path, '[keys]\nfinish = "ctrl+s"\n')

    assert line.startswith(":2: keys.finish: found 'ctrl+s', allowed: a small letter")


def test_two_acts_with_one_key_on_the_same_screen_are_refused(tmp_path: Path) -> None:
    (line,) = _faults(tmp_path, '[keys]\nfinish = "s"\n')

    assert line == ':2: keys.finish: "s" is also a key of skip on the same screen; give that another one'


def test_acts_that_trade_keys_are_taken(tmp_path: Path) -> None:
    path = _file(tmp_path, '[keys]\nfinish = "s"\nskip = "space"\ngo_there = "j"\n')

    assert load_preferences(path).keys["skip"] == "space"


@pytest.mark.parametrize("text", ["theme = [1]", "theme = 3", "keys = 3", "[keys]\nfinish = 3", "[[keys]]", "x = 1"])
def test_a_value_of_another_kind_is_refused_with_its_line(tmp_path: Path, text: str) -> None:
    assert all(line.startswith((":1: ", ":2: ")) for line in _faults(tmp_path, text))


@settings(max_examples=150, deadline=None)
@given(st.text(max_size=80))
def test_any_text_is_read_or_refused_in_lines(tmp_path_factory: pytest.TempPathFactory, text: str) -> None:
    path = tmp_path_factory.mktemp("any") / "mine.toml"
    path.write_bytes(text.encode("utf-8", "surrogatepass"))
    try:
        assert isinstance(load_preferences(path), Preferences)
    except PreferencesFaults as faults:
        assert all(line.startswith(str(path)) for line in faults.lines)


def test_no_footer_shows_more_than_six_acts() -> None:
    for place in EVERYWHERE:
        assert sum(place in act.footer for act in ACTS) <= 6


def test_an_act_is_in_the_footer_only_of_screens_where_it_can_be_done() -> None:
    for act in ACTS:
        assert act.footer <= act.places


def test_no_two_acts_of_one_screen_have_the_same_key() -> None:
    for place in EVERYWHERE:
        keys = [act.key for act in ACTS if place in act.places]
        assert len(keys) == len(set(keys))
