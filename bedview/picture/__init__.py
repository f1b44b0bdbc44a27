"""Drawings as plain data, without a toolkit: the bed, the chart and the figures of a sheet."""
