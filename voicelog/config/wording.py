"""What a model did not accept, in plain words with the nearest valid name."""

from __future__ import annotations

from pydantic import BaseModel
from pydantic_core import ErrorDetails

from voicelog.config.faults import did_you_mean
from voicelog.config.shape import inner_fields
from voicelog.tongue import to_word, worded

_MISTAKEN = {
    "string_type": to_word("must be text in quotes, not {value}"),
    "list_type": to_word("must be a list in square brackets, not {value}"),
    "dict_type": to_word("must be a table, not {value}"),
    "model_type": to_word("must be a table, not {value}"),
    "float_type": to_word("must be a number, not {value}"),
    "float_parsing": to_word("must be a number, not {value}"),
    "finite_number": to_word("must be a finite number, not {value}"),
    "int_type": to_word("must be a whole number, not {value}"),
    "int_parsing": to_word("must be a whole number, not {value}"),
    "bool_type": to_word("must be true or false, not {value}"),
    "greater_than": to_word("must be more than {gt}, not {value}"),
    "greater_than_equal": to_word("must be at least {ge}, not {value}"),
    "less_than_equal": to_word("must be at most {le}, not {value}"),
    "string_pattern_mismatch": to_word(
        "must be small letters, digits and single hyphens, not {value}"
    ),
    "literal_error": to_word("must be {expected}, not {value}"),
}
_LACKING = {
    "missing": to_word("is missing"),
    "string_too_short": to_word("must not be empty"),
    "too_short": to_word("has too few values: at least {min_length}"),
    "too_long": to_word("has too many values: at most {max_length}"),
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
        near = did_you_mean(str(problem["loc"][-1]), names)
        return worded("unknown key{near}", near=near)
    values: dict[str, object] = {
        name: value
        for name, value in context.items()
        if name in ("min_length", "max_length", "expected")
    }
    values |= {name: f"{value:g}" for name, value in context.items() if name in ("gt", "ge", "le")}
    if kind in _LACKING:
        return worded(_LACKING[kind], **values)
    if kind in _MISTAKEN:
        return worded(_MISTAKEN[kind], **values, value=_shown(problem["input"]))
    return str(context.get("told", problem["msg"]))  # of a name that is not in its list


def _shown(value: object) -> str:
    """A value as Python writes it, without what makes it longer than a line."""
    text = repr(value[:_LONGEST] if isinstance(value, str) else value)
    return text if len(text) <= _LONGEST else f"{text[:_LONGEST]}…"
