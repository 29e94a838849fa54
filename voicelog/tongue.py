"""Texts for people, in their language: one catalogue, looked up with GNU gettext.

The English text in the code is the key. Values stand in it as ``{name}`` and go in once, as they are:
braces in a value mean nothing. Documents and journals take the English (:func:`in_english`), so that
nothing which a program reads depends on who started voicelog.
"""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from gettext import NullTranslations
    from pathlib import Path

DOMAIN = "voicelog"
"""The catalogue's name: ``voicelog.pot`` holds all texts, ``<language>/LC_MESSAGES/voicelog.mo`` one language."""

_PLACE = r"\{([a-z][a-z0-9_]*)\}"  # compiled when it is needed: English needs it not
_ENGLISH = ("en", "C", "POSIX")
_ASKED = ("LANGUAGE", "LC_ALL", "LC_MESSAGES", "LANG")
"""Where a language is asked for: the first that is set counts (GNU gettext, "Locale environment variables")."""


class Worded(str):
    """A text for people, as they read it, with the English that goes into documents.

    Args:
        shown: in the language of whoever reads it.
        english: the same in English; left out where that is what is shown.
    """

    __slots__ = ("_english",)
    _english: str | None

    def __new__(cls, shown: str = "", english: str | None = None) -> Worded:
        """The text as it is shown; its English is kept beside it."""
        made = super().__new__(cls, shown)
        made._english = english
        return made

    def __str__(self) -> Worded:
        return self

    @property
    def english(self) -> str:
        """What a document or a journal holds of it."""
        return str.__str__(self) if self._english is None else self._english

    @property
    def parts(self) -> tuple[str, str]:
        """As shown and in English, which is the same text where nothing was translated; what crosses to
        another process (:func:`handed_over`).
        """
        shown = str.__str__(self)
        return shown, shown if self._english is None else self._english


NOTHING = Worded()
"""Where nothing is to be said."""


def worded(text: str, /, **values: object) -> Worded:
    """A text in the language of whoever reads it.

    Args:
        text: in English; a literal, so that it can be found for the catalogue, or one marked by :func:`to_word`.
        values: what stands for each ``{name}``; a :class:`Worded` one is translated as well.
    """
    found = catalogue()
    if found is None or not text:  # gettext answers nothing with the catalogue's head
        return Worded(_filled(text, values))
    said = found.gettext(text)
    fits = bool(said) and _names(said) == _names(text)
    return _both(said if fits else text, text, values)


def worded_many(one: str, many: str, count: int, /, **values: object) -> Worded:
    """The same for a text that depends on a number, which is ``{count}`` in it.

    Args:
        one: in English, for exactly one; it need not hold the number.
        many: in English, for all others.
        count: how many.
        values: what else stands in it.
    """
    values = {"count": count, **values}
    text = one if count == 1 else many
    found = catalogue()
    if found is None:
        return Worded(_filled(text, values))
    said = found.ngettext(one, many, count)
    names, least, most = _names(said), _names(one) & _names(many), _names(one) | _names(many)
    return _both(said if said and least <= names <= most else text, text, values)


def to_word(text: str) -> str:
    """The very text: marks a constant for the catalogue; :func:`worded` looks it up when it is used."""
    return text


def joined(sign: str, parts: Iterable[str]) -> Worded:
    """Texts one behind the other: like :meth:`str.join`, and the English of each is kept."""
    parts = tuple(parts)
    return Worded(sign.join(parts), english_of(sign).join(map(english_of, parts)))


def reworded(text: str, how: Callable[[str], str]) -> Worded:
    """A text changed in the same way as it is shown and in its English: shortened, begun with a capital.

    Args:
        text: worded or not.
        how: what is done with either.
    """
    if not isinstance(text, Worded):
        return Worded(how(text))
    shown, english = text.parts
    return Worded(how(shown)) if shown is english else Worded(how(shown), how(english))


def begun(text: str) -> Worded:
    """The text as a sentence begins."""
    return reworded(text, lambda one: one[:1].upper() + one[1:])


def either(names: Sequence[str]) -> Worded:
    """Names of which one is meant: "a", "a or b", "a, b or c"."""
    if len(names) < 2:
        return joined("", names)
    return worded("{others} or {last}", others=joined(", ", names[:-1]), last=names[-1])


def both(names: Sequence[str]) -> Worded:
    """All of some names: "a", "a and b", "a, b and c"."""
    if len(names) < 2:
        return joined("", names)
    return worded("{others} and {last}", others=joined(", ", names[:-1]), last=names[-1])


def as_it_is(text: str) -> Worded:
    """A text that was worded where it was made, or comes from elsewhere and is in no catalogue."""
    return text if isinstance(text, Worded) else Worded(text)


def handed_over(parts: object) -> Worded:
    """A text that came from another process as :attr:`Worded.parts`; whatever else came, as it is."""
    match parts:
        case [str(shown), str(english)]:
            return Worded(shown, english)
    return Worded(str(parts))


def english_of(text: str) -> str:
    """What a document holds of a text: its English."""
    return text.english if isinstance(text, Worded) else text


def in_english(value: object) -> object:
    """A value for documents: every :class:`Worded` text in it, at any depth, as its English."""
    if catalogue() is None:  # then nothing is in another language
        return value
    match value:
        case Worded():
            return value.english
        case Mapping():
            return {key: in_english(one) for key, one in value.items()}
        case list() | tuple():
            return [in_english(one) for one in value]
    return value


def languages(environment: Mapping[str, str]) -> list[str]:
    """What to look for, the most wanted first, up to English, which is always there.

    Args:
        environment: as :data:`os.environ`.
    """
    asked = next((environment[name] for name in _ASKED if environment.get(name)), "")
    found: list[str] = []
    for language in filter(None, asked.split(":")):
        if language.partition(".")[0].partition("_")[0] in _ENGLISH:
            break
        found.append(language)
    return found


def locale_folder() -> Path:
    """Where translations lie, a folder each."""
    from pathlib import Path  # in English nobody needs it: start-up is a tenth shorter

    return Path(__file__).with_name("locale")


@cache
def catalogue() -> NullTranslations | None:
    """The installed language that was asked for; nothing for English. A damaged one is left alone."""
    asked = languages(os.environ)
    if not asked:
        return None
    from gettext import bindtextdomain, textdomain, translation

    folder = locale_folder()
    try:
        found = translation(DOMAIN, folder, asked)
    except Exception:  # it raises what it meets: OSError, struct.error, UnicodeError, SyntaxError
        return None
    bindtextdomain(DOMAIN, str(folder))  # click, too, finds its own words here
    textdomain(DOMAIN)
    return found


def _both(said: str, text: str, values: Mapping[str, object]) -> Worded:
    """The text as said, with its English, in which every value is English as well."""
    plain = {name: in_english(value) for name, value in values.items()}
    return Worded(_filled(said, values), _filled(text, plain))


def _filled(text: str, values: Mapping[str, object]) -> str:
    """The text with its values; as it stands where it is no format or names what nobody gave."""
    if "{" not in text:
        return text
    try:
        return text.format_map(values)
    except (LookupError, ValueError, AttributeError, TypeError):
        return text


@cache
def _names(text: str) -> frozenset[str]:
    """The names in a text; with braces around anything else, none that any other text has."""
    names = frozenset(re.findall(_PLACE, text))
    strange = set("{}") & set(re.sub(_PLACE, "", text))
    return frozenset({text}) if strange else names
