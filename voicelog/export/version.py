"""The version of the published documents, on its own so that telling it loads nothing else."""

from __future__ import annotations

CONTRACT = "1.0"
"""The first number changes when something a reader relies on does, the second when something is
added."""
