"""A grammar made of its files: each checked by itself, then against the others."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from voicelog.config.borrowed import filled
from voicelog.config.document import Document, Read, SheetT, checked, read_document
from voicelog.config.earlier_maps import completed
from voicelog.config.faults import Fault, refuse
from voicelog.config.grammar import Grammar
from voicelog.config.maps import MapFile, build_map, map_faults, map_phrases
from voicelog.config.overlay import (
    OverlayFile,
    layered_map,
    layered_rules,
    overlay_faults,
    overlay_phrases,
)
from voicelog.config.phrases import Placed, merged, spelling_faults, tidy
from voicelog.config.rules import RulesFile, build_rules, rules_faults
from voicelog.config.words import WordsFile, words_faults, words_phrases
from voicelog.domain.reading import HEADER, NUMERALS, Phrase, Vocabulary
from voicelog.tongue import to_word, worded

_HINT = to_word("Correct the lines below; shared/GRAMMAR.md explains every key")


def loaded(paths: Mapping[str, Path]) -> Grammar:
    """The grammar that files make.

    Args:
        paths: the files by their names in a grammar folder, overlays from the lowest up.

    Raises:
        GrammarFault: anything is wrong with the files; all faults at once.
    """
    faults: list[Fault] = []
    documents = _read(paths, faults)
    parts = _parts(documents, faults)
    faults.extend(_cross_faults(parts))
    spoken = tuple(_spoken(parts))
    apart = NUMERALS | HEADER
    matched = merged((p for p in spoken if p.phrase.slot not in apart), faults)
    numerals = merged((p for p in spoken if p.phrase.slot in NUMERALS), faults)
    header = merged((p for p in spoken if p.phrase.slot in HEADER), faults)
    refuse(faults, worded("the grammar"), worded(_HINT))
    overlaid = [read.sheet for read in parts.shop]
    phrases = tuple(placed.phrase for placed in matched)
    return Grammar(
        vocabulary=Vocabulary(
            phrases,
            tuple(placed.phrase for placed in numerals),
            tuple(placed.phrase for placed in header),
        ),
        zone_map=build_map(layered_map(completed(parts.places.sheet), overlaid), phrases),
        rules=build_rules(layered_rules(parts.rules.sheet, overlaid)),
        files={name: document.raw for name, document in documents.items()},
        written={placed.phrase.text: placed for placed in matched},
        confusions=_confusions([*parts.words, *parts.shop]),
    )


def _read(paths: Mapping[str, Path], faults: list[Fault]) -> dict[str, Document]:
    """The files, the map whole with what it takes over from those behind it."""
    documents = {name: read_document(path, faults) for name, path in paths.items()}
    in_force, *behind = _maps(documents)
    others = {documents[name].stem: documents[name] for name in behind}
    return {**documents, in_force: filled(documents[in_force], others, faults)}


def _maps(documents: Mapping[str, Document]) -> list[str]:
    """The names of the map files: the map in force, then those it takes places from."""
    return [name for name in documents if name.startswith("maps/")]


def called_by(grammar: Grammar, word: str) -> Grammar:
    """The grammar with this attention word in the place of its own.

    Raises:
        GrammarFault: nobody can say it, or it already means something.
    """
    placed = Placed(tidy(Phrase(word, "attention", "attention")), Document("attention", b""), ())
    text = placed.phrase.text
    faults = list(spelling_faults(placed))
    taken = grammar.written.get(text)
    if taken is not None and taken.phrase.slot != "attention":
        there = taken.fault("")
        message = worded(
            "{word} already means something at {place}",
            word=repr(text),
            place=f"{there.file}:{there.line}",
        )
        faults.append(Fault("", 0, "attention", message))
    refuse(faults, worded("your settings"), worded("Choose another attention word"))
    others = tuple(phrase for phrase in grammar.vocabulary.phrases if phrase.slot != "attention")
    return replace(
        grammar,
        vocabulary=replace(grammar.vocabulary, phrases=(*others, placed.phrase)),
        written={**grammar.written, text: placed},
    )


@dataclass(frozen=True)
class _Parts:
    """The files of a grammar, each checked by itself."""

    places: Read[MapFile]
    rules: Read[RulesFile]
    words: tuple[Read[WordsFile], ...]
    shop: tuple[Read[OverlayFile], ...]


def _parts(documents: Mapping[str, Document], faults: list[Fault]) -> _Parts:
    """The files by their folders; what is wrong in one of them is added to ``faults``."""

    def each(folder: str, model: type[SheetT]) -> tuple[Read[SheetT], ...]:
        files = (file for name, file in documents.items() if name.startswith(f"{folder}/"))
        return tuple(checked(file, model, faults) for file in files)

    in_force, *_ = _maps(documents)
    return _Parts(
        places=checked(documents[in_force], MapFile, faults),
        rules=each("rules", RulesFile)[0],
        words=each("words", WordsFile),
        shop=each("overlays", OverlayFile),
    )


def _cross_faults(parts: _Parts) -> Iterator[Fault]:
    """What is wrong between the entries of a file and between files."""
    places, rules = parts.places, parts.rules
    zones, limits = places.document.ids("zone"), rules.sheet.limits
    yield from places.faults(map_faults(places.sheet, places.document.stem, zones))
    yield from rules.faults(rules_faults(rules.sheet))
    for words in parts.words:
        yield from words.faults(words_faults(words.sheet, zones))
    for overlay in parts.shop:
        yield from overlay.faults(overlay_faults(overlay.sheet, zones, limits))


def _confusions(files: Iterable[Read[WordsFile] | Read[OverlayFile]]) -> dict[str, tuple[str, ...]]:
    """What is heard for what is said, of all files together."""
    heard: dict[str, tuple[str, ...]] = {}
    for file in files:
        for row in file.sheet.confusion:
            heard[row.say] = (*heard.get(row.say, ()), *row.heard)
    return heard


def _spoken(parts: _Parts) -> Iterator[Placed]:
    """Every phrase of every file, the overlays' last and on top."""
    for words in parts.words:
        for loc, phrase in words_phrases(words.sheet):
            yield Placed(tidy(phrase), words.document, loc)
    if not any(overlay.sheet.forget_names for overlay in parts.shop):
        for loc, phrase in map_phrases(parts.places.sheet):
            yield Placed(tidy(phrase), parts.places.document, loc)
    zones = parts.places.document.ids("zone")
    for layer, overlay in enumerate(parts.shop, 1):
        learned = overlay.sheet.learned
        for loc, phrase, takes_over in overlay_phrases(overlay.sheet, zones):
            yield Placed(tidy(phrase), overlay.document, loc, layer, takes_over, learned)
