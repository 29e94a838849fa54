"""Two inspections of one vehicle, a year apart, as the program takes them."""

from __future__ import annotations

import json
import os
import uuid
from datetime import datetime
from pathlib import Path
from typing import Any
from unittest import mock

from click.testing import CliRunner
from pretended import LONG_S, Held, Told, camera, heard, sound

from voicelog.cli.main import cli
from voicelog.config.settings import Settings
from voicelog.domain.opinion import Opinion, Verdict
from voicelog.domain.vehicle import VEHICLE
from voicelog.export.answer import answer
from voicelog.runtime.logs import document_of, open_log
from voicelog.runtime.opening import open_listening
from voicelog.runtime.opining import opine
from voicelog.runtime.photo_keeping import write_photos
from voicelog.runtime.photos import Wishes, plan_photos
from voicelog.runtime.review import Review
from voicelog.runtime.session import Session
from voicelog.runtime.teaching import lessons, remembered, tried

BEGAN = {"then": "2025-03-10T08:00:00.250Z", "now": "2026-03-14T09:05:15.250Z"}
LOGS = {
    "then": uuid.UUID("6ba7b810-9dad-41d1-80b4-00c04fd430c8"),
    "now": uuid.UUID("3f0c7a52-9d4e-4a41-8a53-6a0f0b7f2c11"),
}

THEN = (
    "left rail, surface rust",
    "left mid rail thickness two point two, new is two point five",
    "left kick up, surface rust",
    "steering box mount clean, tapped it, rings true",
)
"""Said in the first inspection; the first of them leaves open which rail."""

AGAIN = "left mid rail surface rust"
"""What a second ear heard of it."""

NOW = (
    "left front rail, surface rust, scraped it, metal is firm",
    "right control arm mount, inside the pocket, hole ten to fifteen mil, goes through",
    "left mid rail thickness one point nine, new is two point five",
    "left kick up, surface rust",
    "scraper went through it",
    "gearbox cross member clean, no holes, no cracks, tapped it, rings true",
    "not seen, left control arm mount, inside, splash shield in the way",
    "photo, right control arm mount, inside",
    "owner says it stood on grass for ten years",
    "the rail on the right is pitted",
    "tow hitch, crack",
    "disregard",
    "right seal, surface rust, call it a repair",
    "i spell vin one m eight g d m five a x k p zero four two seven eight eight",
)
"""Said in the second one, as utterances u2 to u15."""

ANEW = "right sill, surface rust, call it a repair"
"""What the last but one should have been: "sill" was heard as "seal"."""

COMMANDS = {
    "why-entry": ("why", "LOG", "e4.1", "--region", "uk", "--json"),
    "why-verdict": ("why", "LOG", "--json"),
    "work-list": ("work", "LOG", "--json"),
    "list-of-two": ("list", "logs", "--json"),
    "vehicle-shown": ("vehicle", "LOG", "--json"),
    "review-log": ("review", "LOG", "--json"),
    "review-entry": ("review", "LOG", "--entry", "e14.1", "--json"),
    "sign-open": ("sign", "LOG", "--list", "--json"),
    "amend-corrected": (
        "amend", "LOG", "--entry", "e4.1", "--set", "thickness=1.8 mm", "--by", "inspector", "--json",
    ),
    "amend-added": ("amend", "LOG", "--add", "left sill, hole", "--by", "inspector", "--json"),
    "sign-signed": ("sign", "LOG", "--why", "as agreed", "--by", "inspector", "--json"),
}  # fmt: skip
"""Those whose JSON has a schema, by the name of the example; its first word is the command."""

KNOWN = {"stood": "lift", "refusals": [{"what": "covers", "why": "splash shield stays on"}]}
TOLD = {"odometer": {"value": 82400, "unit": "mi"}, "surface": ["dirty"]}
"""Of the vehicle, at the beginning and afterwards."""


class Run:
    """The program run, and what it handed over on the way.

    Args:
        home: an empty folder.
        held: the clock.
    """

    def __init__(self, home: Path, held: Held) -> None:
        self.settings = Settings(into=home / "logs", learned=home, second_ear="off")
        self.home, self.held = home, held
        self.made: dict[str, dict[str, Any]] = {}

    def session(self, which: str, texts: tuple[str, ...], **known: Any) -> Session:
        """A new inspection in which these will be heard."""
        self.held.at = datetime.fromisoformat(BEGAN[which])
        with mock.patch("voicelog.runtime.opening.open_the_ear", return_value=Told(*texts)):
            return open_listening(
                self.settings, subject="utility pickup, tray removed", vehicle=known,
                recorded_at=self.held.at,
            )  # fmt: skip

    def hear(self, session: Session) -> None:
        """The next utterance: a clip of a tone, so that it packs small."""
        self.held.wait()
        at_s = session.now_s()
        session.hear(sound(at_s))

    def bench(self, folder: Path) -> Review:
        """The log opened for reviewing."""
        self.held.wait()
        return Review.open(folder, self.settings, by="inspector")

    def then(self) -> Path:
        """The first inspection: one doubtful side, heard again by a second ear."""
        with self.session("then", THEN) as session:
            self.made["answer-nothing-said.json"] = answer(session.inspection())
            self.hear(session)
            taken = session.understanding.taken
            assert taken is not None
            self.held.wait(1.0)
            opinion = Opinion("doubtful", Verdict.DIFFERS, heard(AGAIN, "second"), 0.412)
            opine(session, taken, opinion, ask=False)
            for _ in THEN[1:]:
                self.hear(session)
            session.close("asked")
        assert session.folder is not None
        return session.folder

    def now(self) -> Path:
        """The second one, from its beginning to its end."""
        with self.session("now", NOW, **KNOWN) as session:
            assert session.folder is not None
            self.made["inspection-just-opened.json"] = document_of(open_log(session.folder))
            for _ in NOW:
                self.hear(session)
            self.made["answer-pickup.json"] = answer(session.inspection())
            self.held.wait()
            session.note("gap", {"why": "the microphone headset gave nothing", "lost_s": 2.5})
            self.held.wait()
            session.close("asked")
        return session.folder

    def afterwards(self, folder: Path) -> None:
        """A picture and the odometer."""
        with self.bench(folder) as review:
            camera(self.home / "camera", review.finding("e9.1").entry.at)
            list(write_photos(review, plan_photos(review, self.home / "camera", Wishes())))
            self.held.wait()
            review.note(VEHICLE, {"set": TOLD, "by": review.by})
        self.made["inspection-pickup.json"] = document_of(open_log(folder))

    def reviewed(self, folder: Path) -> None:
        """At the bench: listened to, put right, learned from, signed, and changed after that."""
        with self.bench(folder) as review:
            for deed in (self._corrected, self._said_anew, self._undone, self._signed):
                deed(review)
        self.made["inspection-reviewed.json"] = document_of(open_log(folder))

    def commands(self, folder: Path) -> None:
        """What commands print of it as JSON, run beside the logs."""
        os.chdir(self.home)
        log = str(folder.relative_to(self.home))
        for name, words in COMMANDS.items():
            self.held.wait()
            ran = CliRunner().invoke(cli, [log if word == "LOG" else word for word in words])
            if ran.exit_code:
                raise ran.exception or RuntimeError(ran.output)
            self.made[f"commands/{name}.json"] = json.loads(ran.stdout)

    def _corrected(self, review: Review) -> None:
        review.listened("e11.1")
        self.held.wait()
        review.correct("e11.1", {"zone": "mid-rail"})
        self.held.wait()

    def _said_anew(self, review: Review) -> None:
        review.listened("e14.1")
        self.held.wait()
        before = review.finding("e14.1")
        review.reread("e14.1", heard(ANEW), clip=sound(LONG_S), why="misheard")
        self.held.wait()
        for lesson in lessons(review, before, said=ANEW):
            found = tried(review, lesson, before)
            remembered(review, self.settings, found, before, for_="person")
            self.held.wait()

    def _undone(self, review: Review) -> None:
        review.withdraw("e10.1", why="told of another vehicle")
        self.held.wait()
        review.undo()
        self.held.wait()

    def _signed(self, review: Review) -> None:
        review.sign(why="the splash shield stays on until the buyer agrees")
        self.held.wait()
        review.correct("e5.1", {"size_mm": 20.0}, why="measured again with a gauge")
