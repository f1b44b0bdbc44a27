"""One open piece: its edits and undo, the cursor in its timeline, and one run at the machine."""
