"""The log itself, as the whole document hands it over."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from voicelog.domain.fact import Fact
from voicelog.errors import LogFault
from voicelog.export.bench import signatures_to_json
from voicelog.export.values import clean, plain
from voicelog.tongue import worded


def header(facts: Sequence[Fact]) -> dict[str, Any]:
    """Id, beginning, length and circumstances of a log.

    Raises:
        LogFault: no fact says that the log was opened, or a signature cannot be read.
    """
    opened = next((fact for fact in facts if fact.type == "opened"), None)
    if opened is None:
        raise LogFault(
            worded("The log does not say when and how it was opened"),
            worded("Run voicelog verify on its folder."),
        )
    said = {name: plain(opened.body.get(name)) for name in _OPENED}
    signed = signatures_to_json(facts)
    return {
        "id": clean(str(opened.body.get("log_id", ""))),
        "created": clean(str(opened.body.get("created") or opened.at)),
        **{name: value for name, value in said.items() if value and _fits(name, value)},
        "utterances": sum(fact.type == "utterance" for fact in facts),
        "closed": _is_closed(facts),
        **({"signatures": signed} if signed else {}),
    }


_OPENED = ("subject", "program", "map", "rails", "ear", "model", "settings", "grammar")
"""What is handed over of the fact that opened the log, besides its id and time."""


_OBJECTS = ("settings", "grammar")
"""Those of them that are no text."""


def _fits(name: str, value: object) -> bool:
    """True for what the document has room for: a line may hold keys that its schema leaves open."""
    return isinstance(value, dict if name in _OBJECTS else str)


def _is_closed(facts: Sequence[Fact]) -> bool:
    """True when the inspection was finished and nothing was said since.

    Corrections and signatures at the bench come after its end, and leave it closed.
    """
    told = [fact.type for fact in facts if fact.type in ("closed", "utterance")]
    return told[-1:] == ["closed"]
