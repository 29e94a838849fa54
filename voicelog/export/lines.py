"""The contract's journal lines: one JSON object a line, of a type a reader knows or skips.

Each may hold keys that this version does not describe: journals outlive programs.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any, Literal, NotRequired

from pydantic import Discriminator, Field, JsonValue, Tag, with_config
from typing_extensions import TypedDict  # pydantic refuses typing's own before Python 3.12

from voicelog.export import scalars as s
from voicelog.export.held import Change

KNOWN_TYPES = ("opened", "utterance")
"""Types of lines whose keys are described here; the others may hold anything."""


@with_config(s.OPEN)
class Envelope(TypedDict):
    """What every line has."""

    v: Annotated[s.LineVersion, Field(description="Version of the journal's lines.")]
    seq: Annotated[s.Positive, Field(description="1 for the first line, then one more each.")]
    at: Annotated[s.Utc, Field(description="When it was written, RFC 3339, UTC.")]
    offset_s: Annotated[
        s.Seconds, Field(description="Seconds since the log was opened, by a monotonic clock.")
    ]
    prev: Annotated[
        s.Sha256,
        Field(description="SHA-256 of the line before, without its newline; zeros in the first."),
    ]


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


@with_config(s.OPEN)
class Clip(TypedDict):
    """The sound of an utterance."""

    file: Annotated[str, Field(description="Path inside the log's folder.")]
    sha256: Annotated[s.Sha256, Field(description="Of the file.")]
    start_s: Annotated[s.Seconds, Field(description="Where it begins in the source, in s.")]
    duration_s: Annotated[s.Seconds, Field(description="Length in s.")]
    samples: NotRequired[Annotated[s.Whole, Field(description="Length at 16 kHz.")]]


@with_config(s.OPEN)
class Word(TypedDict):
    """One recognised word; times count from the beginning of the clip."""

    text: str
    confidence: NotRequired[Annotated[float, Field(description="0 to 1.")]]
    start_s: NotRequired[Annotated[float, Field(description="Start in s.")]]
    end_s: NotRequired[Annotated[float, Field(description="End in s.")]]


@with_config(s.OPEN)
class Hypothesis(TypedDict):
    """One way to write down what was said."""

    text: str
    score: Annotated[float, Field(description="Higher is better, within one utterance only.")]
    words: list[Word]


@with_config(s.OPEN)
class Heard(TypedDict):
    """What one ear made of the utterance."""

    engine: str
    model: str
    hypotheses: Annotated[list[Hypothesis], Field(description="Best first.")]


@with_config(s.OPEN)
class Reading(TypedDict):
    """How the words were understood."""

    text: Annotated[str, Field(description="The hypothesis that was read.")]
    score: Annotated[float, Field(description="How well the vocabulary explains it, 0 to 1.")]
    margin: Annotated[float, Field(description="Distance to the next best reading.")]
    runner_up: NotRequired[
        Annotated[list[Change], Field(description="What the next best reading would have changed.")]
    ]


@with_config(s.OPEN)
class Graded(TypedDict):
    """A grade as it was told at that moment; folding the log works it out anew."""

    grade: s.Grade
    rules: Annotated[list[str], Field(description="Ids of the rules that fired.")]
    unproven: NotRequired[Annotated[bool, Field(description="The metal was not reached.")]]


@with_config(s.OPEN)
class Utterance(Envelope):
    """One utterance: what was heard, how it was read, what it changed."""

    type: Literal["utterance"]
    utterance: s.UtteranceId
    clip: NotRequired[Clip]
    heard: Heard
    reading: NotRequired[Reading]
    changes: Annotated[list[Change], Field(description="In order; an entry named is one before.")]
    graded: NotRequired[
        Annotated[dict[s.EntryId, Graded], Field(description="Entry to its grade, as told.")]
    ]


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
    | Annotated[Other, Tag("other")],
    Discriminator(_type_of),
]
"""One line of ``journal.jsonl``."""
