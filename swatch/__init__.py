"""Swatch: a ceramic studio's test tiles, learnt, so that its colours can be matched and held."""

__version__ = "0.1.0"
