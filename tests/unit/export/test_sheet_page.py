"""The printed recording sheet: all of it is there, and nothing on it runs."""

from __future__ import annotations

from pathlib import Path

from tests.unit.runtime.told_recordings import SHEET
from voicelog.cli.topics import topics
from voicelog.export.sheet_page import sheet_page_html
from voicelog.runtime.sheet_page import CHOICES, CONSENT, sheet_page
from voicelog.runtime.sheet_sentences import draw_sheet
from voicelog.yardstick.sheet import Item, Sheet

ROOT = Path(__file__).parents[3]


def test_every_sentence_stands_on_it_under_its_number() -> None:
    """As a sentence; a pause is told where there is one."""
    late = Item("04", "late", ("left sill, scale", "soft"))
    page = sheet_page_html(sheet_page(Sheet("m", 1, "p", late, (*SHEET.items, late))))
    assert "Right front rail, hole, one inch." in page
    assert "Left sill, scale." in page
    assert "<em>(pause)</em> Soft." in page
    assert '<th scope="row">04</th>' in page


def test_consent_and_licences_stand_on_it_and_in_the_guide() -> None:
    """In the same words: what is signed is what was read before."""
    page = " ".join(sheet_page_html(sheet_page(SHEET)).split())
    guide = " ".join(topics()["recording"].text.split())
    for sentence in CONSENT:
        assert sentence in page
        assert sentence in guide
    assert len(CHOICES) == 3
    assert all(licence in guide for licence in ("CC BY 4.0", "CC0 1.0"))


def test_a_shops_words_are_text() -> None:
    """Never markup; and the page loads and runs nothing."""
    item = Item("01", "plain", ("<script>x</script>",))
    page = sheet_page_html(sheet_page(Sheet("<b>", 1, "p", item, (item,))))
    assert "<script" not in page
    assert "&lt;script&gt;" in page
    assert "default-src 'none'" in page


def test_the_page_tells_how_it_was_made() -> None:
    """And that nothing is uploaded."""
    from voicelog.config.grammar import load_grammar

    page = sheet_page_html(sheet_page(draw_sheet(load_grammar(), seed=5)))
    assert "seed 5" in page
    assert "from those parts" in page
    assert "Nothing is uploaded" in page
