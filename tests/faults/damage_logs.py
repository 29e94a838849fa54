"""The logs that are damaged: heard, signed, reviewed with pictures and erased sound, and typed."""

from __future__ import annotations

import io
import random
import shutil
import sys
from collections.abc import Callable
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[1] / "flows"))

from spoken_log import spoken_log

from voicelog.config.data import grammar_dir
from voicelog.config.grammar import Grammar
from voicelog.config.settings import Settings
from voicelog.domain.entry import Inspection
from voicelog.domain.fact import Fact
from voicelog.journal import clock
from voicelog.journal.reading import verify
from voicelog.runtime.erasing import erase_sound, sound_of
from voicelog.runtime.launching import bundled
from voicelog.runtime.listening import hear_files
from voicelog.runtime.logs import open_log
from voicelog.runtime.opening import open_listening, open_reading
from voicelog.runtime.photo_keeping import write_photos
from voicelog.runtime.photos import Wishes, plan_photos
from voicelog.runtime.review import Review

TYPED = (
    "left sill, surface rust, metal is firm",
    "left front rail, crack",
    "make that the right front rail",
    "hole on the left kick-up, scale on the right",
    "both rear rails scale",
    "right control arm mount, inside, hole, fifteen millimetres, goes through",
    "cab mount, left side, light pitting",
    "another one, scraper went through it",
    "disregard that",
)
"""Findings, some of them unsafe, a correction, and one that is taken back."""


@dataclass(frozen=True, slots=True)
class Original:
    """A log as it was written, and what is in it.

    Args:
        name: what kind of log it is.
        folder: where it lies.
        lines: its journal, line feeds included.
        facts: what they say.
        grammar: the words, map and rules it was made with.
        inspection: the facts, folded.
        foreign: the lines of another log, made with the same words.
    """

    name: str
    folder: Path
    lines: tuple[bytes, ...]
    facts: tuple[Fact, ...]
    grammar: Grammar
    inspection: Inspection
    foreign: tuple[bytes, ...]

    @property
    def text(self) -> bytes:
        """The whole journal."""
        return b"".join(self.lines)


def originals(parent: Path) -> list[Original]:
    """One log of each kind, made as a person makes them."""
    other = _earlier(parent / "other")
    heard = _heard(parent / "heard")
    signed, reviewed = _copy(heard, "signed"), _copy(heard, "reviewed")
    _sign(signed)
    _go_over(reviewed, parent)
    own = _own_rules(parent / "grammar")
    typed = _typed(parent / "typed", TYPED, Settings(into=parent / "typed", grammar=own))
    folders = {"heard": heard, "signed": signed, "reviewed": reviewed, "typed": typed}
    return [_original(name, folder, other) for name, folder in folders.items()]


def small_logs(parent: Path) -> list[Original]:
    """Two short ones that take no ear: typed, and spoken, gone over and signed."""
    other = _earlier(parent / "other")
    spoken = spoken_log(parent / "spoken", TYPED)
    _go_over(spoken, parent)
    own = _own_rules(parent / "grammar")
    typed = _typed(parent / "typed", TYPED, Settings(into=parent / "typed", grammar=own))
    return [_original("spoken", spoken, other), _original("typed", typed, other)]


def _heard(into: Path) -> Path:
    """The recordings of the demo, through the ear that comes with the program."""
    settings = Settings(into=into, ear="built-in", second_ear="off")
    with open_listening(settings, subject="pickup") as session:
        for _ in hear_files(session, bundled(), settings):
            pass
        session.close("finished")
        assert session.folder is not None
        return session.folder


def _typed(into: Path, texts: tuple[str, ...], settings: Settings) -> Path:
    into.mkdir(parents=True)
    with open_reading(settings, keep=True) as session:
        for number, text in enumerate(texts):
            session.read(text, at_s=5.0 * number)
        session.close("finished")
        assert session.folder is not None
        return session.folder


def _earlier(into: Path) -> Path:
    """Another inspection, half a day before: so far apart are two logs, or more."""
    now, monkey = clock.utc_now, pytest.MonkeyPatch()
    monkey.setattr(clock, "utc_now", lambda: now() - timedelta(hours=12))
    try:
        return _typed(into, TYPED[:2] * 8, Settings(into=into))
    finally:
        monkey.undo()


def _own_rules(folder: Path) -> Path:
    """A shop's own grammar: what is lost of it is not among the shipped files."""
    shutil.copytree(grammar_dir(), folder)
    rules = folder / "rules" / "frame.toml"
    rules.write_text(rules.read_text(encoding="utf-8") + "# ours\n", encoding="utf-8")
    return folder


def _copy(folder: Path, name: str) -> Path:
    return Path(shutil.copytree(folder, folder.parents[1] / name / folder.name))


def _sign(folder: Path) -> None:
    with Review.open(folder, Settings(), by="Sam") as review:
        review.sign(why="what is open is known")


_DEEDS: tuple[Callable[[Review, str], object], ...] = (
    lambda review, one: review.correct(one, {"side": "right"}, why="looked at again"),
    lambda review, one: review.withdraw(one, why="looked at again"),
    lambda review, one: review.restore(one, why="looked at again"),
    lambda review, one: review.reread(one, "right mid rail, scale", why="looked at again"),
    lambda review, _: review.undo(why="looked at again"),
)


def _go_over(folder: Path, parent: Path) -> None:
    """Corrections, pictures, erased sound, a signature, and a correction after it."""
    pictures = parent / "pictures"
    pictures.mkdir()
    with Review.open(folder, Settings(), by="Sam") as review:
        ids = [finding.entry.id for finding in review.inspection().findings]
        for number, deed in enumerate(_DEEDS):
            deed(review, ids[(0, 1, 1, 2, 2)[number]])
        for number in range(3):
            (pictures / f"IMG_{number}.jpg").write_bytes(_picture(number))
        wishes = Wishes(by_hand=tuple(f"{ids[n]}=IMG_{n}.jpg" for n in range(3)))
        list(write_photos(review, plan_photos(review, pictures, wishes)))
        erase_sound(review, sound_of(review, [ids[0], ids[-1]]), why="a name was said")
        review.sign(why="what is open is known")
        review.correct(ids[1], {"side": "left"}, why="looked at again")


def _picture(seed: int) -> bytes:
    from PIL import Image

    noise = random.Random(seed).randbytes(64 * 48 * 3)
    file = io.BytesIO()
    Image.frombytes("RGB", (64, 48), noise).save(file, "JPEG")
    return file.getvalue()


def _original(name: str, folder: Path, other: Path) -> Original:
    report = verify(folder)
    if not report.ok:
        raise SystemExit(f"The log {name} is not whole to begin with: {report.problems}")
    opened = open_log(folder)
    lines, foreign = _lines(folder), _lines(other)
    return Original(
        name, folder, lines, opened.log.facts, opened.grammar, opened.inspection, foreign
    )


def _lines(folder: Path) -> tuple[bytes, ...]:
    return tuple((folder / "journal.jsonl").read_bytes().splitlines(keepends=True))
