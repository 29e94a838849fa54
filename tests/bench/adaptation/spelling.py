"""Texts as the model's own tokens: ``python spelling.py TEXTS.tsv MODEL_FOLDER OUT.npz``.

The tokens are those of a byte-pair encoding whose merges stand in the order of their numbers; below
:data:`FIRST_MERGE` lie single bytes, which the model never writes for letters it has tokens for.
"""

from __future__ import annotations

import itertools
import sys
from pathlib import Path

import numpy as np
from texts import NO_REPORTS

from voicelog.recognise.moonshine_model import TOKENIZER, read_tokens

FIRST_MERGE = 259


class Tokens:
    """From text to tokens.

    Args:
        raw: the tokens' bytes in order.
    """

    def __init__(self, raw: tuple[bytes, ...]) -> None:
        self._number = {
            token.decode(): number
            for number, token in enumerate(raw)
            if number >= FIRST_MERGE and token.decode("utf-8", "ignore").encode() == token
        }

    def of(self, text: str) -> list[int]:
        """The tokens of a text, the lowest merge first."""
        parts = list("\u2581" + text.replace(" ", "\u2581"))
        while True:
            merges = [
                (self._number[a + b], at)
                for at, (a, b) in enumerate(itertools.pairwise(parts))
                if a + b in self._number
            ]
            if not merges:
                return [self._number[part] for part in parts]
            _, at = min(merges)
            parts[at : at + 2] = [parts[at] + parts[at + 1]]


def main() -> None:
    """Write all tokens, where each text ends, and which texts are no reports."""
    texts, folder, out = Path(sys.argv[1]), Path(sys.argv[2]), sys.argv[3]
    tokens = Tokens(read_tokens(folder / TOKENIZER))
    rows = [line.split("\t") for line in texts.read_text().splitlines()]
    spelled = [tokens.of(text) for _, text in rows]
    np.savez_compressed(
        out,
        flat=np.concatenate(spelled).astype(np.int64),
        ends=np.cumsum([len(each) for each in spelled]),
        talk=np.array([kind in NO_REPORTS for kind, _ in rows]),
    )


if __name__ == "__main__":
    main()
