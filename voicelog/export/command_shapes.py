"""The contract's shapes for what commands print with ``--json``: bench, advice, listing.

Entries, verdicts, gaps and explanations have the shapes that they have in documents.
"""

from __future__ import annotations

from typing import Annotated, NotRequired

from pydantic import Field, with_config
from typing_extensions import TypedDict  # pydantic refuses typing's own before Python 3.12

from voicelog.export import scalars as s
from voicelog.export.advice_shapes import Explanation, Work
from voicelog.export.shapes import Graded, ReasonedVerdict, Ungraded, Verdict


@with_config(s.CLOSED)
class Standing(TypedDict):
    """Whether an entry holds."""

    withdrawn: Annotated[bool, Field(description="It was taken back.")]


@with_config(s.CLOSED)
class StandingGraded(Graded, Standing):
    """A finding, and whether it holds."""


@with_config(s.CLOSED)
class StandingUngraded(Ungraded, Standing):
    """Any other entry, and whether it holds."""


StandingEntry = Annotated[StandingGraded | StandingUngraded, Field(discriminator="kind")]


@with_config(s.CLOSED)
class Touched(TypedDict):
    """An entry that was changed."""

    before: NotRequired[Annotated[StandingEntry, Field(description="Left out for a new one.")]]
    after: StandingEntry


@with_config(s.CLOSED)
class Learned(TypedDict):
    """A mishearing that explains a correction."""

    heard: Annotated[str, Field(description="What the ear wrote.")]
    slot: s.Name
    value: Annotated[str, Field(description="What it means from now on.")]
    say: Annotated[str, Field(description="The phrase that was meant.")]
    would_change: Annotated[
        list[s.UtteranceId], Field(description="Others of this log that it would have changed.")
    ]
    refused: NotRequired[Annotated[str, Field(description="Why it is not remembered.")]]
    file: NotRequired[Annotated[str, Field(description="Where it stands now.")]]


@with_config(s.CLOSED)
class Amended(TypedDict):
    """What ``voicelog amend --json`` prints."""

    did: Annotated[str, Field(description="What was done, for example correct or undo.")]
    line: Annotated[s.Positive, Field(description="Number of the journal line that tells of it.")]
    by: str
    written: Annotated[bool, Field(description="False where it was only tried out.")]
    entries: list[Touched]
    verdict: Verdict
    learned: NotRequired[list[Learned]]


@with_config(s.CLOSED)
class Open(TypedDict):
    """Something that is unresolved."""

    what: Annotated[str, Field(description="Its kind, a short name.")]
    text: Annotated[str, Field(description="The same as a sentence.")]
    entry: NotRequired[s.EntryId]


@with_config(s.CLOSED)
class Unsigned(TypedDict):
    """What ``voicelog sign --list --json`` prints."""

    open: Annotated[list[Open], Field(description="The worst first.")]


@with_config(s.CLOSED)
class Signed(Unsigned):
    """What ``voicelog sign --json`` prints."""

    by: str
    at: s.Utc
    line: Annotated[s.Positive, Field(description="Number of the line that signs.")]
    lines: Annotated[s.Positive, Field(description="How many lines it signs.")]
    sha256: Annotated[s.Sha256, Field(description="Of those lines with their line feeds.")]
    seal: Annotated[s.Sha256, Field(description="Of the signing line itself; note it elsewhere.")]
    why: Annotated[str, Field(description="The reason given; may be empty.")]


@with_config(s.CLOSED)
class Pointer(TypedDict):
    """A public rule to look up; never a pass or a fail."""

    region: s.Name
    document: str
    item: str
    about: str
    where: Annotated[str, Field(description="Where it can be read; may be empty.")]


@with_config(s.CLOSED)
class Explained(TypedDict):
    """What ``why`` adds to an entry."""

    explanation: Explanation
    pointers: NotRequired[list[Pointer]]


@with_config(s.CLOSED)
class ExplainedGraded(Graded, Explained):
    """A finding, and why it has its grade."""


@with_config(s.CLOSED)
class ExplainedUngraded(Ungraded, Explained):
    """Any other entry; it has no grade to explain."""


@with_config(s.CLOSED)
class WhyEntries(TypedDict):
    """What ``voicelog why LOG ENTRY --json`` prints."""

    entries: list[Annotated[ExplainedGraded | ExplainedUngraded, Field(discriminator="kind")]]


@with_config(s.CLOSED)
class WhyVerdict(TypedDict):
    """What ``voicelog why LOG --json`` prints."""

    verdict: ReasonedVerdict


@with_config(s.CLOSED)
class ToDo(TypedDict):
    """What ``voicelog work --json`` prints."""

    work: Annotated[list[Work], Field(description="The most urgent first.")]
    cautions: Annotated[list[str], Field(description="To be shown with every work list.")]


@with_config(s.CLOSED)
class Answered(TypedDict):
    """The answers of a log's verdict."""

    drive: s.Drive
    work: s.Work
    tier: s.Tier
    provisional: bool


@with_config(s.CLOSED)
class Damaged(TypedDict):
    """A log that cannot be read."""

    log: Annotated[str, Field(description="Its folder.")]
    damaged: Annotated[str, Field(description="Why, as a sentence.")]


@with_config(s.CLOSED)
class Listed(TypedDict):
    """A log in a folder of logs."""

    log: Annotated[str, Field(description="Its folder.")]
    at: Annotated[s.Time, Field(description="When it was opened.")]
    subject: Annotated[str, Field(description="What was inspected; may be empty.")]
    state: Annotated[str, Field(description="How far it is, in words.")]
    verdict: Answered
    findings: Annotated[dict[s.Grade, s.Whole], Field(description="How many of each grade.")]
    open_points: s.Whole
    signed_by: NotRequired[Annotated[str, Field(description="Whose the newest signature is.")]]
    changed_after_signing: bool


@with_config(s.CLOSED)
class Listing(TypedDict):
    """What ``voicelog list --json`` prints."""

    folder: str
    inspections: Annotated[list[Listed | Damaged], Field(description="The newest first.")]
