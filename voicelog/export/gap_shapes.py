"""The contract's shape of a place that is still open."""

from __future__ import annotations

from typing import Annotated, NotRequired

from pydantic import Field, with_config
from typing_extensions import TypedDict  # pydantic refuses typing's own before Python 3.12

from voicelog.export import scalars as s


@with_config(s.CLOSED)
class Gap(TypedDict):
    """A place that could still change the verdict, and why."""

    zone: Annotated[s.Name, Field(description="Place, an id of the zone map, or unplaced.")]
    why: s.GapReason
    side: NotRequired[s.Side]
    face: NotRequired[s.Face]
    entry: NotRequired[Annotated[s.EntryId, Field(description="The entry concerned.")]]
    reason: NotRequired[Annotated[str, Field(description="What the inspector gave as reason.")]]
