"""Display lists painted with QPainter, on a widget, an image or a printer."""
