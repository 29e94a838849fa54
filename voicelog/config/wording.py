"""What a model did not accept, in plain words with the nearest valid name."""

from __future__ import annotations

from pydantic import BaseModel
from pydantic_core import ErrorDetails

from voicelog.config.faults import did_you_mean
from voicelog.config.shape import inner_fields

_MISTAKEN = {
    "string_type": "must be text in quotes",
    "list_type": "must be a list in square brackets",
    "dict_type": "must be a table",
    "model_type": "must be a table",
    "float_type": "must be a number",
    "float_parsing": "must be a number",
    "finite_number": "must be a finite number",
    "int_type": "must be a whole number",
    "int_parsing": "must be a whole number",
    "bool_type": "must be true or false",
    "greater_than": "must be more than {gt:g}",
    "greater_than_equal": "must be at least {ge:g}",
    "less_than_equal": "must be at most {le:g}",
    "string_pattern_mismatch": "must be small letters, digits and single hyphens",
    "literal_error": "must be {expected}",
}
_LACKING = {
    "missing": "is missing",
    "string_too_short": "must not be empty",
    "too_short": "has too few values: at least {min_length}",
    "too_long": "has too many values: at most {max_length}",
}


_LONGEST = 120
"""Characters of a wrong value that are shown."""


def in_words(model: type[BaseModel], problem: ErrorDetails) -> str:
    """One problem of a validation as a sentence without its subject.

    Args:
        model: the model that was validated.
        problem: as pydantic reports it.
    """
    kind, context = problem["type"], problem.get("ctx", {})
    if kind == "extra_forbidden":
        names = inner_fields(model, problem["loc"][:-1])
        return f"unknown key{did_you_mean(str(problem['loc'][-1]), names)}"
    if kind in _LACKING:
        return _LACKING[kind].format(**context)
    if kind in _MISTAKEN:
        return f"{_MISTAKEN[kind].format(**context)}, not {_shown(problem['input'])}"
    return problem["msg"]


def _shown(value: object) -> str:
    """A value as Python writes it, without what makes it longer than a line."""
    text = repr(value[:_LONGEST] if isinstance(value, str) else value)
    return text if len(text) <= _LONGEST else f"{text[:_LONGEST]}…"
