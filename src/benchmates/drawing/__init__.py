"""Draws lessons as threads and groups as tokens: plain data in, SVG text out."""
