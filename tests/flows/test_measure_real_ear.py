"""``voicelog measure`` with the real ear, over a few of the bundled recordings."""

from __future__ import annotations

import json
import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path

from voicelog.config.data import samples_dir
from voicelog.yardstick.sheet import FILE, TALK, Item, Sheet, sheet_to_json
from voicelog.yardstick.strict import SCORED

SAID = ("d17", "d07", "d27")
"""Two that tell of the vehicle, and one of talk."""
HOLE = {"kind": "finding", "zone": "sill", "side": "left", "condition": "hole"}


def test_real_sound_is_scored(
    tmp_path: Path, run: Callable[..., subprocess.CompletedProcess[str]]
) -> None:
    """In a process of its own: the sheet, three recordings, the tables and the figures."""
    manifest = json.loads((samples_dir() / "manifest.json").read_text("utf-8"))
    said = {one["id"]: one for one in manifest["utterances"]}
    folder = tmp_path / "recordings" / "s01" / "quiet"
    folder.mkdir(parents=True)
    items = []
    for number, name in enumerate(SAID, 1):
        one = said[name]
        want = [{n: v for n, v in entry.items() if n in SCORED} for entry in one["want"]]
        kind = TALK if one["chatter"] else "plain"
        items.append(Item(f"{number:02}", kind, (one["text"],), tuple(want)))
        shutil.copy(samples_dir() / one["file"], folder / f"{number:02}.flac")
    before = Item("0", "plain", ("left sill, hole",), (HOLE,))
    sheet = Sheet("ladder-frame", 1, "voicelog 0", before, tuple(items))
    (tmp_path / "recordings" / FILE).write_text(json.dumps(sheet_to_json(sheet)))
    done = run(
        "measure", "recordings", "--ear", "built-in", "--second-ear", "off", "--json", "f.json"
    )
    assert done.returncode == 0, done.stderr
    told = json.loads((tmp_path / "f.json").read_text("utf-8"))
    heard = told["systems"]["built-in"]["all"]
    assert (heard["cases"], heard["exact"]) == (2, 2)
    assert (heard["talk"], heard["talk_spoilt"]) == (1, 0)
    assert told["ears"]["built-in"].startswith("moonshine")
    assert sum(one["words"]["right"] for one in told["recordings"]) > 15
    assert "exactly right" in done.stdout
