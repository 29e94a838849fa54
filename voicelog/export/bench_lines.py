"""The contract's journal lines of the bench: corrected, listened to, learned, signed, and what was
told of the vehicle and its pictures.
"""

from __future__ import annotations

from typing import Annotated, Literal, NotRequired

from pydantic import Field, JsonValue, with_config
from typing_extensions import TypedDict  # pydantic refuses typing's own before Python 3.12

from voicelog.export import scalars as s
from voicelog.export.held import Change
from voicelog.export.line_parts import Clip, Envelope, Grades, Heard, Reading

Person = Annotated[str, Field(description="Who did it, as named; may be empty.")]


@with_config(s.OPEN)
class Revised(Envelope):
    """One correction at the bench: what was done, and what it changed."""

    type: Literal["revised"]
    did: Annotated[s.Name, Field(description="The deed; a reader accepts one it has never met.")]
    by: Person
    why: NotRequired[Annotated[str, Field(description="The reason given.")]]
    of: NotRequired[
        Annotated[s.Positive, Field(description="The line that is undone or done again.")]
    ]
    utterance: NotRequired[
        Annotated[s.UtteranceId, Field(description="Where a sentence was typed or spoken anew.")]
    ]
    clip: NotRequired[Clip]
    heard: NotRequired[Heard]
    reading: NotRequired[Reading]
    changes: Annotated[list[Change], Field(description="In order; an entry named is one before.")]
    graded: NotRequired[Grades]


@with_config(s.OPEN)
class Listened(Envelope):
    """The sound of an utterance was played to its end at the bench."""

    type: Literal["listened"]
    utterance: s.UtteranceId
    by: Person


_For = TypedDict("_For", {"for": Literal["shop", "person"]})


@with_config(s.OPEN)
class Learned(Envelope, _For):
    """A mishearing is understood from now on, by a file outside the log."""

    type: Literal["learned"]
    heard: Annotated[str, Field(description="What the ear makes of it.")]
    slot: Annotated[str, Field(description="The slot it is a value of.")]
    value: Annotated[str, Field(description="The value.")]
    say: Annotated[str, Field(description="The spoken name that it stands for.")]
    by: Person
    entry: Annotated[s.EntryId, Field(description="The entry whose correction taught it.")]


@with_config(s.OPEN)
class Signed(Envelope):
    """Somebody put a name to the log as it stood."""

    type: Literal["signed"]
    by: Annotated[str, Field(min_length=1, description="Who, as named.")]
    lines: Annotated[s.Positive, Field(description="How many lines it covers: all before it.")]
    sha256: Annotated[s.Sha256, Field(description="Over these lines with their line feeds.")]
    open: NotRequired[Annotated[list[str], Field(description="What was open, as sentences.")]]
    why: NotRequired[Annotated[str, Field(description="Why it was signed all the same.")]]


@with_config(s.OPEN)
class VehicleTold(Envelope):
    """Something was told of the vehicle after the log was opened; a later line holds over it."""

    type: Literal["vehicle"]
    set: Annotated[
        dict[str, JsonValue], Field(description="What holds from now on, by the document's keys.")
    ]
    by: Person


@with_config(s.OPEN)
class PhotoTaken(Envelope):
    """A picture was put beside the log; a later line about the same file holds over it."""

    type: Literal["photo"]
    file: Annotated[str, Field(description="Path inside the log's folder.")]
    sha256: Annotated[s.Sha256, Field(description="Of that file.")]
    original: Annotated[str, Field(description="Name of the file it was copied from.")]
    original_sha256: NotRequired[
        Annotated[
            str, Field(description="Of the file it was copied from, before anything was cut.")
        ]
    ]
    entries: Annotated[list[s.EntryId], Field(description="What it shows, the likeliest first.")]
    taken: NotRequired[Annotated[str, Field(description="When; empty where nobody knows.")]]
    confidence: Annotated[float, Field(ge=0, le=1, description="1: a person said so.")]
    because: NotRequired[Annotated[list[str], Field(description="Why it was matched so.")]]
    location: Literal["none", "stripped", "kept"]
    by: Person
