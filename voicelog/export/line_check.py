"""Whether a line of a log is what the contract says; quick, because every line of a log is asked.

Only the model of a line is built here: those of the documents, which take longer, only to put into
words what is wrong.
"""

from __future__ import annotations

from functools import cache
from typing import Any

from pydantic import TypeAdapter, ValidationError

from voicelog.domain.fact import FORMAT, Fact
from voicelog.export.held import Change
from voicelog.export.lines import WITH_CHANGES, FactLine


def misfit(fact: Fact) -> str:
    """What of a line does not fit the contract, as ``path: what is wrong``; empty where all does."""
    line = {
        **fact.body, "seq": fact.seq, "at": fact.at, "offset_s": fact.offset_s, "prev": fact.prev,
        "type": fact.type, "v": FORMAT,
    }  # fmt: skip
    try:
        _model().validate_python(line)
        if fact.type not in WITH_CHANGES:  # every line that has changes is folded
            _changes().validate_python(line.get("changes", []))
    except ValidationError:
        from voicelog.export.contract import faults

        return next(iter(faults(line, "fact")), "changes: none that can be read")
    return ""


@cache
def _model() -> TypeAdapter[Any]:
    return TypeAdapter(FactLine)


@cache
def _changes() -> TypeAdapter[Any]:
    return TypeAdapter(list[Change])
