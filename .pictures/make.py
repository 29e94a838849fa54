"""Make `demo.svg` from a real run of the demo: `python .pictures/make.py` (about half a minute)."""

from __future__ import annotations

import io
import json
import re
import tempfile
from collections.abc import Iterator
from pathlib import Path

from rich.console import Console
from rich.terminal_theme import TerminalTheme
from rich.text import Text

from voicelog.cli import show
from voicelog.cli.inert_console import Gate
from voicelog.config.data import samples_dir
from voicelog.config.settings import load_settings
from voicelog.runtime.listening import hear_files
from voicelog.runtime.opening import open_listening
from voicelog.runtime.session import Session

_WIDTH = 110
_FIRST = 11  # utterances shown before the cut
_REASONS = 8  # lines of the verdict shown before the cut
_GAPS = ("Not looked at", "  Nobody looked inside", "  Looked at, not probed")
_THEME = TerminalTheme(
    (18, 20, 24),
    (236, 236, 236),
    [(18, 20, 24), (160, 0, 0), (140, 220, 120), (245, 205, 90), (130, 170, 255), (225, 160, 245),
     (120, 220, 220), (255, 255, 255)],
)  # fmt: skip
_FONTS = "ui-monospace, Consolas, Menlo, monospace"
_PICTURE = Path(__file__).with_name("demo.svg")


def _recordings() -> list[Path]:
    folder = samples_dir()
    manifest = json.loads((folder / "manifest.json").read_text(encoding="utf-8"))
    return [folder / utterance["file"] for utterance in manifest["utterances"]]


def _cut(out: Console, what: str) -> None:
    out.print(Text(f"      … {what} …", style="dim italic"))


def _shortened(text: str) -> Iterator[str]:
    """The end of the demo's output: some gaps, the verdict with its first reasons, no paths."""
    yield from (line for line in text.splitlines() if line.startswith(_GAPS))
    yield ""
    verdict = text[text.index("Verdict on") :].splitlines()
    reasons = [line for line in verdict if line.startswith("   - ")]
    yield from (line for line in verdict[:4] if line)
    yield from reasons[:_REASONS]
    if len(reasons) > _REASONS:
        yield f"      … {len(reasons) - _REASONS} more reasons …"
    yield from ("", next(line for line in verdict if "certifies nothing" in line))


def _show_end(out: Console, session: Session) -> None:
    plain = Console(file=io.StringIO(), width=_WIDTH, highlight=False, soft_wrap=True)
    show.show_end(plain, session.inspection(), session.grammar.zone_map, log=None, export=None)
    written = plain.file
    assert isinstance(written, io.StringIO)  # noqa: S101 - ours, from three lines above
    out.print()
    for line in _shortened(written.getvalue()):
        style = "bold" if line.startswith(("Not", "Verdict", "  Move", "  Work", "  Frame")) else ""
        out.print(Text(line, style=style))


def main() -> None:
    """Hear the demo, draw its beginning and its end."""
    out = Console(record=True, width=_WIDTH, file=io.StringIO(), highlight=False)
    out.push_render_hook(Gate(hangs=True))
    out.print(Text("$ voicelog demo", style="bold"))
    with tempfile.TemporaryDirectory() as folder:
        settings = load_settings({"into": Path(folder), "ear": "built-in"})
        with open_listening(settings, subject="picture") as session:
            events = list(hear_files(session, _recordings(), settings))
            for event in events[:_FIRST]:
                show.show_event(out, event, session.grammar.zone_map)
            _cut(out, f"{len(events) - _FIRST} more utterances")
            _show_end(out, session)
    out.save_svg(str(_PICTURE), title="voicelog demo", theme=_THEME)
    text = _PICTURE.read_text(encoding="utf-8")
    _PICTURE.write_text(offline(text), encoding="utf-8")


def offline(svg: str) -> str:
    """The drawing without fonts from elsewhere: a reader's own fixed-width font is used."""
    bare = re.sub(r"\s*@font-face \{.*?\}", "", svg, flags=re.DOTALL)
    bare = re.sub(r"\s*<circle [^>]*/>", "", bare)  # no window of anybody's system around it
    return re.sub(r"font-family: (?:Fira Code, monospace|arial);", f"font-family: {_FONTS};", bare)


if __name__ == "__main__":
    main()
