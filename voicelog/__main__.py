"""``python -m voicelog``."""

from voicelog.cli.main import run

run()
