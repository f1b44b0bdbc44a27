"""A piece for others to use: printed sheet, stepping page, pictures, tables, text and mesh."""
