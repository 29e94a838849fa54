"""The contract's shapes for ``voicelog review --json``: a log on the bench, or one entry in full."""

from __future__ import annotations

from typing import Annotated, NotRequired

from pydantic import Field, with_config
from typing_extensions import TypedDict  # pydantic refuses typing's own before Python 3.12

from voicelog.export import scalars as s
from voicelog.export.command_shapes import Open, Standing
from voicelog.export.shapes import Graded, Ungraded


@with_config(s.CLOSED)
class OnBench(Standing):
    """How an entry stands at the bench."""

    changed_after_signing: bool


@with_config(s.CLOSED)
class BenchGraded(Graded, OnBench):
    """A finding at the bench."""


@with_config(s.CLOSED)
class BenchUngraded(Ungraded, OnBench):
    """Any other entry at the bench."""


@with_config(s.CLOSED)
class BenchSignature(TypedDict):
    """A signature."""

    by: str
    at: s.Utc
    lines: s.Positive
    sha256: s.Sha256
    why: Annotated[str, Field(description="The reason given; may be empty.")]


@with_config(s.CLOSED)
class Reviewed(TypedDict):
    """What ``voicelog review --json`` prints."""

    log: Annotated[str, Field(description="Its folder.")]
    entries: list[Annotated[BenchGraded | BenchUngraded, Field(discriminator="kind")]]
    hidden: Annotated[s.Whole, Field(description="Entries that the filters hide.")]
    filters: Annotated[
        dict[str, s.Whole], Field(description="Each filter, and what it would hide alone.")
    ]
    open: Annotated[list[Open], Field(description="What is unresolved, the worst first.")]
    signatures: list[BenchSignature]
    read_only: Annotated[str, Field(description="Why it cannot be changed now; may be empty.")]


@with_config(s.CLOSED)
class HeardWord(TypedDict):
    """A word as it was heard."""

    text: str
    confidence: NotRequired[Annotated[float, Field(ge=0, le=1)]]


@with_config(s.CLOSED)
class HeardText(TypedDict):
    """One text that an ear made of the sound."""

    text: str
    score: float
    words: list[HeardWord]


@with_config(s.CLOSED)
class Step(TypedDict):
    """One thing that happened to an entry."""

    at: s.Utc
    by: Annotated[str, Field(description="Who; empty for what was said.")]
    did: str
    changes: list[str]
    why: Annotated[str, Field(description="The reason given; may be empty.")]


@with_config(s.CLOSED)
class InFull(OnBench):
    """What one entry in full has beside."""

    heard: Annotated[list[HeardText], Field(description="The likeliest first.")]
    clip: NotRequired[Annotated[str, Field(description="Its sound, inside the log's folder.")]]
    readings: Annotated[
        list[Annotated[Graded | Ungraded, Field(discriminator="kind")]],
        Field(description="Other readings of the same sound."),
    ]
    since: Annotated[list[Step], Field(description="What happened to it, newest last.")]


@with_config(s.CLOSED)
class FullGraded(Graded, InFull):
    """What ``voicelog review --entry ID --json`` prints of a finding."""


@with_config(s.CLOSED)
class FullUngraded(Ungraded, InFull):
    """And of any other entry."""


FullEntry = Annotated[FullGraded | FullUngraded, Field(discriminator="kind")]
