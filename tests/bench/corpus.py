"""The corpus of spoken inspections: its cases, its chatter, and what an ear might make of them."""

from __future__ import annotations

import json
import sys
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from zlib import crc32

from voicelog.domain.heard import Heard, Hypothesis
from voicelog.yardstick.strict import Slots

FOLDER = Path(__file__).parents[1] / "corpus"
FINDING = ("left front rail, surface rust",)
WANTED = {
    "kind": "finding", "zone": "front-rail", "side": "left", "condition": "surface-rust",
}  # fmt: skip
"""What is said before the chatter that comes in the middle of an inspection, never misheard."""
PARTS = ("tuning", "untouched")
GENERATED, SEED = 200, 20261125
"""How many generated cases join the hand-written ones of a part, and from which seed."""
APART_S = 3.0
"""Between two utterances of a case that gives no times."""
HYPOTHESES = 4
"""How many the ear gives where the bench lets it give several."""


@dataclass(frozen=True)
class Case:
    """One inspection of the corpus.

    Args:
        id: unique within its part.
        part: ``tuning`` or ``untouched``.
        origin: ``hand``, ``generated``, ``chatter`` or ``chatter-after``.
        topic: what it is about.
        say: its utterances.
        at_s: when each was said, in seconds of the inspection.
        want: entries that must stand at the end.
        tags: tags that remarks must carry.
        settings: flags of the speaker, for example ``driver_side``.
    """

    id: str
    part: str
    origin: str
    topic: str
    say: tuple[str, ...]
    at_s: tuple[float, ...]
    want: tuple[Slots, ...]
    tags: tuple[str, ...] = ()
    settings: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class Said:
    """One utterance as it reached the ears.

    Args:
        at_s: when, in seconds of the inspection.
        heard: what each ear made of it; at least one.
    """

    at_s: float
    heard: tuple[Heard, ...]

    @property
    def text(self) -> str:
        """What the first ear thinks likeliest."""
        return self.heard[0].text


@dataclass(frozen=True)
class Hearing:
    """How the words get from the mouth to the reading.

    Args:
        rate: word errors, 0 for text as typed.
        hypotheses: how many each ear gives.
        ears: how many ears listen.
    """

    rate: float = 0.0
    hypotheses: int = 1
    ears: int = 1


def load(source: str) -> list[Case]:
    """The cases of ``<part>/hand``, ``<part>/generated``, ``<part>/chatter``, or of a file.

    A part may be written by several hands, each in a file of its own: ``tuning.jsonl``,
    ``tuning-2.jsonl`` and so on. A line of chatter is a case that wants nothing; ``<part>/chatter-after`` says it after a finding
    that must stay as it is.
    """
    part, _, origin = source.partition("/")
    if source.endswith(".jsonl"):
        return from_file(Path(source), "file")
    if origin == "hand":
        return [case for file in _files(part, ".jsonl") for case in from_file(file, part)]
    if origin == "generated":
        return generated(part, GENERATED)
    lines = [line for file in _files(f"chatter-{part}", ".txt") for line in _lines(file)]
    say, want = (FINDING, [WANTED]) if origin == "chatter-after" else ((), [])
    return [
        case_of({"id": f"c{n}", "topic": origin, "say": [*say, line], "want": want}, part, origin)
        for n, line in enumerate(lines, start=1)
    ]


def generated(part: str, count: int) -> list[Case]:
    """So many generated cases of a part; the first ones do not depend on the count."""
    made = _script("generate").cases(SEED, count, part)
    return [case_of(document, part, "generated") for document in made]


def from_file(path: Path, part: str) -> list[Case]:
    """Cases from a file of one JSON object a line."""
    lines = _lines(path)
    return [case_of(json.loads(line), part, "hand") for line in lines]


def case_of(document: Mapping[str, Any], part: str, origin: str) -> Case:
    """A case from its JSON object."""
    say = tuple(document["say"])
    at_s = tuple(document.get("at", (APART_S * number for number in range(len(say)))))
    if len(at_s) != len(say):
        raise SystemExit(f"{part} {document['id']}: {len(say)} utterances, {len(at_s)} times")
    return Case(
        document["id"], part, origin, document.get("topic", "plain"), say, at_s,
        tuple(document["want"]), tuple(document.get("tags", ())), document.get("settings", {}),
    )  # fmt: skip


def utter(case: Case, hearing: Hearing) -> list[Said]:
    """The utterances of a case as they are heard; the same case is always misheard alike."""
    return [
        Said(at_s, hear(text, hearing, f"{case.part} {case.id} {number}"))
        if (text,) != FINDING or case.origin != "chatter-after"
        else Said(at_s, (Heard.typed(text),))
        for number, (text, at_s) in enumerate(zip(case.say, case.at_s, strict=True))
    ]


def hear(text: str, hearing: Hearing, name: str) -> tuple[Heard, ...]:
    """What each ear makes of a text.

    Args:
        text: what was said.
        hearing: how.
        name: whose utterance it is; with the rate and the ear it settles the mishearing.
    """
    if not hearing.rate:
        return (Heard.typed(text),)
    seeds = [crc32(f"{name} {hearing.rate} {ear}".encode()) for ear in range(hearing.ears)]
    return tuple(_one_ear(text, hearing, seed) for seed in seeds)


def _one_ear(text: str, hearing: Hearing, seed: int) -> Heard:
    corrupt = _script("corrupt")
    if hearing.hypotheses == 1:
        heard = corrupt.corrupt(text, hearing.rate, seed)
        return Heard((Hypothesis(heard),), engine="corrupted")
    several = corrupt.n_best(text, hearing.rate, seed, hearing.hypotheses)
    return Heard(tuple(Hypothesis(t, score) for t, score in several), engine="corrupted")


def _files(name: str, ending: str) -> list[Path]:
    """The first hand's file, which must be there, and those of the others in their order."""
    return [FOLDER / f"{name}{ending}", *sorted(FOLDER.glob(f"{name}-*{ending}"))]


def _lines(path: Path) -> list[str]:
    if not path.exists():
        raise SystemExit(f"The corpus has no {path.name} yet: {path} is missing")
    return [line for line in path.read_text(encoding="utf-8").splitlines() if line.strip()]


def _script(name: str) -> Any:
    """A script of the corpus folder as a module."""
    if not (FOLDER / f"{name}.py").exists():
        raise SystemExit(f"The corpus has no {name}.py yet: {FOLDER / name}.py is missing")
    if str(FOLDER) not in sys.path:
        sys.path.insert(0, str(FOLDER))
    return __import__(name)
