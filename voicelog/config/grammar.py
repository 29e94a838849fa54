"""The grammar in force: words, zone map and rules from TOML, with a shop's own additions."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

from voicelog.config.data import grammar_dir
from voicelog.config.learned_files import learned_files
from voicelog.config.places import grammar_files
from voicelog.config.settings import Settings
from voicelog.domain.grade import RuleSet
from voicelog.domain.reading import Vocabulary
from voicelog.domain.zone import ZoneMap

if TYPE_CHECKING:
    from voicelog.config.phrases import Placed


@dataclass(frozen=True)
class Grammar:
    """Everything a shop can edit, as it is in force.

    Args:
        vocabulary: every phrase: words, zones and families of the map, overlays.
        zone_map: the places of the vehicle.
        rules: the severity table.
        files: the files it was made of, by their names in a grammar folder; loading a folder that
            holds just these gives the same grammar again.
        written: where each phrase in force was written, by its text; empty when it came from the
            cache.
        confusions: words said to what recognisers are known to make of them.
    """

    vocabulary: Vocabulary
    zone_map: ZoneMap
    rules: RuleSet
    files: Mapping[str, bytes]
    written: Mapping[str, Placed] = field(default_factory=dict, compare=False, repr=False)
    confusions: Mapping[str, tuple[str, ...]] = field(default_factory=dict)


def grammar_in_force(settings: Settings) -> Grammar:
    """The grammar that the settings ask for, under what was learned from corrections; what a folder
    of one's own lacks is the shipped one's.

    Raises:
        UsageFault: the folder or the map is not there.
        GrammarFault: anything is wrong with the files; all faults at once.
    """
    from voicelog.config.loading import called_by, loaded  # pydantic's models start slowly

    grammar = loaded(files_in_force(settings))
    chosen = settings.attention != Settings.attention
    return called_by(grammar, settings.attention) if chosen else grammar


def files_in_force(settings: Settings) -> dict[str, Path]:
    """The files of that grammar by their names in a grammar folder.

    Raises:
        UsageFault: the folder or the map is not there.
    """
    shipped = grammar_dir()
    overlays = (*learned_files(settings), *settings.overlays)
    return grammar_files(settings.grammar or shipped, settings.map, overlays, behind=shipped)


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
    from voicelog.config.loading import loaded  # pydantic's models start slowly

    return loaded(grammar_files(folder or grammar_dir(), map_id, overlays, behind))
