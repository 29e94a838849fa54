"""What was learned from corrections: written readably, in force, listed, and taken back."""

from __future__ import annotations

import os
import stat
import tomllib
from codecs import BOM_UTF8 as BOM
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from voicelog.config.cache import checked_grammar
from voicelog.config.grammar import files_in_force, grammar_in_force, load_grammar
from voicelog.config.learned import Learned, learn, learned, unlearn
from voicelog.config.learned_files import file_name, inspector, learned_files
from voicelog.config.learned_text import without_notes
from voicelog.config.settings import Settings
from voicelog.domain.lesson import Lesson
from voicelog.domain.reading import Phrase
from voicelog.errors import GrammarFault, StorageFault, UsageFault

SHAFT = Lesson("chaft", "zone", "left-shaft", "shaft", 0.9)
RINGS = Lesson("wrings", "probe", "firm", "rings", 0.9, {"method": "tapped"})
MEMBER = Lesson("ember", "family", "left-shaft+axle-block", "member", 0.9)
OTHER = '{ id = "axle-block", misheard = ["block"] }'
DAY = date(2026, 11, 25)


@pytest.fixture
def settings(cart: Path, tmp_path: Path) -> Settings:
    """The small grammar, and a folder for what is learned that is not there yet."""
    return Settings(
        into=tmp_path, map="cart", grammar=cart, learned=tmp_path / "words", inspector="ann"
    )


def _learn(settings: Settings, lesson: Lesson, for_: str = "shop", sentence: str = "") -> Path:
    assert for_ in ("shop", "person")
    return learn(settings, lesson, for_=for_, on=DAY, sentence=sentence)  # type: ignore[arg-type]


def _phrases(settings: Settings, *texts: str) -> list[Phrase]:
    return [p for p in grammar_in_force(settings).vocabulary.phrases if p.text in texts]


def test_a_lesson_is_written_so_that_a_person_can_read_it(settings: Settings) -> None:
    """One table, and above it when, by whom, for what and in which sentence."""
    text = _learn(settings, SHAFT, sentence="left chaft, scale").read_text()
    assert text.endswith(
        '\n# 2026-11-25, by "ann": heard for "shaft" in "left chaft, scale"\n'
        '[[zone]]\nid = "left-shaft"\nmisheard = ["chaft"]\n'
    )


def test_it_is_in_force_without_being_named_anywhere(settings: Settings) -> None:
    """Zones, families and meanings, with the further slots of a meaning; nothing is a hint."""
    for lesson in (SHAFT, RINGS, MEMBER):
        _learn(settings, lesson)
    assert _phrases(settings, "chaft", "wrings", "ember") == [
        Phrase("wrings", "probe", "firm", {"method": "tapped"}, misheard=True),
        Phrase("chaft", "zone", "left-shaft", misheard=True),
        Phrase("ember", "family", "left-shaft+axle-block", misheard=True),
    ]
    assert "chaft" not in grammar_in_force(settings).vocabulary.spoken()


def test_a_log_copies_it_and_reads_the_same(settings: Settings, tmp_path: Path) -> None:
    """The files of a grammar hold it, so that a log keeps the words it was read with."""
    _learn(settings, SHAFT)
    grammar = grammar_in_force(settings)
    for name, raw in grammar.files.items():
        (tmp_path / "log" / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / "log" / name).write_bytes(raw)
    assert "overlays/001-learned-shop.toml" in grammar.files
    assert load_grammar("cart", folder=tmp_path / "log").vocabulary == grammar.vocabulary


def test_the_cache_knows_when_something_was_learned(
    settings: Settings, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A kept grammar is never one from before."""
    monkeypatch.setattr("voicelog.config.cache.cache_folder", lambda: tmp_path / "cache")
    before = checked_grammar(settings)
    _learn(settings, SHAFT)
    after = checked_grammar(settings)
    assert len(after.vocabulary.phrases) == len(before.vocabulary.phrases) + 1
    assert checked_grammar(settings) == after


def test_a_persons_words_lie_on_top_and_are_nobody_elses(settings: Settings) -> None:
    """The shop's file first, then the person's, then the user's own overlays."""
    own = settings.into / "own.toml"
    own.write_text("")
    _learn(settings, SHAFT)
    _learn(settings, RINGS, "person")
    ben = replace(settings, inspector="ben", overlays=(own,))
    names = [name for name in files_in_force(replace(settings, overlays=(own,))) if "over" in name]
    assert names == [
        "overlays/001-learned-shop.toml", "overlays/002-learned-ann.toml", "overlays/003-own.toml",
    ]  # fmt: skip
    assert _phrases(ben, "chaft")
    assert not _phrases(ben, "wrings")


def test_only_the_owner_reads_a_persons_words(settings: Settings) -> None:
    """Those of the shop are as open as the machine lets them be."""
    modes = [_learn(settings, SHAFT, who).stat().st_mode for who in ("person", "shop")]
    if os.name == "posix":
        assert stat.S_IMODE(modes[0]) == 0o600
        assert stat.S_IMODE(modes[1]) & 0o600 == 0o600


def test_a_persons_lesson_goes_to_whoever_corrected(settings: Settings) -> None:
    """Somebody who gives another name than the machine's learns for that name."""
    path = learn(settings, RINGS, for_="person", by="ben", on=DAY)
    assert path.name == "learned-ben.toml"
    assert not _phrases(settings, "wrings")
    assert _phrases(replace(settings, inspector="ben"), "wrings")


def test_a_share_out_of_reach_keeps_nobody_from_starting(
    settings: Settings, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As if nothing had been learned yet."""
    _learn(settings, SHAFT)

    def away(_folder: object) -> list[str]:
        raise OSError(112, "Host is down")

    monkeypatch.setattr("os.listdir", away)
    assert learned_files(settings) == ()
    assert not _phrases(settings, "chaft")


def test_a_log_says_nothing_of_who_corrected_what(settings: Settings) -> None:
    """Names and sentences of other inspections stay in the shop's file; words and other comments go
    along.
    """
    _learn(settings, SHAFT, sentence="plate AB 12, left chaft, scale")
    path = _learn(settings, RINGS, sentence="it wrings")
    path.write_text(path.read_text() + "# ours: the old cart\n")
    raw = path.read_bytes()
    copied = without_notes(raw)
    assert b"ann" not in copied
    assert b"plate" not in copied
    assert b"# ours: the old cart" in copied
    assert tomllib.loads(copied.decode()) == tomllib.loads(raw.decode())
    assert without_notes(copied) is copied


@pytest.mark.parametrize("change", [lambda raw: raw.replace(b"\n", b"\r\n"), lambda raw: BOM + raw])
def test_however_an_editor_saved_it(settings: Settings, change: Callable[[bytes], bytes]) -> None:
    """Line ends and the mark at the beginning hide no comment."""
    raw = change(_learn(settings, SHAFT).read_bytes())
    assert b"ann" not in without_notes(raw)


def test_what_only_looks_like_such_a_comment_stays(settings: Settings) -> None:
    """Within a value of several lines it is no comment."""
    note = _learn(settings, SHAFT).read_text().split("\n")[4]
    assert note.startswith("# 2026")
    raw = f'[[zone]]\nid = "left-shaft"\ntitle = """\n{note}\n"""\n'.encode()
    assert without_notes(raw) == raw


def test_what_was_learned_is_listed_with_its_note(settings: Settings) -> None:
    """Words, meaning, for whom, and what the comment says."""
    _learn(settings, SHAFT, sentence='a "chaft"\x1b[31m')
    (one,) = learned(settings)
    assert (one.heard, one.slot, one.value, one.for_) == ("chaft", "zone", "left-shaft", "shop")
    note = one.note
    assert (note.on, note.by, note.say) == ("2026-11-25", "ann", "shaft")
    assert note.sentence == 'a "chaft"?[31m'
    assert one.file.read_text().splitlines()[one.line - 1] == 'misheard = ["chaft"]'


def test_without_its_comment_it_is_listed_all_the_same(settings: Settings) -> None:
    """A person may delete or change what stands above."""
    path = _learn(settings, SHAFT)
    path.write_text(path.read_text().replace("# 2026", "# in 2026"))
    assert [(one.heard, one.note.on) for one in learned(settings)] == [("chaft", "")]


def test_learned_again_it_stands_once_and_means_the_new(settings: Settings) -> None:
    """The later lesson about the same words holds."""
    _learn(settings, SHAFT)
    _learn(settings, replace(RINGS, heard="chaft"))
    assert [(one.heard, one.slot) for one in learned(settings)] == [("chaft", "probe")]


def test_taking_back_leaves_everything_else_as_it_was(settings: Settings) -> None:
    """The file is the one from before the lesson, letter for letter."""
    before = _learn(settings, RINGS).read_text() + "\n# mine: keep this\n"
    path = _learn(settings, RINGS)
    path.write_text(before)
    _learn(settings, SHAFT)
    (gone,) = unlearn(settings, " Chaft ")
    assert (gone.heard, gone.value) == ("chaft", "left-shaft")
    assert path.read_text() == before


def test_a_file_edited_by_hand_keeps_comments_and_other_words(settings: Settings) -> None:
    """One word leaves a list of several lines; a table with more to say stays."""
    path = _learn(settings, SHAFT)
    path.write_text(
        'learned = true\n# mine\n[[zone]]\nid = "left-shaft"  # the long one\nsay = ["pole"]\n'
        'misheard = [\n  "chaft",  # often\n  "shift",\n]\n\n# the end\n[limits]\nloss_percent = 20\n'
    )
    unlearn(settings, "chaft")
    assert path.read_text() == (
        'learned = true\n# mine\n[[zone]]\nid = "left-shaft"  # the long one\nsay = ["pole"]\n'
        'misheard = ["shift"]\n\n# the end\n[limits]\nloss_percent = 20\n'
    )
    unlearn(settings, "shift")
    assert "misheard" not in path.read_text()
    assert 'say = ["pole"]' in path.read_text()


def test_taken_back_for_one_only(settings: Settings) -> None:
    """What the shop learned stays where only the person's word is taken back."""
    _learn(settings, SHAFT)
    _learn(settings, SHAFT, "person")
    unlearn(settings, "chaft", for_="person")
    assert [one.for_ for one in learned(settings)] == ["shop"]


def test_nothing_learned_is_told_with_the_nearest(settings: Settings) -> None:
    """A slip of the finger need not be looked up."""
    _learn(settings, SHAFT)
    with pytest.raises(UsageFault, match="'chuft' .did you mean 'chaft'"):
        unlearn(settings, "chuft")


def test_a_broken_file_is_told_once_and_left_alone(settings: Settings) -> None:
    """Neither a new lesson nor taking one back touches it."""
    path = _learn(settings, SHAFT)
    path.write_text(broken := path.read_text() + "[[zone]\n")
    for act in (
        lambda: learned(settings), lambda: _learn(settings, RINGS),
        lambda: unlearn(settings, "chaft"), lambda: grammar_in_force(settings),
    ):  # fmt: skip
        with pytest.raises(GrammarFault, match="1 fault in") as caught:
            act()
        assert "learned-shop.toml:9: column 7: not valid TOML" in str(caught.value)
    assert path.read_text() == broken


def test_a_word_that_cannot_be_taken_out_safely_is_left_to_a_person(settings: Settings) -> None:
    """An inline table is valid, but nothing here rewrites it."""
    path = _learn(settings, SHAFT)
    path.write_text(text := f'zone = [{{ id = "left-shaft", misheard = ["chaft"] }}, {OTHER}]\n')
    with pytest.raises(GrammarFault, match="Delete it by hand at line 1"):
        unlearn(settings, "chaft")
    assert path.read_text() == text


def test_what_people_say_holds_over_what_was_learned(settings: Settings) -> None:
    """A word that the shipped grammar or an overlay gets later is no fault."""
    own = settings.into / "own.toml"
    own.write_text('[[meaning]]\nslot = "hedge"\nvalue = "tentative"\nsay = ["chaft"]\n')
    _learn(settings, SHAFT)
    _learn(settings, replace(RINGS, heard="scale"))
    over = replace(settings, overlays=(own,))
    assert [(p.slot, p.misheard) for p in _phrases(over, "chaft")] == [("hedge", False)]
    assert [(p.slot, p.misheard) for p in _phrases(over, "scale")] == [("condition", False)]


def test_it_holds_over_what_else_is_misheard(settings: Settings) -> None:
    """The shop knows its recogniser better than the shipped list, and a person theirs."""
    _learn(settings, replace(RINGS, heard="skale"))
    _learn(settings, replace(SHAFT, heard="skale"), "person")
    assert [p.slot for p in _phrases(settings, "skale")] == ["zone"]
    unlearn(settings, "skale", for_="person")
    assert [p.slot for p in _phrases(settings, "skale")] == ["probe"]


def test_words_for_places_of_another_map_keep_nobody_from_starting(settings: Settings) -> None:
    """One file serves all maps of a shop."""
    _learn(settings, replace(SHAFT, value="sill"))
    _learn(settings, replace(MEMBER, value="sill+bulkhead"))
    _learn(settings, RINGS)
    assert [p.text for p in _phrases(settings, "chaft", "ember", "wrings")] == ["wrings"]
    assert [zones.zones for zones in grammar_in_force(settings).zone_map.families] == [
        ("left-shaft", "axle-block")
    ]


def test_an_overlay_may_add_mishearings_alone_but_not_nothing(cart: Path, tmp_path: Path) -> None:
    """A meaning without any words is a slip."""
    overlay = tmp_path / "shop.toml"
    overlay.write_text('[[meaning]]\nslot = "condition"\nvalue = "scale"\nmisheard = ["scaled"]\n')
    phrases = load_grammar("cart", folder=cart, overlays=[overlay]).vocabulary.phrases
    assert Phrase("scaled", "condition", "scale", misheard=True) in phrases
    overlay.write_text('[[meaning]]\nslot = "condition"\nvalue = "scale"\n')
    with pytest.raises(GrammarFault, match="meaning.say: is missing: give a way to say it"):
        load_grammar("cart", folder=cart, overlays=[overlay])


def test_without_a_folder_nothing_is_learned(settings: Settings) -> None:
    """Settings made by a program name none, unless they say so."""
    nowhere = replace(settings, learned=None)
    assert learned_files(nowhere) == ()
    with pytest.raises(UsageFault, match="no folder"):
        _learn(nowhere, SHAFT)


def test_a_folder_that_refuses_is_told(settings: Settings) -> None:
    """The lesson is lost, and nothing else."""
    (settings.into / "words").write_text("a file where the folder should be")
    with pytest.raises(StorageFault, match="until then it is not learned"):
        _learn(settings, SHAFT)


@pytest.mark.parametrize(
    "name", ["Ann", "Ann B", "../../etc/x", "Jürgen", "shop", "\x1b[31m", "", "李"]
)
def test_any_name_is_a_safe_and_single_file_name(name: str) -> None:
    """No separators, no marks, never the shop's, and another one for every person."""
    made = file_name("person", name)
    assert made.removeprefix("learned-").removesuffix(".toml").replace("-", "").isalnum()
    assert made.isascii()
    others = ("ann", "ann-b", "jurgen", "etc-x", "31m")
    assert made not in {file_name("shop"), *(file_name("person", other) for other in others)}


def test_a_name_that_is_safe_stays_readable() -> None:
    """Most are."""
    assert file_name("person", "ann") == "learned-ann.toml"
    assert file_name("person", "Ann B").startswith("learned-ann-b-")


def test_without_a_name_the_machines_user_is_the_inspector(monkeypatch: pytest.MonkeyPatch) -> None:
    """Somebody without a name where that is not known either."""
    monkeypatch.setattr("getpass.getuser", lambda: "ben")
    assert (inspector(Settings()), inspector(Settings(inspector="Ann"))) == ("ben", "Ann")

    def unknown() -> str:
        raise OSError

    monkeypatch.setattr("getpass.getuser", unknown)
    assert inspector(Settings()) == "unnamed"


def test_the_text_is_toml_whatever_was_heard(settings: Settings) -> None:
    """Quotes and marks in words and names do no harm."""
    odd = replace(settings, inspector='A "B" \\ C\nid = "x"')
    path = _learn(odd, replace(SHAFT, heard="5's"), "person", sentence='"\n[limits]\x7f')
    assert tomllib.loads(path.read_text())["zone"] == [{"id": "left-shaft", "misheard": ["5's"]}]
    assert isinstance(learned(odd)[0], Learned)
