"""voicelog: an offline, voice-driven, hands-free inspection logger."""

from __future__ import annotations

import os

__version__ = "0.1.0"

# onnxruntime's wheels tell their maker of every use, unless this is set before they are loaded. It is
# set here, in front of everything, so that no ear, voice or process started from here can miss it.
os.environ["ORT_DISABLE_TELEMETRY"] = "1"
