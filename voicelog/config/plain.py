"""A grammar as plain data that JSON can hold, and back."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import asdict
from itertools import groupby
from typing import Any

from voicelog.config.grammar import Grammar
from voicelog.domain.grade import Grade, Rule, RuleSet, WorkRule
from voicelog.domain.reading import Phrase, Vocabulary
from voicelog.domain.zone import Cavity, Family, Layout, Role, Zone, ZoneMap


def to_plain(grammar: Grammar) -> dict[str, Any]:
    """Everything but the files and where in them each phrase was written."""
    return {
        "phrases": list(_grouped(grammar.vocabulary.phrases)),
        "numerals": list(_grouped(grammar.vocabulary.numerals)),
        "header": list(_grouped(grammar.vocabulary.header)),
        "map": asdict(grammar.zone_map),
        "rules": asdict(grammar.rules),
        "confusions": dict(grammar.confusions),
    }


def from_plain(plain: Mapping[str, Any], files: Mapping[str, bytes]) -> Grammar:
    """The grammar again.

    Args:
        plain: what :func:`to_plain` gave, its tuples as lists.
        files: the files it was made of.
    """
    spoken = (tuple(_phrases(plain[name])) for name in ("phrases", "numerals", "header"))
    return Grammar(
        Vocabulary(*spoken),
        _map(_tuples(plain["map"])),
        _rules(_tuples(plain["rules"])),
        files,
        confusions=_tuples(plain["confusions"]),
    )


def _grouped(phrases: Iterable[Phrase]) -> Iterator[tuple[object, ...]]:
    """Neighbours that differ in their text only, together: thousands of phrases, few meanings."""

    def meaning(phrase: Phrase) -> tuple[object, ...]:
        return phrase.slot, phrase.value, dict(phrase.also), phrase.misheard

    for shared, alike in groupby(phrases, meaning):
        yield *shared, [phrase.text for phrase in alike]


def _phrases(groups: Iterable[list[Any]]) -> Iterator[Phrase]:
    for slot, value, also, misheard, texts in groups:
        for text in texts:
            yield Phrase(text, slot, value, also, misheard)


def _tuples(value: Any) -> Any:
    """The value with tuples for lists: the domain has no lists."""
    if isinstance(value, dict):
        return {key: _tuples(part) for key, part in value.items()}
    return tuple(map(_tuples, value)) if isinstance(value, list) else value


def _map(row: dict[str, Any]) -> ZoneMap:
    zones = {name: _zone(zone) for name, zone in row["zones"].items()}
    families = tuple(Family(**family) for family in row["families"])
    return ZoneMap(**{**row, "zones": zones, "families": families})


def _zone(row: dict[str, Any]) -> Zone:
    named = {
        "role": Role(row["role"]),
        "layout": Layout(row["layout"]),
        "cavity": Cavity(row["cavity"]),
    }
    return Zone(**{**row, **named})


def _rules(row: dict[str, Any]) -> RuleSet:
    rules, work = tuple(map(_rule, row["rules"])), tuple(WorkRule(**one) for one in row["work"])
    return RuleSet(**{**row, "rules": rules, "work": work})


def _rule(row: dict[str, Any]) -> Rule:
    grades = {name: row[name] and Grade(row[name]) for name in ("grade", "at_least")}
    return Rule(**{**row, **grades})
