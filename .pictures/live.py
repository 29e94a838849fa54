"""Make `live-80.svg` and `live-160.svg` from a real rehearsal: `python .pictures/live.py` (a minute).

Bundled recordings are heard at the speed of life by the engine and the screen of `voicelog start`;
each picture is taken while somebody is speaking.
"""

from __future__ import annotations

import asyncio
import tempfile
from pathlib import Path

from make import offline

from voicelog.config.data import samples_dir
from voicelog.config.settings import Settings
from voicelog.domain.zone import Rails
from voicelog.runtime.launching import Wishes, launch
from voicelog.runtime.messages import Action
from voicelog.tui.app import LiveApp
from voicelog.tui.heard_lines import HeardLines

SPOKEN = ("d01", "d16", "d21", "d37", "d29", "d30", "d15", "d07", "d08")
SIZES = {"live-80": (80, 24), "live-160": (160, 50)}
HERE = Path(__file__).parent
LONGEST_S = 120.0


async def picture(name: str, size: tuple[int, int]) -> None:
    """Run the rehearsal on a screen of this size up to its last recording."""
    recordings = tuple(samples_dir() / f"{spoken}.flac" for spoken in SPOKEN)
    with tempfile.TemporaryDirectory() as folder:
        settings = Settings(into=Path(folder), ear="built-in", rails=Rails.BOXED)
        engine = launch(settings, Wishes(subject="pickup 12", rehearse=True, recordings=recordings))
        app = LiveApp(engine, settings, linger_s=0.0)
        async with app.run_test(size=size) as pilot:
            engine.act(Action.AFFIRM)
            await _until(app, "photo")
            await pilot.pause()
            drawn = app.export_screenshot(title="voicelog start")
            engine.stop()
        engine.join()
    (HERE / f"{name}.svg").write_text(offline(drawn), encoding="utf-8")


async def _until(app: LiveApp, word: str) -> None:
    """Wait until this word is being heard."""
    for _ in range(round(LONGEST_S / 0.05)):
        if word in app.query_one(HeardLines).partial.lower():
            return
        await asyncio.sleep(0.05)
    raise SystemExit(f"{word!r} was never heard")


def main() -> None:
    """Both pictures."""
    for name, size in SIZES.items():
        asyncio.run(picture(name, size))


if __name__ == "__main__":
    main()
