"""Having every ear hear every clip, once: what it heard is kept, so that it need not hear it again.

It is kept under the ear's name, under what the ear is made of and under the clip's key. A change of the
reading finds it all there; a change of the ear hears anew.
"""

from __future__ import annotations

import json
import multiprocessing
from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import islice
from pathlib import Path

from voicelog.domain.heard import Heard, heard_from_json, heard_to_json
from voicelog.recognise.port import Ear, Expected, hear_clip
from yardstick.ears import EARS, made_of
from yardstick.speech_set import read_clip

CLIPS, STREAMS = "clips", "streams"
"""Folders of the cache: utterances, and what was caught of long sound."""

Hearings = dict[str, Heard]
"""By the clip's key."""


class Listening:
    """Has ears hear clips, each clip once.

    Args:
        folder: where what was heard is kept.
        model: folder of a Vosk model.
        fresh: hear everything anew.
        processes: how many work side by side.
    """

    def __init__(
        self, folder: Path, *, model: Path | None = None, fresh: bool = False, processes: int = 2
    ) -> None:
        self._folder, self._model, self._fresh, self._processes = folder, model, fresh, processes

    def kept(self, name: str) -> Hearings:
        """What the ear has heard before, by the clip's key."""
        file = self._file(name)
        if not file.exists() or self._fresh:
            return {}
        lines = map(json.loads, file.read_text("utf-8").splitlines())
        return {line["clip"]: heard_from_json(line["heard"]) for line in lines}

    def hear(self, name: str, clips: Mapping[str, Path], step: Callable[[], None]) -> Hearings:
        """What the ear makes of every clip.

        Args:
            name: a key of :data:`EARS`.
            clips: files by the clips' keys.
            step: called for each, heard now or before.
        """
        heard = {key: what for key, what in self.kept(name).items() if key in clips}
        for _ in heard:
            step()
        for key, what in self._anew(name, {k: f for k, f in clips.items() if k not in heard}):
            heard[key] = what
            step()
        return heard

    def _anew(self, name: str, clips: Mapping[str, Path]) -> Iterator[tuple[str, Heard]]:
        if not clips:
            return
        file = self._file(name)
        file.parent.mkdir(parents=True, exist_ok=True)
        with file.open("w" if self._fresh else "a", encoding="utf-8") as kept:
            for key, document in self._in_processes(name, clips):
                kept.write(json.dumps({"clip": key, "heard": document}) + "\n")
                kept.flush()
                yield key, heard_from_json(document)

    def _in_processes(
        self, name: str, clips: Mapping[str, Path]
    ) -> Iterator[tuple[str, dict[str, object]]]:
        spawn = multiprocessing.get_context("spawn")
        with spawn.Pool(self._processes, _begin, (name, self._model)) as pool:
            yield from pool.imap_unordered(_hear, clips.items(), chunksize=4)

    def _file(self, name: str) -> Path:
        title = "".join(c if c.isalnum() else "-" for c in name)
        return self._folder / f"{title}-{made_of(name, self._model)}.jsonl"


_ear: Ear | None = None


def _begin(name: str, model: Path | None) -> None:
    """Open the ear of this process."""
    global _ear
    _ear = EARS[name].open(model)


def _hear(clip: tuple[str, Path]) -> tuple[str, dict[str, object]]:
    """What this process's ear makes of a clip; chatter comes while a place is carried over."""
    assert _ear is not None
    key, file = clip
    _ear.expect(Expected(placed=file.parent.name == STREAMS))
    return key, heard_to_json(hear_clip(_ear, read_clip(file)))


def fixed_subset(keys: Sequence[str], count: int) -> list[str]:
    """So many clips, the same at every call: those whose keys come first."""
    return list(islice(sorted(keys), count))
