"""``voicelog words``: the spoken vocabulary."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict
from functools import partial
from pathlib import Path
from typing import Any

import click

from voicelog.cli.clashes import clash_lines, known_lines
from voicelog.cli.flags import GRAMMAR, MAP, WORDS, settings_from, vocabulary, with_options
from voicelog.cli.learned_lines import as_document, learned_lines, taken_back
from voicelog.cli.paragraphs import say
from voicelog.config.learned import learned as learned_words
from voicelog.config.learned import unlearn
from voicelog.config.learned_files import For
from voicelog.config.settings import load_settings
from voicelog.domain.inert import inert
from voicelog.export.json_file import json_text, write_bytes
from voicelog.runtime.clashes import LEAST
from voicelog.runtime.words import WordsReport, check_words
from voicelog.tongue import worded


@click.group()
def words() -> None:
    """The spoken vocabulary: TOML files that a shop can change (see shared/GRAMMAR.md)."""


@words.command()
@vocabulary
@click.option(
    "--least",
    type=click.FloatRange(0.5, 1.0),
    default=LEAST,
    show_default=True,
    help="Likeness of sound from which two phrases are told.",
)
@click.option("--json", "as_json", is_flag=True, help="Print the report as one JSON object.")
def check(least: float, as_json: bool, **flags: Any) -> None:
    """Load every phrase, refuse any given twice, and list what sounds alike or cannot be heard.

    What sounds alike is no error: it is where to listen twice, and what to say otherwise.
    """
    settings = settings_from(flags)
    report = check_words(settings, least)
    if as_json:
        click.echo(json_text(asdict(report)), nl=False)
        return
    say(
        worded(
            "{files} files, {phrases} phrases, {words} words: all load, none twice.",
            files=len(report.files),
            phrases=report.phrases,
            words=report.words,
        )
    )
    if (found := len(learned_words(settings))) > 0:
        say(
            worded(
                "Learned from corrections: {found} (voicelog words learned lists them).",
                found=found,
            )
        )
    for line in (_heard(report), *_said_instead(report)):
        say(line)
    for line in (*clash_lines(report.clashes, report.least), *known_lines(report.known)):
        say(line)


@words.command()
@click.option("--remove", metavar="HEARD", help="Take back what was learned about these words.")
@click.option(
    "--for", "for_", type=click.Choice(["shop", "person"]),
    help="Only what is for the whole shop, or for you.",
)  # fmt: skip
@click.option("--json", "as_json", is_flag=True, help="Print them as one JSON object.")
def learned(remove: str | None, for_: For | None, as_json: bool) -> None:
    """List the mishearings learned from corrections: what was heard, and what it stands for.

    After a correction that a mishearing explains, voicelog offers to remember it for the whole shop or
    for one person. Both files are readable TOML beside settings.toml, or in the folder that the
    setting `learned` names, and hold for every inspection that begins later.

    \b
    voicelog words learned                  what was learned, when, by whom
    voicelog words learned --remove seal    "seal" is no longer taken for anything
    """
    settings = load_settings()
    if remove is None:
        found = [one for one in learned_words(settings) if for_ in (None, one.for_)]
    else:
        found = list(unlearn(settings, remove, for_=for_))
    if as_json:
        click.echo(
            json_text({"learned" if remove is None else "removed": as_document(found)}), nl=False
        )
        return
    for line in learned_lines(found, settings, for_) if remove is None else taken_back(found):
        say(line)


@words.command()
@partial(with_options, options=(MAP, GRAMMAR, WORDS))
@click.option(
    "-o", "--output", type=click.Path(path_type=Path), metavar="FILE",
    help="File to write, .html or .pdf; HTML on standard output without it.",
)  # fmt: skip
@click.option("--paper", type=click.Choice(["a4", "letter"]), help="pdf: the paper [a4].")
def page(output: Path | None, paper: str | None, **flags: Any) -> None:
    """Print what can be said on one page: places of your map, faults, tests, procedure words.

    \b
      voicelog words page -o words.html                  for a browser, to print
      voicelog words page -o words.pdf --paper letter
      voicelog words page -o words.html --map unibody --words shop.toml

    A PDF needs: pip install 'voicelog[report]'. The page is made of the words in force, so your own
    are on it. It fits one page of A4 and of Letter
    with every map that ships. A file that is there is replaced.
    """
    from voicelog.cli.words_page import made

    data = made(settings_from(flags), output, paper)
    if output is None or output == Path("-"):
        click.echo(data, nl=False)
        return
    write_bytes(data, output)
    say(worded("Wrote {output}", output=inert(str(output))))


def _heard(report: WordsReport) -> str:
    """What the ear can make of the words."""
    if report.unheard is None:
        return worded("Ear: {ear}. Install one to ask it about these words.", ear=report.ear)
    if not report.unheard:
        return worded("Ear: {ear}. No word is out of its reach.", ear=report.ear)
    return worded(
        "Ear: {ear}. It cannot hear: {unheard}\nGive those meanings another spoken "
        "form, or its nearest words as `misheard`.",
        ear=report.ear,
        unheard=", ".join(report.unheard),
    )


def _said_instead(report: WordsReport) -> Iterator[str]:
    """What stands for words out of the ear's reach."""
    if report.instead:
        yield worded(
            "Out of its reach, but something stands for them ({count}):",
            count=len(report.instead),
        )
    for word, said in report.instead:
        yield f"  {word}: {inert(said)}"
