"""What the contract's journal lines are made of: the envelope, sound, words, readings, grades."""

from __future__ import annotations

from typing import Annotated, NotRequired

from pydantic import Field, with_config
from typing_extensions import TypedDict  # pydantic refuses typing's own before Python 3.12

from voicelog.export import scalars as s
from voicelog.export.held import Change


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
class Opinion(TypedDict):
    """What a second ear made of an utterance that the first one was not sure of."""

    reason: Annotated[
        str,
        Field(description="unsafe, doubtful, contradicted, unexplained or unentered."),
    ]
    verdict: Annotated[
        str,
        Field(description="agrees, outweighed, differs, nothing, dropped or failed."),
    ]
    heard: NotRequired[Heard]
    took_s: Annotated[float, Field(description="Seconds it worked.")]


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


Grades = Annotated[
    dict[s.EntryId, Graded],
    Field(
        description="Entry to its grade, as told.",
        json_schema_extra={"additionalProperties": False},  # the models take no other key either
    ),
]
