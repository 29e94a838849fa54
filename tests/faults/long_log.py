"""Logs of any length, made fast: one stretch of real work, written again and again with new numbers.

The stretch is read by the program itself: sentences of the corpus as an ear would have heard them
(several hypotheses, each word with its confidence), corrections and withdrawals among them; then
deeds at the bench, sound that was listened to, pictures. Every line of the long log carries its own
number and the hash of the line before, as the journal would have written it.
"""

from __future__ import annotations

import hashlib
import random
import re
import sys
from collections.abc import Iterator
from contextlib import suppress
from datetime import UTC, datetime, timedelta
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT / "tests" / "bench"))

import corpus  # noqa: E402
from long_lines import Files, Pattern, pattern_of  # noqa: E402

from voicelog.config.settings import Settings  # noqa: E402
from voicelog.domain.entry import Finding  # noqa: E402
from voicelog.domain.heard import Heard, Hypothesis, Word  # noqa: E402
from voicelog.domain.photo import PHOTO, Photo, body_of  # noqa: E402
from voicelog.errors import SofteningFault, UsageFault  # noqa: E402
from voicelog.journal.clock import rfc3339  # noqa: E402
from voicelog.journal.lines import digest, encode  # noqa: E402
from voicelog.journal.naming import JOURNAL  # noqa: E402
from voicelog.journal.reading import iter_facts  # noqa: E402
from voicelog.runtime.opening import open_reading  # noqa: E402
from voicelog.runtime.review import Review  # noqa: E402
from voicelog.runtime.utterance_fact import utterance_body  # noqa: E402

STRETCH = 1_000
"""Lines of the stretch."""

BEGUN = datetime(2026, 3, 2, 8, tzinfo=UTC)
APART_S = 5.0
"""From one line to the next."""

DEEDS, LISTENED, PICTURES = 0.05, 0.02, 0.01
"""Shares of the stretch: deeds at the bench, sound listened to, pictures."""

_STEERING = ("logbook", "stand by", "finish")


def texts(count: int, seed: int) -> list[str]:
    """So many sentences of the corpus in the order of its cases, a tenth of them mere talk."""
    chance = random.Random(seed)
    cases = corpus.load("tuning/hand")
    chance.shuffle(cases)
    said = [text for case in cases for text in case.say]
    said = [text for text in said if not any(word in text for word in _STEERING)]
    talk = [text for case in corpus.load("tuning/chatter") for text in case.say]
    kept = [said[number % len(said)] for number in range(count)]
    return [chance.choice(talk) if chance.random() < 0.1 else text for text in kept]


def heard_as(text: str, seed: int) -> Heard:
    """What the built-in ear may make of a sentence: one to three hypotheses, the right one first."""
    chance = random.Random(seed)
    scripted = corpus.hear(text, corpus.Hearing(0.1, hypotheses=2), f"long {seed}")[0]
    others = [one.text for one in scripted.hypotheses if one.text and one.text != text]
    said = [text, *others[: chance.randrange(3)]]
    return Heard(
        tuple(
            Hypothesis(one, round(1.8 - 0.4 * rank, 4), _words(one, chance))
            for rank, one in enumerate(said)
        ),
        "built-in", "moonshine-tiny-en",
    )  # fmt: skip


def _words(text: str, chance: random.Random) -> tuple[Word, ...]:
    return tuple(Word(word, round(chance.uniform(0.9, 0.99), 3)) for word in text.split())


def write_stretch(parent: Path, lines: int, seed: int) -> Path:
    """The stretch as a log of its own; nobody can tell it from any other."""
    bench = round(lines * (DEEDS + LISTENED + PICTURES))
    with open_reading(Settings(into=parent), keep=True, subject="long") as session:
        journal = session.journal
        assert journal is not None
        for number, text in enumerate(texts(2 * lines, seed)):
            if journal.next_seq > lines - bench:
                break
            name, at_s = f"u{journal.next_seq}", APART_S * number
            at, heard = rfc3339(BEGUN + timedelta(seconds=at_s)), heard_as(text, seed + number)
            done = session.understanding.take(
                heard, utterance=name, at=at, at_s=at_s, began_s=at_s - 2
            )
            if done.turn.keep:
                body = utterance_body(name, heard, done.reading, done.turn, done.findings)
                journal.append("utterance", body)
    with Review.open(journal.folder, Settings(), by="bench") as review:
        _at_the_bench(review, lines, random.Random(seed))
    return journal.folder


def _at_the_bench(review: Review, lines: int, chance: random.Random) -> None:
    findings = [one for one in review.inspection().live if one.grade is not None]
    while review.next_seq <= lines - round(lines * (LISTENED + PICTURES)):
        with suppress(UsageFault, SofteningFault):
            _deed(review, chance.choice(findings), chance)
    while review.next_seq <= lines - round(lines * PICTURES):
        review.listened(chance.choice(findings).entry.id)
    while review.next_seq <= lines:
        seq, shown = review.next_seq, chance.choice(findings).entry.id
        sha256 = hashlib.sha256(str(seq).encode()).hexdigest()
        review.note(PHOTO, body_of(Photo(seq, f"photos/p{seq}.jpg", sha256, "a.jpg", (shown,))))


def _deed(review: Review, finding: Finding, chance: random.Random) -> None:
    name = finding.entry.id
    match chance.randrange(5):
        case 0:
            review.correct(name, {"size_mm": float(chance.randrange(3, 60))}, why="measured again")
        case 1:
            review.correct(name, {"side": chance.choice(("left", "right"))}, why="listened")
        case 2:
            review.withdraw(name, why="said twice")
        case 3:
            review.confirm(name)
        case _:
            review.undo(why="not so")


def write_log(parent: Path, lines: int, seed: int = 1909) -> Path:
    """A log of so many lines, whole and valid: ``voicelog verify`` finds nothing.

    Args:
        parent: the log's folder goes here.
        lines: how many, the one that opens it included.
        seed: of the sentences and deeds.
    """
    folder = write_stretch(parent, min(STRETCH, lines), seed)
    opened, *rest = list(iter_facts(folder))
    chance = random.Random(seed)
    first = encode(opened)
    patterns = [pattern_of(fact, chance) for fact in rest]
    with (folder / JOURNAL).open("wb") as file:
        file.write(first + b"\n")
        prev = digest(first)
        for line in _lines(patterns, lines, prev, folder):
            file.write(line)
    return folder


def _lines(patterns: list[Pattern], lines: int, prev: str, folder: Path) -> Iterator[bytes]:
    files = Files(folder)
    for seq in range(2, lines + 1):
        pattern = patterns[(seq - 2) % len(patterns)]
        shift = seq - 2 - (seq - 2) % len(patterns)
        body = pattern.at(shift)
        if "\\u0000" in body:
            body = files.filled(body, seq)
        body = re.sub(r'"of":(\d+)', lambda m: f'"of":{int(m[1]) + shift}', body)  # noqa: B023
        at_s = APART_S * seq
        at = rfc3339(BEGUN + timedelta(seconds=at_s))
        text = f'{{"seq":{seq},"at":"{at}","offset_s":{at_s},"prev":"{prev}","type":"{pattern.kind}","v":1,{body[1:]}'
        line = text.encode("ascii")
        prev = digest(line)
        yield line + b"\n"
