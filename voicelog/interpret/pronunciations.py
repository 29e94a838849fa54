"""The pronouncing dictionary: 125 000 English words and how each is said, read in place.

The data file beside this module is made from CMUdict, the Carnegie Mellon pronouncing dictionary
(BSD 2-clause; its notice stands in the file's head), as pocketsphinx carries it. One line is one
word with its pronunciations, one character a phoneme (:data:`PHONEMES`); lines are sorted by their
bytes, so that a word is found by bisection and nothing is parsed at the start.

To make the file anew: ``python -m voicelog.interpret.pronunciations --write cmudict-en-us.dict``.
"""

from __future__ import annotations

import sys
from bisect import bisect_right
from functools import cache, lru_cache
from pathlib import Path

DATA = Path(__file__).with_name("pronunciations.txt")

PHONEMES = {
    "AA": "A", "AE": "a", "AH": "@", "AO": "O", "AW": "W", "AY": "Y", "B": "b", "CH": "C",
    "D": "d", "DH": "D", "EH": "e", "ER": "R", "EY": "E", "F": "f", "G": "g", "HH": "h",
    "IH": "i", "IY": "I", "JH": "J", "K": "k", "L": "l", "M": "m", "N": "n", "NG": "N",
    "OW": "o", "OY": "X", "P": "p", "R": "r", "S": "s", "SH": "S", "T": "t", "TH": "T",
    "UH": "u", "UW": "U", "V": "v", "W": "w", "Y": "y", "Z": "z", "ZH": "Z",
}  # fmt: skip
"""CMUdict's phonemes (ARPABET without stress) and the characters that stand for them here."""

_BLOCK_BYTES = 4_096
"""Words are looked for, by one search in C, in the stretch of about so many bytes they must be in."""

_HEAD = """\
# How English words are said: word, then its pronunciations, one character a phoneme.
# Derived from CMUdict by voicelog/interpret/pronunciations.py; the words and sounds are CMUdict's.
#
# Copyright (c) 1999-2016 Carnegie Mellon University. All rights reserved.
#
# Redistribution and use in source and binary forms, with or without modification, are permitted
# provided that the following conditions are met:
#
# 1. Redistributions of source code must retain the above copyright notice, this list of conditions
#    and the following disclaimer.
#
# 2. Redistributions in binary form must reproduce the above copyright notice, this list of
#    conditions and the following disclaimer in the documentation and/or other materials provided
#    with the distribution.
#
# This work was supported in part by funding from the Defense Advanced Research Projects Agency and
# the National Science Foundation of the United States of America, and the CMU Sphinx Speech
# Consortium.
#
# THIS SOFTWARE IS PROVIDED BY CARNEGIE MELLON UNIVERSITY ``AS IS'' AND ANY EXPRESSED OR IMPLIED
# WARRANTIES, INCLUDING, BUT NOT LIMITED TO, THE IMPLIED WARRANTIES OF MERCHANTABILITY AND FITNESS
# FOR A PARTICULAR PURPOSE ARE DISCLAIMED. IN NO EVENT SHALL CARNEGIE MELLON UNIVERSITY NOR ITS
# EMPLOYEES BE LIABLE FOR ANY DIRECT, INDIRECT, INCIDENTAL, SPECIAL, EXEMPLARY, OR CONSEQUENTIAL
# DAMAGES (INCLUDING, BUT NOT LIMITED TO, PROCUREMENT OF SUBSTITUTE GOODS OR SERVICES; LOSS OF USE,
# DATA, OR PROFITS; OR BUSINESS INTERRUPTION) HOWEVER CAUSED AND ON ANY THEORY OF LIABILITY, WHETHER
# IN CONTRACT, STRICT LIABILITY, OR TORT (INCLUDING NEGLIGENCE OR OTHERWISE) ARISING IN ANY WAY OUT
# OF THE USE OF THIS SOFTWARE, EVEN IF ADVISED OF THE POSSIBILITY OF SUCH DAMAGE.
"""


@lru_cache(maxsize=20_000)
def pronounced(word: str) -> tuple[str, ...]:
    """How the dictionary says a lower-case word, most usual first; empty for a word it lacks."""
    wanted = word.encode()
    data, firsts, starts = _data()
    block = bisect_right(firsts, wanted)
    if not wanted or not block:
        return ()
    found = data.find(b"\n" + wanted + b" ", starts[block - 1] - 1, starts[block])
    if found < 0:
        return ()
    said = data[found + len(wanted) + 2 : data.find(b"\n", found + 1)]
    return tuple(said.decode().split())


@cache
def _data() -> tuple[bytes, list[bytes], list[int]]:
    """The file's bytes, the first word of each block, and where each block starts."""
    data = DATA.read_bytes()
    start = len(_HEAD.encode())
    starts = [start]
    while start + _BLOCK_BYTES < len(data):
        start = data.find(b"\n", start + _BLOCK_BYTES) + 1
        starts.append(start)
    if starts[-1] < len(data):
        starts.append(len(data))
    firsts = [data[at : data.find(b" ", at)] for at in starts[:-1]]
    return data, firsts, starts


def read_cmudict(text: str) -> dict[str, tuple[str, ...]]:
    """Words and their pronunciations from lines such as ``axle(2) AE K S AH L``."""
    words: dict[str, list[str]] = {}
    for line in text.splitlines():
        name, *phonemes = line.split()
        said = "".join(PHONEMES[phoneme] for phoneme in phonemes)
        others = words.setdefault(name.partition("(")[0], [])
        if said not in others:
            others.append(said)
    return {word: tuple(said) for word, said in words.items()}


def data_file(words: dict[str, tuple[str, ...]]) -> bytes:
    """The data file's contents: head, then one line a word in the order of their bytes."""
    lines = sorted(f"{word} {' '.join(said)}\n".encode() for word, said in words.items())
    return _HEAD.encode() + b"".join(lines)


if __name__ == "__main__":
    if sys.argv[1:2] != ["--write"] or len(sys.argv) != 3:
        raise SystemExit("usage: python -m voicelog.interpret.pronunciations --write DICT")
    DATA.write_bytes(data_file(read_cmudict(Path(sys.argv[2]).read_text(encoding="utf-8"))))
