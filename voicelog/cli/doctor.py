"""``voicelog doctor``: what is installed, which ear will hear, and what to do about the rest."""

from __future__ import annotations

import platform
import shutil
from pathlib import Path

import click

from voicelog import __version__
from voicelog.config.cache import cache_folder
from voicelog.config.settings import default_user_file, load_settings
from voicelog.recognise.lookup import ears


@click.command()
def doctor() -> None:
    """Say what is installed, which ear will be used, and what to do about what is missing."""
    settings = load_settings()
    click.echo(
        f"voicelog {__version__}, Python {platform.python_version()}, {platform.system()} {platform.machine()}"
    )
    click.echo("\nEars")
    found = ears()
    for ear in found:
        click.echo(f"  {'ready ' if ear.ready else 'absent'}  {ear.name:<9} {ear.detail}")
        if ear.hint and not ear.ready:
            click.echo(f"          to get it: {ear.hint}")
    chosen = _chosen(settings.ear, [ear.name for ear in found if ear.ready])
    click.echo(
        f"  {'will hear: ' + chosen if chosen else 'nothing can hear yet; voicelog read works all the same'}"
    )
    click.echo("\nMicrophone")
    click.echo(f"  {_microphone()}")
    click.echo("\nStorage")
    click.echo(f"  logs go to {settings.into} ({_free(settings.into)} free)")
    file = default_user_file()
    click.echo(
        f"  settings: {file} ({'in use' if file.exists() else 'not there; the shipped ones hold'})"
    )
    click.echo(f"  cache: {cache_folder()} (grammars checked before; may be deleted at any time)")


def _chosen(wanted: str, ready: list[str]) -> str:
    if wanted != "auto":
        return wanted if wanted in ready else ""
    return next((name for name in ("vosk", "built-in") if name in ready), "")


def _microphone() -> str:
    """A sentence about the microphone; PortAudio is asked only here."""
    try:
        import sounddevice
    except ImportError:
        return "not asked: pip install sounddevice to look for one (recordings need none)"
    except OSError:
        return "PortAudio is missing: on Debian, apt install libportaudio2 (recordings need none)"
    inputs = [d["name"] for d in sounddevice.query_devices() if d["max_input_channels"] > 0]
    return f"found: {', '.join(inputs)}" if inputs else "none found; plug one in, or use recordings"


def _free(folder: Path) -> str:
    there = next((parent for parent in (folder, *folder.parents) if parent.exists()), Path())
    return f"{shutil.disk_usage(there).free / 1e9:.1f} GB"
