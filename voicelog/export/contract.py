"""The contract other programs build on: checks documents, and writes the JSON Schemas.

``python -m voicelog.export.contract --write shared/schema`` writes the schemas again after a
change; a test fails while the files differ from the models.
"""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from pydantic import TypeAdapter, ValidationError
from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue
from pydantic_core import core_schema

from voicelog.errors import InputFault, UsageFault
from voicelog.export.command_shapes import (
    Amended,
    Listing,
    Signed,
    ToDo,
    Unsigned,
    WhyEntries,
    WhyVerdict,
)
from voicelog.export.comparison_shapes import ComparisonDocument
from voicelog.export.json_file import write_json
from voicelog.export.lines import FactLine
from voicelog.export.review_shapes import FullEntry, Reviewed
from voicelog.export.shapes import Answer, InspectionDocument
from voicelog.export.vehicle_shapes import Vehicle
from voicelog.tongue import joined, worded

DIALECT = "https://json-schema.org/draft/2020-12/schema"

_MODELS: Mapping[str, TypeAdapter[Any]] = {
    "answer": TypeAdapter(Answer),
    "inspection": TypeAdapter(InspectionDocument),
    "fact": TypeAdapter(FactLine),
    "comparison": TypeAdapter(ComparisonDocument),
    "amend": TypeAdapter(Amended),
    "list": TypeAdapter(Listing),
    "review": TypeAdapter(Reviewed | FullEntry),
    "sign": TypeAdapter(Signed | Unsigned),
    "vehicle": TypeAdapter(Vehicle),
    "why": TypeAdapter(WhyEntries | WhyVerdict),
    "work": TypeAdapter(ToDo),
}
_TITLES = {
    "answer": "voicelog answer",
    "inspection": "voicelog inspection",
    "fact": "voicelog journal line",
    "comparison": "voicelog comparison",
    **{
        name: f"voicelog {name} --json"
        for name in ("amend", "list", "review", "sign", "vehicle", "why", "work")
    },
}
_SHOWN_FAULTS = 8
_SHOWN_CHARACTERS = 160


def faults(document: object, schema: str = "") -> tuple[str, ...]:
    """Everything in a document that does not fit the contract, one line each.

    Args:
        document: as a JSON parser gives it.
        schema: the name of one in ``shared/schema``; empty: of ``answer``, ``inspection``, ``fact`` and
            ``comparison`` the one that the document's keys tell.

    Returns:
        ``path: what is wrong``, the path's steps parted by ``/``; empty when all fits. The lines
        are ASCII and of bounded length whatever the document holds.

    Raises:
        UsageFault: there is no schema of that name.
    """
    name = schema or _kind_of(document)
    if name not in _MODELS:
        raise UsageFault(
            worded("There is no schema {name}", name=repr(name)),
            worded("Name one of {names}.", names=", ".join(_MODELS)),
        )
    try:
        _MODELS[name].validate_python(document)
    except ValidationError as error:
        found = error.errors(include_url=False, include_context=False, include_input=False)
        return tuple(
            f"{_path(fault['loc'], document)}: {_inert(_message(fault['type'], fault['msg']))}"
            for fault in found
        )
    return ()


def validate(document: object, schema: str = "") -> None:
    """Refuses a document that does not fit the contract.

    Args:
        document: as a JSON parser gives it.
        schema: as for :func:`faults`.

    Raises:
        InputFault: with the paths of what is wrong.
    """
    found = faults(document, schema)
    if not found:
        return
    more = (
        [worded("and {count} more", count=len(found) - _SHOWN_FAULTS)]
        if len(found) > _SHOWN_FAULTS
        else []
    )
    listed = joined("; ", [*found[:_SHOWN_FAULTS], *more])
    raise InputFault(
        worded(
            "The document does not fit the {schema} schema: {listed}",
            schema=schema or _kind_of(document),
            listed=listed,
        ),
        worded("shared/CONTRACT.md says what each key holds."),
    )


def schema_documents() -> dict[str, JsonSchemaValue]:
    """The schemas as files: name to JSON Schema 2020-12, each complete in itself."""
    return {f"{name}.schema.json": _schema(name) for name in _MODELS}


def main(arguments: Sequence[str] | None = None) -> None:
    """Writes the schemas into the folder given with ``--write``."""
    parser = argparse.ArgumentParser(description="Write the contract's JSON Schemas.")
    parser.add_argument("--write", type=Path, required=True, metavar="FOLDER")
    folder: Path = parser.parse_args(arguments).write
    for name, document in schema_documents().items():
        write_json(document, folder / name)


class _Plain(GenerateJsonSchema):
    """Schemas without titles made from key names, and without OpenAPI's discriminator."""

    def field_title_should_be_set(self, schema: Any) -> bool:  # noqa: ARG002
        return False

    def tagged_union_schema(self, schema: core_schema.TaggedUnionSchema) -> JsonSchemaValue:
        document = super().tagged_union_schema(schema)
        document.pop("discriminator", None)
        return document


def _schema(name: str) -> JsonSchemaValue:
    made = _MODELS[name].json_schema(schema_generator=_Plain)
    return {"$schema": DIALECT, **made, "title": _TITLES[name]}


def _kind_of(document: object) -> str:
    keys = document.keys() if isinstance(document, Mapping) else ()
    if "differences" in keys:
        return "comparison"
    if "contract" in keys or "log" in keys:
        return "inspection"
    return "fact" if "seq" in keys or "prev" in keys else "answer"


def _path(location: tuple[int | str, ...], document: object) -> str:
    """Where the fault lies in the document; the branches of the models' unions are no steps."""
    return _inert("/".join(str(step) for step in _steps(location, document))) or "document"


def _steps(location: tuple[int | str, ...], here: Any) -> Iterator[int | str]:
    for number, step in enumerate(location, 1):
        known = here if isinstance(here, Mapping) else range(len(here) if _is_list(here) else 0)
        if step in known:
            here = here[step]
        elif number < len(location) or not isinstance(here, Mapping):
            continue
        yield step


def _is_list(value: object) -> bool:
    return isinstance(value, list)


def _message(kind: str, text: str) -> str:
    unknown = "the key that tells what it is is missing, or its value unknown"
    return unknown if kind.startswith("union_tag") else text


def _inert(text: str) -> str:
    """The text in printable ASCII and of bounded length."""
    shown = text if len(text) <= _SHOWN_CHARACTERS else f"{text[:_SHOWN_CHARACTERS]}..."
    return "".join(c if c.isascii() and c.isprintable() else ascii(c)[1:-1] for c in shown)


if __name__ == "__main__":
    main()
