"""The report as pages, read back by a general library: what stands where, and that it stands there
as it was said.
"""

from __future__ import annotations

import builtins
import re
import time
from dataclasses import replace
from typing import Any

import pypdfium2
import pytest
from sample_report import PLAN, item, picture, report

from voicelog.domain.report import Answer, Report, Row
from voicelog.errors import UsageFault, VoicelogError
from voicelog.export.pdf import PAPERS, report_pdf, shown

NEVER = ("passed", "roadworthy", "certified", "certify", "€", "$", "£", "price")


def _pages(data: bytes) -> list[str]:
    document = pypdfium2.PdfDocument(data)
    return [_flat(page.get_textpage().get_text_range()) for page in document]


def _flat(text: str) -> str:
    """Text without line ends, as somebody reads it; the places where a word may be parted are gone."""
    return re.sub(r"\s+", " ", text.replace("\u200b", "").replace("\ufffe", ""))


def _set(made: Report, **more: Any) -> list[str]:
    return _pages(report_pdf(replace(made, **more)))


@pytest.fixture(scope="module")
def pages() -> list[str]:
    """The text of the sample's pages."""
    return _pages(report_pdf(report(8)))


def test_page_one_is_for_a_buyer_in_the_order_in_which_one_asks(pages: list[str]) -> None:
    """Verdict, how much was seen, three answers, the worst five, the next step, vehicle, basis."""
    asked = (
        "Frame inspection: pickup 12", "Do not drive or tow", "has failed",
        "11 of 18 important places were touched", "5 of 7 hidden places",
        "Move it today?", "No, not even on a rope.", "Repairable?", "What could change that?",
        "left front rail, station 1", "left front rail, station 5", "and 3 more, on the pages that follow",
        "Have a structural welder look", "82 000 miles", "R. Sample", "on a lift", "scraping",
        "2 sizes and 1 thickness.", "9 probes.", "4 grades that nobody confirmed.",
        "the rules say cosmetic, the inspector said repair",
    )  # fmt: skip
    found = [pages[0].find(text) for text in asked]
    assert -1 not in found, asked[found.index(-1)]
    assert found == sorted(found)


def test_the_rest_follows_in_its_order(pages: list[str]) -> None:
    """Findings, work, what nobody saw, comparison, coating, pointers, cautions, signature and hash."""
    heads = (
        "Findings, the worst first", "Work list, in the order in which it should be done",
        "What was not seen, and how it matters", "Where nothing was found",
        "What evidence is missing still", "Photographs that belong to no finding",
        "What was said of its past", "Since an earlier inspection",
        "The coating, by published scales", "Public rules that an inspector would look up",
        "Cautions", "Signatures and hashes", "How this report was made",
    )  # fmt: skip
    behind = " ".join(pages[1:])
    found = [behind.rfind(head) for head in heads]
    assert -1 not in found
    assert found == sorted(found)


def test_coating_and_pointers_stay_off_page_one(pages: list[str]) -> None:
    """They say nothing of the steel, and a pointer is no pass or fail."""
    behind = " ".join(pages[1:])
    for text in ("5-G", "Ri 4", "D610", "Example manual"):
        assert text not in pages[0]
        assert text in behind


def test_nothing_of_the_report_is_left_out(pages: list[str]) -> None:
    """Every field of the report and of a finding is on some page."""
    whole = " ".join(pages)
    for text in (
        "metal not reached", "scraper went through it", "The hole is 25 mm across.", "e2.1",
        "It lies at a critical mounting.", "Rot at a critical mounting is unsafe.",
        "common practice, no source", "Said first as surface rust.", "No photo shows it yet.",
        "Weld in a plate.", "Do not move it.", "Look in with a camera.", "Ask the owner first.",
        "shield in the way", "It stood on grass", "Taken 09:12", "no photo of the inside",
        "0.4 mm a year", "3 May 2024", "Use stands", "ab" * 32, "cd" * 32, "covers, from the first: 24",
        "the shield stays on", "Right kick up: nobody looked.", "not that it is true",
        "it vouches for nothing", "voicelog 0.1.0",
    ):  # fmt: skip
        assert text in whole, text


def test_every_page_has_its_number_and_the_log(pages: list[str]) -> None:
    """So that printed pages that fell on the floor can be put together again."""
    for number, text in enumerate(pages, 1):
        assert f"page {number} of {len(pages)}" in text
        assert "Log 3f0c7a52-9d4e-4a41-8a53-6a0f0b7f2c11" in text


def test_words_that_promise_are_never_ours(pages: list[str]) -> None:
    """Nor a price."""
    whole = " ".join(pages).lower()
    assert not [word for word in NEVER if word in whole]
    assert not re.search(r"\bsafe\b", whole)


HOSTILE = (
    '#eval("1")', '#panic("x")', "*x* _y_ $x^2$ @ref <label> `raw`", "= no heading", "- no list",
    "https://example.invalid/a", "-- --- ... ~ \\u{41}", '"quoted" \'single\'', "// no comment",
    "/* x */", "#import \"/etc/passwd\"", "{{ x }} <script>alert(1)</script> &amp;",
)  # fmt: skip


@pytest.mark.parametrize("text", HOSTILE)
def test_what_was_said_is_never_markup(text: str) -> None:
    """It comes out letter by letter, wherever it stands."""
    one = item(
        place=text,
        what=text,
        said=text,
        carries=text,
        limits=(text,),
        judged=(text,),
        history=(text,),
    )
    pages = _set(
        report(1),
        title=text,
        headline=text,
        vehicle=(Row(text, text),),
        findings=(one,),
        worst=(one,),
    )
    assert _flat(text) in pages[0]
    assert pages[1].count(_flat(text)) >= 5


def test_control_and_direction_marks_are_question_marks() -> None:
    """They turn nothing round, and end no line."""
    pages = _set(report(1), headline="a\x1b[2J\u202eb\u2066c\x00d\ne\ud800f")
    assert "a?[2J?b?c?d?e?f" in pages[0]


@pytest.mark.parametrize("paper", PAPERS)
def test_page_one_is_one_page_whatever_it_has_to_hold(paper: str) -> None:
    """Endless sentences are cut off there; they stand on the pages behind."""
    endless = "There is a very long story to be told of this place. " * 30
    five = tuple(
        item(n, place=endless, what=endless, carries=endless, pictures=(picture(),))
        for n in range(1, 6)
    )
    made = replace(
        report(5), under=endless, counted=(endless,) * 3, worst=five, findings=five,
        answers=(Answer(endless, endless, (endless,) * 9),) * 3, next_step=(endless,) * 4,
    )  # fmt: skip
    texts = _pages(report_pdf(made, paper))
    assert texts[1].startswith("Findings, the worst first")
    assert "page 1 of" in texts[0]
    assert "Cut off here" in texts[0]


def test_page_one_of_a_usual_report_is_not_cut_off() -> None:
    """Three reasons an answer and two lines a finding fit, with a photo each."""
    told = "carries the front suspension, the steering and the weight of the engine above it"
    five = tuple(
        item(n, carries=told, pictures=(picture(),), limits=("metal not reached", "maybe misheard"))
        for n in range(1, 6)
    )
    reasons = ("A hole at a critical mounting is unsafe; the probe went through it.",) * 3
    answers = tuple(replace(answer, because=reasons) for answer in report().answers)
    first = _set(report(5), worst=five, answers=answers)[0]
    assert "the inspector said repair" in first
    assert "Cut off here" not in first
    assert first.index("the inspector said repair") < first.index("page 1 of")


def test_long_words_end_their_lines() -> None:
    """A name of ten thousand letters runs off no page, and is cut; a hash stays whole."""
    long = "w" * 10_000
    assert len(shown(long)) < 2_300
    for whole in ("ab" * 32, "3f0c7a52-9d4e-4a41-8a53-6a0f0b7f2c11", "left front rail"):
        assert shown(whole) == whole
    work = (replace(report().work[0], urgency=long, place=long, source=long),)
    data = report_pdf(report(1, headline=long, title=long, work=work))
    for page in pypdfium2.PdfDocument(data):
        text = page.get_textpage()
        rights = [text.get_charbox(index)[2] for index in range(text.count_chars())]
        assert max(rights) <= page.get_width()


def test_three_hundred_findings_take_seconds_not_minutes() -> None:
    """Measured: 0.6 s on two cores; page one is still one page."""
    made = report(300)
    begun = time.perf_counter()
    texts = _pages(report_pdf(made))
    assert time.perf_counter() - begun < 20
    assert texts[1].startswith("Findings, the worst")
    assert "and 295 more" in texts[0]
    assert "left front rail, station 300" in " ".join(texts)


def test_no_finding_is_not_good_news() -> None:
    """The page says that none was made, and nothing else of it."""
    nothing = report(
        0, drive="not-enough-seen", headline="Not enough seen to say", plan="", work=(), unseen=(),
        changes=(), compared=(), coating=(), pointers=(), signatures=(), clear=(), photos=(),
    )  # fmt: skip
    texts = _pages(report_pdf(nothing))
    assert "No finding was made." in texts[0]
    assert "Nobody has signed this log." in " ".join(texts)
    for head in ("Findings, the", "Work list", "The coating", "Public rules", "Since an earlier"):
        assert head not in " ".join(texts)


def test_a_finding_without_pictures_says_so_on_page_one() -> None:
    """The buyer should miss them."""
    first = _set(report(2))[0]
    assert "no photo" in first
    assert "No photo of any" not in first
    bare = (item(1), item(2))
    assert "No photo of any of these was matched." in _set(report(2), worst=bare, findings=bare)[0]


def test_steps_are_told_once_where_the_work_list_has_them() -> None:
    """Finding 1 is on the list, finding 2 is not."""
    behind = " ".join(_set(report(2), photos=())[1:])
    assert behind.count("Cut back to solid metal.") == 1


def test_the_same_report_gives_the_same_bytes() -> None:
    """No clock and no chance in it, so that two copies can be compared."""
    assert report_pdf(report(3)) == report_pdf(report(3))


def test_it_claims_accessibility_and_is_tagged() -> None:
    """PDF/UA-1 with title, language, and words for every picture and the drawing."""
    data = report_pdf(report(3))
    document = pypdfium2.PdfDocument(data)
    assert document.is_tagged()
    assert document.get_metadata_dict()["Title"] == "Frame inspection: pickup 12"
    assert b"/Lang(en" in data
    assert b"pdfuaid:part" in data
    assert b"A hole in a grey bracket" in data
    assert b"the left front rail is unsafe" in data


def test_a_character_that_no_font_has_costs_the_claim_and_nothing_else() -> None:
    """The text is there for whoever copies it, the pages are tagged, and the last one says why."""
    data = report_pdf(report(1, headline="Do not drive \U0001e900 or tow"))
    assert b"pdfuaid:part" not in data
    assert pypdfium2.PdfDocument(data).is_tagged()
    texts = _pages(data)
    assert "in no font of the machine" in texts[-1]
    assert "Do not drive" in texts[0]


def test_a_drawing_of_any_shape_fits() -> None:
    """Wide, tall, or none."""
    wide = PLAN.replace("0 0 120 240", "0 0 900 100")
    for plan in (wide, PLAN.replace("0 0 120 240", "0 0 10 900"), ""):
        assert _set(report(3), plan=plan)[1].startswith("Findings, the worst")


@pytest.mark.parametrize("link", ["/etc/hostname", "../x.png", "https://example.invalid/x.png"])
def test_a_drawing_reaches_no_file_and_no_network(link: str) -> None:
    """A link in it to anything outside is refused, not followed."""
    linked = f'<image href="{link}" width="50" height="50"/></svg>'
    with pytest.raises(VoicelogError, match="could not be set as pages"):
        report_pdf(report(1, plan=PLAN.replace("</svg>", linked)))


def test_without_typst_it_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    """And names the way that needs nothing."""
    real = builtins.__import__

    def missing(name: str, *rest: Any, **more: Any) -> Any:
        if name == "typst":
            raise ImportError(name)
        return real(name, *rest, **more)

    monkeypatch.setattr(builtins, "__import__", missing)
    with pytest.raises(VoicelogError, match=r"pip install 'voicelog\[report\]'.*--to html"):
        report_pdf(report(1))


def test_a_paper_that_is_none_is_refused() -> None:
    """Before anything is done."""
    with pytest.raises(UsageFault, match="paper"):
        report_pdf(report(1), "a7")


def test_a_damaged_picture_is_one_clear_fault() -> None:
    """Not a page of somebody else's error."""
    broken = replace(picture(), data=b"\xff\xd8 no picture")
    with pytest.raises(VoicelogError, match="could not be set as pages") as fault:
        report_pdf(report(1, photos=(broken,)))
    assert "--to html" in fault.value.hint
