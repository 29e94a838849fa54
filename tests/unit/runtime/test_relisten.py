"""Listening again: what is proposed, and that nothing is written."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from voicelog.config.data import languages
from voicelog.config.settings import Settings
from voicelog.domain.grade import Grade
from voicelog.domain.heard import Heard, Hypothesis
from voicelog.domain.sound import SAMPLE_RATE, Clip
from voicelog.errors import InputFault, UsageFault
from voicelog.findings.places import place_in_words
from voicelog.recognise.port import Expected
from voicelog.runtime.going_on import earlier_log
from voicelog.runtime.opening import open_again, open_listening
from voicelog.runtime.relisten import Relisten, relisten
from voicelog.runtime.review import Review

SOUND = b"\x00\x10\x00\xf0" * (SAMPLE_RATE // 2) * 3
"""Three seconds."""


class Scripted:
    """An ear that hears one text after another, whatever sounds; an empty one is nothing."""

    engine, model = "second", "scripted"

    def __init__(self, texts: Iterable[str]) -> None:
        self.texts = list(texts)
        self.fed: list[int] = []
        self.closed = False

    def expect(self, expected: Expected) -> None:
        """Whatever it is."""

    def feed(self, pcm: bytes) -> None:
        """Count it."""
        self.fed.append(len(pcm))

    def partial(self) -> str:
        """Nothing."""
        return ""

    def finish(self) -> Heard:
        """The next text."""
        text = self.texts.pop(0)
        return Heard((Hypothesis(text),) if text else (), self.engine, self.model)

    def forget(self) -> None:
        """Nothing."""

    def close(self) -> None:
        """Remember it."""
        self.closed = True


Make = Callable[..., Path]


@pytest.fixture
def settings(tmp_path: Path) -> Settings:
    """The shipped ones, logs beside the test."""
    return Settings(into=tmp_path / "logs")


@pytest.fixture
def heard(settings: Settings, monkeypatch: pytest.MonkeyPatch) -> Make:
    """A log of sentences that an ear heard, three seconds each; returns its folder."""

    def make(*texts: str, closed: bool = True, **more: Any) -> Path:
        monkeypatch.setattr("voicelog.runtime.opening.open_the_ear", lambda *_: Scripted(texts))
        with open_listening(replace(settings, **more)) as session:
            for number in range(len(texts)):
                start_s = 10.0 * number
                session.hear(Clip(SOUND, start_s, start_s + 2.7))
            if closed:
                session.close("end of sound")
            assert session.folder is not None
            return session.folder

    return make


def again(folder: Path, settings: Settings, *texts: str, **how: Any) -> Relisten:
    """Heard again by an ear that hears these."""
    return relisten(folder, settings, ear=lambda _phrases: Scripted(texts), **how)


def _bytes(folder: Path) -> str:
    """All of a folder in one hash."""
    files = sorted(path for path in folder.rglob("*") if path.is_file())
    return hashlib.sha256(b"".join(bytes(path) + path.read_bytes() for path in files)).hexdigest()


def test_a_slot_heard_differently_is_proposed(heard: Make, settings: Settings) -> None:
    """With both texts, both states and nothing but the slot that differs."""
    folder = heard("left front rail, surface rust")
    told = again(folder, settings, "right front rail, surface rust", joint=False)
    (proposal,) = told.proposals
    assert (proposal.entry, proposal.utterance, proposal.differs) == ("e2.1", "u2", ("side",))
    assert proposal.heard_before == "left front rail, surface rust"
    assert proposal.heard_now == "right front rail, surface rust"
    assert proposal.was is not None
    assert proposal.now is not None
    assert proposal.was.entry.slots["side"] == "left"
    assert place_in_words(proposal.now.entry.slots, told.zone_map).startswith("right")
    assert proposal.now.entry.id == "e2.1"


def test_the_log_is_not_touched(heard: Make, settings: Settings) -> None:
    """Not one byte, and no lock is left."""
    folder = heard("left front rail, surface rust")
    before = _bytes(folder)
    assert again(folder, settings, "left front rail, hole", joint=False).proposals
    assert _bytes(folder) == before


def test_a_log_that_is_being_written_is_heard_all_the_same(heard: Make, settings: Settings) -> None:
    """Reading needs no lock."""
    folder = heard("left front rail, surface rust")
    with Review.open(folder, settings, by="somebody") as review:
        assert not review.read_only
        assert again(folder, settings, "left front rail, hole", joint=False).proposals


def test_the_same_words_propose_nothing(heard: Make, settings: Settings) -> None:
    """Heard or only read again."""
    folder = heard("left front rail, surface rust", "scraper went through it")
    texts = ("left front rail, surface rust", "scraper went through it")
    assert again(folder, settings, *texts, joint=False).proposals == ()
    assert relisten(folder, settings).proposals == ()


def test_a_carried_place_follows_what_was_heard_before(heard: Make, settings: Settings) -> None:
    """The second sentence names no place; it moves with the first."""
    folder = heard("left front rail, surface rust", "crack next to it")
    told = again(
        folder, settings, "right front rail, surface rust", "crack next to it", joint=False
    )
    assert [(p.entry, p.differs) for p in told.proposals] == [
        ("e2.1", ("side",)),
        ("e3.1", ("side",)),
    ]


def test_lowering_an_unsafe_entry_is_marked(heard: Make, settings: Settings) -> None:
    """Never silently."""
    folder = heard("left rear rail, crack")
    (proposal,) = again(folder, settings, "left rear rail, surface rust", joint=False).proposals
    assert proposal.grade_before is Grade.UNSAFE
    assert proposal.grade_now is not Grade.UNSAFE
    assert proposal.softens


def test_an_entry_that_nobody_made_is_proposed_as_new(heard: Make, settings: Settings) -> None:
    """Beside the one that stands in the same sentence."""
    folder = heard("left front rail, surface rust", "left sill, scale")
    again_heard = ("left front rail, surface rust", "left sill, scale, and right sill, hole")
    (proposal,) = again(folder, settings, *again_heard, joint=False).proposals
    assert (proposal.entry, proposal.was, proposal.beside) == (None, None, "e3.1")
    assert proposal.now is not None
    assert proposal.now.entry.slots["side"] == "right"
    assert proposal.now.grade is not None


def test_what_was_taken_for_a_remark_becomes_a_finding(heard: Make, settings: Settings) -> None:
    """Under the remark's own id, with everything that a finding has."""
    folder = heard("left front rail, surface rust", "the weather is nice today")
    texts = ("left front rail, surface rust", "right sill, hole")
    (proposal,) = again(folder, settings, *texts, joint=False).proposals
    assert proposal.entry == "e3.1"
    assert {"kind", "zone", "side", "condition"} <= set(proposal.differs)
    assert proposal.now is not None
    assert proposal.now.grade is not None


def test_an_entry_that_is_not_heard_any_more_would_be_withdrawn(
    heard: Make, settings: Settings
) -> None:
    """Another ear heard talk."""
    folder = heard("left rear rail, crack")
    (proposal,) = again(folder, settings, "the weather is nice today", joint=False).proposals
    assert (proposal.entry, proposal.now) == ("e2.1", None)
    assert proposal.softens


def test_what_a_person_put_right_comes_last_and_is_marked(heard: Make, settings: Settings) -> None:
    """The slot set at the bench; another slot of the same entry is an ordinary proposal."""
    folder = heard("left front rail, surface rust", "left sill, scale")
    with Review.open(folder, settings, by="somebody") as review:
        review.correct("e2.1", {"side": "both"})
    texts = ("left rear rail, surface rust", "right sill, scale")
    told = again(folder, settings, *texts, joint=False)
    assert [(p.entry, p.settled) for p in told.proposals] == [("e2.1", False), ("e3.1", False)]
    texts = ("right front rail, surface rust", "right sill, scale")
    told = again(folder, settings, *texts, joint=False)
    assert [(p.entry, p.settled) for p in told.proposals] == [("e3.1", False), ("e2.1", True)]


def test_what_a_person_put_right_the_same_way_is_not_proposed(
    heard: Make, settings: Settings
) -> None:
    """The ear agrees with the bench."""
    folder = heard("left front rail, surface rust")
    with Review.open(folder, settings, by="somebody") as review:
        review.correct("e2.1", {"side": "right"})
    assert again(folder, settings, "right front rail, surface rust", joint=False).proposals == ()


def test_a_confirmed_entry_is_settled_until_that_is_undone(heard: Make, settings: Settings) -> None:
    """Somebody listened and called it right."""
    folder = heard("left front rail pithing")
    for deed, settled in ((lambda r: r.confirm("e2.1"), True), (lambda r: r.undo(), False)):
        with Review.open(folder, settings, by="somebody") as review:
            deed(review)
        (proposal,) = again(folder, settings, "left front rail, hole", joint=False).proposals
        assert proposal.settled is settled


def test_a_sentence_said_anew_is_settled_in_all_its_slots(heard: Make, settings: Settings) -> None:
    """Whoever types it vouches for the slots as well that it leaves as they were."""
    folder = heard("left front rail, surface rust")
    with Review.open(folder, settings, by="somebody") as review:
        review.reread("e2.1", "left front rail, scale")
    (proposal,) = again(folder, settings, "right front rail, surface rust", joint=False).proposals
    assert (proposal.differs, proposal.settled) == (("side",), True)


def test_a_withdrawn_entry_is_left_alone(heard: Make, settings: Settings) -> None:
    """It does not come back because an ear hears it differently."""
    folder = heard("left front rail, surface rust")
    with Review.open(folder, settings, by="somebody") as review:
        review.withdraw("e2.1")
    assert again(folder, settings, "right front rail, surface rust", joint=False).proposals == ()


def test_only_the_entries_named_are_heard(heard: Make, settings: Settings) -> None:
    """The rest counts as it was heard then."""
    folder = heard("left front rail, surface rust", "left sill, scale")
    told = again(folder, settings, "right sill, scale", entries=["e3.1"], joint=False)
    assert (told.looked_at, told.utterances) == (1, 2)
    assert [p.entry for p in told.proposals] == ["e3.1"]
    with pytest.raises(UsageFault, match=r"no entry 'e9\.9'"):
        again(folder, settings, entries=["e9.9"])


def test_only_doubtful_entries_are_heard(heard: Make, settings: Settings) -> None:
    """A place that could be either side is doubtful."""
    folder = heard("left front rail, surface rust", "sill, scale")
    told = again(folder, settings, "right sill, scale", doubtful_only=True, joint=False)
    assert told.looked_at == 1


def test_clips_that_cannot_be_heard_are_named(heard: Make, settings: Settings) -> None:
    """Missing or altered: the words kept are used, the others are heard."""
    folder = heard("left front rail, surface rust", "left sill, scale", "right sill, scale")
    (folder / "clips" / "u2.flac").unlink()
    (folder / "clips" / "u3.flac").write_bytes(b"fLaC")
    told = again(folder, settings, "right sill, hole", joint=False)
    assert set(told.broken) == {"u2", "u3"}
    assert [p.entry for p in told.proposals] == ["e4.1"]


def test_hearing_nothing_proves_nothing(heard: Make, settings: Settings) -> None:
    """No entry goes because the other ear is deaf to it."""
    folder = heard("left front rail, hole")
    told = again(folder, settings, "", joint=False)
    assert (told.unheard, told.proposals) == (["u2"], ())


def test_standing_by_is_as_it_was(heard: Make, settings: Settings) -> None:
    """An ear that hears "stand by", or misses "go ahead", does not swallow the rest of the log."""
    folder = heard("left front rail, scale", "stand by", "logbook go ahead", "left sill, scale")
    told = again(
        folder, settings, "stand by", "stand by", "look book good bread", "left sill, hole",
        joint=False,
    )  # fmt: skip
    assert told.steering == ["u2", "u4"]
    assert [p.entry for p in told.proposals] == ["e5.1"]


def test_a_place_is_not_carried_over_a_new_start(heard: Make, settings: Settings) -> None:
    """The program was started anew between the two sentences, so the second one has no place."""
    folder = heard("left front rail, surface rust", closed=False)
    with open_again(earlier_log(folder, settings), Scripted(["crack"])) as session:
        session.hear(Clip(SOUND, 20.0, 22.7))
    texts = ("right front rail, surface rust", "crack")
    told = again(folder, settings, *texts, joint=False)
    assert [(p.entry, p.differs) for p in told.proposals] == [("e2.1", ("side",))]


def test_a_log_of_another_language_keeps_its_words(heard: Make, settings: Settings) -> None:
    """Unless others are named; a German log is not read with English words by mistake."""
    german = languages()["de"]
    folder = heard("linker vorderer Rahmenträger, Flugrost", grammar=german)
    told = relisten(folder, settings)
    assert "--grammar" in told.remark
    assert told.proposals == ()
    assert relisten(folder, replace(settings, grammar=german)).remark == ""


def test_together_what_makes_sense_wins(heard: Make, settings: Settings) -> None:
    """Whichever ear heard it: the second sentence stays as it was kept."""
    folder = heard("right scaffold bus boat", "left sill, scale")
    texts = ("right sill, hole", "let it still fail")
    told = again(folder, settings, *texts, joint=True)
    assert [(p.utterance, p.heard_now) for p in told.proposals] == [("u2", "right sill, hole")]
    alone = again(folder, settings, *texts, joint=False)
    assert {p.utterance for p in alone.proposals} == {"u2", "u3"}


def test_new_words_are_read_without_an_ear(heard: Make, settings: Settings, tmp_path: Path) -> None:
    """What a shop has taught the tool since."""
    folder = heard("left front rail, wibble wobble")
    learned = tmp_path / "shop.toml"
    learned.write_text(
        '[[meaning]]\nslot = "condition"\nvalue = "crack"\nsay = ["wibble wobble"]\n'
    )
    assert relisten(folder, settings).proposals == ()
    (proposal,) = relisten(folder, replace(settings, overlays=(learned,))).proposals
    assert proposal.now is not None
    assert proposal.now.entry.slots["condition"] == "crack"


def test_progress_is_told_and_the_ear_closed(heard: Make, settings: Settings) -> None:
    """Whatever happens."""
    folder = heard("left front rail, surface rust", "left sill, scale")
    ear, steps = Scripted(["a", "b"]), list[tuple[int, int]]()
    relisten(folder, settings, ear=lambda _: ear, progress=lambda *step: steps.append(step))
    assert steps == [(1, 2), (2, 2)]
    assert ear.closed
    short = Scripted(["a"])
    with pytest.raises(IndexError):
        relisten(folder, settings, ear=lambda _: short)
    assert short.closed


def test_no_log_is_an_input_fault(settings: Settings, tmp_path: Path) -> None:
    """Before any ear is opened."""

    def never(_phrases: object) -> Scripted:
        raise AssertionError("the ear was opened")

    with pytest.raises(InputFault):
        relisten(tmp_path / "nothing", settings, ear=never)
