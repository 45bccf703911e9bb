"""The one place for looks: tokens, fonts, palette and style sheet, light and dark, and the bench's surround.

Colour is judged in this window, so everything but the swatches is a grey without tint; one accent marks what
can be pressed. Three type sizes, one spacing unit. Contrast figures are computed from these tokens in a test.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from enum import StrEnum

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QColor, QFont, QFontDatabase, QGuiApplication, QPalette
from PySide6.QtWidgets import QApplication

from swatch.resources import resource
from swatch.screens.style_sheet import style_sheet

CAPTION, BODY, TITLE = 13, 15, 22
"""The three type sizes, in pixels."""
UNIT, HALF = 8, 4
"""The spacing unit and its half step, in pixels."""
SCHEMES = {"system": Qt.ColorScheme.Unknown, "light": Qt.ColorScheme.Light, "dark": Qt.ColorScheme.Dark}
"""What the setting ``scheme`` may say."""
BENCH = "#777777"
"""L* 50, under all colour whatever the theme; only black text stands on it (4.7:1)."""


@dataclass(frozen=True, slots=True)
class Tokens:
    """One scheme's greys and its accent."""

    dark: bool
    window: str
    panel: str
    raised: str
    field: str
    ink: str
    quiet: str
    line: str
    edge: str
    accent: str
    on_accent: str
    accent_text: str


LIGHT = Tokens(
    dark=False,
    window="#E2E2E2",
    panel="#EFEFEF",
    raised="#FBFBFB",
    field="#FFFFFF",
    ink="#1A1A1A",
    quiet="#4E4E4E",
    line="#C6C6C6",
    edge="#767676",
    accent="#3A4FA0",
    on_accent="#FFFFFF",
    accent_text="#3A4FA0",
)
DARK = Tokens(
    dark=True,
    window="#1C1C1C",
    panel="#282828",
    raised="#363636",
    field="#1C1C1C",
    ink="#EDEDED",
    quiet="#B8B8B8",
    line="#454545",
    edge="#8C8C8C",
    accent="#5064C0",
    on_accent="#FFFFFF",
    accent_text="#AEBBF2",
)

TEXT_ON = (
    *((text, ground) for text in ("ink", "quiet") for ground in ("window", "panel", "raised", "field")),
    *(("accent_text", ground) for ground in ("panel", "raised", "field")),
    ("on_accent", "accent"),
    ("panel", "ink"),
)
"""Which token is ever written on which; the contrast of each is 4.5:1 or more."""


class Surround(StrEnum):
    """What lies around the swatches on the bench."""

    GREY = "grey"
    WHITE = "white"
    BLACK = "black"


_SURROUND = {Surround.GREY: BENCH, Surround.WHITE: "#FFFFFF", Surround.BLACK: "#000000"}


class Look(QObject):
    """The look now in use. Whatever paints itself asks here and repaints on `changed`."""

    changed = Signal()

    def __init__(self) -> None:
        super().__init__()
        self._tokens = LIGHT
        self._asked = Qt.ColorScheme.Unknown
        self._surround = Surround.GREY
        self._swapped = False
        self._family = ""
        self._fonts: dict[tuple[int, bool], QFont] = {}

    @property
    def tokens(self) -> Tokens:
        """The scheme's greys and accent."""
        return self._tokens

    @property
    def surround(self) -> Surround:
        """Which ground lies around the swatches."""
        return self._surround

    def set_surround(self, surround: Surround) -> None:
        """Put another ground around the swatches; nothing else changes."""
        if surround is not self._surround:
            self._surround = surround
            self.changed.emit()

    def next_surround(self) -> None:
        """Go round the grounds: grey, white, black."""
        kinds = list(Surround)
        self.set_surround(kinds[(kinds.index(self._surround) + 1) % len(kinds)])

    @property
    def swapped(self) -> bool:
        """Whether target and prediction have changed places."""
        return self._swapped

    def swap(self) -> None:
        """Let target and prediction change places, in every pair at once."""
        self._swapped = not self._swapped
        self.changed.emit()

    @property
    def bench(self) -> QColor:
        """Colour of the ground under all swatches."""
        return QColor(_SURROUND[self._surround])

    @property
    def bench_ink(self) -> QColor:
        """Ink of captions on the bench: the end of the scale that can be read there."""
        return QColor("#FFFFFF" if self._surround is Surround.BLACK else "#000000")

    def colour(self, token: str) -> QColor:
        """One token of the scheme as a colour, by its name: ``colour("quiet")``."""
        return QColor(getattr(self._tokens, token))

    def font(self, size: int = BODY, *, strong: bool = False) -> QFont:
        """One of the three sizes in one of the two weights, with tabular figures; made once, not to be altered."""
        made = self._fonts.get((size, strong))
        if made is None:
            made = self._fonts[size, strong] = self._make_font(size, strong)
        return made

    def _make_font(self, size: int, strong: bool) -> QFont:
        font = QFont(self._family) if self._family else QFont()
        font.setPixelSize(size)
        font.setWeight(QFont.Weight.DemiBold if strong else QFont.Weight.Normal)
        font.setFeature(QFont.Tag("tnum"), 1)
        if self._family:
            font.setVariableAxis(QFont.Tag("wght"), 600.0 if strong else 400.0)
        return font

    def reading_font(self) -> QFont:
        """For running text with bold and italic in it, which set the weight themselves."""
        font = QFont(self._family) if self._family else QFont()
        font.setPixelSize(BODY)
        return font

    def dress(self, app: QApplication, scheme: str = "system") -> None:
        """Give the program its font, palette and style sheet, light or dark as asked or as the system is."""
        app.setStyle("Fusion")
        if not self._family:
            number = QFontDatabase.addApplicationFont(str(resource("fonts", "SourceSans3.ttf")))
            families = QFontDatabase.applicationFontFamilies(number) if number >= 0 else []
            self._family = families[0] if families else ""
            self._fonts.clear()
        if app.font() != self.font():
            app.setFont(self.font())
        hints = app.styleHints()
        hints.colorSchemeChanged.connect(self._scheme_changed, Qt.ConnectionType.UniqueConnection)
        self.choose(scheme)

    def choose(self, scheme: str) -> None:
        """Wear one of `SCHEMES`. Qt is told too, for its own dialogs; not every platform heeds it."""
        self._asked = SCHEMES.get(scheme, Qt.ColorScheme.Unknown)
        QGuiApplication.styleHints().setColorScheme(self._asked)
        self._wear(dark=self._is_dark())

    def _is_dark(self) -> bool:
        if self._asked is Qt.ColorScheme.Unknown:
            return QGuiApplication.styleHints().colorScheme() is Qt.ColorScheme.Dark
        return self._asked is Qt.ColorScheme.Dark

    def wear(self, *, dark: bool) -> None:
        """Use one scheme now, whatever the system says."""
        self._wear(dark=dark)

    def _scheme_changed(self) -> None:
        self._wear(dark=self._is_dark())

    def _wear(self, *, dark: bool) -> None:
        self._tokens = DARK if dark else LIGHT
        app = QGuiApplication.instance()
        if isinstance(app, QApplication):
            app.setPalette(palette(self._tokens))
            greys = {f.name: getattr(self._tokens, f.name) for f in fields(Tokens) if f.name != "dark"}
            icons = resource("icons").as_posix()
            sheet = style_sheet(greys, icons=icons, dark=dark)
            if sheet == app.styleSheet():
                return  # worn already: every widget there is would be dressed again for nothing
            app.setStyleSheet(sheet)
        self.changed.emit()


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two ``#RRGGBB`` colours, 1 to 21.

    References
    ----------
    W3C, Web Content Accessibility Guidelines 2.1, "contrast ratio" and "relative luminance".
    """
    brighter, darker = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (brighter + 0.05) / (darker + 0.05)


def _luminance(colour: str) -> float:
    parts = (int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5))
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def palette(tokens: Tokens) -> QPalette:
    """The tokens as a palette, for everything that paints itself from one."""
    made = QPalette()
    role = QPalette.ColorRole
    for which, token in (
        (role.Window, tokens.window),
        (role.WindowText, tokens.ink),
        (role.Base, tokens.field),
        (role.AlternateBase, tokens.panel),
        (role.Text, tokens.ink),
        (role.PlaceholderText, tokens.quiet),
        (role.Button, tokens.raised),
        (role.ButtonText, tokens.ink),
        (role.Light, tokens.raised),
        (role.Midlight, tokens.panel),
        (role.Mid, tokens.line),
        (role.Dark, tokens.edge),
        (role.Shadow, tokens.edge),
        (role.Highlight, tokens.accent),
        (role.HighlightedText, tokens.on_accent),
        (role.Link, tokens.accent_text),
        (role.LinkVisited, tokens.accent_text),
        (role.ToolTipBase, tokens.raised),
        (role.ToolTipText, tokens.ink),
        (role.BrightText, tokens.ink),
        (role.Accent, tokens.accent),
    ):
        made.setColor(which, QColor(token))
    for which in (role.WindowText, role.Text, role.ButtonText):
        made.setColor(QPalette.ColorGroup.Disabled, which, QColor(tokens.edge))
    return made


look = Look()
"""The program's one look."""
