"""The audit fails on what is known, and never takes silence for safety."""

from __future__ import annotations

import importlib.util
import json
import sys
from pathlib import Path
from types import ModuleType

import pytest

CLEAN = {"name": "click", "version": "8.1.0", "vulns": []}
HOLED = {
    "name": "jinja2",
    "version": "3.1.4",
    "vulns": [{"id": "PYSEC-0", "fix_versions": ["3.1.6"], "aliases": []}],
}
UNKNOWN = {"name": "voicelog", "skip_reason": "not found"}


@pytest.fixture(scope="module")
def audit() -> ModuleType:
    """The command, which is no module of a package."""
    spec = importlib.util.spec_from_file_location("audit", Path(__file__).with_name("audit.py"))
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules["audit"] = module
    spec.loader.exec_module(module)
    return module


@pytest.mark.parametrize(
    ("packages", "code", "strict"),
    [
        ([CLEAN], 0, 0),
        ([CLEAN, UNKNOWN], 0, 0),
        ([CLEAN, HOLED], 1, 1),
        ([UNKNOWN], 0, 1),
        ([], 0, 1),
    ],
)
def test_exit_codes(audit: ModuleType, packages: list[object], code: int, strict: int) -> None:
    """Known holes always fail; that nobody could be asked fails only where that is asked for."""
    found = audit.judged(json.dumps({"dependencies": packages, "fixes": []}))
    assert audit.code_of(found) == code
    assert audit.code_of(found, must_ask=True) == strict


@pytest.mark.parametrize("answer", ["", "Traceback", "[]", "{}", "null"])
def test_no_answer_is_no_clean_bill(audit: ModuleType, answer: str) -> None:
    """A network that is away leaves no JSON, or less than was hoped for."""
    found = audit.judged(answer)
    assert (found.asked, found.known) == (0, ())
    assert audit.code_of(found, must_ask=True) == 1


def test_silence_is_told(
    audit: ModuleType, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whoever reads CI's output must not think that somebody looked."""
    monkeypatch.setattr(audit, "_asked", lambda: "")
    assert audit.main([]) == 0
    assert "NOT AUDITED" in capsys.readouterr().out


def test_what_is_known_is_named(
    audit: ModuleType, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """With the version that mends it."""
    monkeypatch.setattr(audit, "_asked", lambda: json.dumps({"dependencies": [HOLED]}))
    assert audit.main([]) == 1
    assert "jinja2 3.1.4: PYSEC-0 (mended in 3.1.6)" in capsys.readouterr().out
