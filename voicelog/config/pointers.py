"""Public rules that an inspector of a region would look up: the files of ``grammar/regions``.

They are advice of the program that reads a log and no part of how it was graded; so a log keeps no
copy of them, and every log is read with those that are shipped now.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, ClassVar, Literal

from pydantic import Field

from voicelog.config.data import grammar_dir
from voicelog.config.document import Read, Sheet, Table, checked, read_document
from voicelog.config.faults import Fault, refuse
from voicelog.config.shape import OneOf
from voicelog.config.when import AdviceWhen, asked, limits_named
from voicelog.domain.grade import REGIONS, PointerRule, RuleSet
from voicelog.tongue import to_word, worded

if TYPE_CHECKING:
    from voicelog.config.positions import Loc

_HINT = to_word("Correct the lines below; shared/GRAMMAR.md explains every key")


class PointerTable(Table):
    """One public rule, and the findings for which somebody would look it up."""

    document: str = Field(description="what the rule stands in", min_length=1)
    item: str = Field(description="which part of it", min_length=1)
    about: str = Field(
        description="what it is about, in a sentence of our own; never whether something passes",
        min_length=1,
    )
    where: str = Field(
        default="", description="an address at which it can be read, if one is known"
    )
    read: Literal["issuer", "secondary"] = Field(
        description="where its number was read: on a page of whoever issued it, or elsewhere"
    )
    when: AdviceWhen = Field(
        default_factory=AdviceWhen,
        description="the findings for which it is shown; limits are numbers here, no names",
    )


class RegionFile(Sheet):
    """The public rules of one region."""

    blank: ClassVar[Mapping[str, object]] = {"region": "uk"}

    region: Annotated[str, OneOf(tuple(REGIONS), to_word("region"))] = Field(
        description="the region's short name, which is the file's name too"
    )
    pointer: list[PointerTable] = Field(default=[], description="its rules")


def region_file(region: str) -> Path:
    """Where the rules of a region lie."""
    return grammar_dir() / "regions" / f"{region}.toml"


def pointers_of(paths: Iterable[Path]) -> tuple[PointerRule, ...]:
    """The rules of some files, in their order.

    Raises:
        GrammarFault: anything is wrong with the files; all faults at once.
    """
    faults: list[Fault] = []
    read = [checked(read_document(path, faults), RegionFile, faults) for path in paths]
    for file in read:
        faults.extend(file.faults(_faults(file)))
    refuse(faults, worded("the pointers to public rules"), worded(_HINT))
    return tuple(_pointer(file.sheet.region, row) for file in read for row in file.sheet.pointer)


def with_pointers(rules: RuleSet, regions: Iterable[str] = tuple(REGIONS)) -> RuleSet:
    """The severity table with the public rules of these regions beside it.

    Args:
        rules: a table, for example a log's own.
        regions: names of :data:`voicelog.domain.grade.REGIONS`, in the order in which they are shown.

    Raises:
        GrammarFault: anything is wrong with the files; all faults at once.
    """
    return replace(rules, pointers=pointers_of(map(region_file, dict.fromkeys(regions))))


def _faults(file: Read[RegionFile]) -> Iterator[tuple[Loc, str]]:
    """A file under another name, an address nobody can open, a limit asked for by its name."""
    sheet, stem = file.sheet, file.document.stem
    if sheet.region != stem and "region" in file.document.data:
        yield ("region",), worded("must be the file's name, {name}", name=repr(stem))
    for number, row in enumerate(sheet.pointer):
        if row.where and not row.where.startswith(("https://", "http://")):
            yield (
                ("pointer", number, "where"),
                worded("must be an address that starts with {begin}", begin="https://"),
            )
        for key in limits_named(row.when):
            yield (
                ("pointer", number, "when", key),
                worded("must be a number: a pointer knows no limits"),
            )


def _pointer(region: str, row: PointerTable) -> PointerRule:
    return PointerRule(
        region=region,
        document=row.document,
        item=row.item,
        about=row.about,
        where=row.where,
        read=row.read,
        when=asked(row.when),
    )
