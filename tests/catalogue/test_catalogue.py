"""The catalogue holds every text, and the program has no texts for people beside it."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
from babel.messages import Catalog
from babel.messages.mofile import read_mo
from babel.messages.pofile import read_po

from tests.architecture.sources import trees
from tests.catalogue.calls import COUNTED, Marked, bare, faults, marked
from tests.catalogue.extract import CLICK, POT, extracted
from voicelog.tongue import _names, locale_folder

ANEW = "make it anew: python tests/catalogue/extract.py --write"


def texts(catalog: Catalog) -> dict[object, set[str]]:
    """Every text, with the files that have it."""
    return {one.id: {name for name, _ in one.locations} for one in catalog if one.id}


def key_of(text: object) -> tuple[str, ...]:
    """All forms of a text; Babel has them as a text, a list or a tuple."""
    return (text,) if isinstance(text, str) else tuple(text)  # type: ignore[arg-type]


def translated(catalog: Catalog) -> dict[tuple[str, ...], tuple[str, ...]]:
    """The texts that a language has, with what it says; compilers put the text itself for others."""
    told = ((key_of(one.id), key_of(one.string)) for one in catalog if one.id and not one.fuzzy)
    return {text: said for text, said in told if any(said) and said != text}


def read(path: Path) -> Catalog:
    """A catalogue file."""
    with path.open("rb") as file:
        return read_po(file, ignore_obsolete=True)


@cache
def uses() -> list[Marked]:
    """Every use of a marking function."""
    return list(marked(trees()))


def forms() -> Iterator[str]:
    """Every text in every form."""
    for one, files in texts(extracted()).items():
        if files == {CLICK}:
            continue  # click puts its values in by itself
        yield from one if isinstance(one, tuple) else (str(one),)


def test_the_catalogue_is_up_to_date() -> None:
    """What a translator gets is what the program says."""
    now, there = texts(extracted()), texts(read(POT))
    assert now.keys() - there.keys() == set(), ANEW
    assert there.keys() - now.keys() == set(), ANEW
    assert now == there, ANEW


def test_extraction_finds_every_marked_text() -> None:
    """Also within each other, and in values of other texts."""
    written = {form for use in uses() for form in use.forms}
    assert written - set(forms()) == set()


def test_every_text_can_be_found() -> None:
    """A text put together while the program runs is in no catalogue."""
    assert [use.where for use in uses() if not use.literal] == []


def test_values_are_named_as_the_text_names_them() -> None:
    """No value is missing, and none is given that the text does not show."""
    wrong = [
        (use.where, _names(form) ^ use.given)
        for use in uses()
        for form in use.forms
        if use.function == "worded" and _names(form) != use.given
    ]
    assert wrong == []
    counted = [use for use in uses() if use.function in ("worded_many", "counted") and use.forms]
    assert counted
    for use in counted:
        told = frozenset[str]().union(*map(_names, use.forms))
        assert told - {COUNTED} == use.given, use.where


def test_places_for_values_are_plain_names() -> None:
    """No number, no attribute, no format: nothing that a translator could get wrong unseen."""
    strange = [form for form in forms() if form in _names(form)]
    assert strange == []
    for form in forms():
        assert form.format_map({name: f"<{name}>" for name in _names(form)}).count("{") == 0


def test_every_fault_is_worded() -> None:
    """Message and next step of whatever can be raised. mypy holds the same for what comes by a name."""
    read_by_people = dict.fromkeys(faults(trees()), slice(0, 2))
    assert list(bare(trees(), read_by_people)) == []


def test_what_is_taken_as_it_is_was_written_elsewhere() -> None:
    """A literal there would be a text beside the catalogue."""
    functions = {"as_it_is": slice(0, 1), "Worded": slice(0, 2), "joined": slice(1, 2)}
    assert list(bare(trees(), functions)) == []


def test_translations_are_compiled_from_their_sources() -> None:
    """Whoever changes one file of a language changes both."""
    for source in locale_folder().glob("*/LC_MESSAGES/*.po"):
        with source.with_suffix(".mo").open("rb") as file:
            compiled = translated(read_mo(file))
        assert compiled == translated(read(source)), source
        assert compiled.keys() <= set(map(key_of, texts(extracted()))), source


@pytest.mark.parametrize(
    ("line", "found"),
    [
        ("InputFault('There is no file')", True),
        ("raise errors.InputFault(f'{path} is empty')", True),
        ("InputFault(worded('x'), 'Check it')", True),
        ("InputFault(worded('x'), hint='Check it' if some else worded('y'))", True),
        ("InputFault(worded('There is no file {path}', path=path), HINT)", False),
        ("InputFault('')", False),
    ],
)
def test_bare_texts_are_seen(line: str, found: bool) -> None:
    """The reader of syntax finds what it is meant to find."""
    assert bool(list(bare({"m": ast.parse(line)}, {"InputFault": slice(0, 2)}))) is found
