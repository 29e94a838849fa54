"""Which key a pedal may send: one that the terminal can name, and that does nothing else."""

from __future__ import annotations

from collections.abc import Iterator
from difflib import get_close_matches
from unicodedata import name as unicode_name

from textual.keys import KEY_ALIASES, KEY_NAME_REPLACEMENTS, REPLACED_KEYS, Keys, key_to_character

from voicelog.domain.inert import inert
from voicelog.errors import UsageFault
from voicelog.tongue import worded
from voicelog.tui.actions import DEEDS, PEDAL

_ELSEWHERE = {"ctrl+p": "opens the palette", "enter": "sends words", "escape": "leaves a line"}
"""Keys of the screen itself that no deed has."""
_NAMED = frozenset(key.value for key in Keys if not key.value.startswith("<"))
_MODIFIERS = frozenset(("ctrl", "alt", "shift", "super", "hyper", "meta"))
_LONGEST = 40
"""Characters of a name that are said back."""


def checked_key(name: str) -> str:
    """The key of the pedal as the terminal names it, for example ``f9``, ``pagedown`` or ``k``.

    Only names longer than one character are put in lower case: ``K`` is another key than ``k``.

    Args:
        name: as a person wrote it.

    Raises:
        UsageFault: several keys, one that nobody knows, or one that does something else.
    """
    name = name if name == " " else name.strip()
    if len(name) > 1 and "," in name:
        raise _refused(name, "these are several keys")
    key = _canonical(name)
    if not key:
        raise _refused(name, "no key is called so", _alike(name))
    does = dict(_taken()).get(key)
    if does:
        raise _refused(name, f"that key {does}")
    return key


def is_printable(key: str) -> bool:
    """It writes a character, which belongs on a line that is being typed."""
    return "+" not in key and _character(key) is not None


def _canonical(name: str) -> str:
    """As Textual calls it when it is pressed; empty where it knows none such."""
    if len(name) == 1:
        return _name_of(name) if name.isprintable() else ""
    key = name.lower()
    key = next((told for told, others in KEY_ALIASES.items() if key in others), key)
    *modifiers, last = key.split("+")
    character = _character(last) if last not in _NAMED else None
    writes_another = character is not None and modifiers == ["shift"]
    if not set(modifiers) <= _MODIFIERS or writes_another:
        return ""
    if character is None and last not in _NAMED:
        return ""
    return "+".join((*modifiers, last if character is None else _name_of(character)))


def _character(key: str) -> str | None:
    """What a key without modifiers writes; None where it writes nothing."""
    character = key_to_character(REPLACED_KEYS.get(key, key)) if key else None
    return character if character is not None and character.isprintable() else None


def _name_of(character: str) -> str:
    """Letters and digits are their own names, signs have one in words: ``full_stop``."""
    if character.isalnum():
        return character
    name = unicode_name(character, "").lower().replace("-", "_").replace(" ", "_")
    return KEY_NAME_REPLACEMENTS.get(name, name)


def _taken() -> Iterator[tuple[str, str]]:
    """Each key that does something, and what."""
    for deed in DEEDS:
        if deed.id != PEDAL:
            yield from (
                (key, worded("is that of “{deed}”", deed=deed.title))
                for key in deed.keys.split(",")
            )
    yield from _ELSEWHERE.items()


def _alike(name: str) -> str:
    """A key that may have been meant."""
    return next(iter(get_close_matches(name.lower(), sorted(_NAMED), 1)), "")


def _refused(name: str, why: str, alike: str = "") -> UsageFault:
    hint = worded(
        "Name one free key as the terminal calls it, such as space, f9, pagedown or k (--pedal, or"
        " pedal in the settings)"
    )
    if alike:
        hint = worded("Did you mean {key}? {hint}", key=alike, hint=hint)
    return UsageFault(
        worded("The pedal cannot be {name}: {why}", name=repr(inert(name, _LONGEST)), why=why),
        hint,
    )
