"""Benchmates: from a class list to groups, a lesson and honest findings, for practical departments."""

__version__ = "0.1.0"
