"""The studio folder: SQLite file, photos, migrations, undo. All SQL is here."""
