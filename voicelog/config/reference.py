"""The written reference of every key, made from the models: ``shared/GRAMMAR.md``.

``python -m voicelog.config.reference`` prints it; ``--write`` puts it into a checkout.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import asdict
from pathlib import Path
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from voicelog.config.data import grammar_dir
from voicelog.config.language_page import LANGUAGES
from voicelog.config.maps import FamilyTable, MapFile, ZoneTable
from voicelog.config.overlay import OverlayFile, ZoneAddition
from voicelog.config.phrases import LONGEST_WORDS
from voicelog.config.pointers import PointerTable, RegionFile
from voicelog.config.rules import RulesFile, RuleTable
from voicelog.config.settings import Settings
from voicelog.config.settings_file import SettingsFile
from voicelog.config.shape import OneOf, inner_model
from voicelog.config.when import When, WorkWhen
from voicelog.config.word_classes import WORD_CLASSES
from voicelog.config.words import Confusion, Meaning, WordsFile
from voicelog.config.work_rules import WorkTable
from voicelog.domain.slot import CONDITIONS, SLOTS, Spec

PLACE = Path("shared") / "GRAMMAR.md"

_SHORT = 10
"""Lists longer than this are told once, in a section of their own."""

_PATTERNED = {
    "number": "a whole number up to 999999, or a fraction such as `3/4`",
    "tag": "a name of your own: small letters and hyphens",
}
_NAMES = {"zone": "a zone of the map", "condition": "a condition (below)"}

_HEAD = """\
# The grammar files, key by key

Made from the program's own models by `python -m voicelog.config.reference --write`; a test keeps
it in step. Do not edit it by hand.

A grammar folder holds TOML files (https://toml.io, version 1.0):

| file | what it holds |
|---|---|
| `words/*.toml` | the spoken vocabulary; all files are merged in the order of their names |
| `maps/<id>.toml` | the places of one kind of vehicle; one map is in force |
| `rules/frame.toml` | the severity table |
| `overlays/*.toml` | a shop's own additions on top, in the order of their names |
| `regions/<name>.toml` | public rules of a region to look up; no part of grading, so a log keeps no copy |

Leave the shipped files alone and put what is yours into an overlay, or into a map file of your own
(copy `maps/ladder-frame.toml`, give it another name and the same `id`, and pass its path as the
map). Unknown keys, wrong kinds of values and contradictions between files are faults: all of them
are listed at once, each as `file:line: key: what is wrong`.

## Phrases

Everything under `say` and `misheard` is a phrase: letters, digits, spaces, apostrophes, hyphens,
slashes, the percent sign, the inch quote, and a full stop behind a letter; at most {longest} words.
Small and capital letters are the same; so are hyphens, slashes and spaces. No phrase may stand
twice, for one meaning or for two, in the shipped files. An overlay may repeat a shipped phrase
with its meaning; to give it another, it writes `replace = true` in that table.
"""

_OVERLAY = """\
[[zone]]                            # a local name, and this maker's sheet
id = "kick-up"
say = ["camel back"]
nominal_mm = 2.5

[[meaning]]                         # another way to say a condition
slot = "condition"
value = "scale"
say = ["cornflakes"]

[[meaning]]                         # a control word of the shop's own …
slot = "act"
value = "disregard"
say = ["scrub that"]

[[meaning]]                         # … and the shipped one no longer heard
slot = "ignore"
value = "ignore"
say = ["disregard"]
replace = true

[limits]                            # the shop's own limit
wall_loss_percent = 20
"""

_SECTIONS: tuple[tuple[str, str, type[BaseModel]], ...] = (
    ("Words: `words/*.toml`", "", WordsFile),
    ("`[[meaning]]`", "", Meaning),
    ("`[[confusion]]`", "", Confusion),
    ("Maps: `maps/<id>.toml`", "", MapFile),
    ("`[[zone]]`", "", ZoneTable),
    ("`[[family]]`", "", FamilyTable),
    (
        "Rules: `rules/frame.toml`",
        "Tried from the top: the first rule with `grade` that fits gives the grade; every fitting "
        "`at_least`, then every fitting `worsen`, can only make it worse. The last rule with "
        "`grade` must fit everything.",
        RulesFile,
    ),
    ("`[[rule]]`", "", RuleTable),
    ("`when`", "All keys given must fit. Of a list, one value is enough.", When),
    (
        "`[[work]]`",
        "What is done about a finding, or about a place that is open: the first that fits counts, and "
        "the last must fit every finding. A table without any gives no steps. While a finding is "
        "unproven, the steps under `prove` come first.",
        WorkTable,
    ),
    (
        "`when` of `[[work]]`",
        "The keys of a rule's `when`, and these. A `[[rule]]` cannot ask for them: it is what gives "
        "the grade.",
        WorkWhen,
    ),
    (
        "Regions: `regions/<name>.toml`",
        "Shown for the regions asked for (setting `regions`, flag `--region`), every pointer that fits "
        "a finding. None says whether anything passes: it names what an inspector there would look up.",
        RegionFile,
    ),
    (
        "`[[pointer]]`",
        "Its `when` takes the keys of a `[[work]]`'s, except `open`.",
        PointerTable,
    ),
    (
        "Overlays: `overlays/*.toml`, or the setting `overlays`",
        "Lists append to what is below; single values replace it. `voicelog words check --words "
        "shop.toml` loads the file and tells which of its phrases sound like others.\n\n```toml\n"
        + _OVERLAY
        + "```",
        OverlayFile,
    ),
    (
        "`[[zone]]` in an overlay",
        "`[[meaning]]` and `[[family]]` are those of the words and maps; `say` may be left out where "
        "`misheard` has something.",
        ZoneAddition,
    ),
    (
        "Settings: `settings.toml` in the user's configuration folder",
        "Each is also a variable: `VOICELOG_` and its name in capitals (`VOICELOG_RAILS=boxed`; "
        "several overlays are separated as in `PATH`). Shipped values lie lowest, then the file, "
        "the variables, the command line; single values replace, lists append. Relative paths "
        "start from the file's folder, or from the current one.",
        SettingsFile,
    ),
)


def reference() -> str:
    """The whole document, Markdown."""
    sections = (_section(*section) for section in _SECTIONS)
    return "\n".join((_HEAD.format(longest=LONGEST_WORDS), *sections, *_lists(), LANGUAGES))


def _section(title: str, text: str, model: type[BaseModel]) -> str:
    """One heading with the table of a model's keys."""
    depth = "###" if title.startswith("`") else "##"
    shipped = _shipped() if model is SettingsFile else {}
    rows = [_row(name, field, shipped) for name, field in _told_here(model)]
    table = "\n".join(("| key | value | unless given | meaning |", "|---|---|---|---|", *rows))
    return f"{depth} {title}\n\n" + (f"{text}\n\n" if text else "") + f"{table}\n"


def _told_here(model: type[BaseModel]) -> Iterator[tuple[str, FieldInfo]]:
    """The keys of a model, without those of the sections it goes on from."""
    told = {name for _, _, other in _SECTIONS for name in _further(model, other)}
    return ((name, field) for name, field in model.model_fields.items() if name not in told)


def _further(model: type[BaseModel], other: type[BaseModel]) -> Iterable[str]:
    """The keys that a model has from another."""
    return other.model_fields if model is not other and issubclass(model, other) else ()


def _row(name: str, field: FieldInfo, shipped: Mapping[str, str]) -> str:
    """One key as a row of a table."""
    marks = [mark for mark in field.metadata if isinstance(mark, OneOf)]
    kind = _listed(marks[0]) if marks else _kind(field.annotation)
    cells = (f"`{name}`", kind, shipped.get(name, _default(field)), field.description or "")
    return f"| {' | '.join(cells)} |"


def _shipped() -> dict[str, str]:
    """The shipped settings, by name, as text."""
    settings = Settings(into=Path())
    given = {**vars(settings), **asdict(settings.speech), "unit": "millimetre"}
    known = {name: f"`{value}`" for name, value in given.items() if value not in (None, ())}
    return {**known, "into": "`inspections` in the user's data folder"}


def _default(field: FieldInfo) -> str:
    """The value a key has when it is not written; empty for nothing."""
    if field.is_required():
        return "**required**"
    value = field.default
    if isinstance(value, bool):
        return f"`{str(value).lower()}`"
    return f"`{value}`" if isinstance(value, (str, int, float)) and value != "" else ""


def _kind(annotation: Any) -> str:
    """The values a key takes, in words."""
    origin, parts = get_origin(annotation), get_args(annotation)
    if origin is Annotated:
        marks = [mark for mark in parts[1:] if isinstance(mark, OneOf)]
        return _listed(marks[0]) if marks else _kind(parts[0])
    if origin in (Union, UnionType):
        return " or ".join(_kind(part) for part in parts if part is not NoneType)
    if origin is list:
        return "tables" if inner_model(annotation) else f"list of {_kind(parts[0])}"
    if origin is dict:
        return f"table: name to {_kind(parts[1])}"
    if origin is Literal:
        return ", ".join(f"`{part}`" for part in parts)
    names = {str: "text", bool: "true or false", int: "whole number", float: "number"}
    return names.get(annotation, "table")


def _listed(mark: OneOf) -> str:
    """A closed list: its names, or what they are when there are many."""
    if len(mark.names) > _SHORT:
        return f"{mark.noun} (below)"
    return ", ".join(f"`{name}`" for name in mark.names)


def _lists() -> Iterator[str]:
    """The long closed lists."""
    yield "## Slots\n\nA phrase may set one of these; numbers also take the value `number`: the"
    yield "words announce a number that is said beside them.\n"
    yield "| slot | value |\n|---|---|"
    for name, spec in SLOTS.items():
        yield f"| `{name}` | {_NAMES.get(name) or _values(spec)} |"
    yield "\n## Word classes\n\nWords that steer how the rest is read, and the values they take.\n"
    yield "| class | value |\n|---|---|"
    for name in sorted(WORD_CLASSES):
        yield f"| `{name}` | {_class_values(name)} |"
    yield "\n## Conditions\n"
    yield ", ".join(f"`{name}`" for name in CONDITIONS) + "\n"


def _class_values(name: str) -> str:
    """What a word class takes, in words."""
    values = WORD_CLASSES[name]
    if values == CONDITIONS:
        return _NAMES["condition"]
    return ", ".join(f"`{value}`" for value in values) or _PATTERNED[name]


def _values(spec: Spec) -> str:
    """What a slot may hold, in words."""
    if spec.choices:
        return ", ".join(f"`{choice}`" for choice in spec.choices)
    unit = {"length": " mm", "percent": " %", "count": ""}.get(spec.kind)
    return "text" if unit is None else f"{spec.low:g} to {spec.high:g}{unit}"


def main(arguments: Sequence[str]) -> None:
    """Print the reference, or write it into the checkout with ``--write``."""
    if "--write" in arguments:
        place = grammar_dir().parent / PLACE
        place.write_text(reference(), encoding="utf-8", newline="\n")
    else:
        sys.stdout.write(reference())


if __name__ == "__main__":
    main(sys.argv[1:])
