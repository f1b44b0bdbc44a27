"""Printing: the pages as they will be, what they are put together from, the printer, and files."""
