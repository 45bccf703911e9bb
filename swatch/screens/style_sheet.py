"""The style sheet, written from the tokens."""

from __future__ import annotations

from collections.abc import Mapping

_SHEET = """
QMainWindow, QDialog, QWidget#header {{ background: {window}; }}
QWidget#panel, QWidget#rail, QStatusBar, QMenuBar, QFrame#panel {{ background: {panel}; color: {ink}; }}
QWidget#raised, QFrame#raised {{ background: {raised}; }}
QMenuBar {{ border-bottom: 1px solid {line}; padding: 0 8px; }}
QMenuBar::item {{ background: transparent; padding: 2px 8px; }}
QMenuBar::item:selected {{ background: {raised}; color: {ink}; }}
QMenu {{ background: {raised}; color: {ink}; border: 1px solid {edge}; padding: 4px 0; }}
QMenu::item {{ padding: 6px 32px 6px 24px; }}
QMenu::item:selected {{ background: {accent}; color: {on_accent}; }}
QMenu::item:disabled {{ color: {edge}; }}
QMenu::separator {{ height: 1px; background: {line}; margin: 4px 0; }}
QWidget#header {{ border-bottom: 1px solid {line}; }}
QWidget#rail {{ border-right: 1px solid {line}; }}
QWidget#footer {{ background: {panel}; border-top: 1px solid {line}; }}
QWidget#jobs, QWidget#message {{ background: {raised}; border-top: 1px solid {line};
    border-bottom: 1px solid {line}; }}
QLabel {{ color: {ink}; background: transparent; }}
QLabel[quiet="true"] {{ color: {quiet}; }}
QFrame[rule="true"] {{ background: {line}; border: none; }}
QPushButton {{ background: {raised}; color: {ink}; border: 1px solid {edge}; border-radius: 4px;
    padding: 0 12px; min-height: 38px; }}
QPushButton:hover {{ border: 1px solid {ink}; }}
QPushButton:focus {{ border: 2px solid {accent_text}; padding: 0 11px; }}
QPushButton[main="true"]:focus {{ border: 3px double {on_accent}; padding: 0 9px; }}
QPushButton[link="true"]:focus {{ border: 2px solid {accent_text}; padding: 0 2px; }}
QPushButton:pressed {{ background: {line}; }}
QPushButton:checked {{ background: {ink}; color: {panel}; border-color: {ink}; }}
QPushButton:disabled {{ color: {edge}; border-color: {line}; }}
QPushButton[main="true"] {{ background: {accent}; color: {on_accent}; border: 1px solid {accent}; }}
QPushButton[main="true"]:hover {{ border: 1px solid {ink}; }}
QPushButton[main="true"]:disabled {{ background: {line}; color: {quiet}; border-color: {line}; }}
QPushButton[link="true"] {{ background: transparent; color: {accent_text}; border: none; padding: 0 4px;
    min-height: 32px; text-align: left; }}
QPushButton[link="true"]:hover {{ text-decoration: underline; }}
QPushButton[link="true"]:disabled {{ color: {edge}; }}
QPushButton[small="true"] {{ min-height: 34px; }}
QPushButton[jar="true"] {{ text-align: left; padding: 0 8px; }}
QAbstractSpinBox {{ background: {field}; color: {ink}; border: 1px solid {edge}; border-radius: 4px;
    padding: 0 24px 0 4px; min-height: 34px; min-width: 24px; selection-background-color: {accent};
    selection-color: {on_accent}; }}
QLineEdit, QComboBox, QPlainTextEdit {{ background: {field}; color: {ink};
    border: 1px solid {edge}; border-radius: 4px; padding: 0 8px; min-height: 32px;
    selection-background-color: {accent}; selection-color: {on_accent}; placeholder-text-color: {quiet}; }}
QPlainTextEdit {{ padding: 4px; }}
QLineEdit:focus, QComboBox:focus, QPlainTextEdit:focus {{ border: 2px solid {accent_text}; padding: 0 7px; }}
QAbstractSpinBox:focus {{ border: 2px solid {accent_text}; padding: 0 23px 0 3px; }}
QLineEdit:disabled, QComboBox:disabled, QAbstractSpinBox:disabled {{ color: {edge}; border-color: {line}; }}
QAbstractSpinBox > QLineEdit, QComboBox > QLineEdit {{ border: none; background: transparent; padding: 0 0 0 4px;
    min-height: 0; }}
QSlider {{ min-height: 28px; }}
QSlider::groove:horizontal {{ background: {line}; height: 4px; border-radius: 2px; }}
QSlider::sub-page:horizontal {{ background: {edge}; height: 4px; border-radius: 2px; }}
QSlider::handle:horizontal {{ background: {field}; border: 2px solid {ink}; width: 14px; margin: -7px 0;
    border-radius: 4px; }}
QSlider::handle:horizontal:focus {{ border-color: {accent_text}; background: {accent_text}; }}
QLineEdit[bad="true"] {{ border: 2px dashed {ink}; padding: 0 7px; }}
QComboBox::drop-down {{ border: none; width: 28px; }}
QComboBox::down-arrow {{ image: url("{icons}/down_{shade}.svg"); width: 12px; height: 12px; }}
QComboBox QAbstractItemView {{ background: {raised}; color: {ink}; border: 1px solid {edge};
    selection-background-color: {accent}; selection-color: {on_accent}; outline: none; }}
QAbstractSpinBox::up-button, QAbstractSpinBox::down-button {{ background: transparent; border: none;
    width: 24px; }}
QAbstractSpinBox::up-arrow {{ image: url("{icons}/up_{shade}.svg"); width: 10px; height: 10px; }}
QAbstractSpinBox::down-arrow {{ image: url("{icons}/down_{shade}.svg"); width: 10px; height: 10px; }}
QCheckBox, QRadioButton {{ color: {ink}; spacing: 8px; min-height: 28px; background: transparent; }}
QCheckBox::indicator {{ width: 18px; height: 18px; border: 1px solid {edge}; border-radius: 4px;
    background: {field}; }}
QCheckBox::indicator:checked {{ background: {accent}; border-color: {accent}; image: url("{icons}/tick.svg"); }}
QCheckBox::indicator:focus {{ border: 2px solid {accent_text}; }}
QAbstractScrollArea {{ border: none; background: {panel}; }}
QAbstractScrollArea:focus {{ border: none; }}
QPlainTextEdit {{ background: {field}; border: 1px solid {edge}; }}
QPlainTextEdit:focus {{ border: 2px solid {accent_text}; padding: 3px; }}
QTableView, QListView, QTreeView {{ background: {panel}; alternate-background-color: {panel}; color: {ink};
    gridline-color: {line}; border: none; outline: none; selection-background-color: {raised};
    selection-color: {ink}; }}
QHeaderView {{ background: {panel}; }}
QHeaderView::section {{ background: {panel}; color: {quiet}; border: none; border-bottom: 1px solid {line};
    padding: 4px 8px; }}
QProgressBar {{ background: {panel}; border: 1px solid {edge}; border-radius: 0; max-height: 8px;
    min-height: 8px; }}
QProgressBar::chunk {{ background: {quiet}; }}
QScrollBar:vertical {{ background: transparent; width: 12px; margin: 0; }}
QScrollBar:horizontal {{ background: transparent; height: 12px; margin: 0; }}
QScrollBar::handle {{ background: {edge}; border-radius: 4px; min-height: 32px; min-width: 32px; margin: 2px; }}
QScrollBar::add-line, QScrollBar::sub-line {{ width: 0; height: 0; }}
QScrollBar::add-page, QScrollBar::sub-page {{ background: transparent; }}
QSplitter::handle {{ background: {line}; }}
QSplitter::handle:horizontal {{ width: 1px; }}
QSplitter::handle:vertical {{ height: 1px; }}
QToolTip {{ background: {raised}; color: {ink}; border: 1px solid {edge}; padding: 4px; }}
"""


def style_sheet(tokens: Mapping[str, str], *, icons: str, dark: bool) -> str:
    """Write the sheet for one scheme; `icons` is the folder of the small arrows and the tick."""
    return _SHEET.format(icons=icons, shade="dark" if dark else "light", **tokens)
