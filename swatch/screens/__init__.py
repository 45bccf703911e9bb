"""Widgets, layout and connections; every decision is made on the desk."""
