"""A folder of recordings whose sound is one bundled clip, and an ear that is told what to hear."""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterable
from pathlib import Path

from voicelog.config.data import samples_dir
from voicelog.domain.heard import Heard, Hypothesis
from voicelog.recognise.port import Expected
from voicelog.yardstick.sheet import FILE, TALK, Item, Sheet, sheet_to_json

SPEECH = "d40.flac"
"""One short utterance."""
RUST = {"kind": "finding", "zone": "sill", "side": "left", "condition": "surface-rust"}
HOLE = {
    "kind": "finding",
    "zone": "front-rail",
    "side": "right",
    "condition": "hole",
    "size_mm": 25.4,
}
SHEET = Sheet(
    "ladder-frame", 1, "voicelog 0", Item("0", "plain", ("left front rail, pitting",),
    ({"kind": "finding", "zone": "front-rail", "side": "left", "condition": "pitting"},)),
    (
        Item("01", "plain", ("left sill, surface rust",), (RUST,)),
        Item("02", "size", ("right front rail, hole, one inch",), (HOLE,)),
        Item("03", TALK, ("that coffee is cold",)),
    ),
)  # fmt: skip


class ToldEar:
    """Hears one text after another, whatever sounds."""

    engine, model = "built-in", "told"

    def __init__(self, texts: Iterable[str]) -> None:
        self.texts, self.expected = list(texts), list[Expected]()

    def expect(self, expected: Expected) -> None:
        """Kept, to be looked at."""
        self.expected.append(expected)

    def feed(self, pcm: bytes) -> None:
        """Whatever it is."""

    def partial(self) -> str:
        """Nothing is shown."""
        return ""

    def finish(self) -> Heard:
        """The next text."""
        return Heard((Hypothesis(self.texts.pop(0)),), self.engine, self.model)

    def forget(self) -> None:
        """Nothing is open."""

    def close(self) -> None:
        """Nothing is held."""


def put(folder: Path, *names: str, sheet: Sheet = SHEET) -> Path:
    """The folder with the sheet and recordings of these names, all alike."""
    folder.mkdir(parents=True, exist_ok=True)
    (folder / FILE).write_text(json.dumps(sheet_to_json(sheet)))
    for name in names:
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        shutil.copy(samples_dir() / SPEECH, path)
    return folder
