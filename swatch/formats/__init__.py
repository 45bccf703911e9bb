"""Bytes in and out: CSV, ISO 28178, zones JSON, PDF, npz. No SQL."""
