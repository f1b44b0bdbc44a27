"""The stepping page: one file for a phone or tablet beside the machine, without network."""
