"""Settings in layers: what each may say, which one wins, and what is told when it is wrong."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from voicelog.config import settings as module
from voicelog.config.data import grammar_dir
from voicelog.config.settings import Settings, load_settings
from voicelog.domain.reading import Speech
from voicelog.domain.zone import Rails
from voicelog.errors import GrammarFault, UsageFault


@pytest.fixture
def user_file(tmp_path: Path) -> Path:
    """An empty settings file of the user."""
    path = tmp_path / "settings.toml"
    path.touch()
    return path


@pytest.fixture(autouse=True)
def no_file_of_the_tester(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The settings of whoever runs the tests play no part."""
    monkeypatch.setattr(module, "default_user_file", lambda: tmp_path / "none" / "settings.toml")


def test_without_any_layer_the_shipped_settings_hold(tmp_path: Path) -> None:
    """The defaults of the design, and the user's data folder for the logs."""
    settings = load_settings(environ={})
    assert settings == Settings(learned=tmp_path / "none")
    assert (settings.map, settings.rails, settings.speech) == (
        "ladder-frame",
        Rails.MIXED,
        Speech(),
    )
    assert settings.into.name == "inspections"
    assert settings.into.is_absolute()


def test_every_setting_can_be_written_in_the_file(user_file: Path) -> None:
    """Each key of the file arrives under its own name."""
    user_file.write_text(
        'map = "unibody"\nrails = "boxed"\ndriver_side = "right"\nnearside = "right"\n'
        'mil = "thou"\nunit = "inch"\ncarry_s = 30\naccept = 0.7\nmargin = 0.1\near = "vosk"\n'
        'model = "en"\nbias = 0.5\nbeam = 2\nsilence_s = 1\npreroll_s = 0.5\nlongest_s = 15\n'
        'into = "/logs"\nattention = "clipboard"\noverlays = ["shop.toml"]\n'
        'grammar = "ours"\nlearned = "../shared"\ninspector = "Ann"\n'
    )
    here = user_file.parent
    assert load_settings(user_file=user_file, environ={}) == Settings(
        map="unibody",
        rails=Rails.BOXED,
        speech=Speech("right", "right", "thou", 25.4, 30.0, 0.7, 0.1),
        ear="vosk",
        model=here / "en",
        bias=0.5,
        beam=2,
        silence_s=1.0,
        preroll_s=0.5,
        longest_s=15.0,
        into=Path("/logs"),
        attention="clipboard",
        overlays=(here / "shop.toml",),
        grammar=here / "ours",
        learned=here / "../shared",
        inspector="Ann",
    )


def test_flags_win_over_the_environment_and_that_over_the_file(user_file: Path) -> None:
    """Single values replace, layer by layer; a flag not given replaces nothing."""
    user_file.write_text('rails = "boxed"\near = "vosk"\nbeam = 2\n')
    environ = {"VOICELOG_EAR": "typed", "VOICELOG_BEAM": "8"}
    flags = {"beam": 16, "ear": None, "map": None}
    settings = load_settings(flags, user_file=user_file, environ=environ)
    assert (settings.rails, settings.ear, settings.beam) == (Rails.BOXED, "typed", 16)


def test_overlays_of_all_layers_append(user_file: Path) -> None:
    """The file's first, the command line's last and so on top."""
    user_file.write_text('overlays = ["a.toml"]\n')
    environ = {"VOICELOG_OVERLAYS": os.pathsep.join(("b.toml", "c.toml", ""))}
    settings = load_settings({"overlays": (Path("d.toml"),)}, user_file=user_file, environ=environ)
    assert settings.overlays == (
        user_file.parent / "a.toml",
        Path("b.toml"),
        Path("c.toml"),
        Path("d.toml"),
    )


@pytest.mark.parametrize(
    ("variable", "text", "name", "value"),
    [
        ("VOICELOG_MAP", "unibody", "map", "unibody"),
        ("VOICELOG_RAILS", "open", "rails", Rails.OPEN),
        ("VOICELOG_DRIVER_SIDE", "left", "speech", Speech(driver_side="left")),
        ("VOICELOG_NEARSIDE", "right", "speech", Speech(nearside="right")),
        ("VOICELOG_MIL", "thou", "speech", Speech(mil="thou")),
        ("VOICELOG_UNIT", "thou", "speech", Speech(unit_mm=0.0254)),
        ("VOICELOG_EAR", "built-in", "ear", "built-in"),
        ("VOICELOG_MODEL", "~/en", "model", Path("~/en").expanduser()),
        ("VOICELOG_BIAS", "0.25", "bias", 0.25),
        ("VOICELOG_INTO", "logs", "into", Path("logs")),
        ("VOICELOG_GRAMMAR", "ours", "grammar", Path("ours")),
        ("VOICELOG_GRAMMAR", "de", "grammar", grammar_dir() / "de"),
        ("VOICELOG_RAILS", "", "rails", Rails.MIXED),
        ("VOICELOG_SOMETHING_ELSE", "1", "map", "ladder-frame"),
    ],
)
def test_a_variable_sets_its_setting(variable: str, text: str, name: str, value: object) -> None:
    """Text becomes what the setting is made of; empty and foreign variables set nothing."""
    assert getattr(load_settings(environ={variable: text}), name) == value


def test_the_path_of_a_map_starts_from_the_file_that_names_it(user_file: Path) -> None:
    """A map's name stays a name; a path does not depend on where the program was started."""
    user_file.write_text('map = "maps/van.toml"\n')
    settings = load_settings(user_file=user_file, environ={})
    assert settings.map == str(user_file.parent / "maps" / "van.toml")


def test_a_shipped_language_is_named_and_a_folder_beside_the_file_is_a_path(
    user_file: Path,
) -> None:
    """A folder that happens to have a language's name is written with a slash."""
    user_file.write_text('grammar = "./de"\n')
    assert load_settings(user_file=user_file, environ={}).grammar == user_file.parent / "de"
    user_file.write_text('grammar = "de"\n')
    assert load_settings(user_file=user_file, environ={}).grammar == grammar_dir() / "de"


def test_a_flag_may_be_an_enum_or_a_path(tmp_path: Path) -> None:
    """The command line hands over what its own parser made."""
    settings = load_settings({"rails": Rails.OPEN, "into": tmp_path}, environ={})
    assert (settings.rails, settings.into) == (Rails.OPEN, tmp_path)


def test_all_faults_of_all_layers_are_told_at_once(user_file: Path) -> None:
    """Each as the person wrote it: file and line, variable or flag."""
    user_file.write_text('raisl = "boxed"\nrails = "box"\n\nbeam = "4"\n')
    environ = {"VOICELOG_RIALS": "boxed", "VOICELOG_BIAS": "strong", "VOICELOG_BEAM": "0"}
    with pytest.raises(GrammarFault) as caught:
        load_settings({"driver_side": "lft", "nonsense": 1}, user_file=user_file, environ=environ)
    assert str(caught.value).startswith("8 faults in your settings. ")
    assert set(caught.value.faults) == {
        f"{user_file}:1: raisl: unknown key (did you mean 'rails'?)",
        f"{user_file}:2: rails: 'box' is not a kind of rails (did you mean 'boxed'?)",
        f"{user_file}:4: beam: must be a whole number, not '4'",
        "VOICELOG_RIALS: unknown setting (did you mean 'VOICELOG_RAILS'?)",
        "VOICELOG_BIAS: must be a number, not 'strong'",
        "VOICELOG_BEAM: must be at least 1, not '0'",
        "--driver-side: 'lft' is not a side (did you mean 'left'?)",
        "--nonsense: unknown key",
    }


def test_a_settings_file_that_was_named_must_exist(tmp_path: Path) -> None:
    """A wrong path is told; only the default file may be missing."""
    with pytest.raises(UsageFault, match="no settings file"):
        load_settings(user_file=tmp_path / "no.toml", environ={})


def test_a_broken_settings_file_is_told_with_its_line(user_file: Path) -> None:
    """Syntax faults come with line and column like those of the grammar."""
    user_file.write_text('map = "x"\nrails = boxed\n')
    with pytest.raises(GrammarFault) as caught:
        load_settings(user_file=user_file, environ={})
    (fault,) = caught.value.faults
    assert fault.startswith(f"{user_file}:2: column 9: not valid TOML: ")


def test_what_was_learned_lies_beside_the_settings_file(user_file: Path) -> None:
    """Whatever else is set, and wherever it is; a variable names another folder."""
    user_file.write_text("beam = 2\n")
    assert load_settings(user_file=user_file, environ={}).learned == user_file.parent
    environ = {"VOICELOG_LEARNED": "/shop/words"}
    assert load_settings(user_file=user_file, environ=environ).learned == Path("/shop/words")


def test_settings_made_by_hand_use_nothing_that_was_learned() -> None:
    """Tests and measurements are not changed by what the machine has learned."""
    assert Settings().learned is None


def test_a_map_that_anybody_set_is_a_choice(user_file: Path) -> None:
    """In the file, the environment or on the command line; even the shipped one."""
    user_file.write_text("")
    assert not load_settings(user_file=user_file, environ={}).map_chosen
    assert load_settings({"map": "ladder-frame"}, user_file=user_file, environ={}).map_chosen
    assert load_settings(user_file=user_file, environ={"VOICELOG_MAP": "unibody"}).map_chosen
    user_file.write_text('map = "ladder-frame"\n')
    assert load_settings(user_file=user_file, environ={}).map_chosen
