"""The contract's shapes for what was done at the bench: corrections and signatures."""

from __future__ import annotations

from typing import Annotated, NotRequired

from pydantic import Field, with_config
from typing_extensions import TypedDict  # pydantic refuses typing's own before Python 3.12

from voicelog.export import scalars as s


@with_config(s.CLOSED)
class Revision(TypedDict):
    """One correction of an entry at the bench."""

    at: Annotated[s.Utc, Field(description="When, RFC 3339, UTC.")]
    by: Annotated[str, Field(description="Who, as named; may be empty.")]
    did: Annotated[str, Field(description="What was done, for example correct or withdraw.")]
    why: NotRequired[Annotated[str, Field(description="The reason given.")]]


@with_config(s.CLOSED)
class Signature(TypedDict):
    """Who put a name to the log, and what was changed after that."""

    by: Annotated[str, Field(description="Who, as named.")]
    at: Annotated[s.Utc, Field(description="When, RFC 3339, UTC.")]
    lines: Annotated[s.Positive, Field(description="How many lines of the journal it covers.")]
    sha256: Annotated[s.Sha256, Field(description="Over these lines with their line feeds.")]
    open: NotRequired[Annotated[list[str], Field(description="What was open, as sentences.")]]
    why: NotRequired[Annotated[str, Field(description="Why it was signed all the same.")]]
    changed_after: NotRequired[
        Annotated[list[s.Positive], Field(description="Numbers of later lines with changes.")]
    ]
