"""The journal's readers under random input: opening, checking, folding; and taking a damaged one apart."""

from __future__ import annotations

import atexit
import json
import shutil
import tempfile
from collections.abc import Callable, Iterator, Mapping
from functools import cache
from pathlib import Path

import fuzz_lines
from fuzz_target import Target, memory

from voicelog.config import cache as grammar_cache
from voicelog.config.grammar import Grammar, load_grammar
from voicelog.errors import VoicelogError
from voicelog.journal import mending
from voicelog.journal.journal import Journal
from voicelog.journal.lines import NewerLog
from voicelog.journal.naming import JOURNAL
from voicelog.journal.reading import read_log
from voicelog.runtime import logs, recovering
from voicelog.runtime.checked_log import verify
from voicelog.runtime.damaged import plan_recovery

_SAID = (
    "left front rail, surface rust, scraped it, metal is firm",
    "right control arm mount, hole fifteen mil, goes through",
    "left mid rail thickness one point nine, new is two point five",
    "correction, that was the right side",
    "not seen, left control arm mount, splash shield in the way",
)
_WORDS = (
    b'"type":"',
    b'"changes":[',
    b'"do":"add"',
    b'"do":"amend"',
    b'"slots":{',
    b'"clip":{',
    b'"prev":"',
)


def journal() -> Target:
    """Opening a log: it is a fault with a sentence, or it opens, folds, and its check says so."""
    folder = _world()
    return Target(
        "journal: read, verify, fold", _in_place(folder, _read), _seeds(folder),
        fuzz_lines.mutated, _WORDS, longest=24_000,
    )  # fmt: skip


def salvage() -> Target:
    """Recovering a log: it is a fault with a sentence, or a new log without a problem."""
    folder = _world(small=True)
    mending._LONGEST = 300  # turning every bit of a longer line takes most of a second
    return Target(
        "journal: salvage and recover", _in_place(folder, _recovered), _seeds(folder),
        fuzz_lines.mutated, _WORDS, longest=3_000, patience_s=30,
    )  # fmt: skip


def _in_place(folder: Path, check: Callable[[Path], None]) -> Callable[[bytes], None]:
    _keep_grammars()

    def run(data: bytes) -> None:
        (folder / JOURNAL).write_bytes(data)
        check(folder)

    return run


def _read(folder: Path) -> None:
    """Whether it opens, and whether the check tells the same."""
    try:
        sound = verify(folder).ok
    except NewerLog:
        sound = False
    refused = ""
    try:
        opened = logs.open_log(folder)
        assert opened.log.facts == read_log(folder).facts
        json.dumps(logs.document_of(opened), allow_nan=False)
    except VoicelogError as fault:
        refused = str(fault)
    assert not (sound and refused), f"verify finds nothing, and it does not open: {refused}"


def _recovered(folder: Path) -> None:
    """What is recovered is a log of its own that holds every line that another vouches for."""
    before = (folder / JOURNAL).read_bytes()
    with tempfile.TemporaryDirectory(dir=folder.parent) as parent:
        new = recovering.recover(plan_recovery(folder), Path(parent))
        assert new.check.ok, f"recovered, and not whole: {new.check.problems[0]}"
        assert read_log(new.folder).facts
    assert (folder / JOURNAL).read_bytes() == before


@cache
def _world(*, small: bool = False) -> Path:
    """A log with a clip and a signature; a small one says less, and of a map of two places."""
    from voicelog.config.settings import Settings
    from voicelog.domain.heard import Heard, heard_to_json
    from voicelog.domain.sound import Clip
    from voicelog.runtime.session import Session

    parent = Path(tempfile.mkdtemp(prefix="voicelog-fuzz-", dir=memory()))
    atexit.register(shutil.rmtree, parent, ignore_errors=True)
    grammar = _cart(parent) if small else load_grammar()
    opened = {"map": grammar.zone_map.id, "rails": "mixed", "settings": {}}
    with Journal.create(parent, opened=opened, grammar=grammar.files) as log:
        session = Session(Settings(), grammar, journal=log)
        for number, text in enumerate(("shaft, scale",) if small else _SAID, 2):
            session.read(text, at_s=number * 5.0)
            log.append("gap", {"lost_s": 0.5})
        utterance, heard = f"u{log.next_seq}", heard_to_json(Heard.typed("shaft"))
        said = {"utterance": utterance, "heard": heard, "changes": []}
        clip = log.keep_clip(utterance, Clip(bytes(3200), 1.0, 1.1))
        log.append("utterance", {**said, "clip": clip})
        lines, sha256 = log.sealed()
        log.append("signed", {"by": "A. N. Other", "lines": lines, "sha256": sha256, "open": []})
    shutil.copy(log.folder / JOURNAL, log.folder / "seed")
    return log.folder


def _cart(parent: Path) -> Grammar:
    from fuzz_grammar import put

    put(parent / "cart")
    return load_grammar("cart", folder=parent / "cart")


def _seeds(folder: Path) -> Callable[[], Iterator[bytes]]:
    def seeds() -> Iterator[bytes]:
        whole = (folder / "seed").read_bytes()
        yield whole
        lines = whole.splitlines(keepends=True)
        yield b"".join(lines[:2])
        yield b"".join(lines[1:])
        yield b"".join([*lines[:3], *lines[4:]])
        examples = Path(__file__).parents[2] / "shared" / "examples" / "valid" / "journal.jsonl"
        yield fuzz_lines.mended(
            lines[0] + b"".join(examples.read_bytes().splitlines(keepends=True)[1:])
        )

    return seeds


def _keep_grammars() -> None:
    """Has the words, map and rules of a log loaded once for all copies of the same: it takes long."""
    loaded: dict[tuple[bytes, ...], Grammar] = {}

    def kept(paths: Mapping[str, Path], load: Callable[[], Grammar]) -> Grammar:
        key = tuple(path.read_bytes() if path.is_file() else b"" for path in paths.values())
        if key not in loaded:
            loaded[key] = load()
        return loaded[key]

    grammar_cache._cached = kept
