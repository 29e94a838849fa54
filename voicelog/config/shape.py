"""Closed lists for pydantic fields, and looking into the models built of them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any, get_args

from pydantic import BaseModel, GetCoreSchemaHandler
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from voicelog.config.faults import did_you_mean
from voicelog.tongue import Worded, english_of, worded


@dataclass(frozen=True, slots=True)
class OneOf:
    """Marks a text field that must be one of a closed list of names.

    Args:
        names: the list.
        noun: what they are, for the message.
    """

    names: tuple[str, ...]
    noun: str

    def __get_pydantic_core_schema__(
        self, source: type[object], handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        """Check the name after the text itself was checked."""
        return core_schema.no_info_after_validator_function(self.check, handler(source))

    def check(self, name: str) -> str:
        """The name unchanged.

        Raises:
            PydanticCustomError: when it is not in the list.
        """
        if name in self.names:
            return name
        raise PydanticCustomError(
            "unknown_name", "{told}", {"told": unknown(name, self.names, self.noun)}
        )


def unknown(name: str, names: Iterable[str], noun: str) -> str:
    """The message for a name that is not in its list: the nearest one, or all of a short list."""
    known = tuple(dict.fromkeys(names))
    others: str = did_you_mean(name, known)
    if not others and len(known) <= 10:
        others = worded(" (one of: {names})", names=", ".join(known))
    what = noun if isinstance(noun, Worded) else worded(noun)
    if english_of(what)[0] in "aeiou":
        return worded("{name} is not an {what}{others}", name=repr(name), what=what, others=others)
    return worded("{name} is not a {what}{others}", name=repr(name), what=what, others=others)


def inner_model(annotation: Any) -> type[BaseModel] | None:
    """The model inside an annotation such as ``list[Zone] | None``; None when it has none."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    found = (inner_model(part) for part in get_args(annotation))
    return next((model for model in found if model), None)


def inner_fields(model: type[BaseModel], loc: Iterable[str | int]) -> Mapping[str, object]:
    """The fields of the model found by following ``loc`` from ``model``; empty when it ends."""
    here: type[BaseModel] | None = model
    for part in loc:
        if isinstance(part, str) and here:
            field = here.model_fields.get(part)
            here = inner_model(field.annotation) if field else None
    return here.model_fields if here else {}
