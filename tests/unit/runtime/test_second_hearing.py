"""A second ear while somebody inspects: what is written, asked and shown, and never waited for."""

from __future__ import annotations

import json
from pathlib import Path
from time import monotonic, sleep
from typing import Any

import pytest
from live_bay import SPEAKS, Disk, Played, Voice, play
from reviewing import at_the_bench
from second_ears import AtOnce, Fake

from voicelog.config.grammar import Grammar
from voicelog.domain.fact import Fact
from voicelog.domain.opinion import SECOND_OPINION
from voicelog.domain.signal import Signal
from voicelog.export.contract import faults
from voicelog.journal.reading import verify
from voicelog.runtime.logs import open_log
from voicelog.runtime.messages import Action, HeardAgain, Noticed
from voicelog.runtime.second_ear import Answered, Job, SecondEarThread

DOUBTFUL = "left sill sir rust"
"""Doubtful, but of little weight: nothing is asked about it."""
ASKED = "right control arm mount, whole, it gifts"
"""Doubtful and unsafe: it is asked whether it is right."""
OTHER = "right sill, surface rust"
PROPOSED = "the second ear heard right sill, surface rust. Affirm to change it?"


def _opinions(played: Played) -> list[Fact]:
    return [fact for fact in played.facts() if fact.type == SECOND_OPINION]


def _second(fact: Fact) -> dict[str, Any]:
    return dict(fact.body["second"])


def _sound(played: Played) -> None:
    """What is held of every log: whole, in the contract's words, and the same when it is folded."""
    assert verify(played.log).ok
    for line in (played.log / "journal.jsonl").read_text("utf-8").splitlines():
        assert not faults(json.loads(line), "fact")
    assert open_log(played.log).inspection == played.closed.inspection


def test_the_acknowledgement_never_waits(shipped_grammar: Grammar, tmp_path: Path) -> None:
    """The tone sounds before the second ear is even asked for its answer."""
    second = AtOnce(Fake([OTHER]), open=False)
    played = play(shipped_grammar, tmp_path, [DOUBTFUL, 0.1], second=second)
    assert Signal.DOUBTFUL in played.voice.signals
    assert played.entries() == [("sill", "left", "surface-rust")]
    assert second.reasons == ["doubtful"]


def test_what_differs_is_proposed_and_affirmed(shipped_grammar: Grammar, tmp_path: Path) -> None:
    """In the doubtful tone; the correction is written by *affirm* alone."""
    second = AtOnce(Fake([OTHER]))
    played = play(shipped_grammar, tmp_path, [DOUBTFUL, 0.1, 0.1, "affirm"], second=second)
    assert PROPOSED in played.told()
    assert played.entries() == [("sill", "right", "surface-rust")]
    (fact,) = _opinions(played)
    assert _second(fact)["verdict"] == "differs"
    assert _second(fact)["heard"]["engine"] == "second"
    assert fact.body["proposed"][0]["entry"]["slots"]["side"] == "right"
    assert not played.closed.inspection.live[0].entry.doubtful  # type: ignore[union-attr]
    _sound(played)


@pytest.mark.parametrize(
    ("then", "told"),
    [
        ("negative", "it stays as it was, and doubtful"),
        (12.0, "no answer; it stays as it was, and doubtful"),
        ("front cross member, scale", ""),
    ],
)
def test_anything_but_affirm_leaves_it_in_doubt(
    shipped_grammar: Grammar, tmp_path: Path, then: Any, told: str
) -> None:
    """The entry stays as the first ear has it, with the other reading beside it for the review."""
    steps = [DOUBTFUL, 0.1, 0.1, then, 0.1, 0.1]
    played = play(shipped_grammar, tmp_path, steps, second=AtOnce(Fake([OTHER])))
    assert PROPOSED in played.told()
    assert played.entries()[0] == ("sill", "left", "surface-rust")
    assert any(told.lower() in text.lower() for text in played.told())
    entry = open_log(played.log).inspection.live[0].entry
    assert 'the second ear heard "right sill, surface rust"' in entry.doubts
    assert entry.runner_up["side"] == "right"
    _sound(played)


def test_who_has_gone_on_is_not_asked(shipped_grammar: Grammar, tmp_path: Path) -> None:
    """The answer comes while the next thing is being said: it is marked, and nobody interrupted."""
    second = AtOnce(Fake([OTHER]), open=False)

    def answer() -> None:
        second.open = True

    steps = [DOUBTFUL, 0.1, SPEAKS, answer, SPEAKS, "front cross member, scale", 0.1, 0.1]
    played = play(shipped_grammar, tmp_path, steps, second=second)
    assert PROPOSED not in played.told()
    (fact,) = _opinions(played)
    assert "proposed" not in fact.body
    assert open_log(played.log).inspection.live[0].entry.runner_up["side"] == "right"
    _sound(played)


def test_agreement_takes_a_doubt_off(shipped_grammar: Grammar, tmp_path: Path) -> None:
    """The second ear hears the same words without the one that nobody understood."""
    second = AtOnce(Fake(["left sill surface rust"]))
    played = play(shipped_grammar, tmp_path, [DOUBTFUL, 0.1, 0.1], second=second)
    (fact,) = _opinions(played)
    assert _second(fact)["verdict"] == "agrees"
    assert fact.body["changes"] == [
        {"do": "amend", "entry": "e4.1", "set": {}, "why": "second-ear", "doubts": []}
    ]
    assert not open_log(played.log).inspection.live[0].entry.doubtful
    assert [type(m) for m in played.messages].count(HeardAgain) == 1
    _sound(played)


def test_an_open_question_goes_on(shipped_grammar: Grammar, tmp_path: Path) -> None:
    """It was asked whether the entry is right: *negative* leads to what the second ear heard."""
    second = AtOnce(Fake(["right shock mount, whole, right shock mount has a hole"]))
    steps = [ASKED, 0.1, 0.1, "negative", "affirm"]
    played = play(shipped_grammar, tmp_path, steps, second=second)
    assert not any("the second ear heard" in text for text in played.told())
    assert _second(_opinions(played)[0])["verdict"] == "differs"
    assert played.entries() == [("shock-mount", "right", "hole")]
    _sound(played)


def test_a_remark_can_become_an_entry(shipped_grammar: Grammar, tmp_path: Path) -> None:
    """Something was said of the vehicle, and no entry came of it."""
    second = AtOnce(Fake(["left sill has a hole"]))
    steps = ["the fill has a hold in the sills", 0.1, 0.1, "affirm"]
    played = play(shipped_grammar, tmp_path, steps, second=second)
    assert second.reasons == ["unentered"]
    assert any(text.endswith("Affirm to enter it?") for text in played.told())
    assert played.entries()[0] == ("sill", "left", "hole")
    _sound(played)


def test_a_second_ear_that_crashes_is_told_once(shipped_grammar: Grammar, tmp_path: Path) -> None:
    """And the inspection goes on with one."""
    second = AtOnce(Fake([None]))
    steps = [DOUBTFUL, 0.1, 0.1, DOUBTFUL, 0.1, 0.1]
    played = play(shipped_grammar, tmp_path, steps, second=second)
    told = [m for m in played.messages if isinstance(m, Noticed) and "second ear" in m.text]
    assert len(told) == 1
    assert second.closed
    assert [_second(fact)["verdict"] for fact in _opinions(played)] == ["failed"]
    assert len(played.entries()) == 2
    _sound(played)


def test_what_was_not_heard_in_time_is_written_down(
    shipped_grammar: Grammar, tmp_path: Path
) -> None:
    """Before the end of the log, and where a later utterance took its place."""
    second = AtOnce(Fake([]), open=False)
    steps = [DOUBTFUL, 0.1, "left floor sir rust", 0.1]
    played = play(shipped_grammar, tmp_path, steps, second=second)
    assert [_second(fact)["verdict"] for fact in _opinions(played)] == ["dropped", "dropped"]
    assert played.facts()[-1].type == "stopped"
    _sound(played)


def test_it_works_on_a_thread_of_its_own(shipped_grammar: Grammar, tmp_path: Path) -> None:
    """As in a real inspection, whose sound has a clock of its own."""

    class Patient(SecondEarThread):
        """Gives a test what it is waiting for."""

        def ready(self) -> Answered | None:
            """The answer to what was asked, however long that takes."""
            end_s = monotonic() + 5.0
            while (answered := super().ready()) is None and self._busy() and monotonic() < end_s:
                sleep(0.005)
            return answered

        def _busy(self) -> bool:
            return self._at_work is not None or self._waiting is not None

    second = Patient(Fake([OTHER]))
    played = play(shipped_grammar, tmp_path, [DOUBTFUL, 0.1, 0.1, 0.1, "affirm"], second=second)
    second.close()
    assert [_second(fact)["verdict"] for fact in _opinions(played)] == ["differs"]
    assert played.entries() == [("sill", "right", "surface-rust")]


def test_standing_by_and_answers_are_never_heard_twice(
    shipped_grammar: Grammar, tmp_path: Path
) -> None:
    """Neither what is not kept, nor what steers the tool."""
    second = AtOnce(Fake([]))
    steps = ["stand by", "right control arm mount, hole, it gives", "logbook go ahead", "affirm"]
    play(shipped_grammar, tmp_path, steps, second=second)
    assert second.reasons == []


def test_a_full_disk_keeps_a_second_opinion_waiting(
    shipped_grammar: Grammar, tmp_path: Path
) -> None:
    """It is written once there is room, and done once."""
    disk = Disk(for_lines=lambda type_, _body: type_ == SECOND_OPINION)
    steps = [disk.fill, DOUBTFUL, 0.1, 0.1, disk.clear, 3.0, 0.1, "affirm"]
    played = play(shipped_grammar, tmp_path, steps, second=AtOnce(Fake([OTHER])), change=disk.under)
    assert len(_opinions(played)) == 1
    assert played.told().count(PROPOSED) == 1
    assert played.entries() == [("sill", "right", "surface-rust")]
    _sound(played)


def test_it_ends_with_the_inspection(shipped_grammar: Grammar, tmp_path: Path) -> None:
    """What it has not heard is told before the last line."""
    second = AtOnce(Fake([]), open=False)
    steps = [DOUBTFUL, Action.FINISH, 0.1, Action.AFFIRM, 0.1]
    played = play(shipped_grammar, tmp_path, steps, second=second, voice=Voice())
    assert [fact.type for fact in played.facts()][-2:] == [SECOND_OPINION, "closed"]


def test_the_review_shows_what_it_heard(shipped_grammar: Grammar, tmp_path: Path) -> None:
    """Beside the words of the first ear, and as another reading that can be taken."""
    played = play(shipped_grammar, tmp_path, [DOUBTFUL, 0.1, 0.1], second=AtOnce(Fake([OTHER])))
    with at_the_bench(played.log) as review:
        second = review.utterance("e4.1").second
        assert second is not None
        assert second.heard is not None
        assert second.heard.text == OTHER
        others = [a.finding.entry.slots["side"] for a in review.alternatives("e4.1")]
        assert others[0] == "right"


def test_the_end_writes_down_every_answer(shipped_grammar: Grammar, tmp_path: Path) -> None:
    """Several may have come while somebody spoke on; nobody is asked about them any more."""

    class Many(AtOnce):
        """Keeps its answers until the end."""

        def ask(self, job: Job) -> Job | None:
            """Each is answered."""
            self.jobs.append(job)
            return None

        def rest(self) -> list[Job]:
            """Nothing is left, but the answers have not been fetched yet."""
            self.open = True
            return []

    second = Many(Fake([OTHER, OTHER, OTHER]), open=False)
    steps = ["left floor sir rust", 0.1, "left sill sir rust", 0.1, DOUBTFUL, 0.1]
    played = play(shipped_grammar, tmp_path, steps, second=second)
    assert len(_opinions(played)) == 3
    assert not any("proposed" in fact.body for fact in _opinions(played))
    assert PROPOSED not in played.told()
    assert played.facts()[-1].type == "stopped"
    _sound(played)


def test_a_crash_names_what_waited(shipped_grammar: Grammar, tmp_path: Path) -> None:
    """The utterance behind the one that it died of is told to be dropped."""

    class Dies(AtOnce):
        """Answers the first with its crash, while the second waits."""

        def ask(self, job: Job) -> Job | None:
            """Both are kept."""
            self.jobs.insert(0, job)
            self.open = len(self.jobs) > 1
            return None

    steps = [DOUBTFUL, SPEAKS, "left floor sir rust", 0.1, 0.1]
    played = play(shipped_grammar, tmp_path, steps, second=Dies(Fake([None]), open=False))
    verdicts = [_second(fact)["verdict"] for fact in _opinions(played)]
    assert verdicts == ["failed", "dropped"]
    _sound(played)
