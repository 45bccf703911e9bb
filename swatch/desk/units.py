"""Which units amounts are said in: remembered, at first those of the system's region."""

from __future__ import annotations

from PySide6.QtCore import QLocale, QObject, Signal

from swatch.desk.settings import Settings
from swatch.wording.units import Heat, Units, Volume, Weight, units, use_units

_SYSTEM = QLocale.MeasurementSystem
USUAL = {
    _SYSTEM.ImperialUSSystem: Units(Heat.FAHRENHEIT, Weight.OUNCES, Volume.US_PINTS),
    _SYSTEM.ImperialUKSystem: Units(Heat.CELSIUS, Weight.GRAMS, Volume.UK_PINTS),
}
"""Where a region does not count in °C, g and ml."""


class UnitsInUse(QObject):
    """The units in use; whoever shows amounts shows them anew on `changed`."""

    changed = Signal()

    def __init__(self, settings: Settings) -> None:
        super().__init__()
        self._settings = settings
        usual = USUAL.get(QLocale().measurementSystem(), Units())
        use_units(
            Units(
                Heat(self._kept("heat", usual.heat)),
                Weight(self._kept("weight", usual.weight)),
                Volume(self._kept("volume", usual.volume)),
            )
        )

    def _kept(self, name: str, usual: Heat | Weight | Volume) -> str:
        kept = self._settings.text(f"unit of {name}")
        return kept if kept in list(type(usual)) else str(usual)

    def choose(self, heat: Heat | None = None, weight: Weight | None = None, volume: Volume | None = None) -> None:
        """Say amounts in other units from now on."""
        now = units()
        chosen = Units(heat or now.heat, weight or now.weight, volume or now.volume)
        if chosen == now:
            return
        use_units(chosen)
        for name, value in (("heat", chosen.heat), ("weight", chosen.weight), ("volume", chosen.volume)):
            self._settings.put(f"unit of {name}", str(value))
        self.changed.emit()
