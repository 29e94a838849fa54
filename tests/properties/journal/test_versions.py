"""Upgrade laws: a line of every version that was ever written still says the same."""

from __future__ import annotations

import hashlib
import json
import re
import tempfile
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from voicelog.config.grammar import load_grammar as shipped
from voicelog.domain.entry import Inspection
from voicelog.domain.fact import FORMAT, Fact
from voicelog.domain.signing import SIGNED
from voicelog.errors import LogFault
from voicelog.findings.ledger import fold
from voicelog.journal.lines import READERS, NewerLog, decode, digest
from voicelog.journal.reading import read_log
from voicelog.runtime.going_on import rails_then

load_grammar = cache(shipped)
EXAMPLE = Path(__file__).parents[3] / "shared" / "examples" / "valid" / "journal.jsonl"
_PREV = re.compile(rb'"prev":"[0-9a-f]{64}"')


@cache
def _lines() -> tuple[bytes, ...]:
    return tuple(EXAMPLE.read_bytes().splitlines())


def _chained(lines: list[bytes]) -> Iterator[bytes]:
    """The lines with the hashes, and the signatures, that follow from those in front of them."""
    before, passed = "0" * 64, b""
    for line in lines:
        made = _PREV.sub(b'"prev":"%s"' % before.encode(), line, count=1)
        document = json.loads(made)
        if document["type"] == SIGNED:
            signed = hashlib.sha256(passed).hexdigest()
            made = made.replace(document["sha256"].encode(), signed.encode())
        before, passed = digest(made), passed + made + b"\n"
        yield made


def _read(lines: list[bytes]) -> tuple[Fact, ...]:
    with tempfile.TemporaryDirectory() as folder:
        text = b"".join(line + b"\n" for line in _chained(lines))
        (Path(folder) / "journal.jsonl").write_bytes(text)
        return read_log(Path(folder)).facts


def _said(facts: tuple[Fact, ...]) -> list[tuple[Any, ...]]:
    """What the lines say, without what chains and signs them."""
    return [
        (f.seq, f.at, f.offset_s, f.type, {k: v for k, v in f.body.items() if k != "sha256"})
        for f in facts
    ]


def _rewritten(line: bytes, version: int, extra: dict[str, Any]) -> bytes:
    document = {**json.loads(line), "v": version}
    more = {f"later-{key}": value for key, value in extra.items()}
    return json.dumps({**document, **more}, separators=(",", ":")).encode()


@pytest.mark.parametrize("version", sorted(READERS))
def test_the_published_journal_folds_the_same_in_every_version(version: int) -> None:
    """All lines of it, and every entry of them."""
    facts = _read([_rewritten(line, version, {}) for line in _lines()])
    assert _said(facts) == _said(_read(list(_lines())))
    inspection = _folded(facts)
    assert inspection == _folded(_read(list(_lines())))
    assert len(inspection.findings) > 5


def _folded(facts: tuple[Fact, ...]) -> Inspection:
    grammar = load_grammar()
    return fold(facts, grammar.zone_map, grammar.rules, rails_then(facts[0].body))


@given(
    versions=st.lists(st.sampled_from(sorted(READERS)), min_size=40, max_size=40),
    extra=st.dictionaries(st.text(max_size=4), st.integers() | st.text(max_size=4), max_size=2),
)
@settings(max_examples=20)
def test_a_log_that_several_programs_wrote_folds_the_same(
    versions: list[int], extra: dict[str, Any]
) -> None:
    """Lines of any known version among one another, with keys that only a later one knows."""
    lines = [_rewritten(line, v, extra) for line, v in zip(_lines(), versions, strict=False)]
    assert _folded(_read(lines)) == _folded(_read(list(_lines())))


@given(
    line=st.integers(0, 20),
    version=st.integers(max(READERS) + 1, 10**9)
    | st.none()
    | st.booleans()
    | st.text()
    | st.just(-1),
)
@settings(max_examples=60)
def test_a_version_that_nobody_knows_is_refused(line: int, version: Any) -> None:
    """A later one by that name, anything else as damage; never guessed at."""
    document = {**json.loads(_lines()[line]), "v": version}
    with pytest.raises(LogFault) as caught:
        decode(json.dumps(document, separators=(",", ":")).encode(), line + 1)
    assert isinstance(caught.value, NewerLog) == (type(version) is int and version > FORMAT)
