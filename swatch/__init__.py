"""Swatch: a ceramic studio's test tiles, learnt, so that its colours can be matched and held."""
