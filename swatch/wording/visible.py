"""Text of unknown origin made safe to show in a line: what cannot be seen is written out."""

from __future__ import annotations

import unicodedata

_WRITTEN_OUT = frozenset(("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"))
_JOINERS = "\u200c\u200d"
"""Letters of several scripts need these to take their right shape."""


def visible(text: str) -> str:
    """Write out line breaks, direction marks and other characters that cannot be seen, as ``\\u200f``."""
    if text.isascii() and text.isprintable():
        return text
    return "".join(_one(ch) for ch in text)


def _one(ch: str) -> str:
    if ch in _JOINERS or unicodedata.category(ch) not in _WRITTEN_OUT:
        return ch
    return f"\\u{ord(ch):04x}" if ord(ch) <= 0xFFFF else f"\\U{ord(ch):08x}"
