"""The written reference keeps in step with the models."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from voicelog.config.data import grammar_dir
from voicelog.config.maps import FamilyTable, MapFile, ZoneTable
from voicelog.config.overlay import OverlayFile, ZoneAddition
from voicelog.config.pointers import PointerTable, RegionFile
from voicelog.config.reference import PLACE, main, reference
from voicelog.config.rules import RulesFile, RuleTable
from voicelog.config.settings import Settings
from voicelog.config.settings_file import SettingsFile
from voicelog.config.when import AdviceWhen, When, WorkWhen
from voicelog.config.words import Confusion, Meaning, WordsFile
from voicelog.config.work_rules import WorkTable
from voicelog.domain.reading import Speech

MODELS = (
    WordsFile,
    Meaning,
    Confusion,
    MapFile,
    ZoneTable,
    FamilyTable,
    RulesFile,
    RuleTable,
    When,
    WorkTable,
    WorkWhen,
    RegionFile,
    PointerTable,
    AdviceWhen,
    OverlayFile,
    ZoneAddition,
    SettingsFile,
)


def test_the_committed_reference_is_the_generated_one() -> None:
    """After a change to a model run ``python -m voicelog.config.reference --write``."""
    committed = (grammar_dir().parent / PLACE).read_text(encoding="utf-8")
    assert committed == reference()


def test_every_key_is_explained() -> None:
    """No key of any model goes without a row and a description."""
    rows = re.findall(r"^\| `(\w+)` \| .+ \| .* \| .+ \|$", reference(), re.MULTILINE)
    for model in MODELS:
        for name, field in model.model_fields.items():
            assert field.description
            assert name in rows


def test_every_setting_and_every_way_of_speaking_can_be_set() -> None:
    """A field added to the settings or to the speech is not forgotten in the file."""
    made = {"speech", "unit_mm", "map_chosen"}  # of other keys
    fields = {*vars(Settings()), *vars_of_speech(), "unit"} - made
    assert set(SettingsFile.model_fields) == fields


def vars_of_speech() -> set[str]:
    """The names of the speech fields."""
    return set(Speech.__dataclass_fields__)


def test_it_prints_without_touching_anything(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """Only ``--write`` writes."""
    monkeypatch.chdir(tmp_path)
    main([])
    assert capsys.readouterr().out == reference()
    assert list(tmp_path.iterdir()) == []
