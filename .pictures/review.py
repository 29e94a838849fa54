"""Make `review-80.svg` and `review-160.svg` from the demo's log: `python .pictures/review.py` (half a minute).

The bundled recordings are heard by the built-in ear, the log is opened on the bench, and each
picture is taken where somebody would stop: at a doubtful entry, with one correction made.
"""

from __future__ import annotations

import asyncio
import shutil
import tempfile
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from unittest.mock import patch

from make import offline

from voicelog.announce.clip_player import ClipPlayer
from voicelog.announce.player import Player
from voicelog.config.settings import Settings
from voicelog.domain.reading import Speech
from voicelog.domain.zone import Rails
from voicelog.runtime.launching import bundled
from voicelog.runtime.listening import hear_files
from voicelog.runtime.opening import open_listening
from voicelog.runtime.review import Review
from voicelog.tui.review.app import ReviewApp
from voicelog.tui.review.wave_view import WaveView

SIZES = {"review-80": (80, 24), "review-160": (160, 50)}
KEYS = ("n", "c", "n", "right", "right")
"""The first doubtful entry is right; the next one is looked into."""
BEGUN = datetime(2026, 3, 14, 8, 5, 30, tzinfo=UTC)
HERE = Path(__file__).parent
LONGEST_S = 20.0


def demo_log(into: Path) -> Path:
    """The bundled inspection, heard and kept."""
    seat = Speech(driver_side="left")
    settings = Settings(into=into, ear="built-in", rails=Rails.BOXED, speech=seat)
    with open_listening(settings, subject="pickup 12", recorded_at=BEGUN) as session:
        for _ in hear_files(session, bundled(), settings):
            pass
        assert session.folder is not None  # noqa: S101 - it keeps a log
        return session.folder


async def picture(name: str, log: Path, size: tuple[int, int]) -> None:
    """The bench on a screen of this size."""
    settings = replace(Settings(), inspector="Sam")
    deck = ClipPlayer(Player(silent="no speaker"))
    with Review.open(log, settings) as review:
        app = ReviewApp(review, settings, deck)
        async with app.run_test(size=size) as pilot:
            for key in KEYS:
                await pilot.press(key)
                await pilot.pause(0.3)
            await _until_drawn(app)
            await pilot.pause(0.3)
            drawn = app.export_screenshot(title="voicelog review")
    (HERE / f"{name}.svg").write_text(offline(drawn), encoding="utf-8")


async def _until_drawn(app: ReviewApp) -> None:
    """Wait until the sound of the entry is in memory."""
    for _ in range(round(LONGEST_S / 0.05)):
        if app.review_screen.query_one(WaveView).sounded is not None:
            return
        await asyncio.sleep(0.05)
    raise SystemExit("the sound was never drawn")


def main() -> None:
    """Both pictures."""
    with tempfile.TemporaryDirectory() as folder:
        with patch("voicelog.journal.clock.utc_now", lambda: BEGUN):
            log = demo_log(Path(folder))
        with patch("voicelog.journal.clock.utc_now", lambda: BEGUN.replace(hour=9)):
            for name, size in SIZES.items():
                own = Path(shutil.copytree(log, Path(folder) / name))
                asyncio.run(picture(name, own, size))


if __name__ == "__main__":
    main()
