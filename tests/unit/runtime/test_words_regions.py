"""``voicelog words check`` looks at the public rules too, which are read only when asked for."""

from __future__ import annotations

from pathlib import Path

import pytest

from voicelog.config.settings import Settings
from voicelog.errors import GrammarFault
from voicelog.runtime.words import check_words


def test_a_fault_in_a_region_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """With file, line and key, before anybody asks for that region."""
    (tmp_path / "uk.toml").write_text('region = "uk"\n[[pointer]]\ndocument = "A manual"\n')
    monkeypatch.setattr(
        "voicelog.config.pointers.region_file", lambda _region: tmp_path / "uk.toml"
    )
    with pytest.raises(GrammarFault) as caught:
        check_words(Settings())
    assert any("uk.toml:2: pointer.item: is missing" in fault for fault in caught.value.faults)
