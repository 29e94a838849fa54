"""A language that nobody speaks: every text of the catalogue in letters that ASCII lacks, values as they are.

Whatever is shown in plain letters under it did not come from the catalogue, or is a value.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from pathlib import Path

import pytest
from babel.messages import Catalog
from babel.messages.mofile import write_mo

from voicelog import tongue
from voicelog.tongue import DOMAIN

LANGUAGE = "qps"
"""Reserved for local use by ISO 639-2 (qaa to qtz)."""

_PLAIN = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"
_STRANGE = "àƀćďéƒĝĥíĵķĺɱńóƥɋřšţúṽŵẋýžÀƁĆĎÉƑĜĤÍĴĶĹṀŃÓƤɊŘŠŢÚṼŴẊÝŽ"
_LETTERS = str.maketrans(_PLAIN, _STRANGE)
_PLACE = re.compile(r"(\{[^{}]*\})")


def pseudo(text: str, *, longer: bool = False) -> str:
    """The text in strange letters, its places for values untouched.

    Args:
        text: as it stands in the catalogue.
        longer: every vowel is doubled: by two fifths, as much as other languages need of a line.
    """
    return "".join(
        part if place else _strange(part, longer=longer)
        for place, part in ((_PLACE.fullmatch(part), part) for part in _PLACE.split(text))
    )


def _strange(text: str, *, longer: bool) -> str:
    return (re.sub("([aeiouAEIOU])", r"\1\1", text) if longer else text).translate(_LETTERS)


def install(texts: Catalog, locale: Path, *, longer: bool = False) -> None:
    """Put that language into a folder, as an installed translation lies in it."""
    catalog = Catalog(locale=None, fuzzy=False)
    made = partial(pseudo, longer=longer)
    for one in texts:
        if isinstance(one.id, tuple):
            catalog.add(one.id, tuple(map(made, one.id)))
        elif one.id:
            catalog.add(one.id, made(one.id))
    folder = locale / LANGUAGE / "LC_MESSAGES"
    folder.mkdir(parents=True)
    with (folder / f"{DOMAIN}.mo").open("wb") as file:
        write_mo(file, catalog)


@contextmanager
def spoken(locale: Path) -> Iterator[None]:
    """This process speaks it; afterwards whatever it spoke before.

    Args:
        locale: the folder into which it was put.
    """
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("LANGUAGE", LANGUAGE)
        patch.setattr(tongue, "locale_folder", lambda: locale)
        tongue.catalogue.cache_clear()
        yield
    tongue.catalogue.cache_clear()


def plain_words(shown: str) -> list[str]:
    """What is left in plain letters, in words of three letters and more."""
    return re.findall(r"[A-Za-z]{3,}", shown)
