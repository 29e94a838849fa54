"""Whatever a fact says, it comes back."""

from __future__ import annotations

import tempfile
from pathlib import Path
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from voicelog.journal.clock import utc_now
from voicelog.journal.journal import Journal
from voicelog.journal.lines import ENVELOPE
from voicelog.journal.naming import folder_names, safe
from voicelog.journal.opening import new_folder
from voicelog.journal.reading import read_log, verify

JSON = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.text(),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(), inner, max_size=4),
    max_leaves=12,
)
KEY = st.text().filter(lambda key: key not in (*ENVELOPE, "utterance", "clip"))
BODY = st.dictionaries(KEY, JSON, max_size=5)
TYPE = st.sampled_from(["gap", "closed", "weather"]) | st.text(min_size=1).filter(
    lambda name: name not in ("opened", "utterance", "clip-erased")
)
FACTS = st.lists(st.tuples(TYPE, BODY), max_size=6)


@given(before=FACTS, after=FACTS, opened=BODY)
@settings(max_examples=60, deadline=None)
def test_any_facts_come_back_and_verify(
    before: list[tuple[str, dict[str, Any]]],
    after: list[tuple[str, dict[str, Any]]],
    opened: dict[str, Any],
) -> None:
    """Any JSON, any type, written in two sittings: the same facts, and nothing to complain of."""
    with tempfile.TemporaryDirectory() as parent:
        with Journal.create(Path(parent), opened=opened, grammar={}) as journal:
            said = [journal.append(kind, body) for kind, body in before]
        with Journal.reopen(journal.folder) as journal:
            said += [journal.append(kind, body) for kind, body in after]
        first, *facts = read_log(journal.folder).facts
        assert facts == said
        assert [(fact.type, fact.body) for fact in facts] == before + after
        assert [fact.seq for fact in facts] == list(range(2, len(facts) + 2))
        assert first.body == opened | dict(first.body)
        assert verify(journal.folder).problems == ()


@given(st.text(st.characters(), max_size=200))
@settings(max_examples=200, deadline=None)
def test_any_subject_makes_a_folder(subject: str) -> None:
    """Stray surrogates and control characters too; it lies in the parent and nowhere else."""
    name = safe(subject)
    assert name == safe(name)
    assert len(name.encode()) <= 60
    assert not set(name) & set('/\\:*?"<>|. \x00')
    with tempfile.TemporaryDirectory() as parent:
        folder = new_folder(Path(parent), utc_now(), subject)
        assert [folder] == list(Path(parent).iterdir())
        assert next(folder_names(utc_now(), subject)).isprintable()
