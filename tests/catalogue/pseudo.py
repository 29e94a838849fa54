"""A language that nobody speaks: every text of the catalogue in letters that ASCII lacks, values as they are.

Whatever is shown in plain letters under it did not come from the catalogue, or is a value.
"""

from __future__ import annotations

import re
from pathlib import Path

from babel.messages import Catalog
from babel.messages.mofile import write_mo

from voicelog.tongue import DOMAIN

LANGUAGE = "qps"
"""Reserved for local use by ISO 639-2 (qaa to qtz)."""

_PLAIN = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"
_STRANGE = "àƀćďéƒĝĥíĵķĺɱńóƥɋřšţúṽŵẋýžÀƁĆĎÉƑĜĤÍĴĶĹṀŃÓƤɊŘŠŢÚṼŴẊÝŽ"
_LETTERS = str.maketrans(_PLAIN, _STRANGE)
_PLACE = re.compile(r"(\{[^{}]*\})")


def pseudo(text: str) -> str:
    """The text in strange letters, its places for values untouched."""
    return "".join(
        part if place else part.translate(_LETTERS)
        for place, part in ((_PLACE.fullmatch(part), part) for part in _PLACE.split(text))
    )


def install(texts: Catalog, locale: Path) -> None:
    """Put that language into a folder, as an installed translation lies in it."""
    catalog = Catalog(locale=None, fuzzy=False)
    for one in texts:
        if isinstance(one.id, tuple):
            catalog.add(one.id, tuple(map(pseudo, one.id)))
        elif one.id:
            catalog.add(one.id, pseudo(one.id))
    folder = locale / LANGUAGE / "LC_MESSAGES"
    folder.mkdir(parents=True)
    with (folder / f"{DOMAIN}.mo").open("wb") as file:
        write_mo(file, catalog)


def plain_words(shown: str) -> list[str]:
    """What is left in plain letters, in words of three letters and more."""
    return re.findall(r"[A-Za-z]{3,}", shown)
