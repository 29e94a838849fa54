"""What a bench says of itself when it is asked with ``--help``: all of its own head."""

from __future__ import annotations

from argparse import ArgumentParser, RawDescriptionHelpFormatter


def parser(head: str | None) -> ArgumentParser:
    """One that tells the script's docstring as it stands.

    Args:
        head: the docstring.
    """
    told = (head or "").replace("``", "")
    return ArgumentParser(description=told, formatter_class=RawDescriptionHelpFormatter)
