"""Whatever an entry holds, a line of the journal gives it back; whatever a line holds, it is refused or
read.
"""

from __future__ import annotations

import json
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from voicelog.domain.change_json import change_from_json, change_to_json, changes_from_json
from voicelog.domain.entry import (
    Add,
    Amend,
    Change,
    Entry,
    Kind,
    Question,
    Replace,
    Restore,
    Withdraw,
)
from voicelog.domain.fact import Fact, changes_of, proposed_in
from voicelog.errors import LogFault

texts = st.text(st.characters(), max_size=12)  # half characters, too
some_texts = st.lists(texts, max_size=2).map(tuple)
numbers = st.floats(allow_nan=False, allow_infinity=False) | st.integers(-(10**30), 10**30)
slots = st.dictionaries(texts, texts | numbers, max_size=4)
ranges = st.dictionaries(
    texts, st.tuples(*[st.floats(allow_nan=False, allow_infinity=False)] * 2), max_size=2
)
questions = st.lists(st.builds(Question, texts, some_texts), max_size=2).map(tuple)
entries = st.builds(
    Entry, texts, texts, texts, st.sampled_from(Kind), slots, texts, some_texts, texts, questions,
    some_texts, st.booleans(), st.booleans(), some_texts, slots, ranges,
)  # fmt: skip
changes: st.SearchStrategy[Change] = st.one_of(
    entries.map(Add), entries.map(Replace), texts.map(Withdraw), texts.map(Restore),
    st.builds(
        Amend, texts, slots, texts, some_texts, st.none() | st.sampled_from(Kind),
        st.none() | some_texts, st.none() | some_texts, st.none() | questions, ranges,
    ),
)  # fmt: skip

JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False) | st.text(max_size=5),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3),
    max_leaves=8,
)  # fmt: skip


@given(changes)
@settings(max_examples=100)
def test_any_change_comes_back_from_the_disk(change: Change) -> None:
    """With hostile text, numbers of any size, and everything that may be left out."""
    line = json.dumps(change_to_json(change), allow_nan=False)
    assert change_from_json(json.loads(line)) == change


@given(change=changes, junk=JSON, data=st.data())
@settings(max_examples=100)
def test_any_damage_to_a_change_is_a_fault_or_another_change(
    change: Change, junk: Any, data: st.DataObject
) -> None:
    """One value replaced by anything: it is read, and written as it is read, or it is refused."""
    document = json.loads(json.dumps(change_to_json(change)))
    where, key = data.draw(st.sampled_from(list(_places(document))))
    where[key] = junk
    for read in (changes_of, proposed_in):
        fact = Fact(7, "", 0.0, "", "utterance", {"changes": [document], "proposed": [document]})
        try:
            (once,) = read(fact)
        except LogFault as fault:
            assert "Line 7" in fault.message  # noqa: PT017
        else:
            assert changes_from_json([change_to_json(once)]) == (once,)


@given(junk=JSON)
@settings(max_examples=100)
def test_anything_instead_of_changes_is_a_fault(junk: Any) -> None:
    """Or nothing at all, where it holds none."""
    try:
        assert changes_of(Fact(7, "", 0.0, "", "revised", {"changes": junk})) == ()
    except LogFault as fault:
        assert "Line 7" in fault.message  # noqa: PT017


def _places(document: Any) -> list[tuple[Any, Any]]:
    pairs = document.items() if isinstance(document, dict) else enumerate(document)
    found: list[tuple[Any, Any]] = []
    for key, value in list(pairs):
        found.append((document, key))
        found += _places(value) if isinstance(value, dict | list) else []
    return found
