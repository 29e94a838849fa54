"""Pointers to public rules, as they are written down, and the regions that a person asks for."""

from __future__ import annotations

from pathlib import Path

import pytest

from voicelog.config import settings as module
from voicelog.config.data import grammar_dir
from voicelog.config.grammar import load_grammar
from voicelog.config.pointers import pointers_of, region_file, with_pointers
from voicelog.config.settings import Settings, load_settings
from voicelog.domain.grade import REGIONS
from voicelog.errors import GrammarFault

FILE = """\
region = "uk"

[[pointer]]
document = "A manual"
item = "6.1"
about = "Frames."
where = "https://example.org/6"
read = "issuer"
when = { role = ["load-path"], rot = true, size_at_least = 30 }
"""


@pytest.fixture
def uk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A sound file of one region."""
    monkeypatch.chdir(tmp_path)
    path = tmp_path / "uk.toml"
    path.write_text(FILE)
    return path


def test_a_pointer_arrives_as_it_is_written(uk: Path) -> None:
    """With its region, and its conditions as the rest of the program has them."""
    (pointer,) = pointers_of([uk])
    assert (pointer.region, pointer.document, pointer.item) == ("uk", "A manual", "6.1")
    assert (pointer.about, pointer.where, pointer.read) == (
        "Frames.",
        "https://example.org/6",
        "issuer",
    )
    assert pointer.when == {"role": ("load-path",), "rot": True, "size_at_least": 30}


@pytest.mark.parametrize(
    ("old", "new", "fault"),
    [
        ('region = "uk"', 'region = "uj"', "1: region: 'uj' is not a region (one of: au, ca, eu, nz, uk, us)"),
        ('region = "uk"', 'region = "us"', "1: region: must be the file's name, 'uk'"),
        ('item = "6.1"\n', "", "3: pointer.item: is missing"),
        ('read = "issuer"', 'read = "heard"', "8: pointer.read: must be 'issuer' or 'secondary', not 'heard'"),
        ('"https://example.org/6"', '"page six"', "7: pointer.where: must be an address that starts with https://"),
        ("size_at_least = 30", 'size_at_least = "big"', "9: pointer.when.size_at_least: must be a number: a pointer knows no limits"),
        ("rot = true", 'open = ["not-seen"]', "9: pointer.when.open: unknown key"),
        ('role = ["load-path"]', 'role = ["loadpath"]', "9: pointer.when.role: 'loadpath' is not a role (did you mean 'load-path'?)"),
    ],
)  # fmt: skip
def test_each_fault_is_told_where_it_is(uk: Path, old: str, new: str, fault: str) -> None:
    """As in every other file of the grammar."""
    assert old in FILE
    uk.write_text(FILE.replace(old, new))
    with pytest.raises(GrammarFault) as caught:
        pointers_of([uk])
    assert f"uk.toml:{fault}" in caught.value.faults


def test_every_region_has_its_file_and_every_file_its_region() -> None:
    """The closed list of names and the shipped folder are in step."""
    assert {path.stem for path in (grammar_dir() / "regions").iterdir()} == set(REGIONS)
    assert all(pointers_of([region_file(region)]) for region in REGIONS)


def test_they_lie_beside_a_table_in_the_order_asked_for() -> None:
    """A table has none of its own: which are shown is up to whoever reads the log."""
    rules = load_grammar().rules
    assert rules.pointers == ()
    shown = with_pointers(rules, ["nz", "uk", "nz"]).pointers
    assert list(dict.fromkeys(pointer.region for pointer in shown)) == ["nz", "uk"]
    assert len(with_pointers(rules).pointers) > len(shown)


def test_a_log_keeps_no_copy_of_them() -> None:
    """They are no part of grading, so they are not among the files that a log carries."""
    assert not any("region" in name for name in load_grammar().files)


@pytest.fixture
def user_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A settings file, and none of the tester's."""
    monkeypatch.setattr(module, "default_user_file", lambda: tmp_path / "none" / "settings.toml")
    path = tmp_path / "settings.toml"
    path.write_text('regions = ["uk"]\n')
    return path


def test_no_region_unless_one_is_asked_for() -> None:
    """Nothing is pointed at by default."""
    assert Settings().regions == ()


def test_regions_of_all_layers_come_together_each_once(user_file: Path) -> None:
    """File, variable and flags append, as lists do."""
    settings = load_settings(
        {"regions": ("us", "uk")},
        user_file=user_file,
        environ={"VOICELOG_REGIONS": "nz, uk"},
    )
    assert settings.regions == ("uk", "nz", "us")


def test_a_region_nobody_knows_is_refused(user_file: Path) -> None:
    """With those there are."""
    with pytest.raises(GrammarFault) as caught:
        load_settings({"regions": ("gb",)}, user_file=user_file, environ={})
    assert "'gb' is not a region (one of: au, ca, eu, nz, uk, us)" in caught.value.faults[0]
