"""``voicelog measure``: how well real voices are heard; and the sheet that they read from."""

from __future__ import annotations

import sys
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from voicelog.cli.flags import GRAMMAR, MAP, WORDS, heard_with, settings_from, with_options
from voicelog.cli.paragraphs import say
from voicelog.cli.progress import counting
from voicelog.domain.inert import inert
from voicelog.errors import InputFault, UsageFault
from voicelog.tongue import worded

if TYPE_CHECKING:
    from voicelog.config.settings import Settings
    from voicelog.runtime.measuring import Measured
    from voicelog.runtime.recordings import Recordings

COUNT, SEED = 40, 1
_LEAST, _MOST = 5, 400
"""Sentences of a sheet."""


@click.command()
@click.argument("folder", type=click.Path(path_type=Path))
@click.option("--sheet", "make", is_flag=True, help="Write a recording sheet into FOLDER.")
@click.option(
    "--count", type=click.IntRange(_LEAST, _MOST), help=f"sheet: how many sentences [{COUNT}]."
)
@click.option("--seed", type=click.IntRange(0), help=f"sheet: draws the sentences [{SEED}].")
@partial(with_options, options=(MAP, GRAMMAR, WORDS))
@heard_with
@click.option("--wrong", is_flag=True, help="List what went wrong, on the screen only.")
@click.option(
    "--json", "output", type=click.Path(path_type=Path), metavar="FILE",
    help="Write the figures, without sound and without what was heard.",
)  # fmt: skip
def measure(
    folder: Path, make: bool, count: int | None, seed: int | None, wrong: bool, output: Path | None,
    **flags: Any,
) -> None:  # fmt: skip
    """Score recordings in FOLDER that people made with a sheet; or make the sheet.

    \b
      voicelog measure --sheet recordings              sentences to read aloud
      voicelog measure recordings                      how well they are heard
      voicelog measure recordings --json figures.json

    voicelog help recording tells how to record, and what people agree to. Recordings lie in
    FOLDER/SPEAKER/NOISE/NUMBER.wav. Nothing is uploaded: sending the figures is up to you. Needs: pip
    install 'voicelog[measure]'.
    """
    if make:
        _refuse({"--wrong": wrong, "--json": output}, worded("does nothing beside --sheet"))
        _make(folder, settings_from(flags), count or COUNT, SEED if seed is None else seed)
        return
    _refuse({"--count": count, "--seed": seed}, worded("does nothing without --sheet"))
    _measure(folder, settings_from(flags), wrong, output)


def _refuse(idle: dict[str, Any], why: str) -> None:
    """Refuse a flag that would do nothing.

    Raises:
        UsageFault: there is one.
    """
    given = next((name for name, value in idle.items() if value not in (None, False)), None)
    if given is not None:
        raise UsageFault(worded("{option} {why}", option=given, why=why), worded("Leave it out"))


def _make(folder: Path, settings: Settings, count: int, seed: int) -> None:
    from voicelog.runtime.sheet_files import make_sheet, written

    sheet = make_sheet(folder, settings, count=count, seed=seed)
    say(
        worded(
            "A sheet of {count} sentences for the map {map}, seed {seed}:",
            count=len(sheet.items),
            map=inert(sheet.map),
            seed=seed,
        )
    )
    for path, what in written(folder):
        say(f"  {inert(str(path))}: {what}")
    say(worded("voicelog help recording tells how to go on."))


def _measure(folder: Path, settings: Settings, wrong: bool, output: Path | None) -> None:
    from voicelog.cli.measure_lines import folder_lines, result_lines, wrong_lines
    from voicelog.cli.show import console
    from voicelog.runtime.recordings import recordings_in
    from voicelog.yardstick.words import require

    require()
    recordings = recordings_in(folder)
    out = console()
    for line in folder_lines(recordings):
        out.print(line, markup=False)
    measured, ears = _heard(recordings, settings)
    for shown in result_lines(recordings, measured, ears):
        out.print(shown)
    for line in wrong_lines(measured) if wrong else ():
        out.print(line, markup=False)
    if output is not None:
        from voicelog.export.json_file import write_json
        from voicelog.runtime.figures import figures

        write_json(figures(recordings, measured, settings, ears), output)
        say(
            worded(
                "Wrote {output}: counts, versions, the sheet, and what about.toml tells of each "
                "speaker. No sound, and nothing that was heard. Read it before you send it.",
                output=inert(str(output)),
            )
        )


def _heard(recordings: Recordings, settings: Settings) -> tuple[Measured, dict[str, str]]:
    """What came of the recordings, and the ears that heard them with their models.

    Raises:
        InputFault: the sheet names places of another map, or nothing could be heard.
    """
    from voicelog.config.cache import checked_grammar
    from voicelog.runtime.measuring import Measuring
    from voicelog.runtime.opening import open_the_ear, second_ear

    grammar = checked_grammar(settings)
    if grammar.zone_map.id != recordings.sheet.map:
        raise InputFault(
            worded(
                "The sheet is for the map {map}, not {zone_map}",
                map=inert(recordings.sheet.map, 40),
                zone_map=grammar.zone_map.id,
            ),
            worded("Name it with --map, as when the sheet was made"),
        )
    ear, second = open_the_ear(settings, grammar), second_ear(settings, grammar)
    try:
        ears = {ear.engine: ear.model}
        if second is not None:
            second.start()
            ears |= {second.engine: second.model}
        with counting("hearing", shown=sys.stdout.isatty()) as follow:
            measured = Measuring(settings, grammar, ear, second).measure(recordings, follow)
    finally:
        ear.close()
        if second is not None:
            second.close()
    if not measured.scored:
        why = next(
            iter(measured.left_out.values()), worded("none is named by a number of the sheet")
        )
        raise InputFault(
            worded("None of the recordings could be heard: {why}", why=inert(why, 200)),
            worded("voicelog help recording tells how they are made and named"),
        )
    return measured, ears
