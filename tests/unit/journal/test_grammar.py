"""The log's own copy of the words, map and rules."""

from __future__ import annotations

import hashlib
import stat
from pathlib import Path
from typing import Any

import pytest

from voicelog.domain.fact import Fact
from voicelog.errors import InputFault, LogFault
from voicelog.journal.grammar import copy_grammar, grammar_problems, kept_grammar
from voicelog.journal.journal import Journal
from voicelog.journal.reading import read_log


def _opened(**body: Any) -> Fact:
    return Fact(1, "2026-03-14T09:00:00.000Z", 0.0, "0" * 64, "opened", body)


def test_the_copy_is_byte_for_byte_with_its_hashes(tmp_path: Path) -> None:
    """In name order, in folders like the original's, private."""
    files = {"words/b.toml": b"\xff\r\n", "maps/deep/er.toml": b"", "a.toml": b"a = 1\n"}
    hashes = copy_grammar(tmp_path, files)
    assert list(hashes) == ["a.toml", "maps/deep/er.toml", "words/b.toml"]
    for name, contents in files.items():
        copied = tmp_path / "grammar" / name
        assert copied.read_bytes() == contents
        assert hashes[name] == hashlib.sha256(contents).hexdigest()
        assert stat.S_IMODE(copied.stat().st_mode) == 0o600
        assert stat.S_IMODE(copied.parent.stat().st_mode) == 0o700


@pytest.mark.parametrize("name", ["../rules.toml", "/rules.toml", "a:b.toml", "a\nb.toml"])
def test_a_name_that_leads_elsewhere_is_refused(tmp_path: Path, name: str) -> None:
    """Before anything is written; the name is shown so that it cannot steer a terminal."""
    with pytest.raises(InputFault, match=r"Rename it") as caught:
        copy_grammar(tmp_path, {name: b""})
    assert "\n" not in str(caught.value)
    assert list(tmp_path.iterdir()) == []


def test_an_untouched_copy_is_trusted(journal: Journal) -> None:
    """The folder to load from; files that are no grammar do not matter."""
    (journal.folder / "grammar" / "rules" / "frame.toml~").touch()
    opened = read_log(journal.folder).facts[0]
    assert grammar_problems(journal.folder, opened) == ()
    assert kept_grammar(journal.folder, opened) == journal.folder / "grammar"


def test_every_change_is_told(journal: Journal) -> None:
    """Changed, missing and added files; old logs must not be regraded unnoticed."""
    grammar = journal.folder / "grammar"
    (grammar / "rules" / "frame.toml").write_bytes(b'id = "other"\n')
    (grammar / "words" / "places.toml").unlink()
    (grammar / "words" / "more.toml").touch()
    opened = read_log(journal.folder).facts[0]
    assert grammar_problems(journal.folder, opened) == (
        "grammar/rules/frame.toml was changed after the log was opened",
        "grammar/words/places.toml is missing",
        "'grammar/words/more.toml' was not there when the log was opened",
    )
    with pytest.raises(LogFault, match=r"cannot be trusted: grammar/rules/frame.toml was changed"):
        kept_grammar(journal.folder, opened)


@pytest.mark.parametrize("body", [{}, {"grammar": None}, {"grammar": ["a"]}])
def test_a_first_fact_without_hashes_is_a_problem(tmp_path: Path, body: dict[str, Any]) -> None:
    """Nothing would show a change."""
    (told,) = grammar_problems(tmp_path, _opened(**body))
    assert told == "Line 1 does not say which grammar was in force"


def test_a_first_fact_cannot_point_outside_the_log(tmp_path: Path) -> None:
    """A log made by a stranger names a file above it."""
    (told,) = grammar_problems(tmp_path, _opened(grammar={"../\x1b[2J": "0" * 64}))
    assert told == "Line 1 has a grammar file of an impossible name, '../\\x1b[2J'"


@pytest.mark.parametrize("name", ["unibody", "../maps/cart", "/etc/cart.toml", "", "x\x1b[2J"])
def test_a_map_that_is_not_in_the_copy_is_a_problem(journal: Journal, name: str) -> None:
    """A log made by a stranger must not have files read that lie elsewhere; its name is shown inert."""
    hashes = {"maps/cart.toml": hashlib.sha256(b"m").hexdigest()}
    (journal.folder / "own").mkdir()
    copy_grammar(journal.folder / "own", {"maps/cart.toml": b"m"})
    assert grammar_problems(journal.folder / "own", _opened(map="cart", grammar=hashes)) == ()
    (told,) = grammar_problems(journal.folder / "own", _opened(map=name, grammar=hashes))
    assert told.startswith("Line 1 names a map of which the log has no copy")
    assert "\x1b" not in told


def test_of_several_names_that_lead_elsewhere_the_first_is_told(tmp_path: Path) -> None:
    """In the order in which they were given."""
    with pytest.raises(InputFault, match=r"'\.\./a\.toml'"):
        copy_grammar(tmp_path, {"good.toml": b"", "../a.toml": b"", "../b.toml": b""})


def test_no_grammar_has_more_than_200_files(tmp_path: Path) -> None:
    """A first line that names more is not followed to each of them."""
    hashes = {f"words/{n}.toml": hashlib.sha256(b"").hexdigest() for n in range(199)}
    hashes["maps/ladder-frame.toml"] = hashlib.sha256(b"").hexdigest()
    copy_grammar(tmp_path, dict.fromkeys(hashes, b""))
    assert grammar_problems(tmp_path, _opened(grammar=hashes)) == ()
    (told,) = grammar_problems(tmp_path, _opened(grammar=hashes | {"a.toml": ""}))
    assert told == "Line 1 has more than 200 grammar files"
