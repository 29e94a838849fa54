"""A live inspection, turn by turn: what is kept, answered and shown."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest
from live_bay import SPEAKS, Disk, Ears, Voice, play

from voicelog.capture.incoming import Back, Dropped, Ended, Gone
from voicelog.config.grammar import Grammar
from voicelog.config.settings import Settings
from voicelog.domain.signal import Signal, Talk
from voicelog.domain.sound import Clip
from voicelog.errors import EarFault, InputFault
from voicelog.journal.reading import read_log, verify
from voicelog.runtime.messages import Action, Noticed, Partial, SoundEnded, TalkChanged, Told, Took
from voicelog.runtime.session import Session

HOLE = "left rear rail, hole, thirty millimetres"
RUST = "left sill, surface rust"


def test_a_finding_is_on_disk_before_its_tone(shipped_grammar: Grammar, tmp_path: Path) -> None:
    """An acknowledgement is a promise."""
    on_disk: list[bool] = []

    def look(signal: Signal) -> None:
        if signal is Signal.FINDING:
            (journal,) = tmp_path.glob("*/journal.jsonl")
            on_disk.append("sill" in journal.read_text("utf-8"))

    played = play(shipped_grammar, tmp_path, [RUST], voice=Voice(watch=look))
    assert on_disk == [True]
    assert played.entries() == [("sill", "left", "surface-rust")]
    assert played.voice.said[-1] == "left sill: surface rust."


def test_unsafe_has_a_tone_of_its_own(shipped_grammar: Grammar, tmp_path: Path) -> None:
    """And is always read back with its side."""
    played = play(shipped_grammar, tmp_path, ["right control arm mount, hole, it gives"])
    assert Signal.UNSAFE in played.voice.signals
    assert "right control arm mount" in played.voice.said[-1]
    assert "unsafe" in played.voice.said[-1]


def test_what_is_unclear_is_asked_and_answered(shipped_grammar: Grammar, tmp_path: Path) -> None:
    """ "Right" answers which side, and settles the doubt."""
    played = play(shipped_grammar, tmp_path, ["cab mount, scale", "right"])
    assert "cab mount, scale: which side, left or right?" in played.told()
    assert played.entries() == [("cab-mount", "right", "scale")]
    assert not played.took()[-1].event.findings[0].entry.doubtful


def test_what_became_of_an_utterance_is_shown_before_what_is_asked_about_it(
    shipped_grammar: Grammar, tmp_path: Path
) -> None:
    """Whoever reads along line by line would else meet a question about something not told yet."""
    played = play(shipped_grammar, tmp_path, ["cab mount, scale"])
    shown = [
        m for m in played.messages if isinstance(m, Took) or (isinstance(m, Told) and m.question)
    ]
    assert [type(message) for message in shown[-2:]] == [Took, Told]


def test_a_question_lapses_into_doubt(shipped_grammar: Grammar, tmp_path: Path) -> None:
    """Nobody answers: after the time set it is told, and the entry stays doubtful."""
    played = play(shipped_grammar, tmp_path, ["cab mount, scale", 9.5, 0.1, 0.1])
    assert played.voice.signals[-1] is Signal.DOUBTFUL
    assert "it stays doubtful" in played.told()[-1]


def test_the_time_to_answer_begins_when_the_question_was_said(
    shipped_grammar: Grammar, tmp_path: Path
) -> None:
    """However long the tool needs to say it."""
    voice = Voice()

    def slowly() -> None:
        voice.slow = True

    def ends() -> None:
        voice.talking = voice.slow = False

    steps = [0.1, slowly, "cab mount, scale", 20.0, ends, 5.0, "right"]
    played = play(shipped_grammar, tmp_path, steps, voice=voice)
    assert played.entries() == [("cab-mount", "right", "scale")]


def test_standing_by_keeps_and_shows_nothing(shipped_grammar: Grammar, tmp_path: Path) -> None:
    """Neither words nor what they sound like so far, until the resume phrase."""
    steps = ["stand by", "the tow hitch has a hole", SPEAKS, "logbook go ahead", SPEAKS, RUST]
    played = play(shipped_grammar, tmp_path, steps)
    journal = (played.log / "journal.jsonl").read_text("utf-8")
    assert "hitch" not in journal
    assert [m.text for m in played.messages if isinstance(m, Partial)] == ["so far", ""]
    assert "standing-by" in played.states()
    assert played.entries() == [("sill", "left", "surface-rust")]


def test_a_lost_microphone_is_told_and_the_gap_written_down(
    shipped_grammar: Grammar, tmp_path: Path
) -> None:
    """By tone, in words, on the screen and in the log; the inspection goes on."""
    steps = [Gone("headset", "it was unplugged"), 1.0, Back("headset", 7.25), RUST]
    played = play(shipped_grammar, tmp_path, steps)
    assert Signal.MICROPHONE_LOST in played.voice.signals
    assert Signal.MICROPHONE_BACK in played.voice.signals
    assert "no-microphone" in played.states()
    (gap,) = [fact for fact in played.facts() if fact.type == "gap"]
    assert gap.body["lost_s"] == 7.25
    assert played.entries() == [("sill", "left", "surface-rust")]


def test_dropped_sound_is_never_glued_over(shipped_grammar: Grammar, tmp_path: Path) -> None:
    """What was open is closed there, and the log says how much is missing."""
    played = play(shipped_grammar, tmp_path, [SPEAKS, Dropped(0.5, "the machine was too slow")])
    assert played.ears.cuts >= 1
    (gap,) = [fact for fact in played.facts() if fact.type == "gap"]
    assert (gap.body["lost_s"], gap.body["why"]) == (0.5, "the machine was too slow")
    assert any(
        "0.5 s of sound were lost" in m.text for m in played.messages if isinstance(m, Noticed)
    )


def test_a_full_disk_loses_nothing(shipped_grammar: Grammar, tmp_path: Path) -> None:
    """It is told once; what was said meanwhile is written in order when there is room again."""
    disk = Disk()
    steps = [RUST, disk.fill, HOLE, 5.0, "right sill, scale", 5.0, disk.clear, 5.0]
    played = play(shipped_grammar, tmp_path, steps, change=disk.under)
    assert played.entries() == [
        ("sill", "left", "surface-rust"), ("rear-rail", "left", "hole"), ("sill", "right", "scale"),
    ]  # fmt: skip
    assert "storage-refused" in played.states()
    assert sum("the disk refuses" in text for text in played.told()) == 1
    assert verify(played.log).ok
    assert played.closed.exit_code == 0


def test_a_disk_that_stays_full_is_told_with_the_end(
    shipped_grammar: Grammar, tmp_path: Path
) -> None:
    """How many things are not on disk, the reason, and the exit code for storage."""
    disk = Disk(full=True)
    played = play(shipped_grammar, tmp_path, [RUST], affirmed=False, change=disk.under)
    assert played.closed.exit_code == 7
    assert "2 things said are not on disk" in played.closed.fault


def test_stopping_says_so_in_the_log(shipped_grammar: Grammar, tmp_path: Path) -> None:
    """It can be gone on with: it is not closed."""
    played = play(shipped_grammar, tmp_path, [RUST])
    assert played.facts()[-1].type == "stopped"
    assert not played.closed.finished
    assert played.closed.log == played.log


def test_only_an_affirm_finishes(shipped_grammar: Grammar, tmp_path: Path) -> None:
    """Asked with what is still open; the document for other programs is written."""
    played = play(shipped_grammar, tmp_path, [RUST, "finish inspection", Action.AFFIRM])
    assert played.closed.finished
    assert any("places not looked at" in text for text in played.told())
    assert [fact.type for fact in read_log(played.log).facts][-1] == "closed"
    document = json.loads((played.log / "inspection.json").read_text("utf-8"))
    assert [entry["zone"] for entry in document["entries"] if entry["kind"] == "finding"] == [
        "sill"
    ]
    denied = play(shipped_grammar, tmp_path, ["finish inspection", "negative"])
    assert not denied.closed.finished


def test_the_cautions_come_first_and_wait(shipped_grammar: Grammar, tmp_path: Path) -> None:
    """What is said before is kept all the same; the affirm is written down and is no refusal."""
    played = play(shipped_grammar, tmp_path, [RUST, "affirm", HOLE], affirmed=False)
    assert played.told()[0].startswith("Check the lift points")
    assert played.states()[0] == "cautions"
    assert played.states()[-1] == "listening"
    assert [fact.body for fact in played.facts() if fact.type == "cautions"] == [{"affirmed": True}]
    assert len(played.entries()) == 2
    assert Signal.REFUSED not in played.voice.signals
    assert not any(took.event.turn.refused for took in played.took())


def test_the_pedal_decides_what_is_heard(shipped_grammar: Grammar, tmp_path: Path) -> None:
    """Up: nothing. Down: the tool falls silent and listens. Up again: that was the utterance."""
    settings = replace(Settings(), push_to_talk="hold")
    steps = ["tow hitch, hole", Action.PEDAL_DOWN, RUST, Action.PEDAL_UP, "tow hitch, crack"]
    played = play(shipped_grammar, tmp_path, steps, settings)
    assert played.entries() == [("sill", "left", "surface-rust")]
    assert played.ears.held == [b"tow hitch, hole", b"tow hitch, crack"]
    assert played.voice.hushed >= 1
    assert "held" in played.states()


def test_words_wait_while_somebody_speaks(shipped_grammar: Grammar, tmp_path: Path) -> None:
    """A person is never talked over; what has become old is not said at all."""
    played = play(shipped_grammar, tmp_path, [RUST, SPEAKS, SPEAKS, HOLE])
    assert "left rear rail" in played.voice.said[-1]


def test_typed_words_and_keys_go_the_same_way(shipped_grammar: Grammar, tmp_path: Path) -> None:
    """A key says for a person what they could have said."""
    played = play(shipped_grammar, tmp_path, [f">{RUST}", f">{HOLE}", Action.DISREGARD])
    assert played.entries() == [("sill", "left", "surface-rust")]
    heard = [took.event.heard for took in played.took()]
    assert [h.text for h in heard] == ["affirm", RUST, HOLE, "disregard"]
    assert {h.engine for h in heard} == {"typed"}


def test_say_again_repeats_the_last_answer(shipped_grammar: Grammar, tmp_path: Path) -> None:
    """At every level of talk, since it was asked for."""
    settings = replace(Settings(), talk=Talk.FINDINGS)
    played = play(shipped_grammar, tmp_path, [RUST, "say again"], settings)
    assert played.voice.said[-2:] == ["left sill: surface rust.", "left sill: surface rust."]


def test_read_back_tells_what_was_found_here(shipped_grammar: Grammar, tmp_path: Path) -> None:
    """Even where only tones answer."""
    settings = replace(Settings(), talk=Talk.TONES)
    played = play(shipped_grammar, tmp_path, [RUST, "read back"], settings)
    assert [text for text in played.voice.said if "surface rust" in text] == [
        "left sill: surface rust."
    ]


def test_talk_can_be_turned_up_and_down(shipped_grammar: Grammar, tmp_path: Path) -> None:
    """Not beyond its ends."""
    steps = [Action.TALK_MORE, Action.TALK_MORE, Action.TALK_LESS]
    played = play(shipped_grammar, tmp_path, steps)
    talks = [m.talk for m in played.messages if isinstance(m, TalkChanged)]
    assert talks == [Talk.EVERYTHING, Talk.EVERYTHING, Talk.FINDINGS]


def test_too_loud_is_said_once(shipped_grammar: Grammar, tmp_path: Path) -> None:
    """And once that it is quiet again."""
    ears: list[Ears] = []

    def noise(level_dbfs: float) -> None:
        ears[0].noise_dbfs = level_dbfs

    steps = [
        lambda: noise(-20.0), *[1.0] * 8, lambda: noise(-60.0), *[1.0] * 8, lambda: noise(-60.0),
    ]  # fmt: skip
    played = play(
        shipped_grammar, tmp_path, steps, change=lambda _session, found, _voice: ears.append(found)
    )
    assert played.voice.signals.count(Signal.TOO_LOUD) == 1
    assert "too-loud" in played.states()
    assert played.states()[-1] == "listening"


def test_keys_work_when_the_recordings_are_over(shipped_grammar: Grammar, tmp_path: Path) -> None:
    """A rehearsal ends like any inspection: by a person."""
    played = play(shipped_grammar, tmp_path, [Ended(), f">{RUST}", None])
    assert played.entries() == [("sill", "left", "surface-rust")]
    assert any(isinstance(message, SoundEnded) for message in played.messages)


class Listener:
    """Takes sound for a person's when it is loud enough for that: when it shouts."""

    def __init__(self) -> None:
        self.forgot = 0

    def feed(self, pcm: bytes) -> bytes:
        """All of a shout."""
        return pcm if pcm.endswith(b"!") else b""

    def reset(self) -> None:
        """The tool fell silent."""
        self.forgot += 1


def test_it_does_not_hear_itself_but_who_talks_over_it(
    shipped_grammar: Grammar, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Its own words make no entry; a person makes it fall silent, and is heard."""
    monkeypatch.setattr("voicelog.runtime.sound_in.TalkOver", Listener)
    voice = Voice(slow=True)
    steps = [RUST, 0.1, "left rear rail, crack", f"{HOLE}!", 0.1]
    played = play(shipped_grammar, tmp_path, steps, voice=voice)
    assert played.entries() == [("sill", "left", "surface-rust"), ("rear-rail", "left", "hole")]
    assert "talking" in played.states()
    assert voice.hushed >= 2


def test_where_nobody_can_hear_it_nobody_is_missed(
    shipped_grammar: Grammar, tmp_path: Path
) -> None:
    """Without a speaker its words pass in silence; the ear stays open."""
    voice = Voice(slow=True, audible=False)
    played = play(shipped_grammar, tmp_path, [RUST, 0.1, HOLE], voice=voice)
    assert len(played.entries()) == 2


def test_a_noise_without_a_word_is_kept_and_not_answered(
    shipped_grammar: Grammar, tmp_path: Path
) -> None:
    """A door that slams: its sound is in the log, but there is nothing to remark or to sound."""
    played = play(shipped_grammar, tmp_path, [RUST, " "])
    assert len(played.took()) == 3
    assert played.entries() == [("sill", "left", "surface-rust")]
    assert Signal.REMARK not in played.voice.signals
    utterances = [fact for fact in played.facts() if fact.type == "utterance"]
    assert utterances[-1].body["changes"] == []
    assert "clip" in utterances[-1].body


def test_unsafe_is_told_whatever_follows_in_the_same_breath(
    shipped_grammar: Grammar, tmp_path: Path
) -> None:
    """ "Say again" and "affirm" behind it take neither its tone nor its words away."""
    danger = "right control arm mount, hole, it gives"
    for behind in ("say again", "read back", "affirm"):
        played = play(shipped_grammar, tmp_path, [f"{danger}, {behind}"], affirmed=False)
        assert Signal.UNSAFE in played.voice.signals, behind
        assert any("unsafe" in text for text in played.told()), behind


def test_one_affirm_answers_one_question(shipped_grammar: Grammar, tmp_path: Path) -> None:
    """What answers the end, or an entry, says nothing about the cautions."""
    steps = ["finish inspection", "affirm"]
    played = play(shipped_grammar, tmp_path, steps, affirmed=False)
    assert played.closed.finished
    assert "cautions" not in [fact.type for fact in played.facts()]


def test_a_key_comes_after_what_is_being_said(shipped_grammar: Grammar, tmp_path: Path) -> None:
    """ "Disregard" pressed in the silence after a hole takes back the hole, not what was before."""
    ears: list[Ears] = []

    def speaks() -> None:
        ears[0].so_far = HOLE

    steps = [RUST, speaks, SPEAKS, Action.DISREGARD]
    played = play(
        shipped_grammar, tmp_path, steps, change=lambda _session, found, _voice: ears.append(found)
    )
    assert played.entries() == [("sill", "left", "surface-rust")]
    heard = [took.event.heard.text for took in played.took()]
    assert heard == ["affirm", RUST, HOLE, "disregard"]


def test_nothing_comes_after_the_end(shipped_grammar: Grammar, tmp_path: Path) -> None:
    """Neither words nor keys, nor the note that it was stopped; the tone sounds when it is closed."""
    closed: list[bool] = []

    def look(signal: Signal) -> None:
        if signal is Signal.FINISHED:
            (journal,) = tmp_path.glob("*/journal.jsonl")
            closed.append('"closed"' in journal.read_text("utf-8"))

    requests = [f">{RUST}", Action.FINISH, Action.AFFIRM, f">{HOLE}", None]
    steps = [lambda: None, Ended(), *requests]
    played = play(shipped_grammar, tmp_path, steps, voice=Voice(watch=look))
    assert played.closed.finished
    assert played.facts()[-1].type == "closed"
    assert played.entries() == [("sill", "left", "surface-rust")]
    assert closed == [True]


def test_a_full_disk_keeps_the_end_behind_what_was_said(
    shipped_grammar: Grammar, tmp_path: Path
) -> None:
    """While the end itself is refused, nothing is taken that would come after it."""
    disk = Disk(full=True, for_lines=lambda kind, _body: kind == "closed")
    steps = [RUST, "finish inspection", "affirm", HOLE, 5.0, disk.clear, 5.0]
    played = play(shipped_grammar, tmp_path, steps, change=disk.under)
    assert played.closed.finished
    assert played.facts()[-1].type == "closed"
    assert played.entries() == [("sill", "left", "surface-rust")]


def test_that_all_is_kept_is_told_when_all_is_kept(
    shipped_grammar: Grammar, tmp_path: Path
) -> None:
    """Not after the first of several; and an unsafe finding that waited is read back all the same."""
    disk = Disk()
    counts: list[int] = []

    def watched(session: Session, ears: Ears, voice: Voice) -> None:
        disk.under(session, ears, voice)
        voice.watch = lambda signal: counts.append(
            len(session.inspection().live) if signal is Signal.LISTENING else 0
        )

    danger = "right control arm mount, hole, it gives"
    steps = [0.1, disk.fill, danger, RUST, HOLE, disk.clear, 5.0]
    played = play(shipped_grammar, tmp_path, steps, change=watched)
    assert max(counts) == 3
    said = " ".join(played.voice.said)
    assert "unsafe" in said
    assert "everything said is kept" in said


def test_a_question_that_waited_for_the_disk_is_asked_then(
    shipped_grammar: Grammar, tmp_path: Path
) -> None:
    """Its time begins when it was asked, not when the words were said."""
    disk = Disk()
    steps = [disk.fill, "cab mount, scale", 20.0, disk.clear, 5.0, "right"]
    played = play(shipped_grammar, tmp_path, steps, change=disk.under)
    assert played.entries() == [("cab-mount", "right", "scale")]


def test_a_noise_does_not_wipe_what_waits_to_be_said(
    shipped_grammar: Grammar, tmp_path: Path
) -> None:
    """Words that had to wait while somebody spoke are said after it."""
    danger = "right control arm mount, hole, it gives"
    played = play(shipped_grammar, tmp_path, [SPEAKS, f">{danger}", SPEAKS, " ", 0.1])
    assert any("unsafe" in text for text in played.voice.said)


def test_an_action_s_name_is_words_when_it_is_typed(
    shipped_grammar: Grammar, tmp_path: Path
) -> None:
    """Only keys are keys."""
    played = play(shipped_grammar, tmp_path, [">talk-more", ">photo"])
    assert [took.event.heard.text for took in played.took()][1:] == ["talk-more", "photo"]
    assert not [m for m in played.messages if isinstance(m, TalkChanged)]


def test_a_fault_of_the_ear_ends_it_in_order(shipped_grammar: Grammar, tmp_path: Path) -> None:
    """What was said before is on disk, the log can be gone on with, the fault is told."""

    def break_ear(session: Session, _ears: Ears, _voice: Voice) -> None:
        hear = session.hear

        def fails(clip: Clip, **more: object) -> object:
            if session.inspection().live:
                raise EarFault("The ear fell off", "Put it back")
            return hear(clip, **more)  # type: ignore[arg-type]

        session.hear = fails  # type: ignore[method-assign, assignment]

    played = play(shipped_grammar, tmp_path, [RUST, HOLE], change=break_ear)
    assert (played.closed.exit_code, played.closed.log) == (6, played.log)
    assert "The ear fell off" in played.closed.fault
    assert [fact.type for fact in played.facts()][-1] == "stopped"
    assert played.entries() == [("sill", "left", "surface-rust")]


def test_what_cannot_be_written_takes_nothing_with_it(
    shipped_grammar: Grammar, tmp_path: Path
) -> None:
    """A line longer than any reader takes: what was said after it is on disk all the same."""
    disk = Disk(
        full=True,
        for_lines=lambda _type, body: "crack" in str(body.get("reading", "")),
        fault=InputFault("The line is too long", "Say less in a breath"),
    )
    steps = [lambda: None, Ended(), f">{RUST}", ">right sill, crack", f">{HOLE}", None]
    played = play(shipped_grammar, tmp_path, steps, change=disk.under)
    assert played.closed.exit_code == 3
    texts = [f.body["reading"]["text"] for f in played.facts() if f.type == "utterance"]
    assert RUST in texts
    assert played.facts()[-1].type == "stopped"
    assert verify(played.log).ok


def test_a_slow_disk_is_told_once(
    shipped_grammar: Grammar, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whoever waits for a tone learns what for, and that nothing is lost."""
    monkeypatch.setattr("voicelog.runtime.acknowledging.SLOW_S", -1.0)
    played = play(shipped_grammar, tmp_path, [RUST, HOLE])
    told = [text for text in played.told() if "the disk is slow" in text]
    assert len(told) == 1
    assert "Nothing is lost" in told[0]
    assert len(played.entries()) == 2
