"""The pages of the desktop, one file a page."""
