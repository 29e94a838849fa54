"""Under a language that nobody speaks, people read nothing else; documents and exit codes stay as they are."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from types import SimpleNamespace

import pytest

from tests.catalogue.extract import CLICK, extracted
from tests.catalogue.pseudo import LANGUAGE, install, plain_words, pseudo
from voicelog import tongue
from voicelog.cli.main import run
from voicelog.config.settings import Settings
from voicelog.domain.signal import Signal
from voicelog.export.html import _environment
from voicelog.runtime.answering import Answering
from voicelog.runtime.logs import open_log
from voicelog.runtime.messages import Message, Told
from voicelog.runtime.opening import open_reading
from voicelog.runtime.read_back import read_back
from voicelog.runtime.states_aloud import too_loud
from voicelog.tongue import _names, english_of, worded, worded_many

Speak = Callable[[str], None]
"""Changes the language: ``en`` or that of :mod:`tests.catalogue.pseudo`."""

SAID = (
    "left mid rail, scale, firm",
    "left front rail, hole, twelve millimetres",
    "right shock mount, crack",
    "left rear rail, hole, no solid metal left around it",
    "maybe a soft spot on the right mid rail",
    "left kick-up, reads two point two, three point two new",
    "left crush section inside, not seen",
)


@pytest.fixture(scope="module")
def locale(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The language, installed."""
    folder = tmp_path_factory.mktemp("locale")
    install(extracted(), folder)
    return folder


@pytest.fixture
def speak(locale: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Speak]:
    """English at first, and at the end."""

    def change(language: str) -> None:
        monkeypatch.setenv("LANGUAGE", language)
        tongue.catalogue.cache_clear()
        _environment.cache_clear()  # a page's headings are made once

    monkeypatch.setattr(tongue, "locale_folder", lambda: locale)
    change("en")
    yield change
    change("en")


@pytest.fixture(scope="module")
def log(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A log with findings of many kinds."""
    with open_reading(Settings(into=tmp_path_factory.mktemp("said")), keep=True) as session:
        for number, said in enumerate(SAID):
            session.read(said, at_s=float(number * 60))
        assert session.folder is not None
        return session.folder


_NOW = re.compile(r"\d{4}-\d\d-\d\dT[\d:.]+")

OPTIONS = "set runner confirm withdraw restore say split merge add move undo redo"
"""Of ``amend``, as a fault lists them."""


NAMES = ("ASTM", "ISO", "IMO")
"""Published scales, which are called the same everywhere."""


def shown(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[object, str, str]:
    """Exit code, standard output and standard error of a command line."""
    code: object = 0
    try:
        run(words)
    except SystemExit as left:
        code = left.code
    out, err = capsys.readouterr()
    return code, out, err


@pytest.mark.parametrize(
    ("words", "values"),
    [
        ("read x --map nowhere", "nowhere frame unibody backbone trailer ladder"),
        ("read x --map nowhere.toml", "nowhere toml"),
        ("read x --grammar nowhere", "nowhere maps rules words overlays"),
        ("hear nothing.wav", "nothing wav"),
        ("hear .", ""),
        ("doctor --ear nothing", "ear doctor"),
        ("sounds --voice none --say hello", ""),
        ("why LOG e99.1", "e99"),
        ("review nowhere --plain", "nowhere journal jsonl"),
        ("amend LOG --entry e2.1", OPTIONS),
        ("amend LOG --entry e2.1 --set side=purple", "purple left right centre both side"),
        ("amend LOG --entry e2.1 --set thickness=17furlongs", "furlongs thickness"),
        ("sign LOG --by x", ""),
        ("export LOG -o x.nothing", "nothing json html pdf csv vtt"),
        ("erase LOG", ""),
        ("words learned --remove nothing", "nothing"),
        ("help nothing", "nothing moving"),
        ("start --rehearse nothing.wav", "nothing wav"),
        ("warm-up --rehearse --phrases nothing", "nothing No such file or directory"),
        ("list nowhere", "nowhere No such file or directory"),
    ],
)  # fmt: skip
def test_faults_are_told_in_the_language(
    words: str, values: str, speak: Speak, log: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Message and next step, all but the values; the exit code is the same."""
    line = [str(log) if word == "LOG" else word for word in words.split()]
    code, _, english = shown(capsys, *line)
    speak(LANGUAGE)
    assert shown(capsys, *line)[0] == code != 0, english
    _, _, told = shown(capsys, *line)
    assert told != english
    assert set(plain_words(told)) <= {"voicelog", *values.split(), *plain_words(str(log))}, told


def test_every_text_can_be_shown(speak: Speak) -> None:
    """With a value for each of its names, none of them lost."""
    speak(LANGUAGE)
    for one in extracted():
        if one.locations == [(CLICK, 1)]:
            continue  # click puts its values in by itself
        if isinstance(one.id, tuple):
            values = dict.fromkeys(_names(one.id[0]) | _names(one.id[1]), "42")
            values.pop("count", None)
            assert not plain_words(worded_many(*one.id, 42, **values))
        elif one.id:
            said = worded(
                one.id, **{name: f"<{number}>" for number, name in enumerate(_names(one.id))}
            )
            assert not plain_words(said)
            assert all(f"<{number}>" in said for number in range(len(_names(one.id))))
            assert said.english == one.id.format_map(
                {name: f"<{number}>" for number, name in enumerate(_names(one.id))}
            )


@pytest.mark.parametrize(
    "words", ["--help", "amend --help", "words --help", "words learned --help"]
)
def test_help_is_told_in_the_language(
    words: str, speak: Speak, capsys: pytest.CaptureFixture[str]
) -> None:
    """Whole sentences; names of commands, options and values stay, and so do lines to type."""
    speak(LANGUAGE)
    code, told, _ = shown(capsys, *words.split())
    told = told.replace("Show this message and exit.", "")  # click keeps what it once made of it
    shown_plain = re.sub(
        r"voicelog .*|--[\w-]+|\[[a-z|]+\]|^  [a-z-]+ {2,}", "", told, flags=re.MULTILINE
    )
    assert code == 0
    assert [word for word in plain_words(shown_plain) if word.islower()] == [], told


@pytest.mark.parametrize(
    "words",
    ["read --json SAID", "why LOG --json", "work LOG --json", "review LOG --json", "list FOLDER --json",
     "vehicle LOG --json", "photos LOG --json", "compare LOG LOG --json", "export LOG --to json -o -",
     "export LOG --to csv -o -", "export LOG --to vtt -o - --no-audio"],
)  # fmt: skip
def test_documents_are_the_same_in_every_language(
    words: str, speak: Speak, log: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Byte for byte."""
    stands_for = {"LOG": str(log), "FOLDER": str(log.parent), "SAID": SAID[0]}
    line = [stands_for.get(word, word) for word in words.split()]
    code, english, _ = shown(capsys, *line)
    assert (code, bool(english)) == (0, True)
    speak(LANGUAGE)
    again, strange, _ = shown(capsys, *line)
    assert (again, _NOW.sub("now", strange)) == (code, _NOW.sub("now", english))
    if "--json" in words:
        json.loads(english)


def test_journals_are_the_same_in_every_language(speak: Speak, tmp_path: Path) -> None:
    """What is kept, the points that are open at a signature too, is English."""
    speak(LANGUAGE)
    with open_reading(Settings(into=tmp_path), keep=True) as session:
        for said in SAID:
            session.read(said, at_s=0.0)
    assert session.folder is not None
    run(["sign", str(session.folder), "--by", "x", "--why", "y"])
    lines = (session.folder / "journal.jsonl").read_text("ascii").splitlines()
    assert json.loads(lines[-1])["open"]
    assert [
        line for line in lines if not json.dumps(json.loads(line), ensure_ascii=False).isascii()
    ] == []


def test_what_verify_finds_is_told_in_the_language(
    speak: Speak, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Names of files stay as they are."""
    with open_reading(Settings(into=tmp_path), keep=True) as session:
        session.read(SAID[0], at_s=0.0)
    assert session.folder is not None
    next((session.folder / "grammar" / "words").glob("*.toml")).unlink()
    (session.folder / "grammar" / "rules" / "frame.toml").write_text("")
    speak(LANGUAGE)
    code, out, err = shown(capsys, "verify", str(session.folder))
    assert code == 5
    told = re.sub(r"grammar/\S+", "", out + err)
    assert set(plain_words(told)) <= {"voicelog", *plain_words(str(session.folder))}, told


def test_reasons_and_advice_are_told_in_the_language(
    speak: Speak, log: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """No word of an English verdict is left, but for those that the grammar gives."""
    english = [shown(capsys, command, str(log))[1] for command in ("why", "work", "verify")]
    speak(LANGUAGE)
    strange = [shown(capsys, command, str(log))[1] for command in ("why", "work", "verify")]
    given = set(
        plain_words(" ".join(p.read_text("utf-8") for p in (log / "grammar").rglob("*.toml")))
    )
    answers = "not enough seen do drive local major beyond repairable replacement specialist"
    for before, after in zip(english, strange, strict=True):
        assert before != after
        left = {word.lower() for word in plain_words(after)} - {word.lower() for word in given}
        assert left <= {*answers.split(), *map(str.lower, plain_words(str(log)))}, after


def test_answers_are_shown_in_the_language_and_said_in_english(speak: Speak, log: Path) -> None:
    """The voices speak English, and so do the answers to a question."""
    speak(LANGUAGE)
    opened = open_log(log)
    found = opened.inspection.live[1]
    told = read_back(found, opened.grammar.zone_map)
    assert (plain_words(told), english_of(told)) == (
        ["front", "rail", "hole", "repair"],
        "left front rail: hole, 12 millimetres, repair",
    )
    said, told_to_all = list[str](), list[Message]()
    announcer = SimpleNamespace(
        say=lambda text, **_: said.append(text), signal=lambda _: 0.0, talking=False
    )
    answering = Answering(announcer, Settings(), opened.grammar, told_to_all.append)  # type: ignore[arg-type]
    answering.alarm(Signal.TOO_LOUD, too_loud())
    answering.go_on(quiet=True)
    assert said == ["too loud to hear words; wait, or come closer"]
    [shown_text] = [one.text for one in told_to_all if isinstance(one, Told)]
    assert plain_words(shown_text) == []


def test_the_report_is_told_in_the_language(
    speak: Speak, log: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Headings, labels and the sentences of its own; findings, zones and rules come from the log."""
    page = tmp_path / "report.html"
    speak(LANGUAGE)
    assert shown(capsys, "export", str(log), "-o", str(page))[0] == 0
    text = re.sub(r"<style>.*?</style>|<svg.*?</svg>", "", page.read_text("utf-8"), flags=re.DOTALL)
    told = re.findall(r"<(?:h[1-6]|th|dt|summary|figcaption|title)\b[^>]*>([^<]+)<", text)
    told += re.findall(r'(?:aria|data)-label="([^"]+)"', text)
    assert len(told) > 40
    english = [one for one in told if plain_words(one) and one.isascii() and not one.isupper()]
    assert [one for one in english if not one.startswith(NAMES)] == []


def test_strange_letters_are_strange() -> None:
    """The test of the tests."""
    assert plain_words(pseudo("A file {path} cannot be read")) == ["path"]
