"""Finding the files that travel with the program."""

from __future__ import annotations

from pathlib import Path

import pytest

from voicelog.config.data import grammar_dir, samples_dir, shipped
from voicelog.errors import InputFault


def test_an_installed_package_carries_its_own_data(tmp_path: Path) -> None:
    """The wheel's copy is taken even where a folder of that name lies beside the package."""
    package = tmp_path / "voicelog"
    (package / "_data" / "grammar").mkdir(parents=True)
    (tmp_path / "grammar").mkdir()
    assert shipped("grammar", package) == package / "_data" / "grammar"


def test_a_checkout_serves_its_own_folders(tmp_path: Path) -> None:
    """An editable install has no copy; the repository's folder stands in."""
    (tmp_path / "grammar").mkdir()
    assert shipped("grammar", tmp_path / "voicelog") == tmp_path / "grammar"


def test_lost_data_is_told_with_what_to_do(tmp_path: Path) -> None:
    """A damaged installation is no crash."""
    with pytest.raises(InputFault, match="'grammar' that belongs to voicelog is missing") as caught:
        shipped("grammar", tmp_path / "voicelog")
    assert caught.value.hint == "Install voicelog again"


def test_the_folders_of_this_installation_are_there() -> None:
    """What the program loads by default exists wherever the tests run."""
    assert (grammar_dir() / "maps" / "ladder-frame.toml").is_file()
    assert samples_dir().is_dir()
