"""Prints the sheets of a lesson: plain data to typst to bytes."""
