"""Texts in the language of whoever reads them: looked up safely, values as they are, English kept."""

from __future__ import annotations

import json
import pickle
from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from voicelog import tongue
from voicelog.domain.inert import inert
from voicelog.errors import GrammarFault, InputFault
from voicelog.tongue import (
    NOTHING,
    Worded,
    as_it_is,
    begun,
    both,
    either,
    english_of,
    handed_over,
    in_english,
    joined,
    languages,
    reworded,
    worded,
    worded_many,
)  # fmt: skip


class Spoken:
    """Stands in for a catalogue."""

    def __init__(self, texts: Mapping[str, str]) -> None:
        self._texts = texts

    def gettext(self, text: str) -> str:
        """The translation, or the text."""
        return self._texts.get(text, text)

    def ngettext(self, one: str, many: str, count: int) -> str:
        """The same by number."""
        return self.gettext(one if count == 1 else many)


@pytest.fixture
def german(monkeypatch: pytest.MonkeyPatch) -> Iterator[dict[str, str]]:
    """Some German; a test adds to it."""
    texts = {"{path} is empty": "{path} ist leer", "{message}. {hint}": "{message}. {hint}"}
    monkeypatch.setattr(tongue, "catalogue", lambda: Spoken(texts))
    return texts


def test_english_is_what_stands_there() -> None:
    """Without a catalogue the text is its own translation."""
    said = worded("{path} is empty", path="a.wav")
    assert said == said.english == "a.wav is empty"
    assert worded_many("{count} entry", "{count} entries", 1) == "1 entry"
    assert worded_many("one entry", "{count} entries", 2, more=3) == "2 entries"


def test_a_translation_is_shown_and_its_english_kept(german: dict[str, str]) -> None:
    """Values that are worded themselves are in the same language."""
    german |= {"which is {what}": "das ist {what}", "one entry": "ein Eintrag", "bad": "schlecht"}
    said = worded("{path} is empty", path=worded("which is {what}", what=worded("bad")))
    assert said == "das ist schlecht ist leer"
    assert said.english == "which is bad is empty"
    many = worded_many("one entry", "{count} entries", 1)
    assert (many, many.english) == ("ein Eintrag", "one entry")


@pytest.mark.parametrize(
    "broken",
    ["ist leer", "{pfad} ist leer", "{path} {path.__class__}", "{0} {path}", "{path} {", "{path!r}", "{path:>9999}"],
)  # fmt: skip
def test_a_broken_translation_is_english(broken: str, german: dict[str, str]) -> None:
    """A place that is missing, unknown or more than a name would fail, or show what nobody meant."""
    german["{path} is empty"] = broken
    assert worded("{path} is empty", path="a") == "a is empty"


def test_a_plural_may_leave_out_the_number_alone(german: dict[str, str]) -> None:
    """As English does for one."""
    german |= {"one of {log}": "{count} von {log}", "{count} of {log}": "mehrere"}
    assert worded_many("one of {log}", "{count} of {log}", 1, log="x") == "1 von x"
    assert worded_many("one of {log}", "{count} of {log}", 2, log="x") == "2 of x"


@given(
    value=st.text()
    | st.sampled_from(["{path}", "{0}", "{", "}}", "{path.__class__}", "%s", "{{}}"])
)
def test_values_go_in_once_and_as_they_are(value: str) -> None:
    """Braces of a file's name mean nothing, in no language."""
    with pytest.MonkeyPatch.context() as patch:
        for texts in (None, {"{path} is empty ({why})": "({why}): {path} ist leer"}):
            patch.setattr(tongue, "catalogue", lambda texts=texts: texts and Spoken(texts))
            said = worded("{path} is empty ({why})", path=value, why=value)
            assert said.english == f"{value} is empty ({value})"
            assert said == (f"({value}): {value} ist leer" if texts else said.english)


@given(text=st.text(), value=st.text())
def test_no_translation_makes_a_text_fail(text: str, value: str) -> None:
    """Whatever a translator typed."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(tongue, "catalogue", lambda: Spoken({"{path} is empty": text}))
        said = worded("{path} is empty", path=value)
        assert said.english == f"{value} is empty"
        assert said in (said.english, text.replace("{path}", value))


def test_what_has_no_translation_yet_is_english(german: dict[str, str]) -> None:
    """Tools write an empty text for it."""
    german |= {"Look": "", "this": "", "these {count}": ""}
    assert worded("Look") == "Look"
    assert worded_many("this", "these {count}", 1) == "this"


def test_documents_are_english(german: dict[str, str]) -> None:
    """At any depth; what is no text stays what it is."""
    said = worded("{path} is empty", path="a")
    document = {"why": said, "all": [said, (said, 1)], "none": None}
    plain = {"why": "a is empty", "all": ["a is empty", ["a is empty", 1]], "none": None}
    assert json.dumps(in_english(document)) == json.dumps(plain)


def test_texts_keep_their_english_on_the_way(german: dict[str, str]) -> None:
    """In faults, lists, copies, and to another process."""
    fault = GrammarFault(
        worded("{path} is empty", path="a"), NOTHING, (worded("{path} is empty", path="b"),)
    )
    assert str(fault) == "a ist leer\n  b ist leer"
    assert in_english(str(fault)) == fault.told.english == "a is empty\n  b is empty"
    told = InputFault(worded("{path} is empty", path="a"), worded("Look")).told
    assert (told, told.english) == ("a ist leer. Look", "a is empty. Look")
    assert handed_over(json.loads(json.dumps(told.parts))).english == told.english
    assert handed_over("neither").english == "neither"
    assert pickle.loads(pickle.dumps(told)).english == told.english  # noqa: S301
    assert as_it_is(told) is told
    assert as_it_is("x") == Worded("x")
    assert joined(", ", [told, "x"]).english == "a is empty. Look, x"


def test_names_are_listed_as_sentences_do() -> None:
    """One, two, many."""
    assert [either(names) for names in ((), ("a",), ("a", "b"), ("a", "b", "c"))] == [
        "",
        "a",
        "a or b",
        "a, b or c",
    ]
    assert both(("a", "b", "c")) == "a, b and c"


@pytest.mark.parametrize(
    ("environment", "wanted"),
    [
        ({}, []),
        ({"LANG": "de_DE.UTF-8"}, ["de_DE.UTF-8"]),
        ({"LANG": "de", "LC_MESSAGES": "fr", "LC_ALL": ""}, ["fr"]),
        ({"LANGUAGE": "de:fr", "LC_ALL": "C"}, ["de", "fr"]),
        ({"LANGUAGE": "en:de"}, []),
        ({"LANGUAGE": "de:en_GB:fr"}, ["de"]),
        ({"LC_ALL": "C.UTF-8", "LANG": "de"}, []),
        ({"LANG": "POSIX"}, []),
        ({"LANG": "enm"}, ["enm"]),
    ],
)
def test_the_environment_says_which_language(
    environment: dict[str, str], wanted: list[str]
) -> None:
    """As every program on the system is told it; English is never looked for further than English."""
    assert languages(environment) == wanted


def test_a_damaged_catalogue_is_left_alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Messages are English then, and nothing fails."""
    folder = tmp_path / "xx" / "LC_MESSAGES"
    folder.mkdir(parents=True)
    (folder / "voicelog.mo").write_bytes(b"\xde\x12\x04\x95" + b"\xff" * 40)
    monkeypatch.setattr(tongue, "locale_folder", lambda: tmp_path)
    monkeypatch.setenv("LANGUAGE", "xx")
    tongue.catalogue.cache_clear()
    assert worded("{path} is empty", path="a") == "a is empty"
    monkeypatch.undo()
    tongue.catalogue.cache_clear()


def test_a_text_is_changed_in_both_languages(german: dict[str, str]) -> None:
    """A capital, a cut: the English goes with what is shown, and so does what stands between texts."""
    german |= {"bad": "schlecht", " and ": " und "}
    bad = worded("bad")
    assert (begun(bad), english_of(begun(bad))) == ("Schlecht", "Bad")
    cut = reworded(bad, lambda text: text[:2])
    assert cut.parts == ("sc", "ba")
    assert inert(bad, 5).__class__ is Worded
    assert (inert(bad, 5), english_of(inert(bad, 5))) == ("schl…", "bad")
    list_ = joined(worded(" and "), (bad, "x"))
    assert list_.parts == ("schlecht und x", "bad and x")
    assert (begun("plain"), english_of("plain")) == ("Plain", "plain")
