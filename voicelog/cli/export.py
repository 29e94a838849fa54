"""``voicelog export``: a log for other people, and for other programs."""

from __future__ import annotations

import stat
import sys
from contextlib import AbstractContextManager, nullcontext
from functools import partial
from pathlib import Path
from typing import Any

import click
from rich.console import Console

from voicelog.cli.flags import REGIONS, settings_from, with_options
from voicelog.cli.logs import LOG_OPTIONS, meant
from voicelog.cli.paragraphs import say
from voicelog.cli.progress import counting
from voicelog.domain.inert import inert
from voicelog.errors import StorageFault, UsageFault
from voicelog.runtime.exports import FORMS, REPORTS, Wanted, export_file, export_spoken, exported
from voicelog.tongue import worded

_ENDINGS = {f".{form}": form for form in FORMS} | {".htm": "html"}
_PAPERS = ("a4", "letter")


@click.command()
@partial(with_options, options=LOG_OPTIONS)
@click.option(
    "--to", "form", type=click.Choice(FORMS), help="Which form [told by FILE's ending, else json]."
)
@click.option(
    "-o", "--output", type=click.Path(path_type=Path), metavar="FILE",
    help="File to write; standard output without it, or with -.",
)  # fmt: skip
@click.option(
    "--since", type=click.Path(path_type=Path), metavar="OLDLOG",
    help="html, pdf: an earlier log of this vehicle; the report tells what changed.",
)  # fmt: skip
@REGIONS
@click.option("--paper", type=click.Choice(_PAPERS), help="pdf: the paper [a4].")
@click.option(
    "--no-audio", is_flag=True, help="vtt: write no sound; times are the inspection's own."
)
def export(
    log: str, into: Path | None, form: str | None, output: Path | None, since: Path | None,
    regions: tuple[str, ...], paper: str | None, no_audio: bool,
) -> None:  # fmt: skip
    """Write LOG, a folder or "last" for the newest, for other people or other programs.

    \b
      voicelog export last -o pickup.pdf       a report; page one is for a buyer
      voicelog export last -o pickup.html --since logs/20250314T080530Z-pickup
      voicelog export last -o pickup.csv       every entry a row, for spreadsheets
      voicelog export last -o walk.vtt         what was said, and walk.flac
      voicelog export logs/20260314T080530Z-pickup --to json | less

    html is one file with everything in it, and prints well. pdf needs: pip install
    'voicelog[report]'. In csv a cell that a spreadsheet would run as a formula begins with an
    apostrophe. shared/CONTRACT.md says what is in json. A file that is there is replaced.
    """
    output = None if output == Path("-") else output
    form = form or _form_of(output)
    _refuse_idle(form, {"--since": since, "--region": regions, "--paper": paper}, no_audio)
    folder = meant(log, into)
    wanted = Wanted(form, since, _regions(form, regions), paper or _PAPERS[0])
    if output is None:
        _print(folder, wanted)
    elif form == "vtt" and not no_audio and _is_file(output):
        _with_sound(folder, output)
    else:
        with _waiting(form):
            export_file(folder, wanted, output)
        say(worded("Wrote {output}", output=inert(str(output))))


def _form_of(output: Path | None) -> str:
    """What the file's ending asks for.

    Raises:
        UsageFault: no form has that ending.
    """
    if output is None or not output.suffix:
        return FORMS[0]
    form = _ENDINGS.get(output.suffix.lower())
    if form is None:
        raise UsageFault(
            worded("No form of a log ends in {suffix}", suffix=repr(inert(output.suffix, 20))),
            worded("Say which one is meant with --to {forms}.", forms="|".join(FORMS)),
        )
    return form


def _refuse_idle(form: str, of_reports: dict[str, Any], no_audio: bool) -> None:
    """Refuse a flag that would do nothing.

    Raises:
        UsageFault: there is one.
    """
    fits = {"--since": REPORTS, "--region": REPORTS, "--paper": ("pdf",), "--no-audio": ("vtt",)}
    given = [name for name, value in (of_reports | {"--no-audio": no_audio}).items() if value]
    for name in given:
        if form not in fits[name]:
            raise UsageFault(
                worded("{name} does nothing to {form}", name=name, form=form),
                worded("It is for {fits}.", fits=", ".join(fits[name])),
            )


def _regions(form: str, regions: tuple[str, ...]) -> tuple[str, ...]:
    """Those of the flag, else those of the settings, which only a report needs."""
    return settings_from({"regions": regions}).regions if form in REPORTS else ()


def _is_file(output: Path) -> bool:
    """False for a pipe or a device, beside which no sound can lie."""
    try:
        return stat.S_ISREG(output.stat().st_mode)
    except OSError:  # none yet; if it cannot be one, writing it will say why
        return True


def _print(folder: Path, wanted: Wanted) -> None:
    """To standard output, byte for byte.

    Raises:
        StorageFault: it is a file on a disk that is full.
    """
    if wanted.form == "pdf" and sys.stdout.isatty():
        raise UsageFault(
            worded("A PDF would only fill the terminal with signs"), worded("Name a file with -o.")
        )
    with _waiting(wanted.form):
        data = exported(folder, wanted)
    try:
        click.echo(data, nl=False)
    except BrokenPipeError:  # whoever reads has seen enough
        raise
    except OSError as fault:
        why = fault.strerror or str(fault)
        raise StorageFault(
            worded("Standard output did not take all of it ({why})", why=why), worded("Make room")
        ) from fault


def _with_sound(folder: Path, output: Path) -> None:
    with counting(worded("joining the sound")) as follow:
        told = export_spoken(folder, output, follow)
    beside = (
        (" " + worded("and {sound}", sound=inert(str(told.sound))))
        if told.sound
        else worded("; no sound was kept")
    )
    say(worded("Wrote {output}{beside}", output=inert(str(output)), beside=beside))
    for missing in told.missing:
        say(("  " + worded("without {missing}", missing=inert(missing))), err=True)


def _waiting(form: str) -> AbstractContextManager[Any]:
    """Something that moves while a report is made and somebody looks at a terminal."""
    if form not in REPORTS or not sys.stderr.isatty():
        return nullcontext()
    return Console(stderr=True).status(worded("making the report"))
