"""The contract's documents: the short answer and the whole inspection.

A key that is not required is left out when there is nothing to say; null is never written.
"""

from __future__ import annotations

from typing import Annotated, Literal, NotRequired

from pydantic import Field, JsonValue, with_config
from typing_extensions import TypedDict  # pydantic refuses typing's own before Python 3.12

from voicelog.export import scalars as s
from voicelog.export.advice_shapes import Coverage, Explanation, Swing, Work, Zone
from voicelog.export.bench_shapes import Revision, Signature
from voicelog.export.gap_shapes import Gap
from voicelog.export.slot_shapes import Question, Slots
from voicelog.export.vehicle_shapes import Photo, Vehicle


@with_config(s.CLOSED)
class Told(Slots):
    """What every entry has, and what applies to some."""

    id: Annotated[s.EntryId, Field(description="Never reused within a log.")]
    at: Annotated[s.Time, Field(description="When the utterance was said, RFC 3339.")]
    utterance: Annotated[s.UtteranceId, Field(description="The utterance that made it.")]
    doubtful: Annotated[bool, Field(description="A person should listen again.")]
    place_assumed: NotRequired[
        Annotated[bool, Field(description="The place was carried over for long.")]
    ]
    unplaced: NotRequired[
        Annotated[bool, Field(description="A condition was heard, its place was not.")]
    ]
    reason: NotRequired[Annotated[str, Field(description="Why the place could not be looked at.")]]
    absent: NotRequired[
        Annotated[list[s.Name], Field(description="Conditions said not to be there.")]
    ]
    tags: NotRequired[Annotated[list[str], Field(description="What a remark is about.")]]
    questions: NotRequired[Annotated[list[Question], Field(description="What should be asked.")]]
    runner_up: NotRequired[
        Annotated[Slots, Field(description="Slots of the next best reading of the same words.")]
    ]
    ranges: NotRequired[
        Annotated[
            dict[str, s.Ends], Field(description="Lower and upper end of slots said as a range.")
        ]
    ]
    doubts: NotRequired[Annotated[list[str], Field(description="Why it is doubtful.")]]
    text: NotRequired[Annotated[str, Field(description="The words it was read from.")]]


@with_config(s.CLOSED)
class Graded(Told):
    """A finding: something is the matter, and how bad it is."""

    kind: Literal["finding"]
    grade: Annotated[s.Grade, Field(description="The grade that counts.")]
    computed_grade: Annotated[s.Grade, Field(description="What the rules give.")]
    rules: Annotated[list[str], Field(description="Ids of the rules that fired.")]
    unproven: Annotated[bool, Field(description="The metal itself was not reached.")]


@with_config(s.CLOSED)
class Ungraded(Told):
    """Any other entry: nothing found there, not seen, a photo claimed, or a remark."""

    kind: Literal["clear", "not-seen", "photo", "remark"]


Entry = Annotated[Graded | Ungraded, Field(discriminator="kind")]


@with_config(s.CLOSED)
class Verdict(TypedDict):
    """Over all entries: three answers and an overall tier."""

    drive: Annotated[s.Drive, Field(description="What was found against driving it.")]
    work: Annotated[s.Work, Field(description="How much work is to be done.")]
    tier: s.Tier
    could_change: Annotated[list[Gap], Field(description="What could still change the verdict.")]


@with_config(s.CLOSED)
class Answer(TypedDict):
    """What ``--json`` prints: the entries that hold, in order, and the verdict."""

    entries: list[Entry]
    verdict: Verdict


@with_config(s.CLOSED)
class State(Told):
    """An earlier state of an entry; it is not graded."""

    kind: s.Kind


@with_config(s.CLOSED)
class Logged(TypedDict):
    """What the whole inspection adds to an entry."""

    history: Annotated[list[State], Field(description="Every earlier state, newest last.")]
    cautions: NotRequired[Annotated[list[str], Field(description="To be said at this entry.")]]
    revised: NotRequired[
        Annotated[list[Revision], Field(description="Its corrections at the bench, newest last.")]
    ]
    after_signing: NotRequired[
        Annotated[bool, Field(description="It was touched after the newest signature.")]
    ]


@with_config(s.CLOSED)
class LoggedGraded(Graded, Logged):
    """A finding with its history."""

    explanation: NotRequired[Annotated[Explanation, Field(description="Why it has its grade.")]]


@with_config(s.CLOSED)
class LoggedUngraded(Ungraded, Logged):
    """Any other entry with its history."""


LoggedEntry = Annotated[LoggedGraded | LoggedUngraded, Field(discriminator="kind")]


@with_config(s.CLOSED)
class Header(TypedDict):
    """The log itself."""

    id: Annotated[s.LogId, Field(description="UUID of the log.")]
    created: Annotated[s.Time, Field(description="When it was opened, RFC 3339.")]
    utterances: Annotated[s.Whole, Field(description="How many were kept.")]
    closed: Annotated[bool, Field(description="Finished, and nothing was said since.")]
    subject: NotRequired[Annotated[str, Field(description="What was inspected, as named.")]]
    program: NotRequired[Annotated[str, Field(description="Program and version that heard it.")]]
    map: NotRequired[Annotated[s.Name, Field(description="Id of the zone map.")]]
    rails: NotRequired[Annotated[s.Rails, Field(description="Make of the rails; mixed: unknown.")]]
    ear: NotRequired[Annotated[str, Field(description="The recogniser.")]]
    model: NotRequired[Annotated[str, Field(description="The recogniser's model.")]]
    settings: NotRequired[dict[str, JsonValue]]
    grammar: NotRequired[
        Annotated[dict[str, s.Sha256], Field(description="Grammar file to its SHA-256.")]
    ]
    signatures: NotRequired[Annotated[list[Signature], Field(description="The oldest first.")]]


@with_config(s.CLOSED)
class ReasonedVerdict(Verdict):
    """The verdict with its reasons, and what could change it by itself."""

    because: Annotated[list[str], Field(description="Reasons in plain sentences.")]
    provisional: Annotated[bool, Field(description="Something could still change it.")]
    swings: Annotated[
        list[Swing], Field(description="The open places and entries, one of which could change it.")
    ]


@with_config(s.CLOSED)
class InspectionDocument(TypedDict):
    """What ``export --to json`` writes: a whole log, folded."""

    contract: Annotated[Literal["1.0"], Field(description="Version of this document.")]
    log: Header
    vehicle: Annotated[Vehicle, Field(description="What it is, how it stood, what was refused.")]
    zones: Annotated[list[Zone], Field(description="The places of the map, in its order.")]
    entries: Annotated[list[LoggedEntry], Field(description="What holds, in order.")]
    withdrawn: Annotated[list[LoggedEntry], Field(description="What was taken back, in order.")]
    photos: Annotated[list[Photo], Field(description="Pictures in the log's folder.")]
    coverage: list[Coverage]
    gaps: Annotated[list[Gap], Field(description="Places not seen, not probed, not looked into.")]
    verdict: ReasonedVerdict
    work_list: Annotated[list[Work], Field(description="What to do, the most urgent first.")]
    cautions: Annotated[list[str], Field(description="To be shown with every log.")]
    notice: Annotated[str, Field(description="What this document is, and is not.")]
