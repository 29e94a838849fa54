"""What holds for every text typed into a slot."""

from __future__ import annotations

import re
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from voicelog.config.grammar import Grammar, load_grammar
from voicelog.domain.slot import SLOTS, SPELT_SLOTS, SlotValue, plausible
from voicelog.errors import UsageFault
from voicelog.interpret.slot_text import slot_value, value_in_words
from voicelog.interpret.slot_words import values_of

_NUMBERS = [name for name, spec in SLOTS.items() if spec.kind in ("length", "percent", "count")]
_PIECES = re.split(
    " ",
    "1 2 12 0.5 .25 3/16 1/2 ½ ⅓ 4,8 1,200 -5 + - % mm cm in \" ' ft thou gauge half a quarter inch "
    "and to by ( ) of an point one hundred second nd # no. about ² é \x1b \u202e \udcff , . 999999999999",
)
_texts = st.one_of(
    st.text(max_size=30),
    st.lists(st.sampled_from(_PIECES), max_size=6).map(" ".join),
    st.lists(st.sampled_from(_PIECES), max_size=6).map("".join),
)


@cache
def _grammar() -> Grammar:
    return load_grammar()


def _value(slot: str, text: str) -> SlotValue:
    grammar = _grammar()
    return slot_value(slot, text, grammar.zone_map, grammar.vocabulary)


def _value_or_fault(slot: str, text: str) -> SlotValue | UsageFault:
    try:
        return _value(slot, text)
    except UsageFault as fault:
        return fault


def _is_told(fault: UsageFault) -> bool:
    return bool(fault.hint) and str(fault).isprintable()


@settings(deadline=None)  # the first text loads the grammar
@given(st.sampled_from(_NUMBERS), _texts)
def test_any_text_gives_a_plausible_number_or_a_fault(slot: str, text: str) -> None:
    """And what a field shows of the number gives the very same number."""
    value = _value_or_fault(slot, text)
    if isinstance(value, UsageFault):
        assert _is_told(value)
        return
    assert not isinstance(value, str)
    assert plausible(slot, value)
    assert isinstance(value, int) == (SLOTS[slot].kind == "count")
    assert _value(slot, value_in_words(slot, value, _grammar().zone_map)) == value


@settings(deadline=None)  # a fault looks for the nearest name
@given(st.sampled_from([name for name in SLOTS if name not in _NUMBERS]), _texts)
def test_any_text_gives_a_listed_word_or_a_fault(slot: str, text: str) -> None:
    """Text slots take what can be kept: Unicode without white space at its ends."""
    value = _value_or_fault(slot, text)
    if isinstance(value, UsageFault):
        assert _is_told(value)
        return
    assert isinstance(value, str)
    names = values_of(slot, _grammar().zone_map)
    assert value in names if names else value == value.strip() != ""
    assert not names or _value(slot, value_in_words(slot, value, _grammar().zone_map)) == value
    assert slot not in SPELT_SLOTS or value.isalnum()
    value.encode()


@given(
    st.sampled_from([name for name in _NUMBERS if SLOTS[name].kind == "length"]),
    st.integers(1, 30_000_000),
)
def test_every_length_comes_back_from_its_field(slot: str, tenths_of_a_micron: int) -> None:
    """Four decimals of a millimetre are kept."""
    value = tenths_of_a_micron / 10_000
    if plausible(slot, value):
        assert _value(slot, value_in_words(slot, value, _grammar().zone_map)) == value


@given(st.integers(0, 40), st.integers(1, 63), st.sampled_from([2, 4, 8, 16, 32, 64]))
def test_every_fraction_of_an_inch_is_read(whole: int, count: int, parts: int) -> None:
    """Written as on a tape measure, with a unit in any form."""
    mm = pytest.approx((whole + count / parts) * 25.4, abs=0.0001)
    if count < parts:
        number = f"{whole} {count}/{parts}" if whole else f"{count}/{parts}"
        for unit in (" in", '"', "in", " inches", "″"):
            assert _value("size_mm", number + unit) == mm
