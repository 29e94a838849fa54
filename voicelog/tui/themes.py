"""The screen's own colours, dark and light; every pair of text and ground reaches 7:1.

The ratio is that of WCAG 2.x (W3C), which asks 7:1 of enhanced contrast; a test works it out over
everything that is drawn.
"""

from __future__ import annotations

from collections.abc import Mapping

from textual.theme import Theme

NAMES: Mapping[str, str] = {"dark": "voicelog-dark", "light": "voicelog-light"}
"""The setting ``theme`` to the theme's name."""

_DARK_TONES = {
    "calm": ("#74e3a6", "#04130b"),
    "live": ("#7cd3ff", "#03121b"),
    "busy": ("#cfc2ff", "#100a22"),
    "voice": ("#ffd866", "#191200"),
    "still": ("#c2ccd4", "#0a0f13"),
    "ask": ("#ffc285", "#1c0e00"),
    "alarm": ("#a8001f", "#ffffff"),
    "unsafe": ("#a8001f", "#ffffff"),
    "repair": ("#ff9fd0", "#220313"),
    "treat": ("#ffd866", "#191200"),
    "cosmetic": ("#9fd8c9", "#04140f"),
    "plain": ("#c2ccd4", "#0a0f13"),
    "unseen": ("#10151a", "#b9c3cb"),
    "looked": ("#27333d", "#f3f0e8"),
    "probed": ("#74e3a6", "#04130b"),
}
_LIGHT_TONES = {
    "calm": ("#0a5230", "#ffffff"),
    "live": ("#0a4570", "#ffffff"),
    "busy": ("#46368a", "#ffffff"),
    "voice": ("#5f4300", "#ffffff"),
    "still": ("#3b444b", "#ffffff"),
    "ask": ("#743a00", "#ffffff"),
    "alarm": ("#98001c", "#ffffff"),
    "unsafe": ("#98001c", "#ffffff"),
    "repair": ("#86145a", "#ffffff"),
    "treat": ("#ffe08a", "#191200"),
    "cosmetic": ("#c4e6dc", "#04140f"),
    "plain": ("#3b444b", "#ffffff"),
    "unseen": ("#f1eee6", "#3d454c"),
    "looked": ("#d8d4c8", "#14181c"),
    "probed": ("#0a5230", "#ffffff"),
}


def themes() -> tuple[Theme, Theme]:
    """The dark theme and the light one."""
    return (
        _theme("dark", "#080b0e", "#10151a", "#1b232b", "#f3f0e8", "#7cd3ff", _DARK_TONES),
        _theme("light", "#fbf9f4", "#f1eee6", "#e4e0d5", "#14181c", "#0a4570", _LIGHT_TONES),
    )


def _theme(
    name: str,
    background: str,
    surface: str,
    panel: str,
    ink: str,
    accent: str,
    tones: Mapping[str, tuple[str, str]],
) -> Theme:
    return Theme(
        name=NAMES[name], dark=name == "dark", primary=accent, secondary=tones["busy"][0],
        accent=accent, warning=tones["ask"][0], error=tones["alarm"][0], success=tones["calm"][0],
        foreground=ink, background=background, surface=surface, panel=panel, text_alpha=1.0,
        variables={**_tones(tones), **_fixed(background, panel, ink, accent)},
    )  # fmt: skip


def _tones(tones: Mapping[str, tuple[str, str]]) -> dict[str, str]:
    """``tone-<name>`` behind and ``tone-<name>-ink`` on it."""
    grounds = {f"tone-{name}": ground for name, (ground, _) in tones.items()}
    return grounds | {f"tone-{name}-ink": ink for name, (_, ink) in tones.items()}


def _fixed(background: str, panel: str, ink: str, accent: str) -> dict[str, str]:
    """Textual's own pairs, which are else worked out with too little contrast."""
    cursor = {"foreground": background, "background": accent}
    return {
        "text": ink, "text-muted": ink, "text-disabled": ink,
        "foreground-muted": ink, "foreground-disabled": ink,
        "border": accent, "border-blurred": ink,
        **{f"block-cursor-{part}": colour for part, colour in cursor.items()},
        **{f"block-cursor-blurred-{part}": colour for part, colour in cursor.items()},
        "block-hover-background": panel,
        "footer-background": panel, "footer-foreground": ink,
        "footer-key-foreground": accent, "footer-description-foreground": ink,
        "input-cursor-background": ink, "input-cursor-foreground": background,
        "input-selection-background": accent, "input-selection-foreground": background,
        "screen-selection-background": accent, "screen-selection-foreground": background,
        "scrollbar": ink, "scrollbar-hover": accent, "scrollbar-active": accent,
        "scrollbar-background": panel, "scrollbar-background-hover": panel,
        "scrollbar-background-active": panel, "scrollbar-corner-color": panel,
        "link-color": accent, "link-color-hover": background, "link-background-hover": accent,
    }  # fmt: skip
