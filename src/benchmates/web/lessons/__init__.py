"""Lessons: a way of working, its bell, the words of its stages."""
