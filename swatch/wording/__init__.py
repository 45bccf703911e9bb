"""Codes to sentences, units and numbers to text: what both command line and window say."""
