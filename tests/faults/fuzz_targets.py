"""The targets by their names; each is made when it is asked for, with what it needs around it."""

from __future__ import annotations

import importlib
import random
from collections.abc import Mapping

from fuzz_target import Target

TARGETS: Mapping[str, str] = {
    "journal": "fuzz_journal",
    "salvage": "fuzz_journal",
    "facts": "fuzz_facts",
    "sound": "fuzz_sound",
    "clip": "fuzz_sound",
    "words": "fuzz_words",
    "grammar": "fuzz_grammar",
    "photo": "fuzz_photo",
    "document": "fuzz_facts",
}
"""Name to the module that makes it."""


def target(name: str) -> Target:
    """The target of that name.

    Args:
        name: a key of :data:`TARGETS`.
    """
    made: Target = getattr(importlib.import_module(TARGETS[name]), name)()
    return made


def run(name: str, data: bytes) -> None:
    """One input, once; raises what the fuzzer would call a finding."""
    from voicelog.errors import VoicelogError

    try:
        target(name).run(data)
    except VoicelogError:
        return


def mutated(one: Target, data: bytes, longest: int, seed: int) -> bytes:
    """What the target's own mutator makes of an input, never more than it may be."""
    assert one.mutate is not None
    return one.mutate(data, longest, random.Random(seed))[:longest]
