"""The yardstick's word errors against NIST's scorer, sclite.

Sources: *NIST*: the manual of the Scoring Toolkit (SCTK 2.4.10, Debian package sctk-doc, pages outputs.htm
and infmts.htm), whose example is the test set csrnab, and the toolkit's own regression cases for
alternatives (github.com/usnistgov/SCTK, src/sclite/testdata/tests.ref, tests.hyp and base/test7.pra). The
reference and hypothesis files of csrnab itself were not to be had: of its 51 sentences the three that the
manual prints are scored, and of its totals the arithmetic is checked. *sclite itself*: 60 sentences of five
recognisers on synthetic speech (``sclite/heard.ref``, ``heard.hyp``, our own), scored by sclite 2.4.10 with
its default costs (``sclite/heard.scores``: right, wrong, missing, extra).

SCTK was developed at the National Institute of Standards and Technology by employees of the Federal
Government in the course of their official duties; it is in the public domain. It is provided as is, without
any warranty.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from voicelog.yardstick.words import Words, count, plain, ways

HERE = Path(__file__).parent

CSRNAB = {
    "4t0c0201": (
        "as competition in the mutual fund business grows increasingly intense more players in the "
        "industry appear willing to sacrifice integrity in the name of performance",
        "as competition in the mutual fund business grows increasingly intense more players in the "
        "industry appear willing to sacrifice integrity in the name of performance",
        Words(25, 0, 0, 0),
    ),
    "4t0c0202": (
        "for a two trillion dollar business built on public confidence this trend is disheartening "
        "at best and downright dangerous at worst",
        "freed to trying to lure business built on public confidence this trend is this tightening "
        "and best and downright dangerous at worst",
        Words(14, 7, 0, 1),
    ),
    "4t0c0203": (
        "so far this year the industry slide has been apparent in allegations of insider trading by "
        "fund managers unsavory fund sales practices at banks and the use of high risk derivative "
        "securities in normally conservative money market funds",
        "so far this year the industry slide has been apparent in allegations of insider trading by "
        "fund managers and save refund sales practices at banks and use of high risk derivative "
        "securities in early conservative money market funds",
        Words(34, 3, 1, 1),
    ),
}
SPEAKERS = {
    "4t0": (Words(385, 64, 9, 12), 458, 18.6),
    "4t1": (Words(509, 32, 3, 4), 544, 7.2),
    "4t2": (Words(369, 35, 0, 10), 404, 11.1),
}
"""Right, wrong, missing and extra words of each speaker, words said, and the rate in percent."""


@pytest.mark.parametrize(("said", "heard", "published"), CSRNAB.values(), ids=CSRNAB)
def test_the_manuals_sentences_are_counted_as_nist_counts_them(
    said: str, heard: str, published: Words
) -> None:
    """Right, wrong, missing and extra, each exactly."""
    assert count(said, heard) == published


@pytest.mark.parametrize(("counts", "said", "rate"), SPEAKERS.values(), ids=SPEAKERS)
def test_a_speakers_counts_give_the_published_rate(counts: Words, said: int, rate: float) -> None:
    """Errors over the words said, extra words among the errors."""
    assert counts.said == said
    assert round(100 * counts.rate, 1) == rate


def test_the_speakers_together_give_the_published_total() -> None:
    """12.0 % of 1406 words: counts are added up, rates are not."""
    whole = sum((counts for counts, *_ in SPEAKERS.values()), Words())
    assert whole == Words(1263, 131, 12, 26)
    assert (whole.said, whole.errors, round(100 * whole.rate, 1)) == (1406, 169, 12.0)


@pytest.mark.parametrize(
    ("said", "heard", "published"),
    [
        ("a b { c d / c / e } e f g", "a b c d e f g", Words(7, 0, 0, 0)),
        ("a b { c / c d / e } e f g", "a b c d e f g", Words(7, 0, 0, 0)),
        ("a b { c / e / c d } e f g", "a b c d e f g", Words(7, 0, 0, 0)),
        ("a b { c / e / c d } f g", "a b c d e f g", Words(6, 0, 0, 1)),
        ("a b c d { e / c / @ } f g", "a b c d e f g", Words(7, 0, 0, 0)),
        ("a b c d e { e / c / @ } f g", "a b c d e f g", Words(7, 0, 0, 0)),
        ("a b c d { e / c / @ } e f g", "a b c d e f g", Words(7, 0, 0, 0)),
        ("uh uh had a long { age-old / age old } problem of my bright",
         "uh uh have along which go problem of my private", Words(5, 5, 0, 0)),
        ("uh uh had a long { age old / age-old } problem of my bright",
         "uh uh have along which go problem of my private", Words(5, 5, 0, 0)),
        ("a { c / @ } d", "a c d", Words(3, 0, 0, 0)),
        ("a { c / @ } d", "a c i d", Words(3, 0, 0, 1)),
        ("a { c / @ } d", "a d", Words(2, 0, 0, 0)),
        ("a d c", "a c", Words(2, 0, 1, 0)),
        ("", "a b c e f g h i j k", Words(0, 0, 0, 10)),
        ("", "d e f", Words(0, 0, 0, 3)),
    ],
)  # fmt: skip
def test_nists_cases_of_alternatives(said: str, heard: str, published: Words) -> None:
    """Of all that may have been said, what fits best is what was said."""
    assert count(said, heard) == published


def test_alternatives_that_are_ignored_make_errors() -> None:
    """The trap: braces, slashes and all other choices counted as words."""
    said = "the { industry's / industry } best { @ / an } year"
    assert sorted(ways(said)) == [
        "the industry best an year", "the industry best year",
        "the industry's best an year", "the industry's best year",
    ]  # fmt: skip
    assert count(said, "the industry best year").errors == 0
    unread = said.replace("{", "( ").replace("}", " )")
    assert count(unread, "the industry best year").errors > 0


@pytest.mark.parametrize(
    ("said", "heard", "rate"),
    [
        ("the quick brown fox", "the quick brown box", 1 / 4),
        ("a b c d", "b c d e", 2 / 4),
        ("front left frame rail surface rust", "front left rail surface rest", 2 / 6),
    ],
)
def test_tiny_vectors(said: str, heard: str, rate: float) -> None:
    """By hand: one wrong; one missing and one extra; one missing and one wrong."""
    assert count(said, heard).rate == rate


def _records(ending: str) -> dict[str, str]:
    lines = (HERE / "sclite" / f"heard.{ending}").read_text(encoding="utf-8").splitlines()
    return {name[1:-1]: text for text, _, name in (line.rpartition(" ") for line in lines)}


def _scores() -> Iterator[tuple[str, Words]]:
    for line in (HERE / "sclite" / "heard.scores").read_text(encoding="utf-8").splitlines():
        name, *counts = line.split()
        yield name, Words(*map(int, counts))


def test_what_recognisers_really_wrote_is_counted_as_sclite_counts_it() -> None:
    """Five recognisers, 60 sentences, 600 words: each sentence, and 34.8 % in all."""
    said, heard, scores = _records("ref"), _records("hyp"), dict(_scores())
    counted = {name: count(said[name], heard[name]) for name in said}
    assert counted == scores
    whole = sum(counted.values(), Words())
    assert whole == Words(424, 172, 4, 33)
    assert round(100 * whole.rate, 1) == 34.8


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("15 mm hole", "fifteen millimetre hole"),
        ("1.5 mm", "one point five millimeters"),
        ("3/16 of an inch", "three sixteenths of an inch"),
        ("about 30 per cent", "about thirty percent"),
        ("one hundred and fifteen", "115"),
        ("Twenty-one, left-hand side.", "twenty one left hand side"),
        ("it’s the 2nd one", "it's the second one"),
        ("1,200 miles", "one thousand two hundred miles"),
    ],
)
def test_numbers_and_signs_are_written_alike(first: str, second: str) -> None:
    """A recogniser that writes digits has made no error."""
    assert count(plain(first), plain(second)).errors == 0


def test_what_differs_stays_different() -> None:
    """Writing alike forgives no mishearing."""
    assert count(plain("surface rust, 3 mm"), plain("surface rest, 8 mm")).errors == 2
