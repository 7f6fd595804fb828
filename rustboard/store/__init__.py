"""The board folder on disk: SQLite file, photos, backups, lock."""
