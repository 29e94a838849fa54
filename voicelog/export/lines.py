"""The contract's journal lines: one JSON object a line, of a type a reader knows or skips.

Each may hold keys that this version does not describe: journals outlive programs.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any, Literal, NotRequired

from pydantic import Discriminator, Field, JsonValue, Tag, with_config

from voicelog.export import scalars as s
from voicelog.export.bench_lines import (
    Learned,
    Listened,
    PhotoTaken,
    Revised,
    Signed,
    VehicleTold,
)
from voicelog.export.held import Change
from voicelog.export.line_parts import Clip, Envelope, Grades, Heard, Opinion, Reading

KNOWN_TYPES = (
    "opened", "utterance", "second-opinion", "revised", "listened", "learned", "signed", "vehicle",
    "photo",
)  # fmt: skip
"""Types of lines whose keys are described here; the others may hold anything."""

WITH_CHANGES = ("utterance", "second-opinion", "revised")
"""Those among them that change entries."""


@with_config(s.OPEN)
class Opened(Envelope):
    """The first line: how the log began."""

    type: Literal["opened"]
    log_id: Annotated[s.LogId, Field(description="UUID of the log.")]
    program: NotRequired[Annotated[str, Field(description="Program and version.")]]
    map: NotRequired[Annotated[s.Name, Field(description="Id of the zone map.")]]
    rails: NotRequired[s.Rails]
    subject: NotRequired[Annotated[str, Field(description="What is inspected, as named.")]]
    ear: NotRequired[Annotated[str, Field(description="The recogniser.")]]
    created: NotRequired[Annotated[s.Time, Field(description="RFC 3339, with local offset.")]]
    grammar: NotRequired[
        Annotated[dict[str, s.Sha256], Field(description="Grammar file to its SHA-256.")]
    ]
    settings: NotRequired[dict[str, JsonValue]]
    vehicle: NotRequired[
        Annotated[dict[str, JsonValue], Field(description="What was known of it beforehand.")]
    ]


@with_config(s.OPEN)
class Utterance(Envelope):
    """One utterance: what was heard, how it was read, what it changed."""

    type: Literal["utterance"]
    utterance: s.UtteranceId
    clip: NotRequired[Clip]
    heard: Heard
    second: NotRequired[
        Annotated[Opinion, Field(description="Asked before anything was done (recordings).")]
    ]
    reading: NotRequired[Reading]
    changes: Annotated[list[Change], Field(description="In order; an entry named is one before.")]
    graded: NotRequired[Grades]


@with_config(s.OPEN)
class SecondOpinion(Envelope):
    """What a second ear heard after an utterance was acknowledged, and what that changed."""

    type: Literal["second-opinion"]
    utterance: s.UtteranceId
    second: Opinion
    entries: Annotated[list[s.EntryId], Field(description="What the utterance made or changed.")]
    changes: Annotated[list[Change], Field(description="Doubts and next best readings; in order.")]
    proposed: NotRequired[
        Annotated[list[Change], Field(description="What *affirm* would do; nothing without it.")]
    ]
    graded: NotRequired[Grades]


@with_config(s.OPEN)
class Other(Envelope):
    """A line of any other type, kept and skipped by readers that do not know it."""

    type: Annotated[
        str, Field(min_length=1, json_schema_extra={"not": {"enum": list(KNOWN_TYPES)}})
    ]


def _type_of(line: Any) -> str:
    told = line.get("type") if isinstance(line, Mapping) else None
    return told if told in KNOWN_TYPES else "other"


FactLine = Annotated[
    Annotated[Opened, Tag("opened")]
    | Annotated[Utterance, Tag("utterance")]
    | Annotated[SecondOpinion, Tag("second-opinion")]
    | Annotated[Revised, Tag("revised")]
    | Annotated[Listened, Tag("listened")]
    | Annotated[Learned, Tag("learned")]
    | Annotated[Signed, Tag("signed")]
    | Annotated[VehicleTold, Tag("vehicle")]
    | Annotated[PhotoTaken, Tag("photo")]
    | Annotated[Other, Tag("other")],
    Discriminator(_type_of),
]
"""One line of ``journal.jsonl``."""
