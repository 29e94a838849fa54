"""The grammar in force: words, zone map and rules from TOML, with a shop's own additions."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from voicelog.config.data import grammar_dir
from voicelog.config.document import Document, Read, SheetT, checked, read_document
from voicelog.config.faults import Fault, refuse
from voicelog.config.maps import MapFile, build_map, map_faults, map_phrases
from voicelog.config.overlay import (
    OverlayFile,
    layered_map,
    layered_rules,
    overlay_faults,
    overlay_phrases,
)
from voicelog.config.phrases import Placed, merged, spelling_faults, tidy
from voicelog.config.places import grammar_files
from voicelog.config.rules import RulesFile, build_rules, rules_faults
from voicelog.config.settings import Settings
from voicelog.config.words import WordsFile, words_faults, words_phrases
from voicelog.domain.grade import RuleSet
from voicelog.domain.reading import NUMERALS, Phrase, Vocabulary
from voicelog.domain.zone import ZoneMap

_HINT = "Correct the lines below; shared/GRAMMAR.md explains every key"


@dataclass(frozen=True)
class Grammar:
    """Everything a shop can edit, as it is in force.

    Args:
        vocabulary: every phrase: words, zones and families of the map, overlays.
        zone_map: the places of the vehicle.
        rules: the severity table.
        files: the files it was made of, by their names in a grammar folder; loading a folder that
            holds just these gives the same grammar again.
        written: where each phrase in force was written, by its text.
        confusions: words said to what recognisers are known to make of them.
    """

    vocabulary: Vocabulary
    zone_map: ZoneMap
    rules: RuleSet
    files: Mapping[str, bytes]
    written: Mapping[str, Placed] = field(default_factory=dict, compare=False, repr=False)
    confusions: Mapping[str, tuple[str, ...]] = field(default_factory=dict)


def grammar_in_force(settings: Settings) -> Grammar:
    """The grammar that the settings ask for; what a folder of one's own lacks is the shipped one's.

    Raises:
        UsageFault: the folder or the map is not there.
        GrammarFault: anything is wrong with the files; all faults at once.
    """
    grammar = load_grammar(
        settings.map, folder=settings.grammar, overlays=settings.overlays, behind=grammar_dir()
    )
    chosen = settings.attention != Settings.attention
    return _called_by(grammar, settings.attention) if chosen else grammar


def _called_by(grammar: Grammar, word: str) -> Grammar:
    """The grammar with this attention word in the place of its own."""
    placed = Placed(tidy(Phrase(word, "attention", "attention")), Document("attention", b""), ())
    text = placed.phrase.text
    faults = list(spelling_faults(placed))
    taken = grammar.written.get(text)
    if taken is not None and taken.phrase.slot != "attention":
        there = taken.fault("")
        message = f"{text!r} already means something at {there.file}:{there.line}"
        faults.append(Fault("", 0, "attention", message))
    refuse(faults, "your settings", "Choose another attention word")
    others = tuple(phrase for phrase in grammar.vocabulary.phrases if phrase.slot != "attention")
    return replace(
        grammar,
        vocabulary=replace(grammar.vocabulary, phrases=(*others, placed.phrase)),
        written={**grammar.written, text: placed},
    )


def load_grammar(
    map_id: str = "ladder-frame",
    *,
    folder: Path | None = None,
    overlays: Sequence[Path] = (),
    behind: Path | None = None,
) -> Grammar:
    """Read and check a grammar folder.

    Args:
        map_id: a map of the folder, or the path of a map file (ends in ``.toml``).
        folder: the shipped grammar when not given; a log's own copy loads the same way.
        overlays: a shop's own files, later ones on top; a folder's ``overlays/*.toml`` lie below.
        behind: the folder that gives the words, map or rules that ``folder`` has none of; a log's
            own copy must be whole and gets none.

    Raises:
        UsageFault: the folder or the map is not there.
        GrammarFault: anything is wrong with the files; all faults at once.
    """
    faults: list[Fault] = []
    paths = grammar_files(folder or grammar_dir(), map_id, overlays, behind)
    documents = {name: read_document(path, faults) for name, path in paths.items()}
    parts = _parts(documents, faults)
    faults.extend(_cross_faults(parts))
    spoken = tuple(_spoken(parts))
    matched = merged((p for p in spoken if p.phrase.slot not in NUMERALS), faults)
    numerals = merged((p for p in spoken if p.phrase.slot in NUMERALS), faults)
    refuse(faults, "the grammar", _HINT)
    overlaid = [read.sheet for read in parts.shop]
    phrases = tuple(placed.phrase for placed in matched)
    return Grammar(
        vocabulary=Vocabulary(phrases, tuple(placed.phrase for placed in numerals)),
        zone_map=build_map(layered_map(parts.places.sheet, overlaid), phrases),
        rules=build_rules(layered_rules(parts.rules.sheet, overlaid)),
        files={name: document.raw for name, document in documents.items()},
        written={placed.phrase.text: placed for placed in matched},
        confusions=_confusions([*parts.words, *parts.shop]),
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

    return _Parts(
        places=each("maps", MapFile)[0],
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
    for layer, overlay in enumerate(parts.shop, 1):
        for loc, phrase, takes_over in overlay_phrases(overlay.sheet):
            yield Placed(tidy(phrase), overlay.document, loc, layer, takes_over)
