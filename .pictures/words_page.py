"""Make `words-page.png`, the page of spoken words: `python .pictures/words_page.py` (a few seconds).

The page of the ladder frame, as `voicelog words page -o words.pdf` writes it.
"""

from __future__ import annotations

from pathlib import Path

import pypdfium2

from voicelog.config.grammar import load_grammar
from voicelog.export.words_page import words_page_pdf
from voicelog.runtime.words_page import words_page

HERE = Path(__file__).parent
SCALE = 1.4
"""Pixels a point: 100 an inch."""


def main() -> None:
    """The picture."""
    pages = pypdfium2.PdfDocument(words_page_pdf(words_page(load_grammar())))
    page = pages[0].render(scale=SCALE).to_pil()
    page.convert("L").quantize(16).save(HERE / "words-page.png", optimize=True)


if __name__ == "__main__":
    main()
