"""Any TOML in the place of a grammar or of settings: it is taken, or every fault has its file and line.

``tests/unit/config/test_grammar_faults.py`` cuts and puts in bytes; here the text stays TOML, and says
something else.
"""

from __future__ import annotations

import copy
import datetime
import json
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path
from time import process_time
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from voicelog.config.grammar import Grammar, load_grammar
from voicelog.config.settings import load_settings
from voicelog.errors import GrammarFault, VoicelogError

WORDS = """
[[meaning]]
slot = "condition"
value = "scale"
say = ["scale", "flaking metal"]
misheard = ["skale"]

[[meaning]]
slot = "probe"
value = "firm"
say = ["rings"]
also = { method = "tapped" }

[[meaning]]
slot = "unit"
value = "millimetre"
say = ["mil"]
"""
SMALL = Path(__file__).parents[2] / "small_grammar"
MAP = (SMALL / "maps/cart.toml").read_text(encoding="utf-8")
RULES = (SMALL / "rules/frame.toml").read_text(encoding="utf-8")
FILES = {"words/a.toml": WORDS, "maps/cart.toml": MAP, "rules/frame.toml": RULES}
LONGEST_S = 3.0
"""Seconds of one processor for a file that fits on a page; a sound one takes a hundredth of it."""

_AT_A_LINE = re.compile(r"^\S*(words/a|maps/cart|rules/frame)\.toml:[1-9]\d*: \S")

words = st.sampled_from(
    ("left", "scale", "shaft", "rings", "hole", "left-shaft", "one", "two words", "*")
)
texts = words | st.text(max_size=12)
scalars = st.one_of(
    texts, texts, st.booleans(), st.integers(-(2**63), 2**63 - 1), st.floats(),
    st.datetimes(), st.dates(), st.times(),
)  # fmt: skip
known = st.sampled_from(
    ("meaning", "slot", "value", "say", "misheard", "also", "id", "title", "zone", "role", "plan", "rule",
     "when", "grade", "at_least", "worsen", "limits", "family", "ends", "as_in", "condition", "any", "not")
)  # fmt: skip
keys = known | st.text(max_size=6)
values = st.recursive(
    scalars,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(keys, inner, max_size=3),
    max_leaves=10,
)


def toml_of(value: Any) -> str:
    """A value as TOML spells it, tables in a line."""
    if isinstance(value, dict):
        return "{" + ", ".join(f"{_text(k)} = {toml_of(v)}" for k, v in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(toml_of, value)) + "]"
    if isinstance(value, datetime.datetime | datetime.date | datetime.time):
        return value.isoformat()
    if isinstance(value, float):
        return repr(value)
    return _text(value) if isinstance(value, str) else json.dumps(value)


def _text(text: str) -> str:
    clean = text.encode("utf-8", "replace").decode()
    return json.dumps(clean, ensure_ascii=False).replace("\x7f", "\\u007f")


def page_of(document: dict[str, Any]) -> str:
    """A document, one top-level key a line."""
    return "\n".join(f"{_text(key)} = {toml_of(value)}" for key, value in document.items()) + "\n"


@st.composite
def mutated(draw: st.DrawFn, text: str) -> str:
    """The document with up to three of its values replaced, dropped, doubled or moved."""
    document = copy.deepcopy(tomllib.loads(text))
    for _ in range(draw(st.integers(1, 3))):
        places = list(_places(document))
        if not places:
            break
        where, key = draw(st.sampled_from(places))
        other, other_key = draw(st.sampled_from(places))
        match draw(st.sampled_from(("any", "any", "drop", "copy", "add"))):
            case "any":
                where[key] = draw(values)
            case "drop":
                del where[key]
            case "copy":
                where[key] = copy.deepcopy(other[other_key])
            case _ if isinstance(where, dict):
                where[draw(keys)] = draw(values)
            case _:
                where.append(draw(values))
    return page_of(document)


def _places(document: Any) -> Iterator[tuple[Any, Any]]:
    pairs = document.items() if isinstance(document, dict) else enumerate(document)
    for key, value in list(pairs):
        yield document, key
        if isinstance(value, dict | list):
            yield from _places(value)


@pytest.fixture(scope="module")
def cart(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A sound grammar folder of three files."""
    root = tmp_path_factory.mktemp("grammar")
    for name, text in FILES.items():
        (root / name).parent.mkdir()
        (root / name).write_text(text, encoding="utf-8")
    assert isinstance(load_grammar("cart", folder=root), Grammar)
    return root


@given(data=st.data(), name=st.sampled_from(sorted(FILES)))
@settings(max_examples=80, suppress_health_check=[HealthCheck.too_slow])
def test_any_toml_is_a_grammar_or_faults_with_file_and_line(
    cart: Path, data: st.DataObject, name: str
) -> None:
    """Values of other kinds, keys that nobody knows, tables for lists, numbers without end."""
    text = data.draw(mutated(FILES[name]))
    (cart / name).write_bytes(text.encode())
    began, told = process_time(), None
    try:
        load_grammar("cart", folder=cart)
    except GrammarFault as fault:
        told = fault
    finally:
        (cart / name).write_text(FILES[name], encoding="utf-8")
    assert process_time() - began < LONGEST_S
    if told is not None:
        assert told.faults
        assert all(_AT_A_LINE.match(one) for one in _plain(told))
        assert str(told).splitlines()[0].isprintable()


def _plain(fault: GrammarFault) -> list[str]:
    """The faults; how many more there are stands in a line of its own."""
    return [one for one in fault.faults if not one.startswith("and ")]


@given(document=st.dictionaries(
    st.sampled_from(("map", "rails", "into", "ear", "bias", "inspector", "overlays", "grammar", "ask_s",
                     "speech", "regions", "microphone", "talk", "theme", "mil", "silence_s")) | keys,
    values, max_size=4,
))  # fmt: skip
@settings(max_examples=80)
def test_any_toml_is_settings_or_one_clear_fault(
    tmp_path_factory: pytest.TempPathFactory, document: dict[str, Any]
) -> None:
    """With the file and the line of what is wrong in it."""
    file = tmp_path_factory.getbasetemp() / "settings.toml"
    file.write_bytes(page_of(document).encode())
    began, told = process_time(), None
    try:
        load_settings({}, user_file=file, environ={})
    except VoicelogError as fault:
        told = fault
    assert process_time() - began < LONGEST_S
    if told is not None:
        assert told.exit_code == 4
        assert "settings.toml:" in str(told)
